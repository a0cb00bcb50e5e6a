package draft_test

import (
	"slices"
	"strings"
	"testing"

	"hemlet/draft"
)

// edgeNames lists the names of the edges of a piece.
func edgeNames(p *draft.Piece) string {
	var out []string
	for i := range p.Edges {
		out = append(out, p.Edges[i].Name)
	}
	return strings.Join(out, ", ")
}

func TestNameEdges(t *testing.T) {
	p := namelessEdges(fitSmock(t))
	for i := range p.Pieces {
		for k := range p.Pieces[i].Edges {
			if e := &p.Pieces[i].Edges[k]; e.Kind == draft.HemEdge {
				e.Kind = draft.SeamEdge
			}
		}
	}
	out := acted(t, p, "name-edges")
	for i, want := range []string{
		"hem, side, armhole, shoulder, neck, centre front",
		"hem, side, armhole, shoulder, neck, centre back",
		"wrist, sleeve seam, cap, sleeve seam 2",
		"neck, end, outer edge, end 2",
		"wrist, end, outer edge, end 2",
	} {
		if got := edgeNames(out.Project.Pieces[i]); got != want {
			t.Errorf("%s: %s", out.Project.Pieces[i].Name, got)
		}
	}
	for i := range 3 {
		want := draft.HemEdge
		if i == 2 { // the wrist of the sleeve is sewn to the cuff
			want = draft.SeamEdge
		}
		if e := out.Project.Pieces[i].Edges[0]; e.Kind != want {
			t.Errorf("%s of %s is %s, want %s", e.Name, out.Project.Pieces[i].Name, e.Kind, want)
		}
	}
	if edgeNames(p.Pieces[0]) != "edge 1, edge 2, edge 3, edge 4, edge 5, edge 6" {
		t.Error("the project before has changed")
	}
	if _, err := tried(out.Project, "name-edges"); err == nil {
		t.Error("it names what has names")
	}
}

// What somebody has named keeps its name, and one name is not given twice.
func TestNameEdgesKeepsNames(t *testing.T) {
	p := acted(t, loosely(t), "name-edge", "edge=Sleeve.edge 2", "name=sleeve seam").Project
	q := acted(t, p, "name-edges", "pieces=Sleeve").Project
	if got := edgeNames(q.Pieces[2]); got != "wrist, sleeve seam, cap, sleeve seam 2" {
		t.Error(got)
	}
	if got := edgeNames(q.Pieces[0]); !strings.HasPrefix(got, "edge 1") {
		t.Errorf("Front is named too: %s", got)
	}
}

// Spans that are taken name the edges on which they lie, and no others.
func TestTakeSpansNamesEdges(t *testing.T) {
	p := acted(t, loosely(t), "take-spans").Project
	front := p.Pieces[0]
	for i := range front.Edges {
		e := &front.Edges[i]
		lain := slices.ContainsFunc(front.Spans, func(s draft.Span) bool { return slices.Contains(s.Edges, e.ID) })
		if named := !strings.HasPrefix(e.Name, "edge "); named != lain {
			t.Errorf("%s: a span lies on it: %v", e.Name, lain)
		}
	}
	if got := edgeNames(front); !strings.Contains(got, "neck") || !strings.Contains(got, "armhole") {
		t.Error(got)
	}
}

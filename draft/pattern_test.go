package draft

import (
	"strings"
	"testing"

	"hemlet/geom"
)

// A ghost is neither checked nor sewn: a project with one says what it says without.
func TestGhostsAreNoPartOfThePattern(t *testing.T) {
	a, b, ghost := square("a", 80, 5), square("b", 80, 5), square("ghost", 90, 5)
	ghost.Ghost, ghost.Cut.Count = 0.4, 0 // a problem if it were a piece
	ghost.Spans = []Span{{ID: "m1", Measure: "bust_girth", Share: 1, From: ghost.Edges[0].Nodes[0].ID, To: ghost.Edges[1].Nodes[0].ID}}
	plain := projectOf(a, b)
	plain.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	with := projectOf(a, ghost, b)
	toGhost := seamBetween(a, ghost, 1, 1)
	toGhost.ID = "s2"
	with.Seams = []*Seam{plain.Seams[0], toGhost}
	for _, p := range []*Project{plain, with} {
		p.Wearers = []*Wearer{{ID: "w1", Name: "Quill", Measures: []Measure{{Name: "bust_girth", Value: 231}}}}
	}
	s := NewSlots()
	got, want := s.Check(with), NewSlots().Check(plain)
	if len(got.Findings) != len(want.Findings) || len(got.Seams) != 1 || len(got.Spans) != 0 || len(got.Girths) != 0 {
		t.Errorf("with a ghost: %+v\nwithout: %+v", got, want)
	}
	for _, f := range got.Findings {
		if f.Piece == ghost.ID || strings.Contains(f.Says, "ghost") {
			t.Errorf("a ghost is accused: %+v", f)
		}
	}
	if plain.Pattern() != plain {
		t.Error("a project without ghosts is not its own pattern")
	}
	if first, again := s.patternOf(with), s.patternOf(with); first != again {
		t.Error("the pattern is made anew each time it is asked for")
	}
}

// A dimension line is measured, and held against nothing.
func TestDimensionsStandForNoMeasure(t *testing.T) {
	a := polygonPiece("a", 5, geom.Pt(0, 0), geom.Pt(30, 0), geom.Pt(30, 40), geom.Pt(0, 40))
	a.Spans = []Span{{ID: "m1", Name: "across", From: "a.n0", To: "a.n2"}}
	p := projectOf(a)
	p.Wearers = []*Wearer{{ID: "w1", Name: "Quill"}}
	s := NewSlots()
	if r := s.Check(p); len(r.Spans) != 0 {
		t.Errorf("spans %+v", r.Spans)
	}
	if got := s.SpanLength(a, a.Spans[0]); got != 50 {
		t.Errorf("it measures %v mm, want 50", got)
	}
}

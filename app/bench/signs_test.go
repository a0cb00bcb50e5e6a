package bench

import (
	"slices"
	"testing"

	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// What lies on a piece is drawn by the signs that are printed, and marked points bear
// their names.
func TestSignsOnTheBenchArePrinted(t *testing.T) {
	p := project(t, 1).Pieces[0]
	row := &draft.Row{Kind: draft.Hooks, Count: 3, Size: 6, First: 5, Last: 5}
	p.Lines = []draft.Line{
		{ID: "x", Name: "slit end", Kind: draft.ReinforcePoint, Nodes: []draft.Node{{ID: "x0", At: geom.Pt(20, 20)}}},
		{ID: "y", Name: "hooks", Kind: draft.FastenLine, Row: row, Nodes: []draft.Node{{ID: "y0", At: geom.Pt(10, 10)}, {ID: "y1", At: geom.Pt(10, 40)}}},
	}
	p.Spans = []draft.Span{{ID: "z", Name: "across", From: p.Edges[0].Nodes[0].ID, To: p.Edges[1].Nodes[0].ID}}
	var paths []geom.Path
	var words []string
	double := 0
	for _, m := range drawPiece(newBody(draft.NewSlots(), p), nil, &seamMarks{}, draft.Millimetre, false).Marks {
		switch m := m.(type) {
		case paint.Shape:
			paths = append(paths, m.Path)
		case paint.Text:
			words = append(words, m.Text)
		case paint.Arrow:
			if m.Both {
				double++
			}
		}
	}
	want := p.Lines[0].PointSign()
	for _, f := range p.Lines[1].Fastenings() {
		whole, detail := row.Sign(f)
		want = append(append(want, whole...), detail...)
	}
	if len(want) != 2+3*2 {
		t.Fatalf("%d paths of signs, want 8", len(want))
	}
	for _, path := range want {
		if !slices.ContainsFunc(paths, func(q geom.Path) bool { return slices.Equal(q, path) }) {
			t.Errorf("the sign %v is not drawn", path)
		}
	}
	if !slices.Contains(words, "slit end") {
		t.Errorf("the point does not bear its name: %q", words)
	}
	if double < 1 {
		t.Error("the dimension has no arrows at its ends")
	}
}

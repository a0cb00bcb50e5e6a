package desk

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// drafted returns a desk with a bodice on it for one wearer.
func drafted(t *testing.T) *Desk {
	t.Helper()
	d := New(draft.New("test"))
	w := &draft.Wearer{Name: "Quill", Measures: []draft.Measure{
		{Name: "bust_girth", Value: 231}, {Name: "waist_girth", Value: 238}, {Name: "back_waist_length", Value: 84},
	}}
	out, err := RunFolded(d, draft.AddWearerFrom, draft.AddWearerFromArgs{Wearer: w}, "")
	if err != nil {
		t.Fatal(err)
	}
	if err := Run(d, draft.DraftBlock, draft.DraftBlockArgs{Block: "bodice", Wearer: draft.WearerRef(out.Made)}); err != nil {
		t.Fatal(err)
	}
	return d
}

// After a change of a measure one is told which pieces followed and what was kept, and
// after anything else nothing.
func TestWhatFollowedIsTold(t *testing.T) {
	d := drafted(t)
	var told string
	d.OnDone = func(x Done) { told = strings.Join(x.Says(), " ") }
	waist := func(mm float64) {
		t.Helper()
		told = "nothing"
		w := draft.WearerRef(d.Project().Wearers[0].ID)
		if err := Run(d, draft.SetMeasure, draft.SetMeasureArgs{Wearer: w, Name: "waist_girth", Value: draft.Length(mm)}); err != nil {
			t.Fatal(err)
		}
	}
	waist(244)
	if told != "Front and Back follow." && told != "Back and Front follow." {
		t.Errorf("told %q", told)
	}
	front := d.Project().Piece("front")
	e := front.Edges[front.FoldEdge()]
	told = "nothing"
	if err := Run(d, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: "front", Node: e.Nodes[0].ID}}, By: draft.Vector{Y: 2}}); err != nil {
		t.Fatal(err)
	}
	if told != "" {
		t.Errorf("told %q of a point that was moved", told)
	}
	waist(250)
	if !strings.HasSuffix(told, "follow; what you changed by hand on Front is kept.") {
		t.Errorf("told %q", told)
	}
	if err := Run(d, draft.RedrawPiece, draft.RedrawPieceArgs{Pieces: []draft.PieceRef{"front"}}); err != nil {
		t.Fatal(err)
	}
	if told != "" {
		t.Errorf("told %q of a piece that was drawn anew", told)
	}
}

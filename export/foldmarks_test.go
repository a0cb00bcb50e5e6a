package export

import (
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// A pleat that is printed says to which side it is laid, and is dashed like no seam.
func TestPrintedPleats(t *testing.T) {
	piece := &draft.Piece{ID: "p1", Name: "Skirt", Cut: draft.CutRule{Count: 1}, Edges: []draft.Edge{
		{ID: "hem", Name: "waist", Allowance: draft.Even(5), Nodes: []draft.Node{
			{ID: "a", At: geom.Pt(0, 0)}, {ID: "f", At: geom.Pt(40, 0)}, {ID: "t", At: geom.Pt(60, 0)},
		}},
		{ID: "side", Name: "side", Nodes: []draft.Node{{ID: "b", At: geom.Pt(100, 0)}}},
		{ID: "top", Name: "hem", Nodes: []draft.Node{{ID: "c", At: geom.Pt(100, 90)}}},
		{ID: "left", Name: "side", Nodes: []draft.Node{{ID: "d", At: geom.Pt(0, 90)}}},
	}, Darts: []draft.Dart{{ID: "k", Name: "pleat", Edge: "hem", From: "f", To: "t", Apex: geom.Pt(50, 30), Fold: draft.Pleat, Press: draft.PressToEnd}}}
	p := draft.New("pleats")
	p.NextID, p.Pieces = 100, []*draft.Piece{piece}
	if err := draft.Validate(p); err != nil {
		t.Fatal(err)
	}
	flat := readSVG(t, encode(t, p, Options{Format: SVG})).pieces()[0]
	arrows := 0
	for _, q := range flat.Paths {
		if q.Kind != "arrow" {
			continue
		}
		arrows++
		near(t, "length of the arrow", readPath(t, q.D).box().W(), 20, 1e-3)
	}
	if arrows != 1 {
		t.Errorf("%d arrows, want 1", arrows)
	}
	turned := mark(InternalLine)
	turned.Turned = true
	if got, fold, sewn := lookOf(turned).dashes, strokes[FoldMark].dashes, stitching.dashes; len(got) != len(fold) || len(got) == len(sewn) {
		t.Errorf("where the cloth turns back is dashed %v, a fold %v, a seam %v", got, fold, sewn)
	}
}

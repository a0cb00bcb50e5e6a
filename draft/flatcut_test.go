package draft

import (
	"errors"
	"math"
	"testing"

	"hemlet/geom"
)

// dartPiece is a rectangle whose top edge, 80 mm when its dart of 20 mm is sewn, has
// an allowance that tapers from 4 to 12 mm.
func dartPiece(press Press) *Piece {
	p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
	p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(80, 60)}, Node{ID: "b", At: geom.Pt(60, 60)})
	p.Edges[2].Allowance = Allowance{Start: 4, End: 12}
	p.Darts = []Dart{{ID: "d", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: geom.Pt(70, 30), Press: press}}
	return p
}

// Once the dart is sewn the taper runs on evenly over it: 20 mm of 80 lie before the
// dart, so that both its sides have a quarter of the way from 4 to 12 mm.
func TestTaperingAllowanceMeetsAtASewnDart(t *testing.T) {
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		flat, err := LayFlat(dartPiece(press))
		if err != nil {
			t.Fatal(err)
		}
		for x, want := range map[float64]float64{90: 5, 40: 8, 20: 10} {
			if _, got := flat.Cut.Nearest(geom.Pt(x, 60)); math.Abs(got-want) > 0.1 {
				t.Errorf("pressed %v: at %g the allowance is %.3g mm, want %g", press, x, got, want)
			}
		}
		peak := flat.Edges[2].Line.Bounds().Max
		if _, got := flat.Cut.Nearest(geom.Pt(70, peak.Y)); math.Abs(got-6) > 0.01 {
			t.Errorf("pressed %v: at the cap the allowance is %.4g mm, want 6", press, got)
		}
		for i, e := range flat.CutEdge {
			if e >= len(flat.Edges) {
				t.Fatalf("pressed %v: segment %d of the cut line follows edge %d of %d", press, i, e, len(flat.Edges))
			}
		}
	}
}

// An unsound edge is named by its place among the edges of the piece, whatever
// stretches of others came before it.
func TestUnsoundEdgeBehindADartIsNamed(t *testing.T) {
	p := dartPiece(PressToStart)
	p.Edges[3].Nodes = append(p.Edges[3].Nodes, Node{ID: "x", At: geom.Pt(30, 20)}, Node{ID: "y", At: geom.Pt(0, 30)}, Node{ID: "z", At: geom.Pt(40, 40)})
	p.Edges[3].Nodes[3].At = geom.Pt(30, 25)
	p.Edges[3].Nodes[2].At = geom.Pt(10, 5)
	_, err := LayFlat(p)
	var unsound *geom.OutlineError
	if !errors.As(err, &unsound) {
		t.Fatalf("error %v, want one about the outline", err)
	}
	if unsound.Edge != 3 {
		t.Errorf("edge %d is at fault, want 3", unsound.Edge)
	}
}

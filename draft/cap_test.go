package draft

import (
	"math"
	"testing"

	"hemlet/geom"
)

// Legs of different lengths are a fault that the checks tell; the piece must still
// lie flat, for a drawing under way has them at every step.
func TestDartWithUnequalLegsLiesFlat(t *testing.T) {
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		for _, apex := range []geom.Point{geom.Pt(50, 30), geom.Pt(46, 31), geom.Pt(57, 20)} {
			p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
			p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(60, 60)}, Node{ID: "b", At: geom.Pt(40, 60)})
			p.Darts = []Dart{{ID: "d", Name: "waist", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: apex, Press: press}}
			flat, err := LayFlat(p)
			if err != nil {
				t.Errorf("pressed %v, tip at %v: %v", press, apex, err)
				continue
			}
			line := flat.Edges[2].Line
			for i := 1; i < len(line); i++ {
				if !line[i].P0.Near(line[i-1].P3, 1e-9) {
					t.Errorf("pressed %v, tip at %v: a gap at %v", press, apex, line[i].P0)
				}
			}
		}
	}
}

// A dart close to a corner has the cap that it has in the middle of the edge: the
// allowance beyond the corner is folded along with it.
func TestDartNextToACornerHasItsCap(t *testing.T) {
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		for _, x := range []float64{50, 88, 89.9, 12, 10.1} {
			p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
			p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(x+10, 60)}, Node{ID: "b", At: geom.Pt(x-10, 60)})
			p.Darts = []Dart{{ID: "d", Name: "waist", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: geom.Pt(x, 30), Press: press}}
			flat, err := LayFlat(p)
			if err != nil {
				t.Errorf("pressed %v, %g mm along: %v", press, x, err)
				continue
			}
			// As in TestDartCap: 10 mm of half a mouth, 30 mm deep.
			want := 60 + 10*math.Tan(2*math.Atan2(10, 30))
			if got := flat.Stitch.Bounds().Max.Y; math.Abs(got-want) > 1e-6 {
				t.Errorf("pressed %v, %g mm along: the cap peaks at %g, want %g", press, x, got, want)
			}
		}
	}
}

// Wherever the tip of a dart is dragged, the cut line stays near its piece.
func TestCapOfAWideDartStaysNear(t *testing.T) {
	for _, press := range []Press{PressToStart, PressToEnd, PressOpen} {
		for depth := 1.0; depth < 55; depth++ {
			p := polygonPiece("dart", 5, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 60), geom.Pt(0, 60))
			p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(60, 60)}, Node{ID: "b", At: geom.Pt(40, 60)})
			p.Darts = []Dart{{ID: "d", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: geom.Pt(50, 60-depth), Press: press}}
			flat, err := LayFlat(p)
			if err != nil {
				t.Errorf("pressed %v, %g mm deep: %v", press, depth, err)
				continue
			}
			if top := flat.Cut.Bounds().Max.Y; top > 60+(capReach+2)*20+5 {
				t.Errorf("pressed %v, %g mm deep: the cut line reaches up to %g", press, depth, top)
			}
		}
	}
}

package draft

import (
	"fmt"
	"math"
	"testing"

	"hemlet/geom"
)

// Every sign is as long as its fastening, lies about its place, and turns with its row;
// no two kinds are drawn alike.
func TestSignsAreTrueToSize(t *testing.T) {
	drawn := make(map[string]RowKind)
	for _, kind := range RowKinds() {
		r := &Row{Kind: kind, Size: 6}
		whole, detail := r.Sign(FastenPlace{geom.Pt(30, 40), geom.Pt(1, 0)})
		box, words := geom.EmptyRect(), ""
		for _, path := range append(whole, detail...) {
			box = box.Union(path.Bounds())
			for _, s := range path {
				words += fmt.Sprint(s.P0, s.P1, s.P2, s.P3)
			}
		}
		if w, far := box.W(), box.Center().Dist(geom.Pt(30, 40)); w > 6+1e-9 || w < 5 || far > 1 {
			t.Errorf("%s of 6 mm: %.2f mm wide, %.2f mm from its place", kind, w, far)
		}
		if box.H() > 6+1e-9 {
			t.Errorf("%s of 6 mm is %.2f mm high", kind, box.H())
		}
		if other, ok := drawn[words]; ok {
			t.Errorf("%s looks like %s", kind, other)
		}
		drawn[words] = kind
		up, _ := r.Sign(FastenPlace{geom.Pt(30, 40), geom.Pt(0, 1)})
		if a, b := whole[0].Bounds(), up[0].Bounds(); math.Abs(a.W()-b.H()) > 1e-6 || math.Abs(a.H()-b.W()) > 1e-6 {
			t.Errorf("%s does not turn with its row: %v, %v", kind, a, b)
		}
	}
}

func TestPointSigns(t *testing.T) {
	for _, c := range []struct {
		kind LineKind
		wide float64
		n    int
	}{{DrillPoint, 3, 2}, {ReinforcePoint, 3 * math.Sqrt2 / 2, 2}, {PlacementLine, 0, 0}} {
		l := &Line{Kind: c.kind, Nodes: []Node{{ID: "a", At: geom.Pt(5, 7)}}}
		sign := l.PointSign()
		if len(sign) != c.n {
			t.Fatalf("%s: %d strokes, want %d", c.kind, len(sign), c.n)
		}
		box := geom.EmptyRect()
		for _, path := range sign {
			box = box.Union(path.Bounds())
		}
		if c.n > 0 && (math.Abs(box.W()-c.wide) > 1e-9 || math.Abs(box.H()-c.wide) > 1e-9 || box.Center().Dist(geom.Pt(5, 7)) > 1e-9) {
			t.Errorf("%s: a cross of %v, want %.3f mm", c.kind, box, c.wide)
		}
	}
}

// The arrow of a pleat runs from what is folded to where it is laid (common practice, no
// source): towards the side to which it is pressed lies the fold.
func TestFoldArrows(t *testing.T) {
	piece := &Piece{ID: "p", Edges: []Edge{{ID: "e", Nodes: []Node{
		{ID: "a", At: geom.Pt(0, 0)}, {ID: "f", At: geom.Pt(40, 0)}, {ID: "t", At: geom.Pt(60, 0)},
	}}, {ID: "g", Nodes: []Node{{ID: "b", At: geom.Pt(100, 0)}}}, {ID: "h", Nodes: []Node{{ID: "c", At: geom.Pt(50, 80)}}}}}
	for _, c := range []struct {
		fold  Fold
		press Press
		want  []float64 // where the arrows go from and to, across
	}{
		{Pleat, PressToEnd, []float64{60, 40}}, {Pleat, PressToStart, []float64{40, 60}}, {Tuck, PressOpen, []float64{40, 50, 60, 50}}, {Wedge, PressToEnd, nil},
	} {
		d := Dart{ID: "d", Edge: "e", From: "f", To: "t", Apex: geom.Pt(50, 20), Press: c.press, Fold: c.fold}
		var got []float64
		for _, s := range piece.FoldArrows(d) {
			got = append(got, s.P0.X, s.P3.X)
		}
		if len(got) != len(c.want) {
			t.Fatalf("%s pressed %s: arrows %v, want %v", c.fold, c.press, got, c.want)
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s pressed %s: arrows %v, want %v", c.fold, c.press, got, c.want)
			}
		}
	}
}

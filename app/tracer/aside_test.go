package tracer

import (
	"testing"

	"hemlet/app/bench/paint"
	"hemlet/draft"
	"hemlet/geom"
)

// Of places that lie close to one another the worst bears its figure, the one that is looked
// at always, and figures lie towards the middle.
func TestFiguresStepAside(t *testing.T) {
	places := []offPlace{{0, geom.Pt(0, 0), 0.5}, {0, geom.Pt(5, 1), 0.4}, {0, geom.Pt(90, 0), 0.3}}
	figures := func(at int) (out []paint.Text) {
		for _, m := range offSigns(places, at, 0.2, draft.Millimetre, geom.Pt(45, 0), 0.5) {
			if f, ok := m.(paint.Text); ok {
				out = append(out, f)
			}
		}
		return out
	}
	got := figures(-1)
	if len(got) != 2 || got[0].At != places[0].at || got[1].At != places[2].at {
		t.Fatalf("%d figures: %+v", len(got), got)
	}
	if got[0].Anchor != paint.Start || got[1].Anchor != paint.End || got[1].DX >= 0 {
		t.Errorf("figures lie away from the middle: %+v", got)
	}
	if got = figures(1); len(got) != 2 || got[0].At != places[1].at {
		t.Errorf("the place that is looked at has no figure: %+v", got)
	}
}

// The pixels of a polygon are those whose middles lie in it.
func TestFillWithin(t *testing.T) {
	inside := make([]bool, 10*8)
	fillWithin(inside, 10, 8, []geom.Point{geom.Pt(2, 1), geom.Pt(7, 1), geom.Pt(7, 30), geom.Pt(2, 30)})
	fillWithin(inside, 10, 8, []geom.Point{geom.Pt(-4, 0), geom.Pt(1, 0), geom.Pt(1, 1), geom.Pt(-4, 1)})
	for i, in := range inside {
		x, y := i%10, i/10
		if want := x >= 2 && x < 7 && y >= 1 || x == 0 && y == 0; in != want {
			t.Errorf("%d, %d: %v", x, y, in)
		}
	}
}

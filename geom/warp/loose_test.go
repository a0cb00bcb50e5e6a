package warp

import (
	"math"
	"testing"

	"hemlet/geom"
)

// TestLooseStretchesTurn: a hem that rises a little towards its middle cannot be brought to
// dip there as its curve turns, and can where it is loose; its other stretches stay straight.
func TestLooseStretchesTurn(t *testing.T) {
	dip := func(loose bool) float64 {
		s, e := madeOf(
			geom.Path{geom.Cubic(pt(-100, 0), pt(-40, 3), pt(40, 3), pt(100, 0))},
			geom.Path{geom.Line(pt(100, 0), pt(100, 200))},
			geom.Path{geom.Line(pt(100, 200), pt(-100, 200))},
			geom.Path{geom.Line(pt(-100, 200), pt(-100, 0))},
		)
		if loose {
			s.Loose = []int{e[0]}
		}
		p := &Problem{Shapes: []Shape{s}, Stay: 1}
		stays := func(stretch int, along geom.Point) Shift {
			return Shift{At: Spot{On: &Place{0, 0, stretch, 0}}, Along: along, Hard: true}
		}
		for k := range 4 {
			p.Shifts = append(p.Shifts, stays(e[k], pt(1, 0)), stays(e[k], pt(0, 1)))
		}
		p.Shifts = append(p.Shifts, Shift{At: Spot{On: &Place{0, 0, e[0], 0.5}}, Along: pt(0, 1), By: -8})
		r := solved(t, p)
		if err := r.Shapes[0].Outline().Simple(); err != nil {
			t.Error(err)
		}
		for k := 1; k < 4; k++ {
			if !r.Shapes[0].stretch(0, e[k]).Straight {
				t.Errorf("stretch %d has bent", k)
			}
		}
		return r.Shapes[0].stretch(0, e[0]).At(0.5).Y
	}
	const was = 0.75 * 3
	if y := dip(true); math.Abs(y-(was-8)) > 0.02 {
		t.Errorf("loose, its middle lies at %g mm, want %g", y, was-8)
	}
	if y := dip(false); y < 0 {
		t.Errorf("its middle lies at %g mm, and its curve turns the other way", y)
	}
}

// TestLooseKeepsWhatIsStraight: in a fit, a hem that is a straight line stays one, though it
// is written as a curve, and though it is loose.
func TestLooseKeepsWhatIsStraight(t *testing.T) {
	s, e := madeOf(
		geom.Path{geom.Cubic(pt(-100, 0), pt(-40, 12), pt(40, 28), pt(100, 40))},
		geom.Path{geom.Line(pt(100, 40), pt(100, 200))},
		geom.Path{geom.Line(pt(100, 200), pt(-100, 200))},
		geom.Path{geom.Line(pt(-100, 200), pt(-100, 0))},
	)
	s.Loose = e[:1]
	p := &Problem{Shapes: []Shape{s}}
	for i, want := range []float64{0, 160, 200, 200} {
		if want > 0 {
			p.Spans = append(p.Spans, Span{Terms: []Term{{Shape: 0, Stretch: e[i], Factor: 1}}, Want: want, Weight: 1})
		}
	}
	middle := func(i int) Spot { return Spot{On: &Place{0, 0, e[i], 0.5}} }
	p.Spans = append(p.Spans, Span{Chords: []Chord{{A: middle(0), B: middle(2), Factor: 1}}, Want: 190, Weight: 1})
	hem := solved(t, p).Shapes[0].stretch(0, e[0])
	line := hem.P3.Sub(hem.P0).Unit()
	for _, h := range []geom.Point{hem.P1, hem.P2} {
		if off := math.Abs(h.Sub(hem.P0).Cross(line)); off > 1e-4 {
			t.Errorf("a handle lies %g mm off the line of the ends", off)
		}
	}
}

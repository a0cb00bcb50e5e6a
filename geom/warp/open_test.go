package warp

import (
	"testing"

	"hemlet/geom"
)

// TestHeldBackStaysOpen: a band bent to a C whose back is wanted shorter than its hollow holds
// goes only so far that both stay apart.
func TestHeldBackStaysOpen(t *testing.T) {
	hollow := geom.Cubic(pt(0, 150), pt(90, 150), pt(90, 50), pt(0, 50))
	s, e := madeOf(
		geom.Path{geom.Cubic(pt(0, 0), pt(160, 0), pt(160, 200), pt(0, 200))},
		geom.Path{geom.Line(pt(0, 200), hollow.P0)},
		geom.Path{hollow},
		geom.Path{geom.Line(hollow.P3, pt(0, 0))},
	)
	chord := func(i int) []Chord {
		return []Chord{{A: Spot{On: &Place{0, 0, e[i], 0}}, B: Spot{On: &Place{0, 0, e[i], 1}}, Factor: 1}}
	}
	p := &Problem{Shapes: []Shape{s}}
	p.Spans = []Span{
		{Terms: terms(0, e[0], e[1], 1), Want: 215},
		{Terms: terms(0, e[2], e[3], 1), Want: hollow.Length()},
		{Chords: chord(0), Want: 200},
		{Chords: chord(2), Want: 100},
	}
	r := solved(t, p)
	if !r.Held {
		t.Fatalf("what is wanted was followed all the way: missed %g", r.SpanOff)
	}
	back, inner := r.Shapes[0].stretch(0, e[0]), r.Shapes[0].stretch(0, e[2])
	for c := range 101 {
		if _, d := back.Nearest(inner.At(float64(c) / 100)); d < 4 {
			t.Fatalf("back and hollow are %g mm apart, of 52", d)
		}
	}
}

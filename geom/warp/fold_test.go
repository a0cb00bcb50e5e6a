package warp

import (
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// TestStraightEdgesLeaveTheGrainInFitsAlone: a piece that is to become narrower below and
// stay as wide above has to slant one of its sides. In a fit that is the shorter one; where
// places want to stay, both keep running along the grain, and the widths are missed.
func TestStraightEdgesLeaveTheGrainInFitsAlone(t *testing.T) {
	s, e := madeOf(
		geom.Path{geom.Line(pt(0, 0), pt(100, 0))},
		geom.Path{geom.Line(pt(100, 0), pt(100, 150))},
		geom.Path{geom.Line(pt(100, 150), pt(80, 200))},
		geom.Path{geom.Line(pt(80, 200), pt(0, 200))},
		geom.Path{geom.Line(pt(0, 200), pt(0, 0))},
	)
	s.Grain = pt(0, 1)
	for _, stay := range []float64{0, 1} {
		p := &Problem{Shapes: []Shape{s}, Stay: stay}
		p.Rails = []Rail{{Nodes: []int{e[4], e[0]}, Along: pt(0, 1)}, {Nodes: []int{e[1], e[2]}, Along: pt(0, 1)}}
		left, right := Spot{On: &Place{0, 0, e[4], 0}}, Spot{On: &Place{0, 0, e[2], 0}}
		p.Spans = []Span{
			{Terms: terms(0, e[0], e[1], 1), Want: 70},
			{Chords: []Chord{{A: left, B: right, Along: pt(1, 0), Factor: 1}}, Want: 100},
		}
		r := solved(t, p)
		nodes := r.Shapes[0].Nodes
		slant := math.Abs(nodes[e[1]].At.X - nodes[e[2]].At.X)
		missed := math.Max(math.Abs(r.SpanOff[0]), math.Abs(r.SpanOff[1]))
		if fit := stay == 0; fit && (slant < 20 || missed > met) || !fit && (slant > 1e-6 || missed < 5) {
			t.Errorf("with a wish to stay of %g the side slants by %g mm, and a width is missed by %g", stay, slant, missed)
		}
		if slant := math.Abs(nodes[e[4]].At.X - nodes[e[0]].At.X); slant > 1e-6 {
			t.Errorf("with a wish to stay of %g the longest side slants by %g mm", stay, slant)
		}
	}
}

// told is a measure that is what it is.
type told float64

func (m told) Value([][]float64) float64              { return float64(m) }
func (told) Slope([][]float64, *sqp.Gradient)         {}
func (told) Curve([][]float64, float64, []sqp.Square) {}

// TestMissedIsAShare: what counts as met is not missed, however short it is wanted; of a
// distance along a direction that is wanted backwards the share counts as of any other.
func TestMissedIsAShare(t *testing.T) {
	for _, c := range []struct{ is, want, missed float64 }{
		{200, 200, 0},
		{200 + met/2, 200, 0},
		{4 + met/2, 4, 0}, // of a doll's cuff
		{met / 2, 0, 0},
		{202, 200, 0.01},
		{-50 - met/2, -50, 0},
		{-51, -50, 0.02},
		{-49, -50, 0.02},
	} {
		g := &goal{measure: told(c.is), want: c.want}
		if got := g.missed(nil); math.Abs(got-c.missed) > 1e-12 {
			t.Errorf("%g for %g is missed by the share %g, want %g", c.is, c.want, got, c.missed)
		}
	}
}

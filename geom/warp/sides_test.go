package warp

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// TestRunsOf: the runs of a curve with one inflection are those of its samples, whose chords
// turn to one side and then to the other.
func TestRunsOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string, from, to float64) geom.Point {
			a, long := rapid.Float64Range(from, to).Draw(t, name), rapid.Float64Range(0.2, 5).Draw(t, name+" long")
			return pt(long*math.Cos(a), long*math.Sin(a))
		}
		head, middle, tail := pt(rapid.Float64Range(0.2, 5).Draw(t, "head long"), 0), side("middle", 0.01, 1.2), side("tail", -1.2, 0)
		if rapid.Bool().Draw(t, "mirrored") {
			middle.Y, tail.Y = -middle.Y, -tail.Y
		}
		first, second := runsOf(head, middle, tail)
		p1 := head
		p2 := p1.Add(middle)
		s := geom.Cubic(geom.Point{}, p1, p2, p2.Add(tail))
		const n = 4000
		var runs [2]float64
		last, run := head, 0
		for i := range n {
			d := s.At(float64(i+1) / n).Sub(s.At(float64(i) / n))
			by := angle(last, d)
			if by*runs[0] < 0 {
				run = 1
			}
			runs[run] += by
			last = d
		}
		runs[1] += angle(last, tail)
		if math.Abs(runs[0]-first) > 1e-5 || math.Abs(runs[1]-second) > 1e-5 {
			t.Errorf("runs of %g and %g, want %g and %g", first, second, runs[0], runs[1])
		}
	})
}

// TestSlightTurnStaysSlight: a side that runs out all but straight, with a turn of a hundredth
// of a degree against its hollow, does not come to wave when a width along it grows.
func TestSlightTurnStaysSlight(t *testing.T) {
	side := geom.Cubic(pt(100, 0), pt(100, 60), pt(106, 119), pt(111.823, 178))
	s, e := madeOf(
		geom.Path{geom.Line(pt(0, 0), pt(100, 0))},
		geom.Path{side},
		geom.Path{geom.Line(pt(111.823, 178), pt(0, 178))},
		geom.Path{geom.Line(pt(0, 178), pt(0, 0))},
	)
	s.Grain = pt(0, 1)
	first, second := runsOf(side.P1.Sub(side.P0), side.P2.Sub(side.P1), side.P3.Sub(side.P2))
	if first*second >= 0 || math.Abs(second) > slightTurn {
		t.Fatalf("the side turns by %g and %g, which is no slight turn", first, second)
	}
	width := func(at, want float64) Span {
		return Span{Chords: []Chord{{A: Spot{On: &Place{0, 0, e[3], 1 - at}}, B: Spot{On: &Place{0, 0, e[1], at}}, Along: pt(1, 0), Factor: 1}}, Want: want}
	}
	p := &Problem{Shapes: []Shape{s}, Rails: []Rail{{Nodes: []int{e[3], e[0]}, Along: pt(0, 1), Square: true}}}
	p.Spans = []Span{{Terms: terms(0, e[0], e[1], 1), Want: 100}, width(0.5, 105), width(1, 111)}
	r := solved(t, p)
	now := r.Shapes[0].stretch(0, e[1])
	u, v, w := now.P1.Sub(now.P0), now.P2.Sub(now.P1), now.P3.Sub(now.P2)
	if u.Cross(v)*v.Cross(w) < 0 {
		if first, second := runsOf(u, v, w); math.Min(math.Abs(first), math.Abs(second)) > plainTurn {
			t.Errorf("the side turns by %g and then by %g", first, second)
		}
	}
	if err := r.Shapes[0].Outline().Simple(); err != nil {
		t.Error(err)
	}
}

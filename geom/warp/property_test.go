package warp

import (
	"cmp"
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

// checkForm checks what holds for every result: spans, seams, folds, rows, right angles,
// outlines and the turns of their curves.
func checkForm(t *rapid.T, p *Problem, r *Result) {
	for i, off := range r.SpanOff {
		if math.Abs(off) > 0.02 && !r.Held {
			t.Errorf("span %d is off by %g mm", i, off)
		}
	}
	for i, off := range r.SeamOff {
		if math.Abs(off) > 1e-4 {
			t.Errorf("seam %d is off by %g mm", i, off)
		}
	}
	for k, s := range r.Shapes {
		if err := s.Outline().Simple(); err != nil {
			t.Errorf("shape %d: %v", k, err)
		}
		for i := range s.Nodes {
			was, is := turns(p.Shapes[k].stretch(0, i)), turns(s.stretch(0, i))
			for end := range was {
				if side := cmp.Or(was[end], was[1-end]); is[end] == -side && side != 0 {
					t.Errorf("stretch %d of shape %d turned %v and turns %v", i, k, was, is)
				}
			}
		}
	}
	for i, rail := range p.Rails {
		s, u := r.Shapes[rail.Shape], rail.Along.Unit()
		first := s.Nodes[rail.Nodes[0]]
		for _, j := range rail.Nodes {
			if off := s.Nodes[j].At.Sub(first.At).Cross(u); math.Abs(off) > 1e-6 {
				t.Errorf("rail %d: node %d is %g mm off", i, j, off)
			}
		}
		last := s.Nodes[rail.Nodes[len(rail.Nodes)-1]]
		for _, v := range []geom.Point{first.In, last.Out} {
			if rail.Square && math.Abs(v.Dot(u)) > 1e-6 {
				t.Errorf("rail %d: what meets it is not square: %v", i, v)
			}
		}
		if old := p.Shapes[rail.Shape].Nodes[rail.Nodes[0]].At; rail.Square && math.Abs(first.At.Sub(old).Cross(u)) > 1e-6 {
			t.Errorf("the fold of shape %d is no longer on its line", rail.Shape)
		}
	}
	for i, row := range p.Rows {
		n := r.Shapes[row.Shape].Nodes
		a, b := n[row.Nodes[0]].At, n[row.Nodes[len(row.Nodes)-1]].At
		for _, j := range row.Nodes {
			if off := n[j].At.Sub(a).Cross(b.Sub(a).Unit()); math.Abs(off) > 1e-4 {
				t.Errorf("row %d: node %d is %g mm off", i, j, off)
			}
		}
	}
	for i, d := range p.Darts {
		s := r.Shapes[d.Shape]
		apex := r.Map(d.Shape, d.Apex)
		a, b := s.Nodes[d.Stretch].At.Dist(apex), s.Nodes[s.next(d.Stretch)].At.Dist(apex)
		if d.EqualLegs && math.Abs(a-b) > 1e-4 {
			t.Errorf("the legs of dart %d are %g and %g mm", i, a, b)
		}
	}
}

// turns returns the sides to which the control polygon of a stretch turns twice, as the
// signs of its curvature at both ends.
func turns(s geom.Segment) [2]int {
	if s.Straight {
		return [2]int{}
	}
	sign := func(a, b geom.Point) int {
		switch sin := a.Cross(b) / (a.Len() * b.Len()); {
		case sin > 2*leastTurn:
			return 1
		case sin < -2*leastTurn:
			return -1
		}
		return 0
	}
	u, v, w := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	return [2]int{sign(u, v), sign(v, w)}
}

// TestBodicesOfEveryBody: a bodice is brought to bodies of other form, from a doll to a
// giant, and keeps what is to be kept.
func TestBodicesOfEveryBody(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Exp(rapid.Float64Range(-2.3, 1).Draw(t, "scale"))
		p := newBodice().scaled(k)
		p.Scale = true
		for i := range p.Spans {
			p.Spans[i].Want *= rapid.Float64Range(0.94, 1.1).Draw(t, "span")
		}
		for i := range p.Darts {
			p.Darts[i].Want *= rapid.Float64Range(0.3, 1.4).Draw(t, "dart")
		}
		r, err := Solve(context.Background(), *p, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkForm(t, p, r)
	})
}

// skirt is a piece drawn whole about the line x = 0, with a hollow that reaches past its
// middle and curves that mirror each other, and a band sewn to its top with gathers.
func skirt(gathers float64) *Problem {
	s, e := madeOf(
		geom.Path{geom.Line(pt(-120, 0), pt(-40, 0))},
		geom.Path{geom.Cubic(pt(-40, 0), pt(-35, 90), pt(-30, 140), pt(0, 140)), geom.Cubic(pt(0, 140), pt(30, 140), pt(35, 90), pt(40, 0))},
		geom.Path{geom.Line(pt(40, 0), pt(120, 0))},
		geom.Path{geom.Cubic(pt(120, 0), pt(110, 60), pt(95, 130), pt(90, 200))},
		geom.Path{geom.Cubic(pt(90, 200), pt(40, 190), pt(20, 188), pt(0, 188)), geom.Cubic(pt(0, 188), pt(-20, 188), pt(-40, 190), pt(-90, 200))},
		geom.Path{geom.Cubic(pt(-90, 200), pt(-95, 130), pt(-110, 60), pt(-120, 0))},
	)
	top := terms(0, e[4], e[5], 1)
	length := 0.0
	for _, t := range top {
		length += s.stretch(0, t.Stretch).Length()
	}
	// The band lies aslant and is folded along its upper edge.
	turn := geom.Rotation(0.5, geom.Point{})
	b, _ := madeOf(geom.Polygon(turn.Apply(pt(0, 0)), turn.Apply(pt(length/gathers, 0)), turn.Apply(pt(length/gathers, 30)), turn.Apply(pt(0, 30)))[:1],
		geom.Path{geom.Line(turn.Apply(pt(length/gathers, 0)), turn.Apply(pt(length/gathers, 30)))},
		geom.Path{geom.Line(turn.Apply(pt(length/gathers, 30)), turn.Apply(pt(0, 30)))},
		geom.Path{geom.Line(turn.Apply(pt(0, 30)), turn.Apply(pt(0, 0)))})
	return &Problem{
		Scale:  true,
		Shapes: []Shape{s, b},
		Mirrors: []Mirror{{Shape: 0, Axis: [2]geom.Point{pt(0, 0), pt(0, 1)}, Pairs: [][2]int{
			{0, 4}, {1, 3}, {5, 7},
		}}},
		Rails: []Rail{{Shape: 1, Nodes: []int{2, 3}, Along: turn.ApplyVector(pt(1, 0)), Square: true}},
		Rows:  []adjust.Row{{Shape: 0, Nodes: []int{0, 1, 3, 4}}},
		Seams: []Seam{{Terms: append(top, Term{Shape: 1, Factor: -gathers})}},
		Spans: []Span{
			{Terms: []Term{{Shape: 1, Factor: 2}}, Want: 2 * length / gathers},
			{Terms: terms(0, e[3], e[3]+1, 1), Want: s.stretch(0, e[3]).Length()},
			{Chords: []Chord{{A: Spot{At: pt(-120, 0)}, B: Spot{At: pt(120, 0)}, Factor: 1}}, Want: 240},
			{Chords: []Chord{{A: Spot{Shape: 1, At: turn.Apply(pt(0, 0))}, B: Spot{Shape: 1, At: turn.Apply(pt(0, 30))}, Factor: 1}}, Want: 30},
		},
	}
}

// TestGathersMirrorsAndHollows: gathers of 1.5 and 2, a fold that lies aslant, and a hollow
// piece that is symmetric and stays so.
func TestGathersMirrorsAndHollows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := skirt(rapid.SampledFrom([]float64{1.5, 2}).Draw(t, "gathers"))
		k := math.Exp(rapid.Float64Range(-2, 1).Draw(t, "scale"))
		for i := range p.Spans {
			p.Spans[i].Want *= k * rapid.Float64Range(0.85, 1.2).Draw(t, "span")
		}
		r, err := Solve(context.Background(), *p, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkForm(t, p, r)
		n := r.Shapes[0].Nodes
		for _, pair := range append(p.Mirrors[0].Pairs, [2]int{2, 2}, [2]int{6, 6}) {
			a, b := n[pair[0]], n[pair[1]]
			for _, v := range [][2]geom.Point{{a.At, b.At}, {a.In, b.Out}, {a.Out, b.In}} {
				if d := v[0].Dist(pt(-v[1].X, v[1].Y)); d > 1e-6 {
					t.Errorf("nodes %v are no longer images: %v", pair, v)
				}
			}
		}
	})
}

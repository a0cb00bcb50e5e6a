package warp

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

// changed returns the bodice with other targets.
func changed() *Problem {
	p := newBodice()
	p.Scale = true
	for i, k := range []float64{chest: 1.1, waist: 1.2, frontLength: 0.97, backLength: 0.95, shoulderLength: 1.02, armholeRound: 1.08, neckRound: 1.05, shoulderWidth: 1.03} {
		p.Spans[i].Want *= k
	}
	p.Darts[0].Want, p.Darts[1].Want = 20, 25
	return p
}

// TestSeamsThatSayNothingNew: what is sewn twice, to itself, to its own image, or in parts
// that add up, changes nothing about the rest.
func TestSeamsThatSayNothingNew(t *testing.T) {
	_, e := halfBodice(0)
	plain := changed()
	want := solved(t, plain)
	sideSeam := plain.Seams[0].Terms
	part := func(from, to float64) Seam {
		return Seam{Terms: []Term{
			{Stretch: e[shoulder], From: from, To: to, Factor: 1}, {Shape: 1, Stretch: e[shoulder], From: from, To: to, Factor: -1},
		}}
	}
	for name, seams := range map[string][]Seam{
		"the same twice":          {{Terms: sideSeam}, {Terms: sideSeam}},
		"an edge and itself":      {{Terms: append(terms(0, e[neck], e[neck]+1, 1), terms(0, e[neck], e[neck]+1, -1)...)}},
		"twice as much of a seam": {{Terms: append(terms(0, e[side], e[side]+1, 2), terms(1, e[side], e[side]+1, -2)...)}},
		"parts that add up":       {part(0, 0.25), part(0.25, 0.5), part(0.5, 1)},
		"nothing":                 {{}},
	} {
		t.Run(name, func(t *testing.T) {
			p := changed()
			p.Seams = append(p.Seams, seams...)
			r := solved(t, p)
			for i, off := range append(r.SpanOff, r.SeamOff...) {
				if math.Abs(off) > 1e-4 {
					t.Errorf("span or seam %d is off by %g mm", i, off)
				}
			}
			for k := range r.Shapes {
				for i, n := range r.Shapes[k].Nodes {
					if d := n.At.Dist(want.Shapes[k].Nodes[i].At); d > 1e-3 {
						t.Errorf("node %d of shape %d is %g mm from where it is without", i, k, d)
					}
				}
			}
		})
	}
}

// TestOneBadSeam: a seam that cannot be, beside one that can, is told, and nothing else is
// spoilt.
func TestOneBadSeam(t *testing.T) {
	p := changed()
	bad := p.Seams[1]
	bad.Want = 5
	p.Seams = append(p.Seams, bad)
	r := solved(t, p)
	if math.Abs(r.SeamOff[2]+5-r.SeamOff[1]) > 1e-6 || math.Abs(r.SeamOff[2]) < 1 && math.Abs(r.SeamOff[1]) < 1 {
		t.Errorf("the seams that contradict are off by %g mm", r.SeamOff)
	}
	if math.Abs(r.SeamOff[0]) > 1e-4 {
		t.Errorf("the other seam is off by %g mm", r.SeamOff[0])
	}
	for i, off := range r.SpanOff {
		if math.Abs(off) > 0.02 {
			t.Errorf("span %d is off by %g mm", i, off)
		}
	}
}

// TestNastyProblems: whatever is asked of whatever shapes, what comes out are lengths.
func TestNastyProblems(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.OneOf(rapid.SampledFrom([]float64{0, 1, 10, 10 + 1e-9, 50}), rapid.Float64Range(-80, 80))
		point := func(what string) geom.Point { return pt(coordinate.Draw(t, what), coordinate.Draw(t, what)) }
		var p Problem
		for range rapid.IntRange(1, 2).Draw(t, "shapes") {
			var s Shape
			for range rapid.IntRange(2, 6).Draw(t, "nodes") {
				n := adjust.Node{At: point("at"), Smooth: rapid.Bool().Draw(t, "smooth")}
				if rapid.Bool().Draw(t, "curved") {
					n.In, n.Out = point("in"), point("out")
				}
				s.Nodes = append(s.Nodes, n)
			}
			if rapid.Bool().Draw(t, "inner") {
				s.Inner = []geom.Path{{geom.Line(point("from"), point("to"))}}
			}
			p.Shapes = append(p.Shapes, s)
		}
		shape := func() (int, int) {
			k := rapid.IntRange(0, len(p.Shapes)-1).Draw(t, "shape")
			return k, rapid.IntRange(0, len(p.Shapes[k].Nodes)-1).Draw(t, "node")
		}
		for range rapid.IntRange(0, 2).Draw(t, "rails") {
			k, i := shape()
			p.Rails = append(p.Rails, Rail{k, []int{i, 0}, pt(1, coordinate.Draw(t, "slope")), rapid.Bool().Draw(t, "square")})
		}
		if rapid.Bool().Draw(t, "mirror") {
			k, _ := shape()
			p.Mirrors = []Mirror{{Shape: k, Axis: [2]geom.Point{pt(0, 0), pt(1, coordinate.Draw(t, "axis"))}}}
		}
		for range rapid.IntRange(0, 2).Draw(t, "darts") {
			k, i := shape()
			p.Darts = append(p.Darts, Dart{k, i, point("apex"), coordinate.Draw(t, "mouth"), rapid.Bool().Draw(t, "legs")})
		}
		list := func() (out []Term) {
			for range rapid.IntRange(0, 3).Draw(t, "terms") {
				k, i := shape()
				out = append(out, Term{Shape: k, Stretch: i, Factor: rapid.SampledFrom([]float64{1, -1, 2, 0, -1.5}).Draw(t, "factor")})
			}
			return out
		}
		for range rapid.IntRange(0, 3).Draw(t, "spans") {
			p.Spans = append(p.Spans, Span{Terms: list(), Want: rapid.Float64Range(-20, 300).Draw(t, "want")})
		}
		for range rapid.IntRange(0, 2).Draw(t, "seams") {
			p.Seams = append(p.Seams, Seam{Terms: list()})
		}
		p.Scale = rapid.Bool().Draw(t, "scale")
		p.Stay = rapid.SampledFrom([]float64{0, 1}).Draw(t, "stay")
		r, err := Solve(context.Background(), p, nil)
		if err != nil {
			t.Skipf("no solution: %v", err)
		}
		for k, s := range r.Shapes {
			for i, n := range s.Nodes {
				if !n.At.Finite() || !n.In.Finite() || !n.Out.Finite() {
					t.Fatalf("node %d of shape %d is nowhere: %v", i, k, n)
				}
			}
		}
	})
}

package warp

import (
	"context"
	"math"
	"testing"
)

func solved(t testing.TB, p *Problem) *Result {
	t.Helper()
	r, err := Solve(context.Background(), *p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// moved returns the largest distance of a node or handle's end from where it was, when all
// is scaled by k about the shape's anchor.
func moved(p *Problem, r *Result, k float64) float64 {
	far := 0.0
	for i, s := range r.Shapes {
		f := r.fields[i]
		f.scale = k
		if k != 1 { // where the shape lies along its fold does not count
			f.anchor = f.anchor.Add(s.Nodes[0].At.Sub(f.scaled(p.Shapes[i].Nodes[0].At)).Mul(1 / (1 - k)))
		}
		for j, n := range s.Nodes {
			was := p.Shapes[i].Nodes[j]
			far = max(far, n.At.Dist(f.scaled(was.At)), n.In.Dist(was.In.Mul(k)), n.Out.Dist(was.Out.Mul(k)))
		}
	}
	return far
}

func TestTargetsAsTheyAreMoveNothing(t *testing.T) {
	p := newBodice()
	p.Scale = true
	if far := moved(p, solved(t, p), 1); far > 1e-6 {
		t.Errorf("something moved by %g mm", far)
	}
}

func TestTargetsTimesAFactorScale(t *testing.T) {
	for _, k := range []float64{0.1, 0.27, 0.9, 1.5, 4} {
		for _, scale := range []bool{true, false} {
			p := newBodice().scaled(k)
			p.Scale = scale
			r := solved(t, p)
			if far := moved(p, r, k); far > 0.01 {
				t.Errorf("times %g, scaled first %v: something is off by %g mm; steps %d spans %g", k, scale, far, r.Steps, r.SpanOff)
			}
		}
	}
}

func TestSpansAndSeams(t *testing.T) {
	p := newBodice()
	p.Scale = true
	for i, k := range []float64{chest: 1.1, waist: 1.25, frontLength: 0.97, backLength: 0.95, shoulderLength: 1.02, armholeRound: 1.08, neckRound: 1.05, shoulderWidth: 1.03} {
		p.Spans[i].Want *= k
	}
	p.Darts[0].Want, p.Darts[1].Want = 10, 18
	r := solved(t, p)
	t.Logf("steps %d scale %g held %v\nspans %.2g\nseams %.2g darts %.2g", r.Steps, r.Scale, r.Held, r.SpanOff, r.SeamOff, r.DartOff)
	for i, off := range r.SpanOff {
		if math.Abs(off) > 0.02 {
			t.Errorf("span %d is off by %g mm", i, off)
		}
	}
	for i, off := range r.SeamOff {
		if math.Abs(off) > 1e-4 {
			t.Errorf("seam %d is off by %g mm", i, off)
		}
	}
	for i, s := range r.Shapes {
		if err := s.Outline().Simple(); err != nil {
			t.Errorf("shape %d: %v", i, err)
		}
	}
}

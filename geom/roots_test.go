package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestQuadraticRoots(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		a, b, c float64
		want    []float64
	}{
		{1, -3, 2, []float64{1, 2}}, {1, 0, 1, nil}, {1, -2, 1, []float64{1}}, {0, 2, -1, []float64{0.5}},
		{0, 0, 1, nil}, {0, 0, 0, nil}, {1, 0, 0, []float64{0}}, {1, -1e8, 1, []float64{1e-8, 1e8}},
		{1e-300, -3e-300, 2e-300, []float64{1, 2}}, {1e-320, 1, -0.5, []float64{0.5}},
		{nan, 1, 1, nil}, {math.Inf(1), 1, 1, nil}, {1e200, -3e200, 2e200, []float64{1, 2}},
	} {
		r, n := quadraticRoots(c.a, c.b, c.c)
		if n == 2 && c.a == 1e-320 {
			n, r[0] = 1, r[1] // the far root may be finite
		}
		if n != len(c.want) {
			t.Errorf("%g %g %g: %v, want %v", c.a, c.b, c.c, r[:n], c.want)
			continue
		}
		for i, w := range c.want {
			if math.Abs(r[i]-w) > 1e-15*math.Abs(w) {
				t.Errorf("%g %g %g: %v, want %v", c.a, c.b, c.c, r[:n], c.want)
			}
		}
	}
}

// A polynomial made from its roots gives them back.
func TestPolyRoots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, maxDegree).Draw(t, "degree")
		p := poly{deg: 0}
		p.c[0] = 1
		var want []float64
		for i := range n {
			r := (float64(i) + rapid.Float64Range(0.1, 0.9).Draw(t, "root")) / float64(n)
			if rapid.IntRange(0, 3).Draw(t, "outside") == 0 {
				r += 2
			} else {
				want = append(want, r)
			}
			for k := p.deg + 1; k > 0; k-- {
				p.c[k] = p.c[k-1] - r*p.c[k]
			}
			p.c[0] *= -r
			p.deg++
		}
		got := p.roots(1, 0)
		if got.n != len(want) {
			t.Fatalf("roots %v, want %v", got.t[:got.n], want)
		}
		for i, w := range want {
			if math.Abs(got.t[i]-w) > 1e-8 {
				t.Fatalf("roots %v, want %v", got.t[:got.n], want)
			}
		}
	})
}

func TestPolyTouch(t *testing.T) {
	p := poly{deg: 3, c: [maxDegree + 1]float64{0.25 + 1e-12, -1, 1, 0}} // (t - ½)² + 1e-12
	if r := p.roots(1, 0); r.n != 0 {
		t.Errorf("roots %v", r.t[:r.n])
	}
	if r := p.roots(1, 1e-11); r.n != 1 || math.Abs(r.t[0]-0.5) > 1e-9 {
		t.Errorf("touching roots %v", r.t[:r.n])
	}
}

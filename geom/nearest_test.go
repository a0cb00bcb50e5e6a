package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// No sample of the segment may be nearer than the nearest point.
func TestNearestIsGlobal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		s := drawSegment(t, size)
		q := drawPoint(t, 2*size, "q")
		if rapid.Bool().Draw(t, "on the curve") {
			q = s.At(rapid.Float64Range(0, 1).Draw(t, "at"))
		}
		u, d := s.Nearest(q)
		if u < 0 || u > 1 || math.Abs(s.At(u).Dist(q)-d) > 1e-14*size {
			t.Fatalf("%v: parameter %g, distance %g", s, u, d)
		}
		const n = 2000
		for i := range n + 1 {
			if e := s.At(float64(i) / n).Dist(q); e < d-1e-13*size {
				t.Fatalf("%v: nearest to %v is %g off at %g, but %g at %g", s, q, d, u, e, float64(i)/n)
			}
		}
	})
}

func TestNearestOnPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawLoop(t)
		q := drawPoint(t, 2*p.Bounds().W(), "q")
		at, d := p.Nearest(q)
		if math.Abs(p.At(at).Dist(q)-d) > 1e-12*(1+d) {
			t.Fatalf("place %v is not %g off", at, d)
		}
		for _, s := range p {
			if _, e := s.Nearest(q); e < d-1e-12*(d+q.Len()) {
				t.Fatalf("%v is nearer: %g < %g", s, e, d)
			}
		}
	})
}

func TestNearestOnParabola(t *testing.T) {
	// The foot of the perpendicular from (0, h), h > 1/2, on y = x² has
	// x² = h - 1/2 (calculus), at distance √(h - 1/4).
	s := parabola(0.5, -3, 5)
	for _, h := range []float64{0.75, 1, 4} {
		u, d := s.Nearest(Pt(0, h))
		x := -3 + 8*u
		if math.Abs(x*x-(h-0.5)) > 1e-9 || math.Abs(d-math.Sqrt(h-0.25)) > 1e-12 {
			t.Errorf("h %g: x %g, distance %g", h, x, d)
		}
	}
	if u, d := s.Nearest(Pt(0, 0.25)); math.Abs(u-3./8) > 1e-6 || math.Abs(d-0.25) > 1e-15 {
		t.Errorf("below the focus: u %g, distance %g", u, d)
	}
}

func TestNearestOfWildNumbers(t *testing.T) {
	for _, s := range append(wild(), Cubic(Pt(0, 0), Pt(1, 2), Pt(3, 4), Pt(5, 0))) {
		for _, q := range []Point{{}, {math.NaN(), 0}, {math.Inf(1), 1}, {1e308, 1e308}} {
			if u, d := s.Nearest(q); !(u >= 0 && u <= 1) || math.IsNaN(d) {
				t.Errorf("%v to %v: %g, %g", s, q, u, d)
			}
			Path{s}.Nearest(q)
		}
	}
	if _, d := (Path{}).Nearest(Pt(0, 0)); !math.IsInf(d, 1) {
		t.Error("the empty path is near")
	}
}

package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// deviation returns the largest distance of the exact parallel of s, displaced
// from d0 to d1 in proportion to the arc length, to the path p.
func deviation(s Segment, d0, d1 float64, p Path) float64 {
	const n = 300
	worst, total := 0.0, s.Length()
	for i := 1; i < n; i++ {
		t := float64(i) / n
		if s.Deriv(t).Len() < 0.01*total {
			continue // s all but turns on the spot, the normal means little
		}
		d := d0
		if d0 != d1 {
			d += (d1 - d0) * s.LengthTo(t) / total
		}
		q := s.At(t).Sub(s.Tangent(t).Left().Mul(d))
		if _, e := p.Nearest(q); e > worst {
			worst = e
		}
	}
	return worst
}

// drawWildCubic draws cubics from tame to wild, zero-length handles included.
func drawWildCubic(t *rapid.T) Segment {
	size := math.Pow(10, rapid.Float64Range(1, 3).Draw(t, "log size"))
	pt := func(name string) Point {
		return Pt(size*rapid.Float64Range(0, 1).Draw(t, name+" x"), size*rapid.Float64Range(0, 1).Draw(t, name+" y"))
	}
	s := Cubic(pt("p0"), pt("p1"), pt("p2"), pt("p3"))
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		s.P1 = s.P0
	case 1:
		s.P2 = s.P3
	case 2:
		s.P1, s.P2 = s.P0.Lerp(s.P3, 0.3), s.P0.Lerp(s.P3, 0.8)
	}
	return s
}

func TestParallelIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawWildCubic(t)
		size := s.Length()
		if size < 1 {
			return
		}
		d := size * rapid.Float64Range(-0.5, 0.5).Draw(t, "distance")
		p := s.Parallel(d, 0)
		if e := deviation(s, d, d, p); e > ParallelTolerance {
			t.Fatalf("%v at %v: %v mm off with %d cubics", s, d, e, len(p))
		}
		for i := 1; i < len(p); i++ {
			if p[i].P0 != p[i-1].P3 {
				t.Fatalf("gap before cubic %d", i)
			}
		}
	})
}

func TestParallelTaperIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawWildCubic(t)
		size := s.Length()
		if size < 1 {
			return
		}
		d0 := size * rapid.Float64Range(-0.3, 0.3).Draw(t, "d0")
		d1 := size * rapid.Float64Range(-0.3, 0.3).Draw(t, "d1")
		p := s.ParallelTaper(d0, d1, 0)
		if e := deviation(s, d0, d1, p); e > ParallelTolerance {
			t.Fatalf("%v from %v to %v: %v mm off with %d cubics", s, d0, d1, e, len(p))
		}
	})
}

// TestParallelOfParabola holds the parallel of y = x² / (4 f) against its closed
// form: (x, y) + d (2f, -x)... along the normal, cusps and reversed stretch
// included; the centres of curvature of a parabola lie at 2f above its vertex.
func TestParallelOfParabola(t *testing.T) {
	const f = 10.0
	// The parabola over -a..a as a cubic: a quadratic with middle control point
	// (0, -a²/4f), raised in degree.
	const a = 40.0
	q0, q1, q2 := Pt(-a, a*a/(4*f)), Pt(0, -a*a/(4*f)), Pt(a, a*a/(4*f))
	s := Cubic(q0, q0.Lerp(q1, 2./3), q2.Lerp(q1, 2./3), q2)
	for _, d := range []float64{15, 5, -10, -19.9, -20.1, -40} {
		p := s.Parallel(d, 0)
		for x := -a; x <= a; x += 0.25 {
			n := Pt(x/(2*f), -1).Unit() // to the right of travel: downward
			want := Pt(x, x*x/(4*f)).Add(n.Mul(d))
			if _, e := p.Nearest(want); e > ParallelTolerance {
				t.Errorf("d %v, x %v: %v mm off", d, x, e)
			}
		}
		if d > -20 && len(p) > 8 {
			t.Errorf("d %v: %d cubics", d, len(p))
		}
	}
}

// TestParallelOfCircle: the parallel of a quarter circle is one, whose radius
// only differs by the distance. (The cubic itself is off by 2.7e-4 radii.)
func TestParallelOfCircle(t *testing.T) {
	for _, r := range []float64{2, 20, 200} {
		const k = 0.5522847498307936
		s := Cubic(Pt(r, 0), Pt(r, k*r), Pt(k*r, r), Pt(0, r))
		for _, d := range []float64{-0.9 * r, -0.3 * r, 0.2 * r, r} {
			p := s.Parallel(d, 0)
			for i := range p {
				for _, u := range []float64{0, 0.3, 0.7, 1} {
					if got, tol := p[i].At(u).Len(), ParallelTolerance+2.8e-4*r; math.Abs(got-(r+d)) > tol {
						t.Errorf("radius %v, distance %v: %v", r, d, got)
					}
				}
			}
			if len(p) > 4 {
				t.Errorf("radius %v, distance %v: %d cubics", r, d, len(p))
			}
		}
	}
}

func TestParallelOfLine(t *testing.T) {
	s := Line(Pt(10, 10), Pt(110, 10))
	p := s.ParallelTaper(5, 20, 0)
	if len(p) != 1 || !p[0].Straight || p[0].P0 != Pt(10, 5) || p[0].P3 != Pt(110, -10) {
		t.Errorf("got %v", p)
	}
	// A cubic that runs straight is a line as well.
	p = Cubic(Pt(0, 0), Pt(0, 30), Pt(0, 70), Pt(0, 100)).Parallel(-3, 0)
	if len(p) != 1 || !p[0].Straight || p[0].P0 != Pt(-3, 0) || p[0].P3 != Pt(-3, 100) {
		t.Errorf("got %v", p)
	}
}

func TestParallelOfNothing(t *testing.T) {
	nan := math.NaN()
	for _, s := range []Segment{
		Line(Pt(1, 1), Pt(1, 1)),
		Cubic(Pt(1, 1), Pt(1, 1), Pt(1, 1), Pt(1, 1)),
		Cubic(Pt(0, 0), Pt(nan, 1), Pt(2, 2), Pt(3, 3)),
		Line(Pt(0, 0), Pt(math.Inf(1), 0)),
	} {
		if p := s.Parallel(5, 0); p != nil {
			t.Errorf("%v: %v", s, p)
		}
	}
	if p := Line(Pt(0, 0), Pt(1, 0)).Parallel(nan, 0); p != nil {
		t.Errorf("%v", p)
	}
}

// TestParallelIsThrifty holds the number of cubics on the curves of garments:
// the measured reference for a curve-keeping parallel is 1.05 an edge.
func TestParallelIsThrifty(t *testing.T) {
	curves, cubics := 0, 0
	for _, o := range loadOutlines(t) {
		for _, e := range o.edges(0) {
			s := e.Path[0]
			if s.drawnStraight() {
				continue
			}
			curves++
			cubics += len(s.Parallel(6.35, 0.01))
		}
	}
	t.Logf("%.3f cubics a curve", float64(cubics)/float64(curves))
	if float64(cubics) > 1.25*float64(curves) {
		t.Errorf("%d cubics for %d curves", cubics, curves)
	}
}

package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTangentWhereHandlesVanish(t *testing.T) {
	o := Pt(0, 0)
	for _, c := range []struct {
		name       string
		s          Segment
		start, end Point
	}{
		{"plain", Cubic(o, Pt(0, 1), Pt(4, 5), Pt(5, 5)), Pt(0, 1), Pt(1, 0)},
		{"first handle on the node", Cubic(o, o, Pt(3, 4), Pt(10, 4)), Pt(.6, .8), Pt(1, 0)},
		{"last handle on the node", Cubic(o, Pt(0, 2), Pt(6, 8), Pt(6, 8)), Pt(0, 1), Pt(.6, .6).Unit()},
		{"both on their nodes", Cubic(o, o, Pt(3, 4), Pt(3, 4)), Pt(.6, .8), Pt(.6, .8)},
		{"both on the start", Cubic(o, o, o, Pt(3, 4)), Pt(.6, .8), Pt(.6, .8)},
		{"handle of rounding size", Cubic(o, Pt(1e-6, 0), Pt(30, 40), Pt(100, 40)), Pt(.6, .8), Pt(1, 0)},
		{"handle short but real", Cubic(o, Pt(1e-3, 0), Pt(30, 40), Pt(100, 40)), Pt(1, 0), Pt(1, 0)},
		{"line", Line(o, Pt(3, 4)), Pt(.6, .8), Pt(.6, .8)},
		{"point", Cubic(o, o, o, o), o, o},
		{"ends meet", Cubic(o, Pt(1, 0), Pt(0, 1), o), Pt(1, 0), Pt(0, -1)},
	} {
		if c.name == "last handle on the node" {
			c.end = c.s.P3.Sub(c.s.P1).Unit()
		}
		if got := c.s.Tangent(0); !got.Near(c.start, 1e-12) {
			t.Errorf("%s: leaves by %v, want %v", c.name, got, c.start)
		}
		if got := c.s.Tangent(1); !got.Near(c.end, 1e-12) {
			t.Errorf("%s: arrives by %v, want %v", c.name, got, c.end)
		}
	}
}

func TestTangentAtCusp(t *testing.T) {
	// (3v², 2v³) for v in -1 to 1: comes in along -x, turns, leaves along +x.
	s := Cubic(Pt(3, -2), Pt(-1, 2), Pt(-1, -2), Pt(3, 2))
	if got := s.Tangent(0.5); !got.Near(Pt(1, 0), 1e-12) {
		t.Errorf("leaves the cusp by %v", got)
	}
	if k := s.Curvature(0.5); !math.IsInf(k, 1) {
		t.Errorf("curvature at the cusp %v", k)
	}
	if k := s.Reverse().Curvature(0.5); !math.IsInf(k, -1) {
		t.Errorf("curvature at the cusp run backwards %v", k)
	}
	// The same infinity a little beside it.
	if a, b := s.Curvature(0.4999), s.Curvature(0.5001); !(a > 800 && b > 800) {
		t.Errorf("curvatures beside the cusp %g %g", a, b)
	}
}

// The curvature of y = x²/(2p) is p² / (p² + x²)^(3/2) (calculus).
func TestCurvatureOfParabola(t *testing.T) {
	for _, p := range []float64{0.5, 3, 40} {
		s := parabola(p, -10, 30)
		for _, u := range []float64{0, 0.2, 0.25, 0.6, 1} {
			x := -10 + 40*u
			want := p * p / math.Pow(p*p+x*x, 1.5)
			if got := s.Curvature(u); math.Abs(got-want) > 1e-12*(1+want) {
				t.Errorf("p %g x %g: curvature %g, want %g", p, x, got, want)
			}
			if got := s.Reverse().Curvature(1 - u); math.Abs(got+want) > 1e-12*(1+want) {
				t.Errorf("p %g x %g backwards: curvature %g, want %g", p, x, got, -want)
			}
			tangent := Pt(p, x).Unit()
			if got := s.Tangent(u); !got.Near(tangent, 1e-12) {
				t.Errorf("p %g x %g: tangent %v, want %v", p, x, got, tangent)
			}
			if got := s.Normal(u); !got.Near(tangent.Left(), 1e-12) {
				t.Errorf("p %g x %g: normal %v", p, x, got)
			}
		}
	}
}

func TestCurvatureStraight(t *testing.T) {
	for _, s := range []Segment{
		Line(Pt(0, 0), Pt(1, 1)), Cubic(Pt(0, 0), Pt(0, 0), Pt(1, 1), Pt(1, 1)),
		Cubic(Pt(0, 0), Pt(0, 0), Pt(0, 0), Pt(1, 1)), Cubic(Pt(2, 2), Pt(2, 2), Pt(2, 2), Pt(2, 2)),
	} {
		for _, u := range []float64{0, 0.5, 1} {
			if k := s.Curvature(u); k != 0 {
				t.Errorf("%v at %g: curvature %g", s, u, k)
			}
		}
	}
}

// Tangents have length 1 and agree with a short chord away from cusps.
func TestTangentAlongChord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSegment(t, drawSize(t))
		u := rapid.Float64Range(0, 0.999).Draw(t, "u")
		d := s.Tangent(u)
		if s.size() < 1e-290 {
			return
		}
		if math.Abs(d.Len()-1) > 1e-12 {
			t.Fatalf("%v at %g: tangent %v", s, u, d)
		}
		const h = 1e-5
		chord := s.At(u + h).Sub(s.At(u))
		if chord.Len() < 1e-3*h*s.size()+1e-12*s.P0.Len() {
			return // beside a cusp, or within rounding
		}
		if chord.Unit().Dot(d) < 0.99 && math.Abs(s.Curvature(u))*chord.Len() < 0.01 {
			t.Fatalf("%v at %g: tangent %v, chord %v", s, u, d, chord.Unit())
		}
	})
}

func TestTangentOfPathWithEmptySegments(t *testing.T) {
	dot := Line(Pt(1, 0), Pt(1, 0))
	p := Path{Line(Pt(0, 0), Pt(1, 0)), dot, Line(Pt(1, 0), Pt(1, 2))}
	if d := p.Tangent(Place{1, 0.5}); d != Pt(1, 0) {
		t.Errorf("on an empty segment: %v", d)
	}
	if d := p[1:].Tangent(Place{0, 0.5}); d != Pt(0, 1) {
		t.Errorf("on an empty first segment: %v", d)
	}
	if d := (Path{dot}).Tangent(Place{0, 0}); d != (Point{}) {
		t.Errorf("on a point: %v", d)
	}
}

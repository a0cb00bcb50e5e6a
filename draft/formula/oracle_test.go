package formula

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// TestHookAgainstAnEllipse: with the fullness 0.5523 a hook round a square corner is
// within 0.0273 % of the quarter of an ellipse (the known error of one cubic for a
// quarter of a circle; the constant is 4(√2-1)/3), and as long to 0.03 %, against
// Ramanujan's second formula for the perimeter (1914, "Modular equations and
// approximations to π"; its own error is far smaller for these ellipses).
func TestHookAgainstAnEllipse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(10, 500).Draw(t, "a")
		b := rapid.Float64Range(10, 500).Draw(t, "b")
		v := Values{"a": Length{a}, "b": Length{b}, "k": Number(4 * (math.Sqrt2 - 1) / 3)}
		x, _ := asked(t, "hook(at(a, 0*mm), at(a, b), at(0*mm, b), k)", v)
		s := curve(x)[0]
		for i := range 65 {
			p := s.At(float64(i) / 64)
			if r := math.Hypot(p.X/a, p.Y/b); r < 1-1e-9 || r > 1.000273 {
				t.Fatalf("at %d/64 it lies at %v of the ellipse", i, r)
			}
		}
		h := (a - b) * (a - b) / ((a + b) * (a + b))
		quarter := math.Pi / 4 * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
		if h < 0.5 && math.Abs(s.Length()-quarter) > 3e-4*quarter {
			t.Errorf("it is %v long, and the quarter ellipse %v", s.Length(), quarter)
		}
	})
}

// TestCompassAgainstHeron: the height of a triangle by Heron's formula is that of
// the crossing of two circles.
func TestCompassAgainstHeron(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(10, 500).Draw(t, "a")
		b := rapid.Float64Range(10, 500).Draw(t, "b")
		c := math.Abs(a-b) + rapid.Float64Range(0.01, 0.99).Draw(t, "share")*(a+b-math.Abs(a-b))
		v := Values{"r": Length{a}, "s": Length{b}, "c": Length{c}}
		x, ok := asked(t, "compass(at(0*mm, 0*mm), r, at(c, 0*mm), s)", v)
		if !ok {
			t.Fatal("a triangle does not close")
		}
		half := (a + b + c) / 2
		area := math.Sqrt(half * (half - a) * (half - b) * (half - c))
		if got := pt(x).Y; math.Abs(got-2*area/c) > 1e-9*max(a, b) {
			t.Errorf("the height is %v, by Heron %v", got, 2*area/c)
		}
	})
}

// TestMeetAgainstCramer: the crossing of two lines by Cramer's rule.
func TestMeetAgainstCramer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Values{"a": drawAt(t, 100, "a"), "b": drawAt(t, 100, "b"), "c": drawAt(t, 100, "c"), "d": drawAt(t, 100, "d")}
		a, b, c, d := pt(v["a"]), pt(v["b"]), pt(v["c"]), pt(v["d"])
		// n·x = n·a for both lines
		n, m := b.Sub(a).Left(), d.Sub(c).Left()
		det := n.X*m.Y - n.Y*m.X
		if math.Abs(det) < 1e-2*n.Len()*m.Len() || n.Len() < 1 || m.Len() < 1 {
			t.Skip("nearly parallel")
		}
		e, f := n.Dot(a), m.Dot(c)
		want := geom.Pt((e*m.Y-n.Y*f)/det, (n.X*f-e*m.X)/det)
		x, ok := asked(t, "meet(a, b, c, d)", v)
		if !ok || !pt(x).Near(want, 1e-9*(100+want.Len())) {
			t.Errorf("the lines meet at %v, by Cramer at %v", x, want)
		}
	})
}

// TestThroughACircle: through points that are evenly spaced on a circle the curve is
// square to the radius at each point between the ends, and keeps near the circle.
func TestThroughACircle(t *testing.T) {
	x := path(t, "through(polar(o, 0*w, r), polar(o, w, r), polar(o, 2*w, r), polar(o, 3*w, r), polar(o, 4*w, r))",
		Values{"o": pointAt(5, 7), "r": Length{100}, "w": Angle{15 * math.Pi / 180}})
	for i, s := range x {
		if i > 0 {
			radius := s.P0.Sub(geom.Pt(5, 7)).Unit()
			if math.Abs(radius.Dot(s.Tangent(0))) > 1e-12 {
				t.Errorf("at point %d it is %v out of square", i, radius.Dot(s.Tangent(0)))
			}
		}
		if i == 0 || i == 3 {
			continue // the ends run along their chords
		}
		for k := range 33 {
			if r := s.At(float64(k) / 32).Dist(geom.Pt(5, 7)); math.Abs(r-100) > 0.01 {
				t.Errorf("stretch %d leaves the circle by %v", i, r-100)
			}
		}
	}
}

// TestBendAgainstCircle: an arc of 60 degrees by the handle 4/3 tan(φ/4) r (the usual
// one; the middle lies on the circle) keeps to the circle within 3e-5 of the radius.
func TestBendAgainstCircle(t *testing.T) {
	x := path(t, "bend(polar(o, 0*w, r), w/w*90*degree, polar(o, w, r), w + 90*degree, r*4/3*tan(w/4), r*4/3*tan(w/4))",
		Values{"o": pointAt(0, 0), "r": Length{100}, "w": Angle{math.Pi / 3}})
	for k := range 65 {
		if r := x[0].At(float64(k) / 64).Len(); math.Abs(r-100) > 0.003 {
			t.Errorf("it leaves the circle by %v", r-100)
		}
	}
}

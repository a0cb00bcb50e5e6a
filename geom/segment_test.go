package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Splitting, cutting out, reversing and transforming give the points that the
// whole segment has.
func TestSegmentParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		s := drawSegment(t, size)
		u := rapid.Float64Range(-0.5, 1.5).Draw(t, "split")
		v := rapid.Float64Range(0, 1).Draw(t, "from")
		w := rapid.Float64Range(0, 1).Draw(t, "to")
		k := rapid.Float64Range(0, 1).Draw(t, "share")
		slack := 1e-13 * size
		a, b := s.Split(u)
		if a.P3 != b.P0 || a.P0 != s.P0 || b.P3 != s.P3 {
			t.Fatal("the parts do not join")
		}
		if !a.At(k).Near(s.At(u*k), 30*slack) || !b.At(k).Near(s.At(u+(1-u)*k), 30*slack) {
			t.Fatalf("split of %v at %g differs at %g", s, u, k)
		}
		part := s.Between(v, w)
		if part.P0 != s.At(v) || part.P3 != s.At(w) {
			t.Fatalf("ends of the part from %g to %g", v, w)
		}
		if !part.At(k).Near(s.At(v+(w-v)*k), slack*10) {
			t.Fatalf("part from %g to %g differs at %g", v, w, k)
		}
		if !s.Reverse().At(k).Near(s.At(1-k), slack*10) {
			t.Fatalf("reversed differs at %g", k)
		}
		m := Rotation(1, Pt(2, 3)).Then(Scaling(2, -0.5)).Then(Translation(Pt(-7, 1)))
		if !s.Transform(m).At(k).Near(m.Apply(s.At(k)), slack*100+1e-13) {
			t.Fatalf("transformed differs at %g", k)
		}
	})
}

// The derivatives agree with differences of what they are derivatives of; on
// cubics central differences of step h are off by h² of the third one only.
func TestSegmentDerivatives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawPlain(t, 100)
		u := rapid.Float64Range(0.01, 0.99).Draw(t, "u")
		const h = 1e-3
		slope := s.At(u + h).Sub(s.At(u - h)).Mul(1 / (2 * h))
		if d := s.Deriv(u); !d.Near(slope, 1e-2) {
			t.Fatalf("%v at %g: %v, differences %v", s, u, d, slope)
		}
		bend := s.Deriv(u + h).Sub(s.Deriv(u - h)).Mul(1 / (2 * h))
		if d := s.Second(u); !d.Near(bend, 1e-6) {
			t.Fatalf("%v at %g: second %v, differences %v", s, u, d, bend)
		}
		third := s.Second(u + h).Sub(s.Second(u - h)).Mul(1 / (2 * h))
		if d := s.third(); !d.Near(third, 1e-6) {
			t.Fatalf("%v: third %v, differences %v", s, d, third)
		}
	})
}

func TestPathBasics(t *testing.T) {
	box := Polygon(Pt(0, 0), Pt(4, 0), Pt(4, 3), Pt(0, 3))
	if !box.Closed() || box.Start() != Pt(0, 0) || box.End() != Pt(0, 0) || len(box) != 4 {
		t.Errorf("%v", box)
	}
	if box[:3].Closed() || (Path{}).Closed() || Polygon() == nil && (Path)(nil).Closed() {
		t.Error("an open path is closed")
	}
	back := box.Reverse()
	if back.Area() != -box.Area() || back.Start() != box.End() || back[0] != box[3].Reverse() {
		t.Errorf("reversed: %v", back)
	}
	m, _ := Reflection(Pt(0, 0), Pt(0, 1))
	if a := box.Transform(m).Area(); a != -12 {
		t.Errorf("mirrored area %g", a)
	}
	if box[0] != Line(Pt(0, 0), Pt(4, 0)) {
		t.Error("the path was changed")
	}
}

func TestPartOfPath(t *testing.T) {
	box := Polygon(Pt(0, 0), Pt(4, 0), Pt(4, 3), Pt(0, 3))
	for _, c := range []struct {
		a, b Place
		n    int
		from Point
		to   Point
	}{
		{Place{0, 0.5}, Place{0, 0.75}, 1, Pt(2, 0), Pt(3, 0)},
		{Place{0, 0.5}, Place{2, 0.5}, 3, Pt(2, 0), Pt(2, 3)},
		{Place{0, 1}, Place{2, 0}, 1, Pt(4, 0), Pt(4, 3)},
		{Place{0, 0}, Place{3, 1}, 4, Pt(0, 0), Pt(0, 0)},
	} {
		got := box.Part(c.a, c.b)
		if len(got) != c.n || got.Start() != c.from || got.End() != c.to {
			t.Errorf("%v to %v: %v", c.a, c.b, got)
		}
	}
	if box.Part(Place{1, 0.5}, Place{1, 0.5}) != nil || len(box.Part(Place{0, 1}, Place{1, 0})) != 0 {
		t.Error("a part without length")
	}
}

func TestPointBasics(t *testing.T) {
	p, q := Pt(3, 4), Pt(-4, 3)
	if p.Len() != 5 || p.Dist(q) != math.Sqrt(50) || p.Dot(q) != 0 || p.Cross(q) != 25 || p.Left() != q {
		t.Error("lengths and products")
	}
	if p.Unit() != Pt(0.6, 0.8) || (Point{}).Unit() != (Point{}) || p.Lerp(q, 0.5) != Pt(-0.5, 3.5) {
		t.Error("unit or middle")
	}
	if math.Abs(p.Angle()-math.Atan2(4, 3)) > 1e-16 || !p.Near(Pt(3, 4.1), 0.11) || p.Near(Pt(3, 4.1), 0.09) {
		t.Error("angle or nearness")
	}
	for _, bad := range []Point{{math.NaN(), 0}, {0, math.Inf(-1)}} {
		if bad.Finite() {
			t.Errorf("%v is finite", bad)
		}
	}
	if !p.Finite() {
		t.Error("a plain point is not finite")
	}
}

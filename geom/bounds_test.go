package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestBoundsAreTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSegment(t, drawSize(t))
		b, slack := s.Bounds(), 1e-14*(s.size()+s.P0.Len())
		sampled := EmptyRect()
		const n = 500
		for i := range n + 1 {
			sampled = sampled.Include(s.At(float64(i) / n))
		}
		if g := b.Grow(slack); g.Union(sampled) != g {
			t.Fatalf("%v: %v outside %v", s, sampled, b)
		}
		// A maximum between samples exceeds them by at most h²/8 max|B''|.
		m := math.Max(s.Second(0).Len(), s.Second(1).Len())
		if g := sampled.Grow(m/(8*n*n) + slack); g.Union(b) != g {
			t.Fatalf("%v: %v is not tight, samples %v", s, b, sampled)
		}
		if h := s.HandleBounds().Grow(slack); h.Union(b) != h {
			t.Fatalf("%v: control points do not hold %v", s, b)
		}
	})
}

func TestBoundsOfCircle(t *testing.T) {
	got := circle(Pt(10, -20), 5).Bounds()
	want := Rect{Pt(5, -25), Pt(15, -15)}
	if !got.Min.Near(want.Min, 1e-12) || !got.Max.Near(want.Max, 1e-12) {
		t.Errorf("%v", got)
	}
	if !(Path{}).Bounds().Empty() {
		t.Error("the empty path has bounds")
	}
}

func TestExtrema(t *testing.T) {
	for _, c := range []struct {
		s    Segment
		want []float64
	}{
		{Line(Pt(0, 0), Pt(1, 1)), nil},
		{Cubic(Pt(0, 0), Pt(0, 1), Pt(1, 1), Pt(1, 0)), []float64{0.5}},
		{Cubic(Pt(0, 0), Pt(1, 0), Pt(2, 1), Pt(3, 3)), nil},
		{Cubic(Pt(3, -2), Pt(-1, 2), Pt(-1, -2), Pt(3, 2)), []float64{0.5}}, // cusp
		{Cubic(Pt(0, 0), Pt(1, 2), Pt(2, -1), Pt(3, 1)), []float64{1./2 - math.Sqrt(1./20), 1./2 + math.Sqrt(1./20)}},
	} {
		got := c.s.Extrema()
		if len(got) != len(c.want) {
			t.Errorf("%v: %v, want %v", c.s, got, c.want)
			continue
		}
		for i, u := range got {
			d := c.s.Deriv(u)
			if math.Min(math.Abs(d.X), math.Abs(d.Y)) > 1e-12 {
				t.Errorf("%v: derivative %v at %g", c.s, d, u)
			}
			if c.want != nil && c.s.P1.Y != 2 && math.Abs(u-c.want[i]) > 1e-12 {
				t.Errorf("%v: %v, want %v", c.s, got, c.want)
			}
		}
	}
}

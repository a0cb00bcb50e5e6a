package geom

// Segment is one stretch of a path: a straight line from P0 to P3, or a cubic
// Bézier with the control points P0 P1 P2 P3. A line keeps P1 and P2 at its
// thirds, so that every formula for cubics holds for lines as well, with the
// parameter proportional to the length.
type Segment struct {
	P0, P1, P2, P3 Point
	Straight       bool
}

// Line returns the straight segment from a to b.
func Line(a, b Point) Segment {
	return Segment{a, a.Lerp(b, 1./3), a.Lerp(b, 2./3), b, true}
}

// Cubic returns the cubic Bézier segment with the four control points.
func Cubic(p0, p1, p2, p3 Point) Segment { return Segment{p0, p1, p2, p3, false} }

// At returns the point at parameter t, 0 at the start and 1 at the end. The two
// ends are returned exactly.
func (s Segment) At(t float64) Point {
	switch {
	case t == 0:
		return s.P0
	case t == 1:
		return s.P3
	case s.Straight:
		return s.P0.Lerp(s.P3, t)
	}
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{
		a*s.P0.X + b*s.P1.X + c*s.P2.X + d*s.P3.X,
		a*s.P0.Y + b*s.P1.Y + c*s.P2.Y + d*s.P3.Y,
	}
}

// Deriv returns the first derivative by the parameter at t, in mm.
func (s Segment) Deriv(t float64) Point {
	if s.Straight {
		return s.P3.Sub(s.P0)
	}
	u := 1 - t
	a, b, c := 3*u*u, 6*u*t, 3*t*t
	return Point{
		a*(s.P1.X-s.P0.X) + b*(s.P2.X-s.P1.X) + c*(s.P3.X-s.P2.X),
		a*(s.P1.Y-s.P0.Y) + b*(s.P2.Y-s.P1.Y) + c*(s.P3.Y-s.P2.Y),
	}
}

// Second returns the second derivative by the parameter at t, in mm.
func (s Segment) Second(t float64) Point {
	if s.Straight {
		return Point{}
	}
	a := s.P2.Sub(s.P1.Mul(2)).Add(s.P0)
	b := s.P3.Sub(s.P2.Mul(2)).Add(s.P1)
	return a.Lerp(b, t).Mul(6)
}

// Reverse returns the segment run from its end to its start.
func (s Segment) Reverse() Segment { return Segment{s.P3, s.P2, s.P1, s.P0, s.Straight} }

// Transform returns the image of the segment.
func (s Segment) Transform(m Affine) Segment {
	if s.Straight {
		return Line(m.Apply(s.P0), m.Apply(s.P3))
	}
	return Segment{m.Apply(s.P0), m.Apply(s.P1), m.Apply(s.P2), m.Apply(s.P3), false}
}

// Split returns the two parts before and after parameter t, by de Casteljau's
// construction. t is taken as given, so that values outside 0 to 1 extend the
// curve.
func (s Segment) Split(t float64) (Segment, Segment) {
	if s.Straight {
		m := s.At(t)
		return Line(s.P0, m), Line(m, s.P3)
	}
	a, b, c := s.P0.Lerp(s.P1, t), s.P1.Lerp(s.P2, t), s.P2.Lerp(s.P3, t)
	d, e := a.Lerp(b, t), b.Lerp(c, t)
	m := d.Lerp(e, t)
	return Cubic(s.P0, a, d, m), Cubic(m, e, c, s.P3)
}

// Between returns the part from parameter t0 to t1; with t0 > t1 it runs
// backwards. The ends are s.At(t0) and s.At(t1) exactly.
func (s Segment) Between(t0, t1 float64) Segment {
	if t0 > t1 {
		return s.Between(t1, t0).Reverse()
	}
	if s.Straight {
		return Line(s.At(t0), s.At(t1))
	}
	if t0 == 0 && t1 == 1 {
		return s
	}
	// The blossom of the cubic gives the inner control points of any part.
	p := Cubic(s.At(t0), s.blossom(t0, t0, t1), s.blossom(t0, t1, t1), s.At(t1))
	return p
}

// blossom is the polar form of the cubic (Ramshaw 1987): the control points of
// the part from u to v are its values at (u,u,u) (u,u,v) (u,v,v) (v,v,v).
func (s Segment) blossom(r, t, u float64) Point {
	a, b, c := s.P0.Lerp(s.P1, r), s.P1.Lerp(s.P2, r), s.P2.Lerp(s.P3, r)
	return a.Lerp(b, t).Lerp(b.Lerp(c, t), u)
}

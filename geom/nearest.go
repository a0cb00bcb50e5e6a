package geom

import "math"

// Nearest returns the parameter in 0 to 1 of the point of the segment that is
// nearest to q, and its distance in mm. It is the global minimum: all points
// where the derivative of the squared distance (a polynomial of degree 5)
// changes sign are found and compared with the ends. The distance is exact to
// rounding, about 1e-15 of the size of the coordinates as seen from q. Of several
// nearest points it is one with the smallest parameter, up to rounding. A
// distance that is not a number is returned as +Inf with parameter 0.
func (s Segment) Nearest(q Point) (t, dist float64) {
	if s.Straight {
		return nearestOnLine(s.P0, s.P3, q)
	}
	t, d2 := 0.0, math.Inf(1)
	try := func(u float64) {
		b := s.At(u).Sub(q)
		if e := b.Dot(b); e < d2 {
			t, d2 = u, e
		}
	}
	try(0)
	// Each half is searched from its own end: powers of a small parameter do
	// not cancel, so that a zero-length handle at either end does no harm.
	front, back := s.distanceSlope(q), s.Reverse().distanceSlope(q)
	roots := front.roots(nearestHalf, 0)
	for _, u := range roots.t[:roots.n] {
		try(u)
	}
	roots = back.roots(nearestHalf, 0)
	for i := roots.n - 1; i >= 0; i-- {
		try(1 - roots.t[i])
	}
	try(1)
	if math.IsInf(d2, 1) {
		return 0, d2
	}
	return t, s.At(t).Dist(q)
}

// nearestHalf is a half and a little more, so that a root in the middle is not
// lost to rounding between the halves.
const nearestHalf = 0.5 + 1./64

// distanceSlope returns (B - q) · B' as a polynomial in t.
func (s Segment) distanceSlope(q Point) poly {
	c0, c1, c2, c3 := s.power(q)
	return poly{deg: 5, c: [maxDegree + 1]float64{
		c0.Dot(c1),
		c1.Dot(c1) + 2*c0.Dot(c2),
		3*c1.Dot(c2) + 3*c0.Dot(c3),
		2*c2.Dot(c2) + 4*c1.Dot(c3),
		5 * c2.Dot(c3),
		3 * c3.Dot(c3),
	}}
}

func nearestOnLine(a, b, q Point) (t, dist float64) {
	d := b.Sub(a)
	t = q.Sub(a).Dot(d) / d.Dot(d)
	switch {
	case !(t > 0):
		t = 0
	case t > 1:
		t = 1
	}
	dist = Line(a, b).At(t).Dist(q)
	if math.IsNaN(dist) {
		return 0, math.Inf(1)
	}
	return t, dist
}

// Nearest returns the place on the path that is nearest to q and its distance
// in mm, +Inf for an empty path. It is the global minimum; segments whose box of
// control points lies farther off than the best so far are passed over.
func (p Path) Nearest(q Point) (Place, float64) {
	at, best := Place{}, math.Inf(1)
	for i := range p {
		if d := p[i].P0.Dist(q); d < best {
			at, best = Place{i, 0}, d
		}
	}
	for i := range p {
		if p[i].HandleBounds().distance(q) > best {
			continue
		}
		if t, d := p[i].Nearest(q); d < best {
			at, best = Place{i, t}, d
		}
	}
	return at, best
}

// distance returns the distance in mm from q to the box, 0 inside it.
func (r Rect) distance(q Point) float64 {
	dx := max(r.Min.X-q.X, 0, q.X-r.Max.X)
	dy := max(r.Min.Y-q.Y, 0, q.Y-r.Max.Y)
	return math.Hypot(dx, dy)
}

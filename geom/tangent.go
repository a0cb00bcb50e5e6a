package geom

import "math"

// handleFloor is the share of a segment's size below which a handle has no
// direction of its own: coordinates are rounded to 1e-6 mm, so the direction of
// a handle shorter than that on a segment of some tens of millimetres is noise.
const handleFloor = 1e-7

// cuspFloor is the share of a segment's size below which the derivative inside
// the segment counts as zero; it is some thousand times the rounding of float64.
const cuspFloor = 1e-12

// size returns the largest distance of a control point from the start, in mm.
func (s Segment) size() float64 {
	return math.Max(s.P1.Dist(s.P0), math.Max(s.P2.Dist(s.P0), s.P3.Dist(s.P0)))
}

// Tangent returns the unit vector in the direction of travel at parameter t in
// 0 to 1. At an end whose handle is shorter than 1e-7 of the segment's size the
// direction is that to the next control point that differs; at a cusp inside it
// is the direction in which the curve leaves the cusp. It is the zero vector
// only where the whole segment is one point.
func (s Segment) Tangent(t float64) Point {
	if s.Straight {
		return s.P3.Sub(s.P0).Unit()
	}
	switch {
	case t <= 0:
		return s.leaving()
	case t >= 1:
		return s.Reverse().leaving().Mul(-1)
	}
	floor := cuspFloor * s.size()
	if d := s.Deriv(t); d.Len() > floor {
		return d.Unit()
	}
	if d := s.Second(t); d.Len() > floor {
		return d.Unit()
	}
	return s.P3.Sub(s.P0).Unit()
}

// leaving returns the unit direction in which the segment leaves its start.
func (s Segment) leaving() Point {
	floor := handleFloor * s.size()
	for _, q := range [3]Point{s.P1, s.P2, s.P3} {
		if d := q.Sub(s.P0); d.Len() > floor {
			return d.Unit()
		}
	}
	return Point{}
}

// Normal returns the unit vector to the left of the direction of travel at t,
// or the zero vector where Tangent is zero.
func (s Segment) Normal(t float64) Point { return s.Tangent(t).Left() }

// Curvature returns the signed curvature at parameter t in 1/mm, positive where
// the segment turns to the left. Where the derivative vanishes (a zero-length
// handle, a cusp) it is the limit, which is the same from both sides: infinite
// with the sign of the turn, or 0 where the segment is straight there. A segment
// that is one point has curvature 0.
func (s Segment) Curvature(t float64) float64 {
	if s.Straight {
		return 0
	}
	size := s.size()
	d1, d2 := s.Deriv(t), s.Second(t)
	n := d1.Len()
	if n > cuspFloor*size {
		return d1.Cross(d2) / (n * n * n)
	}
	// About a cusp B = a u² + b u³ with a = B''/2 and b = B'''/6; then the
	// curvature is (3/4) a × b / (|a|³ |u|) to first order.
	d3 := s.third()
	turn := d2.Cross(d3)
	if math.Abs(turn) <= cuspFloor*size*size {
		return 0
	}
	return math.Inf(int(math.Copysign(1, turn)))
}

// third returns the third derivative by the parameter, constant on a cubic.
func (s Segment) third() Point {
	if s.Straight {
		return Point{}
	}
	return s.P3.Sub(s.P0).Add(s.P1.Sub(s.P2).Mul(3)).Mul(6)
}

package geom

// Area returns the area in mm² that the path bounds, positive where it runs
// counter-clockwise, exactly on the curves (the boundary integral of a cubic is
// a polynomial in its control points) up to rounding. Parts that are wound
// twice count twice. An open path is closed by a straight line.
func (p Path) Area() float64 {
	if len(p) == 0 {
		return 0
	}
	o := p.Start()
	sum := 0.0
	for _, s := range p {
		sum += s.sweep(o)
	}
	return sum
}

// sweep returns the signed area that the line from o to the point sweeps over as
// it runs along the segment: ½ ∫ (B - o) × B' dt, by Green's theorem.
func (s Segment) sweep(o Point) float64 {
	a, d := s.P0.Sub(o), s.P3.Sub(o)
	if s.Straight {
		return a.Cross(d) / 2
	}
	b, c := s.P1.Sub(o), s.P2.Sub(o)
	return (6*a.Cross(b) + 3*a.Cross(c) + a.Cross(d) + 3*b.Cross(c) + 3*b.Cross(d) + 6*c.Cross(d)) / 20
}

// Centroid returns the centre of gravity of the area that the path bounds, by
// the same exact integrals as Area (the first moment is a polynomial of degree
// 8, which 5 Gauss points integrate without error). It returns false where the
// area is zero or below the rounding of its own sum, so that no centre is
// defined. An open path is closed by a straight line.
func (p Path) Centroid() (Point, bool) {
	if len(p) == 0 {
		return Point{}, false
	}
	o := p.Start()
	var area, gross float64
	var moment Point
	for _, s := range p {
		a := s.sweep(o)
		area += a
		gross += max(a, -a)
		moment = moment.Add(s.sweepMoment(o))
	}
	if !(max(area, -area) > areaFloor*gross) {
		return Point{}, false
	}
	return o.Add(moment.Mul(1 / area)), true
}

// areaFloor is the share of the summed parts below which an area is rounding
// noise and has no centroid.
const areaFloor = 1e-13

// sweepMoment returns the first moment about o of the area of sweep: the
// triangle from o to P and P + dP weighs ½ P × dP at ⅔ P.
func (s Segment) sweepMoment(o Point) Point {
	if s.Straight {
		a, b := s.P0.Sub(o), s.P3.Sub(o)
		return a.Add(b).Mul(a.Cross(b) / 6)
	}
	var m Point
	for _, g := range gauss5 {
		t := (1 + g.x) / 2
		q := s.At(t).Sub(o)
		m = m.Add(q.Mul(g.w / 2 * q.Cross(s.Deriv(t)) / 3))
	}
	return m
}

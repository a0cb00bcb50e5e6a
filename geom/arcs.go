package geom

// arc is a part of a segment that turns so little that it is the graph of a
// function over many directions. It keeps where on the segment it lies.
type arc struct {
	s      Segment
	t0, t1 float64
	mid    Point // unit direction in the middle of its cone, zero for a point
	box    Rect
}

const (
	// arcCone is the cosine of the widest angle between any two sides of
	// the control polygon of an arc, 30 degrees: two such arcs are both graphs
	// over the bisector of their directions, with slopes below tan 75°.
	arcCone = 0.8660254037844386
	// arcPoint is the size in mm below which a part is taken as its chord,
	// however it turns: a tenth of meetTolerance.
	arcPoint = 1e-7
	// arcNoise is the share of a part's size below which a side of its control
	// polygon has no direction: rounding of float64 after some operations.
	arcNoise = 1e-9
	// arcDepth bounds the halvings of one monotone part; 40 shrink 100 m below
	// arcPoint.
	arcDepth = 40
)

// appendArcs appends the arcs of the segment in order. It is cut at its extrema
// first, which also cuts it at cusps, where both derivatives vanish.
func (s Segment) appendArcs(dst []arc) []arc {
	if s.Straight {
		return append(dst, makeArc(s, 0, 1))
	}
	ts, n := s.extrema()
	from := 0.0
	for i := 0; i <= n; i++ {
		to := 1.0
		if i < n {
			to = ts[i]
		}
		dst = s.halveToArcs(dst, from, to, arcDepth)
		from = to
	}
	return dst
}

func (s Segment) halveToArcs(dst []arc, t0, t1 float64, depth int) []arc {
	part := s.Between(t0, t1)
	size := part.size()
	switch {
	case size <= arcPoint || depth == 0:
		return append(dst, makeArc(Line(part.P0, part.P3), t0, t1))
	case part.narrow(size):
		return append(dst, makeArc(part, t0, t1))
	}
	m := 0.5 * (t0 + t1)
	dst = s.halveToArcs(dst, t0, m, depth-1)
	return s.halveToArcs(dst, m, t1, depth-1)
}

// sides returns the sides of the control polygon that have a direction.
func (s Segment) sides(size float64) (d [3]Point, n int) {
	for _, v := range [3]Point{s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)} {
		if v.reach() > arcNoise*size {
			d[n] = v
			n++
		}
	}
	return d, n
}

// narrow reports whether all sides lie within the cone of an arc.
func (s Segment) narrow(size float64) bool {
	d, n := s.sides(size)
	for i := 1; i < n; i++ {
		for j := range i {
			dot := d[i].Dot(d[j])
			if dot <= 0 || dot*dot < arcCone*arcCone*d[i].Dot(d[i])*d[j].Dot(d[j]) {
				return false
			}
		}
	}
	return true
}

func makeArc(s Segment, t0, t1 float64) arc {
	mid := Point{}
	d, n := s.sides(s.size())
	for _, v := range d[:n] {
		mid = mid.Add(v.Unit())
	}
	return arc{s, t0, t1, mid.Unit(), s.HandleBounds()}
}

// global returns the parameter on the segment of parameter t on the arc, the
// ends exactly.
func (a *arc) global(t float64) float64 {
	switch t {
	case 0:
		return a.t0
	case 1:
		return a.t1
	}
	return a.t0 + (a.t1-a.t0)*t
}

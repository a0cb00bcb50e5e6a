package geom

// Bounds returns the smallest axis-parallel box around the segment itself, not
// around its handles: the ends and the points at Extrema.
func (s Segment) Bounds() Rect {
	r := RectOf(s.P0, s.P3)
	if s.Straight || r.Contains(s.P1) && r.Contains(s.P2) {
		return r
	}
	ts, n := s.extrema()
	for _, t := range ts[:n] {
		r = r.Include(s.At(t))
	}
	return r
}

// HandleBounds returns the box around the four control points. It holds the
// segment, is quicker than Bounds and may be larger.
func (s Segment) HandleBounds() Rect {
	return Rect{
		Point{min(s.P0.X, s.P1.X, s.P2.X, s.P3.X), min(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y)},
		Point{max(s.P0.X, s.P1.X, s.P2.X, s.P3.X), max(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y)},
	}
}

// Bounds returns the smallest axis-parallel box around the path, EmptyRect for
// an empty one.
func (p Path) Bounds() Rect {
	r := EmptyRect()
	for _, s := range p {
		r = r.Union(s.Bounds())
	}
	return r
}

package geom

// Winding returns how many times the path runs round q counter-clockwise, on
// the curves themselves, without flattening. An open path is closed by a
// straight line. For a point on the path, or within rounding of it (about 1e-12
// of the size of the coordinates), the number is that of one of the sides; use
// Side where the border matters. It is 0 if q is not finite.
func (p Path) Winding(q Point) int {
	if len(p) == 0 || !q.Finite() {
		return 0
	}
	n := 0
	for i := range p {
		n += p[i].crossings(q)
	}
	if !p.Closed() {
		back := Line(p.End(), p.Start())
		n += back.crossings(q)
	}
	return n
}

// Contains reports whether q lies inside the path: whether its winding number
// is not zero. On the border either answer is possible.
func (p Path) Contains(q Point) bool { return p.Winding(q) != 0 }

// Side says where a point lies as to an outline.
type Side int

// The sides of an outline.
const (
	Outside Side = iota
	Border
	Inside
)

// Side returns Border if q lies within tol mm of the path (of the closing line
// too, where the path is open), and else whether its winding number is not zero.
// With tol = 0 only points on which the nearest distance computes to exactly
// zero are on the border.
func (p Path) Side(q Point, tol float64) Side {
	if len(p) == 0 || !q.Finite() {
		return Outside
	}
	if _, d := p.Nearest(q); d <= tol {
		return Border
	}
	if !p.Closed() {
		if _, d := Line(p.End(), p.Start()).Nearest(q); d <= tol {
			return Border
		}
	}
	if p.Contains(q) {
		return Inside
	}
	return Outside
}

// crossings counts how often the segment crosses the ray from q to +x, upward
// as +1 and downward as -1. Each part that is monotone in y holds its lower end
// and not its upper one, so that a node on the ray counts once.
func (s *Segment) crossings(q Point) int {
	if s.Straight {
		return lineCrossing(s.P0, s.P3, q)
	}
	lo, hi := min(s.P0.X, s.P1.X, s.P2.X, s.P3.X), max(s.P0.X, s.P1.X, s.P2.X, s.P3.X)
	switch {
	case max(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y) < q.Y || min(s.P0.Y, s.P1.Y, s.P2.Y, s.P3.Y) > q.Y || hi < q.X:
		return 0
	case lo > q.X:
		// The whole segment is right of q: only its ends matter.
		return direction(s.P0.Y, s.P3.Y, q.Y)
	}
	ts, k := s.turns(false)
	n := 0
	t0, y0 := 0.0, s.P0.Y
	for i := 0; i <= k; i++ {
		t1, y1 := 1.0, s.P3.Y
		if i < k {
			t1 = ts[i]
			y1 = s.At(t1).Y
		}
		if d := direction(y0, y1, q.Y); d != 0 && s.At(s.level(t0, t1, q.Y, d > 0)).X > q.X {
			n += d
		}
		t0, y0 = t1, y1
	}
	return n
}

// direction returns +1 if a step from height a to height b rises through y, -1 if
// it falls through it, 0 if it does not.
func direction(a, b, y float64) int {
	switch {
	case a <= y && y < b:
		return 1
	case b <= y && y < a:
		return -1
	}
	return 0
}

// lineCrossing is crossings for the line from a to b.
func lineCrossing(a, b, q Point) int {
	d := direction(a.Y, b.Y, q.Y)
	if d == 0 {
		return 0
	}
	if side := b.Sub(a).Cross(q.Sub(a)); d > 0 && side > 0 || d < 0 && side < 0 {
		return d
	}
	return 0
}

// level returns the parameter between t0 and t1, where the segment is monotone in
// y, at which it is at height y.
func (s *Segment) level(t0, t1, y float64, rising bool) float64 {
	c0, c1, c2, c3 := s.power(Point{0, y})
	p := poly{deg: 3}
	p.c = [maxDegree + 1]float64{c0.Y, c1.Y, c2.Y, c3.Y}
	return p.bracketed(t0, t1, rising)
}

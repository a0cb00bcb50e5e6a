package geom

import "math"

// maxChords bounds the chords of one segment, so that a tolerance of 0 or NaN
// asks for much, not for everything.
const maxChords = 1 << 14

// chords returns how many equal steps of the parameter keep the chords within
// tol of the segment. A chord over a step h deviates from the curve by at most
// h²/8 max|B”|, and |B”| is at most 6 times the longest second difference of
// the control points (Wang 1984). The bound holds for every cubic: zero-length
// handles, collinear points, cusps and loops included.
func (s Segment) chords(tol float64) int {
	if s.Straight {
		return 1
	}
	a := s.P0.Sub(s.P1).Add(s.P2.Sub(s.P1))
	b := s.P1.Sub(s.P2).Add(s.P3.Sub(s.P2))
	m := math.Max(a.Len(), b.Len())
	if m == 0 {
		return 1
	}
	n := math.Ceil(math.Sqrt(0.75 * m / tol))
	switch {
	case n <= 1:
		return 1
	case n < maxChords:
		return int(n)
	}
	return maxChords
}

// AppendFlat appends to dst the chord ends of the segment after its start: its
// end is the last point appended, its start is not. Every point of the segment
// lies within tol mm of the chord over the same range of the parameter. It makes
// at most 16384 chords, which reach 2.8e-9 of the longest second difference of
// the control points: 0.0003 mm on a segment of 100 m. A tolerance of 0, below 0
// or NaN gets that many.
func (s Segment) AppendFlat(dst []Point, tol float64) []Point {
	n := s.chords(tol)
	if n > 1 {
		c0, c1, c2, c3 := s.power(s.P0)
		c0 = s.P0
		step := 1 / float64(n)
		for i := 1; i < n; i++ {
			t := float64(i) * step
			dst = append(dst, Point{
				((c3.X*t+c2.X)*t+c1.X)*t + c0.X,
				((c3.Y*t+c2.Y)*t+c1.Y)*t + c0.Y,
			})
		}
	}
	return append(dst, s.P3)
}

// AppendFlat appends to dst the corners of a chain of chords that deviates from
// the path by at most tol mm: the start and, as Segment.AppendFlat does, what
// follows it. Nothing is appended for an empty path. On a closed path the last
// point equals the first.
func (p Path) AppendFlat(dst []Point, tol float64) []Point {
	if len(p) == 0 {
		return dst
	}
	dst = append(dst, p.Start())
	for _, s := range p {
		dst = s.AppendFlat(dst, tol)
	}
	return dst
}

// Flatten returns the corners of a chain of chords, both ends included, that
// deviates from the segment by at most tol mm (to the limit of AppendFlat). The
// extrema of the segment are among the corners, so that the chain has the bounds
// of the segment. For the screen AppendFlat is quicker.
func (s Segment) Flatten(tol float64) []Point {
	return s.appendExact([]Point{s.P0}, tol)
}

// Flatten returns the corners of a chain of chords that deviates from the path
// by at most tol mm, with the nodes and the extrema among them. On a closed path
// the last point equals the first. It is nil for an empty path.
func (p Path) Flatten(tol float64) []Point {
	if len(p) == 0 {
		return nil
	}
	dst := []Point{p.Start()}
	for _, s := range p {
		dst = s.appendExact(dst, tol)
	}
	return dst
}

// appendExact is AppendFlat with the extrema as corners.
func (s Segment) appendExact(dst []Point, tol float64) []Point {
	ts, n := s.extrema()
	from := 0.0
	for _, t := range ts[:n] {
		dst = s.Between(from, t).AppendFlat(dst, tol)
		from = t
	}
	return s.Between(from, 1).AppendFlat(dst, tol)
}

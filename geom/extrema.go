package geom

// Extrema returns the parameters strictly between 0 and 1, in ascending order,
// at which the segment runs horizontally or vertically: where x or y turns or
// rests. There are at most four, none on a straight segment or on one that is
// a single point.
func (s Segment) Extrema() []float64 {
	ts, n := s.extrema()
	if n == 0 {
		return nil
	}
	return append([]float64(nil), ts[:n]...)
}

// extrema is Extrema without allocation.
func (s Segment) extrema() (ts [4]float64, n int) {
	if s.Straight {
		return ts, 0
	}
	xs, nx := s.turns(true)
	ys, ny := s.turns(false)
	for i, j := 0, 0; i < nx || j < ny; {
		var t float64
		if j == ny || i < nx && xs[i] <= ys[j] {
			t = xs[i]
			i++
		} else {
			t = ys[j]
			j++
		}
		if n == 0 || ts[n-1] < t {
			ts[n] = t
			n++
		}
	}
	return ts, n
}

// turns returns the parameters inside (0, 1) at which the derivative of x (or
// of y) is zero.
func (s Segment) turns(alongX bool) (ts [2]float64, n int) {
	d0, d1, d2 := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	a, b, c := d0.Y, d1.Y, d2.Y
	if alongX {
		a, b, c = d0.X, d1.X, d2.X
	}
	if a >= 0 && b >= 0 && c >= 0 || a <= 0 && b <= 0 && c <= 0 {
		// One sign in Bernstein form: no turn inside, at most a rest.
		return ts, 0
	}
	r, k := quadraticRoots(a-2*b+c, 2*(b-a), a)
	for _, t := range r[:k] {
		if t > 0 && t < 1 {
			ts[n] = t
			n++
		}
	}
	return ts, n
}

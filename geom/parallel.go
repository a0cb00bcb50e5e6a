package geom

import "math"

// ParallelTolerance is how far, in mm, a parallel curve made here may lie from
// the true one: a tenth of a drawn line's width, and below what cloth, shears or
// a plotter can tell apart.
const ParallelTolerance = 0.01

// parallelFitShare is the share of the tolerance that the sampled error of a
// fitted cubic may use; the rest is kept for what lies between the samples.
const parallelFitShare = 0.65

// Parallel returns the curve that runs beside s at the signed distance d mm:
// each point displaced by d along the normal to the right of travel. On a
// counter-clockwise outline positive is outward.
//
// A line gives a line. A cubic gives as few cubics as stay within tol mm of the
// true parallel curve (tol is held to at most ParallelTolerance, which also
// stands for tol <= 0). The result is split at cusps, where curvature times
// distance is -1; past a cusp the true curve runs backwards, and so does the
// result. Where s itself turns on the spot, the two sides are joined by a
// straight line. A segment without length or with a coordinate that is not
// finite gives nil.
//
// The reasoning follows Levien, "Parallel curves of cubic Béziers" (2022): end
// points and end directions are exact and only the two handle lengths are
// sought, here by least squares on the normal distance instead of by area and
// moment, which bounds the largest error directly.
func (s Segment) Parallel(d, tol float64) Path { return s.ParallelTaper(d, d, tol) }

// ParallelTaper is Parallel with a distance that runs from d0 mm at the start to
// d1 mm at the end, in proportion to the arc length of s. It is the line that a
// maker draws by measuring off the width at right angles to the stitching line,
// not the envelope of circles of that radius.
func (s Segment) ParallelTaper(d0, d1, tol float64) Path {
	if !(tol > 0 && tol < ParallelTolerance) {
		tol = ParallelTolerance
	}
	if math.IsNaN(d0-d0) || math.IsNaN(d1-d1) {
		return nil
	}
	var c parallelCurve
	if !c.init(s) {
		return nil
	}
	length := 0.0
	if d0 != d1 {
		length = c.measure()
	}
	c.setWidths(d0, d1, length)
	if c.straight {
		return Path{Line(c.at(0).p, c.at(1).p)}
	}
	var buf [8]parallelRun
	out := make(Path, 0, 2)
	for _, st := range c.stretches(buf[:0]) {
		out = c.fit(out, st, tol*parallelFitShare)
	}
	return joinChain(out)
}

// joinChain makes the end of each segment the start of the next: ends that
// differ by rounding are moved together, wider gaps bridged by a line.
func joinChain(p Path) Path {
	out := p[:0:0]
	for i, s := range p {
		if i > 0 {
			last := &out[len(out)-1]
			switch gap := last.P3.Dist(s.P0); {
			case gap == 0:
			case gap < chainGap:
				s = s.withStart(last.P3)
			default:
				out = append(out, Line(last.P3, s.P0))
			}
		}
		out = append(out, s)
	}
	return out
}

// chainGap is the distance in mm under which two ends of a chain count as the
// same point that rounding has split.
const chainGap = 1e-7

// withStart returns s moved to start at p; a cubic's first handle moves along,
// so that its direction stays.
func (s Segment) withStart(p Point) Segment {
	if s.Straight {
		return Line(p, s.P3)
	}
	s.P1 = s.P1.Add(p.Sub(s.P0))
	s.P0 = p
	return s
}

// withEnd returns s moved to end at p; a cubic's last handle moves along.
func (s Segment) withEnd(p Point) Segment {
	if s.Straight {
		return Line(s.P0, p)
	}
	s.P2 = s.P2.Add(p.Sub(s.P3))
	s.P3 = p
	return s
}

// parallelCurve evaluates the parallel curve of one segment in any parameter.
type parallelCurve struct {
	s          Segment
	a, b, c    Point // s(t) = a t³ + b t² + c t + P0
	k0, k1, k2 float64
	size       float64 // of the control polygon, mm
	w0, w1     float64 // distances at the two ends, mm
	slope      float64 // change of the distance by arc length
	straight   bool
	start, end Point // unit tangents at the two ends
}

// init prepares c for s; false if s has no length or is not finite.
func (c *parallelCurve) init(s Segment) bool {
	if !(s.P0.Finite() && s.P1.Finite() && s.P2.Finite() && s.P3.Finite()) {
		return false
	}
	c.s = s
	c.size = max(manhattan(s.P0, s.P1), manhattan(s.P1, s.P2), manhattan(s.P2, s.P3), manhattan(s.P0, s.P3))
	if !(c.size > minLength) {
		return false
	}
	c.straight = s.Straight || s.drawnStraight()
	if c.straight {
		u := s.P3.Sub(s.P0)
		n := u.Len()
		if n <= minLength {
			return false
		}
		u = u.Mul(1 / n)
		c.start, c.end = u, u
		return true
	}
	c.c = s.P1.Sub(s.P0).Mul(3)
	c.b = s.P0.Sub(s.P1.Mul(2)).Add(s.P2).Mul(3)
	c.a = s.P3.Sub(s.P0).Add(s.P1.Sub(s.P2).Mul(3))
	// p' x p'' is of degree 2 in t: the cubic terms cancel.
	c.k0 = 2 * c.c.Cross(c.b)
	c.k1 = 6 * c.c.Cross(c.a)
	c.k2 = 6 * c.b.Cross(c.a)
	c.start, c.end = s.startDirection(), s.endDirection()
	return true
}

// minLength is the length in mm under which a segment is a point: a tenth of the
// step to which documents round.
const minLength = 1e-7

// straightSag is the distance in mm of the handles from the chord up to which a
// cubic is a straight line for every purpose of a parallel.
const straightSag = 1e-7

func manhattan(p, q Point) float64 { return math.Abs(p.X-q.X) + math.Abs(p.Y-q.Y) }

// drawnStraight reports whether a cubic runs straight from end to end.
func (s Segment) drawnStraight() bool {
	v := s.P3.Sub(s.P0)
	n := v.Dot(v)
	if n == 0 {
		return false
	}
	h1, h2 := s.P1.Sub(s.P0), s.P2.Sub(s.P0)
	sag := straightSag * math.Sqrt(n)
	if math.Abs(v.Cross(h1)) > sag || math.Abs(v.Cross(h2)) > sag {
		return false
	}
	d1, d2 := v.Dot(h1), v.Dot(h2)
	return d1 >= 0 && d1 <= n && d2 >= 0 && d2 <= n
}

// startDirection returns the unit tangent at the start, from the first control
// point that differs from it; zero if none does.
func (s Segment) startDirection() Point {
	for _, q := range [...]Point{s.P1, s.P2, s.P3} {
		if manhattan(s.P0, q) > minLength {
			return q.Sub(s.P0).Unit()
		}
	}
	return Point{}
}

// endDirection returns the unit tangent at the end.
func (s Segment) endDirection() Point {
	for _, q := range [...]Point{s.P2, s.P1, s.P0} {
		if manhattan(s.P3, q) > minLength {
			return s.P3.Sub(q).Unit()
		}
	}
	return Point{}
}

// setWidths sets the distances at the two ends; length is the arc length, needed
// only where they differ.
func (c *parallelCurve) setWidths(w0, w1, length float64) {
	c.w0, c.w1, c.slope = w0, w1, 0
	if w0 != w1 && length > 0 {
		c.slope = (w1 - w0) / length
	}
}

// measure returns the length of the segment.
func (c *parallelCurve) measure() float64 {
	if c.straight {
		return c.s.P0.Dist(c.s.P3)
	}
	return c.s.Length()
}

func (c *parallelCurve) speed(t float64) float64 {
	x := (3*c.a.X*t+2*c.b.X)*t + c.c.X
	y := (3*c.a.Y*t+2*c.b.Y)*t + c.c.Y
	return math.Sqrt(x*x + y*y)
}

// width returns the distance at parameter t.
func (c *parallelCurve) width(t float64) float64 {
	switch {
	case c.slope == 0, t <= 0:
		return c.w0
	case t >= 1:
		return c.w1
	case c.straight:
		return c.w0 + (c.w1-c.w0)*t
	}
	return c.w0 + c.slope*c.s.LengthTo(t)
}

// parallelPoint is one point of a parallel curve. The derivative by t is speed
// times dir; forward is 1 + distance x curvature, negative where the parallel
// runs backwards.
type parallelPoint struct {
	p, tangent, dir Point
	speed, forward  float64
	width           float64
}

// singularNudge is the step in parameter by which the direction is looked up
// beside a point where the derivative vanishes.
const singularNudge = 1e-6

func (c *parallelCurve) at(t float64) parallelPoint {
	if c.straight {
		w := c.width(t)
		tan := c.start
		n := Point{tan.Y, -tan.X}
		return parallelPoint{p: c.s.P0.Lerp(c.s.P3, t).Add(n.Mul(w)), tangent: tan, dir: tan.Add(n.Mul(c.slope)), speed: c.size, forward: 1, width: w}
	}
	dx := (3*c.a.X*t+2*c.b.X)*t + c.c.X
	dy := (3*c.a.Y*t+2*c.b.Y)*t + c.c.Y
	speed := math.Sqrt(dx*dx + dy*dy)
	var tan Point
	kt := t
	switch {
	case t == 0:
		tan = c.start
	case t == 1:
		tan = c.end
	case speed > 0:
		tan = Point{dx / speed, dy / speed}
	}
	ks := speed
	if speed < c.size*singularNudge {
		kt = t + singularNudge
		if t > 0.5 {
			kt = t - singularNudge
		}
		ks = c.speed(kt)
		if tan == (Point{}) {
			tan = c.s.Deriv(kt).Unit()
		}
	}
	w := c.width(t)
	f := 1.0
	if w != 0 && ks > 0 {
		f = 1 + w*((c.k2*kt+c.k1)*kt+c.k0)/(ks*ks*ks)
	}
	n := Point{tan.Y, -tan.X}
	x := ((c.a.X*t+c.b.X)*t+c.c.X)*t + c.s.P0.X
	y := ((c.a.Y*t+c.b.Y)*t+c.c.Y)*t + c.s.P0.Y
	if t == 1 {
		x, y = c.s.P3.X, c.s.P3.Y
	}
	return parallelPoint{
		p: Point{x + n.X*w, y + n.Y*w}, tangent: tan,
		dir:   Point{f*tan.X + c.slope*n.X, f*tan.Y + c.slope*n.Y},
		speed: speed, forward: f, width: w,
	}
}

// focus returns the centre of curvature of s at t: where neighbouring normals
// meet, and past which the parallel curve runs backwards.
func (c *parallelCurve) focus(t float64) Point {
	speed := c.speed(t)
	k := (c.k2*t+c.k1)*t + c.k0
	d := c.s.Deriv(t)
	if speed == 0 || k == 0 {
		return c.s.At(t)
	}
	r := -speed * speed / k
	return c.s.At(t).Add(Point{d.Y, -d.X}.Mul(r))
}

// parallelRun is a parameter interval on which the parallel curve runs with the
// segment (sign 1) or against it (sign -1).
type parallelRun struct{ t0, t1, sign float64 }

// cuspWatch is the value of 1 + distance x curvature under which a pair of cusps
// may hide between two samples.
const cuspWatch = 0.5

// stretches appends the intervals between the cusps of the parallel curve.
func (c *parallelCurve) stretches(dst []parallelRun) []parallelRun {
	if !c.mayReverse() {
		return append(dst, parallelRun{0, 1, 1})
	}
	var at [len(watchedAt) + 4]float64
	n := c.watched(&at)
	t0, f0 := 0.0, c.forward(0)
	from, sign := 0.0, 1.0
	if f0 < 0 {
		sign = -1
	}
	cut := func(t float64) {
		if t > from {
			dst = append(dst, parallelRun{from, t, sign})
		}
		from, sign = t, -sign
	}
	for _, t1 := range at[:n] {
		f1 := c.forward(t1)
		switch {
		case (f0 < 0) != (f1 < 0):
			cut(c.cusp(t0, t1))
		case f0 >= 0 && f0 < cuspWatch || f1 >= 0 && f1 < cuspWatch:
			if tm, fm := c.lowest(t0, t1); fm < 0 {
				cut(c.cusp(t0, tm))
				cut(c.cusp(tm, t1))
			}
		}
		t0, f0 = t1, f1
	}
	if from < 1 {
		dst = append(dst, parallelRun{from, 1, sign})
	}
	return dst
}

// watchedAt are the parameters at which the direction of travel is looked at:
// evenly spread, and closer at the ends, where short handles put tight bends.
var watchedAt = [...]float64{
	1. / 1024, 1. / 256, 1. / 64, 1. / 16, 2. / 16, 3. / 16, 4. / 16, 5. / 16, 6. / 16, 7. / 16, 8. / 16, 9. / 16,
	10. / 16, 11. / 16, 12. / 16, 13. / 16, 14. / 16, 15. / 16, 63. / 64, 255. / 256, 1023. / 1024, 1,
}

// watched lists watchedAt and where the segment is slowest, since there its
// sharpest bends lie, however narrow they are.
func (c *parallelCurve) watched(at *[len(watchedAt) + 4]float64) int {
	slow := poly{deg: 3} // p' · p''
	slow.c[0] = 2 * c.c.Dot(c.b)
	slow.c[1] = 4*c.b.Dot(c.b) + 6*c.c.Dot(c.a)
	slow.c[2] = 18 * c.a.Dot(c.b)
	slow.c[3] = 18 * c.a.Dot(c.a)
	r := slow.roots(1, 0)
	n, k := 0, 0
	for _, t := range watchedAt {
		for ; k < r.n && r.t[k] < t; k++ {
			if r.t[k] > 0 && n < len(at)-1 {
				at[n] = r.t[k]
				n++
			}
		}
		at[n] = t
		n++
	}
	return n
}

// mayReverse is a quick test: the parallel runs forward throughout where it lies
// on the outside of every bend.
func (c *parallelCurve) mayReverse() bool {
	if c.straight {
		return false
	}
	lo, hi := math.Min(c.k0, c.k0+c.k1+c.k2), math.Max(c.k0, c.k0+c.k1+c.k2)
	if c.k2 != 0 {
		if t := -c.k1 / (2 * c.k2); t > 0 && t < 1 {
			v := (c.k2*t+c.k1)*t + c.k0
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	wlo, whi := math.Min(c.w0, c.w1), math.Max(c.w0, c.w1)
	return whi > 0 && lo < 0 || wlo < 0 && hi > 0
}

func (c *parallelCurve) forward(t float64) float64 {
	speed := c.speed(t)
	if speed < c.size*singularNudge {
		return c.at(t).forward
	}
	return 1 + c.width(t)*((c.k2*t+c.k1)*t+c.k0)/(speed*speed*speed)
}

// cusp finds the change of direction between t0 and t1 by bisection.
func (c *parallelCurve) cusp(t0, t1 float64) float64 {
	neg := c.forward(t0) < 0
	for i := 0; i < 52; i++ {
		m := (t0 + t1) / 2
		if (c.forward(m) < 0) == neg {
			t0 = m
		} else {
			t1 = m
		}
	}
	return (t0 + t1) / 2
}

// lowest finds the lowest value of forward between t0 and t1 by golden section,
// stopping as soon as it is negative.
func (c *parallelCurve) lowest(t0, t1 float64) (t, f float64) {
	const g = 0.6180339887498949
	a, b := t1-g*(t1-t0), t0+g*(t1-t0)
	fa, fb := c.forward(a), c.forward(b)
	for i := 0; i < 40 && fa >= 0 && fb >= 0; i++ {
		if fa < fb {
			t1, b, fb = b, a, fa
			a = t1 - g*(t1-t0)
			fa = c.forward(a)
		} else {
			t0, a, fa = a, b, fb
			b = t0 + g*(t1-t0)
			fb = c.forward(b)
		}
	}
	if fa < fb {
		return a, fa
	}
	return b, fb
}

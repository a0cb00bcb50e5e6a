package geom

import "math"

const (
	// handleSamples is the number of inner points at which a fitted cubic is
	// compared. The error of a fit with fixed ends and end directions has three
	// lobes; seven points see each of them.
	handleSamples = 7
	// handleRounds is the number of least-squares rounds; from the derivatives as
	// first guess, two or three settle all but the hopeless cases.
	handleRounds = 4
	// handleSpan is the shortest parameter interval that is still halved: where a
	// segment turns on the spot, its parallel swings round within that.
	handleSpan = 1e-12
	// fitStepTurn is the largest turn (cosine of 30°) between neighbouring
	// samples, and fitWholeTurn that over a whole fitted piece (cosine of 110°):
	// beyond them the samples cannot be trusted to show the error.
	fitStepTurn, fitWholeTurn = 0.866, -0.342
)

// fit appends cubics that stay within tol of the parallel curve on st.
func (c *parallelCurve) fit(dst Path, st parallelRun, tol float64) Path {
	a, b := c.at(st.t0), c.at(st.t1)
	return c.fitBetween(dst, st, a, b, tol)
}

func (c *parallelCurve) fitBetween(dst Path, st parallelRun, a, b parallelPoint, tol float64) Path {
	var f cubicFit
	if c.sample(&f, st, a, b) {
		if worst := f.solve(tol); worst <= tol/3 && f.even() || worst <= tol && c.between(&f, st) <= tol {
			return append(dst, f.cubic())
		}
	}
	m := (st.t0 + st.t1) / 2
	mid := c.at(m)
	if st.t1-st.t0 < handleSpan || manhattan(a.p, b.p) < tol/4 && manhattan(a.p, mid.p) < tol/4 {
		return append(dst, Line(a.p, b.p))
	}
	dst = c.fitBetween(dst, parallelRun{st.t0, m, st.sign}, a, mid, tol)
	return c.fitBetween(dst, parallelRun{m, st.t1, st.sign}, mid, b, tol)
}

// cubicFit seeks the handle lengths h0 and h1 of a cubic with given ends p0, p1
// and end directions u0, u1 that runs through the points q with normals n.
type cubicFit struct {
	p0, p1, u0, u1 Point
	h0, h1         float64
	q, dir         [handleSamples]Point
	u              [handleSamples]float64
}

// sample takes the points of the stretch; false if it turns too fast for them.
func (c *parallelCurve) sample(f *cubicFit, st parallelRun, a, b parallelPoint) bool {
	f.p0, f.p1 = a.p, b.p
	f.u0, f.u1 = a.heading(st.sign), b.heading(st.sign)
	span := st.t1 - st.t0
	f.h0 = a.speed * a.dir.Len() * span / 3
	f.h1 = b.speed * b.dir.Len() * span / 3
	last := f.u0
	for i := range f.q {
		u := float64(i+1) / (handleSamples + 1)
		p := c.at(st.t0 + span*u)
		d := p.heading(st.sign)
		if last.Dot(d) < fitStepTurn {
			return false
		}
		f.q[i], f.dir[i], f.u[i] = p.p, d, u
		last = d
	}
	if last.Dot(f.u1) < fitStepTurn || f.u0.Dot(f.u1) < fitWholeTurn {
		return false
	}
	return max(f.h0, f.h1) <= f.p0.Dist(f.p1) || max(f.h0, f.h1) <= f.along()
}

// along returns the length of the chain through the samples. An even run has a
// third of that in each handle; more than the whole shows that the curve races
// past the samples at one end.
func (f *cubicFit) along() float64 {
	sum := f.p0.Dist(f.q[0]) + f.q[handleSamples-1].Dist(f.p1)
	for i := 1; i < handleSamples; i++ {
		sum += f.q[i-1].Dist(f.q[i])
	}
	return sum
}

// evenGap is the largest share of the fitted cubic's parameter between samples
// that still counts as even.
const evenGap = 0.25

// even reports whether the feet of the samples are spread over the whole cubic.
func (f *cubicFit) even() bool {
	last := 0.0
	for _, u := range f.u {
		if u-last > evenGap {
			return false
		}
		last = u
	}
	return 1-last <= evenGap
}

// between returns the largest error of the fit half way between its samples.
func (c *parallelCurve) between(f *cubicFit, st parallelRun) float64 {
	s := f.cubic()
	worst, u0 := 0.0, 0.0
	for i := 0; i <= handleSamples; i++ {
		u1 := 1.0
		if i < handleSamples {
			u1 = f.u[i]
		}
		p := c.at(st.t0 + (st.t1-st.t0)*(float64(i)+0.5)/(handleSamples+1))
		d := p.heading(st.sign)
		u := (u0 + u1) / 2
		for range 2 {
			v := s.Deriv(u).Dot(d)
			if !(v > 0) {
				break
			}
			u = clamp01(u - s.At(u).Sub(p.p).Dot(d)/v)
		}
		worst = max(worst, s.At(u).Dist(p.p))
		u0 = u1
	}
	return worst
}

// heading returns the unit direction of travel of the parallel curve. At a cusp,
// where the derivative vanishes, it is the limit from within the stretch.
func (p parallelPoint) heading(sign float64) Point {
	n := p.dir.X*p.dir.X + p.dir.Y*p.dir.Y
	if n < 1e-14 {
		return p.tangent.Mul(sign)
	}
	k := 1 / math.Sqrt(n)
	return Point{p.dir.X * k, p.dir.Y * k}
}

// ahead returns the unit direction of a line with the same widths beside the
// stitching line's tangent: the heading, but forward even where the parallel
// curve runs backwards or stands still.
func (p parallelPoint) ahead(slope float64) Point {
	if p.forward > 0 {
		return p.heading(1)
	}
	n := Point{p.tangent.Y, -p.tangent.X}
	return p.tangent.Add(n.Mul(slope)).Unit()
}

func (f *cubicFit) cubic() Segment {
	return Cubic(f.p0, f.p0.Add(f.u0.Mul(f.h0)), f.p1.Sub(f.u1.Mul(f.h1)), f.p1)
}

// solve improves the handle lengths until the largest sampled error no longer
// matters beside tol, and returns it.
func (f *cubicFit) solve(tol float64) float64 {
	best := math.Inf(1)
	var bestH0, bestH1 float64
	for round := 0; ; round++ {
		worst, d0, d1 := f.round()
		if worst < best {
			best, bestH0, bestH1 = worst, f.h0, f.h1
		}
		if worst < tol/8 || round == handleRounds || round > 0 && worst > 50*tol {
			break
		}
		f.h0, f.h1 = math.Max(0, f.h0+d0), math.Max(0, f.h1+d1)
	}
	f.h0, f.h1 = bestH0, bestH1
	return best
}

// round slides each foot along the cubic to the normal of its point, and returns
// the largest distance along the normals with the least-squares correction of
// the two handles.
func (f *cubicFit) round() (worst, d0, d1 float64) {
	p1 := Point{f.p0.X + f.u0.X*f.h0, f.p0.Y + f.u0.Y*f.h0}
	p2 := Point{f.p1.X - f.u1.X*f.h1, f.p1.Y - f.u1.Y*f.h1}
	cx, cy := 3*(p1.X-f.p0.X), 3*(p1.Y-f.p0.Y)
	bx, by := 3*(p2.X-p1.X)-cx, 3*(p2.Y-p1.Y)-cy
	ax, ay := f.p1.X-f.p0.X-cx-bx, f.p1.Y-f.p0.Y-cy-by
	var aa, ab, bb, ra, rb float64
	for i := range f.q {
		q, dir, u := f.q[i], f.dir[i], f.u[i]
		var ex, ey float64
		for step := 0; ; step++ {
			ex = ((ax*u+bx)*u+cx)*u + f.p0.X - q.X
			ey = ((ay*u+by)*u+cy)*u + f.p0.Y - q.Y
			along := ex*dir.X + ey*dir.Y
			if step == 2 || math.Abs(along) < 1e-4*math.Abs(ex*dir.Y-ey*dir.X) {
				break
			}
			v := ((3*ax*u+2*bx)*u+cx)*dir.X + ((3*ay*u+2*by)*u+cy)*dir.Y
			if !(v > 0) {
				break
			}
			u = math.Min(1, math.Max(0, u-along/v))
		}
		f.u[i] = u
		across := ey*dir.X - ex*dir.Y
		if e := math.Sqrt(ex*ex + ey*ey); e > worst {
			worst = e
		}
		w := 1 - u
		ja := 3 * u * w * w * (f.u0.Y*dir.X - f.u0.X*dir.Y)
		jb := -3 * u * u * w * (f.u1.Y*dir.X - f.u1.X*dir.Y)
		aa += ja * ja
		ab += ja * jb
		bb += jb * jb
		ra += ja * across
		rb += jb * across
	}
	// A trace of damping keeps handles that do not matter (a nearly straight
	// curve) where they are.
	damp := 1e-9*(aa+bb) + 1e-30
	aa += damp
	bb += damp
	det := aa*bb - ab*ab
	return worst, (ab*rb - bb*ra) / det, (ab*ra - aa*rb) / det
}

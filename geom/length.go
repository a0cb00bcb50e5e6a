package geom

import "math"

// Length returns the arc length in mm with a relative error below 1e-9. It is 0
// for a segment that is one point, and NaN or +Inf where a control point is not
// finite.
//
// The speed is integrated by 16-point Gauss-Legendre quadrature, 8-point where
// that is enough. Panels are cut by how near the complex zeros of the velocity
// lie, since those alone limit the rule's error: nothing is estimated from the
// sums themselves, which can agree by chance beside a sharp bend.
func (s Segment) Length() float64 {
	if s.Straight {
		return s.P0.Dist(s.P3)
	}
	return s.lengthBetween(0, 1)
}

// LengthTo returns the arc length in mm from the start to parameter t, with the
// error of Length; negative for t < 0.
func (s Segment) LengthTo(t float64) float64 {
	if s.Straight {
		return s.P0.Dist(s.P3) * t
	}
	return s.lengthBetween(0, t)
}

// lengthBetween returns the arc length from t0 to t1, negative where t1 < t0.
func (s Segment) lengthBetween(t0, t1 float64) float64 {
	if s.Straight {
		return s.P0.Dist(s.P3) * (t1 - t0)
	}
	if t1 < t0 {
		return -s.lengthBetween(t1, t0)
	}
	d0, d1, d2 := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	c0, c1, c2 := d0.Mul(3), d1.Sub(d0).Mul(6), d2.Sub(d1.Mul(2)).Add(d0).Mul(3)
	h, m := (t1-t0)/2, (t0+t1)/2
	v := velocity{
		c: c0.Add(c1.Add(c2.Mul(m)).Mul(m)).Mul(h),
		b: c1.Add(c2.Mul(2 * m)).Mul(h * h),
		a: c2.Mul(h * h * h),
	}
	return v.length()
}

// velocity is the derivative of a cubic over a part of it that is mapped to x in
// [-1, 1]: c + b x + a x².
type velocity struct{ a, b, c Point }

// length returns the integral of |c + b x + a x²| over [-1, 1].
func (v *velocity) length() float64 {
	scale := max(v.a.reach(), v.b.reach(), v.c.reach())
	switch {
	case scale < underflow:
		return 0
	case math.IsNaN(scale) || math.IsInf(scale, 0):
		return scale
	}
	v.a, v.b, v.c = v.a.Mul(1/scale), v.b.Mul(1/scale), v.c.Mul(1/scale)
	r1, r2 := v.zeros()
	return scale * v.panel(-1, 1, r1, r2, lengthDepth)
}

// underflow is a speed in mm below which its inverse overflows or nearly does.
const underflow = 1e-300

// reach returns the larger of |X| and |Y|.
func (p Point) reach() float64 { return max(math.Abs(p.X), math.Abs(p.Y)) }

// zeros returns the complex roots of the velocity, read as a polynomial with
// complex coefficients; (Inf, 0) stands for a root that does not exist.
//
// The speed is |a| |x - r1| |x - r2|, so these roots and their conjugates are
// the only places near which it is not smooth.
func (v *velocity) zeros() (r1, r2 Point) {
	none := Point{math.Inf(1), 0}
	d := complexSqrt(complexMul(v.b, v.b).Sub(complexMul(v.a, v.c).Mul(4)))
	if d.Dot(v.b) < 0 {
		d = d.Mul(-1)
	}
	q := v.b.Add(d).Mul(-0.5)
	r1, r2 = none, none
	if q == (Point{}) {
		if v.a != (Point{}) {
			return Point{}, Point{} // only a x² is left
		}
		return none, none
	}
	if v.a != (Point{}) {
		r1 = complexDiv(q, v.a)
	}
	r2 = complexDiv(v.c, q)
	return r1.orNone(), r2.orNone()
}

// orNone returns p, or (Inf, 0) if p is not finite.
func (p Point) orNone() Point {
	if !p.Finite() {
		return Point{math.Inf(1), 0}
	}
	return p
}

func complexMul(a, b Point) Point { return Point{a.X*b.X - a.Y*b.Y, a.X*b.Y + a.Y*b.X} }

func complexDiv(a, b Point) Point {
	n := 1 / b.Dot(b)
	return Point{a.Dot(b) * n, b.Cross(a) * n}
}

// complexSqrt returns the root of z with a positive real part.
func complexSqrt(z Point) Point {
	m := math.Sqrt(z.Dot(z))
	if m == 0 {
		return Point{}
	}
	if z.X >= 0 {
		x := math.Sqrt((m + z.X) / 2)
		return Point{x, z.Y / (2 * x)}
	}
	y := math.Sqrt((m - z.X) / 2)
	if z.Y < 0 {
		y = -y
	}
	return Point{z.Y / (2 * y), y}
}

const (
	// far16 and far8 are the sums of the distances from a zero of the velocity
	// to both ends of the panel [-1, 1] from which the 16- and the 8-point rule
	// are used. A function that is analytic inside the ellipse with that sum
	// ρ + 1/ρ has a Gauss error that falls like ρ^(-2n) (Trefethen 2008, "Is
	// Gauss quadrature better than Clenshaw-Curtis?", theorem 4.5): about 1e-11.
	far16 = 2.6
	far8  = 5.0
	// cuspGap is the height of a zero over the range [-1, 1] of the whole
	// integral below which it counts as lying on it: a cusp. The length of the
	// tiny bend that is ignored is its square.
	cuspGap = 1e-6
	// nearEnd bounds the split at a zero: nearer to an end than that the split
	// is at gradeAt, so that the far part is smooth enough at once.
	nearEnd = 0.9
	gradeAt = 0.7
	// lengthDepth bounds the splits of one panel within the other; grading
	// towards a zero at cuspGap takes about 16.
	lengthDepth = 40
)

// panel returns the integral of the speed over x from lo to hi, r1 and r2 being
// the zeros of the velocity. Where a zero is too near, the panel is split at it
// and graded towards it; on either side of a cusp the speed is smooth again.
func (v *velocity) panel(lo, hi float64, r1, r2 Point, depth int) float64 {
	h, m := (hi-lo)/2, (lo+hi)/2
	d1, cut1 := nearness((r1.X-m)/h, r1.Y/h, h)
	d2, cut2 := nearness((r2.X-m)/h, r2.Y/h, h)
	d, cut := d1, cut1
	if d2 < d1 {
		d, cut = d2, cut2
	}
	if d >= far16 || depth == 0 {
		return v.rule(h, m, d >= far8)
	}
	cut = m + h*cut
	return v.panel(lo, cut, r1, r2, depth-1) + v.panel(cut, hi, r1, r2, depth-1)
}

// nearness returns the sum of the distances from the zero x + iy to -1 and 1,
// +Inf if it does no harm there, and where to cut the panel on its account.
func nearness(x, y, h float64) (sum, cut float64) {
	if math.Abs(y)*h <= cuspGap {
		if !(math.Abs(x)*h < h-cuspGap*cuspGap) {
			return math.Inf(1), 0 // at an end or beyond: the speed is smooth inside
		}
		return 0, x
	}
	y2 := y * y
	sum = math.Sqrt((x-1)*(x-1)+y2) + math.Sqrt((x+1)*(x+1)+y2)
	switch {
	case x < -nearEnd:
		return sum, -gradeAt
	case x > nearEnd:
		return sum, gradeAt
	}
	return sum, x
}

// rule returns the integral over the panel with half-width h and middle m by the
// 8-point (few) or the 16-point rule.
func (v *velocity) rule(h, m float64, few bool) float64 {
	w := velocity{
		c: v.c.Add(v.b.Add(v.a.Mul(m)).Mul(m)),
		b: v.b.Add(v.a.Mul(2 * m)).Mul(h),
		a: v.a.Mul(h * h),
	}
	sum := 0.0
	if few {
		for i := range gauss8 {
			sum += gauss8[i].w * w.speeds(gauss8[i].x)
		}
		return h * sum
	}
	for i := range gauss16 {
		sum += gauss16[i].w * w.speeds(gauss16[i].x)
	}
	return h * sum
}

// speeds returns the sum of the speeds at x and at -x, which share the even part.
func (v *velocity) speeds(x float64) float64 {
	x2 := x * x
	ex, ey := v.c.X+v.a.X*x2, v.c.Y+v.a.Y*x2
	ox, oy := v.b.X*x, v.b.Y*x
	px, py, mx, my := ex+ox, ey+oy, ex-ox, ey-oy
	return math.Sqrt(px*px+py*py) + math.Sqrt(mx*mx+my*my)
}

const (
	// atLengthError is the share of the whole length to which AtLength meets
	// the wanted length: well below the error of the length itself.
	atLengthError = 1e-12
	// atLengthSteps bounds the search; bisection alone would need 53 steps.
	atLengthSteps = 64
)

// AtLength returns the parameter at which the arc length from the start is d mm,
// by Newton's method kept inside a bracket. d is held within 0 and Length; the
// result is exactly 0 or 1 there, and 0 for NaN. LengthTo of the result differs
// from d by at most 1e-9 of Length.
func (s Segment) AtLength(d float64) float64 {
	return s.atLength(d, s.Length())
}

// atLength is AtLength where the whole length is known.
func (s Segment) atLength(d, total float64) float64 {
	switch {
	case !(d > 0) || math.IsNaN(total):
		return 0
	case d >= total:
		return 1
	case s.Straight:
		return d / total
	}
	lo, hi := 0.0, 1.0
	t := d / total
	reached := s.lengthBetween(0, t)
	for range atLengthSteps {
		miss := reached - d
		if !(math.Abs(miss) > atLengthError*total) {
			return t
		}
		if miss > 0 {
			hi = t
		} else {
			lo = t
		}
		next := t - miss/s.Deriv(t).Len()
		if !(next > lo && next < hi) {
			next = 0.5 * (lo + hi)
		}
		if next == t {
			return t
		}
		reached += s.lengthBetween(t, next)
		t = next
	}
	return t
}

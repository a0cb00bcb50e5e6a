package geom

import "math"

// quadraticRoots returns the real roots of a t² + b t + c in ascending order
// and how many there are. The larger root is formed without cancellation and
// the other from the product c/a (Press et al., Numerical Recipes, 5.6). A
// double root counts once. The zero polynomial has none, and so has one with a
// coefficient that is not finite.
func quadraticRoots(a, b, c float64) (r [2]float64, n int) {
	scale := math.Max(math.Abs(a), math.Max(math.Abs(b), math.Abs(c)))
	if scale == 0 || math.IsNaN(scale) || math.IsInf(scale, 0) {
		return r, 0
	}
	a, b, c = a/scale, b/scale, c/scale
	if a == 0 {
		if b == 0 {
			return r, 0
		}
		r[0] = -c / b
		return r, 1
	}
	disc := b*b - 4*a*c
	if disc < 0 {
		return r, 0
	}
	q := -0.5 * (b + math.Copysign(math.Sqrt(disc), b))
	if q == 0 {
		return r, 1 // b = c = 0: both roots are 0
	}
	r[0], r[1] = q/a, c/q
	if r[0] == r[1] {
		return r, 1
	}
	if r[0] > r[1] {
		r[0], r[1] = r[1], r[0]
	}
	if math.IsInf(r[0], 0) {
		r[0] = r[1]
		return r, 1
	}
	if math.IsInf(r[1], 0) {
		return r, 1
	}
	return r, 2
}

// maxDegree is the highest degree that poly holds: the derivative of the
// squared distance to a cubic has degree 5.
const maxDegree = 5

// poly is the polynomial Σ c[i] tⁱ of degree at most deg.
type poly struct {
	c   [maxDegree + 1]float64
	deg int
}

func (p *poly) at(t float64) float64 {
	v := p.c[p.deg]
	for i := p.deg - 1; i >= 0; i-- {
		v = v*t + p.c[i]
	}
	return v
}

// atBoth returns value and derivative at t.
func (p *poly) atBoth(t float64) (v, d float64) {
	v = p.c[p.deg]
	for i := p.deg - 1; i >= 0; i-- {
		d = d*t + v
		v = v*t + p.c[i]
	}
	return v, d
}

func (p *poly) deriv() poly {
	q := poly{deg: max(p.deg-1, 0)}
	for i := 1; i <= p.deg; i++ {
		q.c[i-1] = float64(i) * p.c[i]
	}
	return q
}

// rootList is a list of roots of a poly, ascending.
type rootList struct {
	t [2*maxDegree + 2]float64
	n int
}

func (r *rootList) add(t float64) {
	if r.n > 0 && r.t[r.n-1] >= t {
		return
	}
	r.t[r.n] = t
	r.n++
}

// roots finds where p changes sign in [0, end], and besides where it comes within
// touch of 0 at an end or at a turning point. The roots of the derivative cut
// the range into monotone parts, each of which holds at most one sign change,
// found by Newton steps kept inside the bracket (Yuksel 2022, "High-Performance
// Polynomial Root Finding for Graphics"). So no sign change is missed, whatever
// the multiplicity. Coefficients that are not finite give no roots.
func (p *poly) roots(end, touch float64) (r rootList) {
	for _, c := range p.c[:p.deg+1] {
		if math.IsNaN(c - c) {
			return r
		}
	}
	turns := p.turns(end)
	a, fa := 0.0, p.at(0)
	if math.Abs(fa) <= touch {
		r.add(a)
	}
	for i := 0; i <= turns.n; i++ {
		b := end
		if i < turns.n {
			b = turns.t[i]
		}
		fb := p.at(b)
		nearA, nearB := math.Abs(fa) <= touch, math.Abs(fb) <= touch
		if !nearA && !nearB && (fa < 0) != (fb < 0) {
			r.add(p.bracketed(a, b, fa < 0))
		}
		if nearB {
			r.add(b)
		}
		a, fa = b, fb
	}
	return r
}

// turns returns the roots of the derivative inside (0, end).
func (p *poly) turns(end float64) (r rootList) {
	if p.deg < 2 {
		return r
	}
	d := p.deriv()
	if d.deg > 2 {
		all := d.roots(end, 0)
		for _, t := range all.t[:all.n] {
			if t > 0 && t < end {
				r.add(t)
			}
		}
		return r
	}
	q, n := quadraticRoots(d.c[2], d.c[1], d.c[0])
	for _, t := range q[:n] {
		if t > 0 && t < end {
			r.add(t)
		}
	}
	return r
}

// maxRootSteps bounds the root search: bisection alone narrows [0, 1] to
// the spacing of float64 near 1 in 53 steps, and Newton may waste every other one.
const maxRootSteps = 110

// bracketed returns the one sign change of p between a and b; rising says that
// p is negative at a.
func (p *poly) bracketed(a, b float64, rising bool) float64 {
	t := 0.5 * (a + b)
	for range maxRootSteps {
		v, d := p.atBoth(t)
		if v == 0 {
			return t
		}
		if (v < 0) == rising {
			a = t
		} else {
			b = t
		}
		next := t - v/d
		if !(next > a && next < b) {
			next = 0.5 * (a + b)
			if next <= a || next >= b {
				return next
			}
		}
		if math.Abs(next-t) <= 1e-16 {
			return next
		}
		t = next
	}
	return t
}

// power returns the coefficients of the segment as a polynomial in t, about the
// origin o: B(t) - o = c0 + c1 t + c2 t² + c3 t³.
func (s Segment) power(o Point) (c0, c1, c2, c3 Point) {
	c0 = s.P0.Sub(o)
	if s.Straight {
		return c0, s.P3.Sub(s.P0), Point{}, Point{}
	}
	d0, d1, d2 := s.P1.Sub(s.P0), s.P2.Sub(s.P1), s.P3.Sub(s.P2)
	return c0, d0.Mul(3), d1.Sub(d0).Mul(3), d2.Sub(d1.Mul(2)).Add(d0)
}

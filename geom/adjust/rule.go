package adjust

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// lengths is the rule for a wish: the sum of lengths less what is wanted.
type lengths struct {
	m     *model
	terms []Term
	want  float64
}

func (l *lengths) Value(z [][]float64) float64 {
	sum := -l.want
	for _, t := range l.terms {
		sum += t.Factor * l.m.outlines[t.Shape].segment(t.Stretch, z[t.Shape]).Length()
	}
	return sum
}

// segment returns stretch i at the unknowns z.
func (o *outline) segment(i int, z []float64) geom.Segment {
	s := o.stretch(i)
	a, b := s[0].at(z), s[3].at(z)
	if o.shape.straight(i) {
		return geom.Line(a, b)
	}
	return geom.Cubic(a, a.Add(s[1].at(z)), b.Add(s[2].at(z)), b)
}

// Slope: the derivative of a length by a control point is the integral of its weight's
// derivative times the unit tangent.
func (l *lengths) Slope(z [][]float64, g *sqp.Gradient) {
	for _, t := range l.terms {
		o := l.m.outlines[t.Shape]
		if !o.moves(t.Stretch) {
			continue
		}
		into := g.Of(t.Shape, o.n)
		b, seg := o.basisOf(t.Stretch), o.segment(t.Stretch, z[t.Shape])
		var by [4]geom.Point
		for k, at := range b.t {
			u := seg.Deriv(at).Unit().Mul(b.w[k])
			for a := range by {
				by[a] = by[a].Add(u.Mul(b.df[k][a]))
			}
		}
		for a, s := range o.stretch(t.Stretch) {
			s.pull(into, by[a].Mul(t.Factor))
		}
	}
}

// Curve: the second derivative is the integral of both weights' derivatives over the
// speed, across the tangent.
func (l *lengths) Curve(z [][]float64, k float64, h []sqp.Square) {
	for _, t := range l.terms {
		o := l.m.outlines[t.Shape]
		if !o.moves(t.Stretch) {
			continue
		}
		b, seg := o.basisOf(t.Stretch), o.segment(t.Stretch, z[t.Shape])
		least := leastSpeed * seg.P0.Dist(seg.P3)
		slots := o.stretch(t.Stretch)
		for i, at := range b.t {
			d := seg.Deriv(at)
			u := d.Unit()
			across := matrix{1 - u.X*u.X, -u.X * u.Y, -u.X * u.Y, 1 - u.Y*u.Y}.
				mul(k * t.Factor * b.w[i] / math.Max(d.Len(), math.Max(least, tiny)))
			for a, s := range slots {
				for c, r := range slots {
					if w := b.df[i][a] * b.df[i][c]; w != 0 {
						add(h[t.Shape], s, r, across.mul(w))
					}
				}
			}
		}
	}
}

// tiny is a length in mm below which nothing is divided by it.
const tiny = 1e-9

// moves reports whether stretch i has an unknown.
func (o *outline) moves(i int) bool {
	for _, s := range o.stretch(i) {
		if s.dim > 0 {
			return true
		}
	}
	return false
}

// part is a slot, added or taken away.
type part struct {
	*slot
	sign float64
}

// vector is a sum of slots.
type vector []part

func (v vector) at(z []float64) geom.Point {
	var p geom.Point
	for _, s := range v {
		p = p.Add(s.at(z).Mul(s.sign))
	}
	return p
}

func (v vector) pull(g []float64, by geom.Point) {
	for _, s := range v {
		s.slot.pull(g, by.Mul(s.sign))
	}
}

// free reports whether one of its slots has an unknown.
func (v vector) free() bool {
	for _, s := range v {
		if s.dim > 0 {
			return true
		}
	}
	return false
}

// between returns the vector from slot a to slot b.
func between(a, b *slot) vector { return vector{{b, 1}, {a, -1}} }

// product is the rule uᵀ k v = c of two vectors of one shape: that they keep an angle,
// that a point lies on a line, that a curve keeps turning the same way.
type product struct {
	shape, n int
	u, v     vector
	k        matrix
	c        float64
}

func (r *product) Value(z [][]float64) float64 {
	return r.u.at(z[r.shape]).Dot(r.k.times(r.v.at(z[r.shape]))) - r.c
}

func (r *product) Slope(z [][]float64, g *sqp.Gradient) {
	into := g.Of(r.shape, r.n)
	r.u.pull(into, r.k.times(r.v.at(z[r.shape])))
	r.v.pull(into, r.k.transposed().times(r.u.at(z[r.shape])))
}

func (r *product) Curve(_ [][]float64, k float64, h []sqp.Square) {
	for _, a := range r.u {
		for _, b := range r.v {
			m := r.k.mul(k * a.sign * b.sign)
			add(h[r.shape], a.slot, b.slot, m)
			add(h[r.shape], b.slot, a.slot, m.transposed())
		}
	}
}

// turned is the matrix of the product that is u.Cross(v) turned by an angle: zero where v
// is u turned by it, on either side.
func turned(sin, cos float64) matrix {
	// cross is u.X v.Y - u.Y v.X.
	return matrix{-sin, cos, -cos, -sin}
}

// along is the part of a vector along a direction, less a bound: a rule that is linear.
type along struct {
	shape, n int
	v        vector
	dir      geom.Point
	least    float64
}

func (r *along) Value(z [][]float64) float64 { return r.v.at(z[r.shape]).Dot(r.dir) - r.least }

func (r *along) Slope(_ [][]float64, g *sqp.Gradient) { r.v.pull(g.Of(r.shape, r.n), r.dir) }

func (r *along) Curve([][]float64, float64, []sqp.Square) {}

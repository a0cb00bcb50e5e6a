package adjust

import (
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
			across := sqp.Across(seg.Deriv(at), k*t.Factor*b.w[i], least)
			for a, s := range slots {
				for c, r := range slots {
					if w := b.df[i][a] * b.df[i][c]; w != 0 {
						add(h[t.Shape], s, r, across.Mul(w))
					}
				}
			}
		}
	}
}

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

// At returns the sum at the unknowns z of its shape.
func (v vector) At(z []float64) geom.Point {
	var p geom.Point
	for _, s := range v {
		p = p.Add(s.at(z).Mul(s.sign))
	}
	return p
}

// Pull adds the derivative of a value by the unknowns, given that by the sum.
func (v vector) Pull(g []float64, by geom.Point) {
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

// Bend adds the second derivatives of vᵀ m w by the unknowns.
func (v vector) Bend(h sqp.Square, w vector, m sqp.Matrix) {
	for _, a := range v {
		for _, b := range w {
			n := m.Mul(a.sign * b.sign)
			add(h, a.slot, b.slot, n)
			add(h, b.slot, a.slot, n.Transposed())
		}
	}
}

// product and along are the rules of two vectors and of one, over sums of slots.
type (
	product = sqp.Product[vector]
	along   = sqp.Along[vector]
)

// turned is the matrix of the product that is u.Cross(v) turned by an angle: zero where v
// is u turned by it, on either side.
func turned(sin, cos float64) sqp.Matrix {
	// cross is u.X v.Y - u.Y v.X.
	return sqp.Matrix{XX: -sin, XY: cos, YX: -cos, YY: -sin}
}

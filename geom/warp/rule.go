package warp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// gaussPoints is the number of places of the Gauss-Legendre rule for integrals along a
// stretch: as many as the length of a calm cubic takes for 1e-9 of it.
const gaussPoints = 16

var gaussAt, gaussW = func() (x, w [gaussPoints]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return x, w
}()

// curved and lined are the weights of the control points of a cubic and of a line at t,
// the others those of their derivatives.
func curved(t float64) [4]float64 {
	u := 1 - t
	return [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
}

func curvedSlope(t float64) [4]float64 {
	u := 1 - t
	return [4]float64{-3 * u * u, 3*u*u - 6*u*t, 6*u*t - 3*t*t, 3 * t * t}
}

func lined(t float64) [4]float64 { return [4]float64{0: 1 - t, 3: t} }

// matrix is that of a bilinear form uᵀ m v.
type matrix struct{ xx, xy, yx, yy float64 }

func (m matrix) times(v geom.Point) geom.Point {
	return geom.Pt(m.xx*v.X+m.xy*v.Y, m.yx*v.X+m.yy*v.Y)
}

func (m matrix) mul(k float64) matrix { return matrix{k * m.xx, k * m.xy, k * m.yx, k * m.yy} }

func (m matrix) transposed() matrix { return matrix{m.xx, m.yx, m.xy, m.yy} }

// add adds the block m of the second derivatives by points i (rows) and j.
func add(q sqp.Square, i, j int, m matrix) {
	at := 2*i*q.N + 2*j
	q.A[at] += m.xx
	q.A[at+1] += m.xy
	q.A[at+q.N] += m.yx
	q.A[at+q.N+1] += m.yy
}

// pull adds the derivative of a value by the coordinates, given that by the sum v.
func (v mix) pull(g []float64, by geom.Point) {
	for _, s := range v {
		g[2*s.point] += s.by * by.X
		g[2*s.point+1] += s.by * by.Y
	}
}

// lengths is a sum of lengths of stretches and of chords.
type lengths struct {
	parts  []part
	chords []chord
}

// part is a part of a stretch from one parameter to another.
type part struct {
	shape, n         int // n coordinates
	points           [4]int
	straight         bool
	from, to, factor float64
}

func (p *part) segment(x []float64) geom.Segment {
	at := func(i int) geom.Point { return geom.Pt(x[2*p.points[i]], x[2*p.points[i]+1]) }
	if p.straight {
		return geom.Line(at(0), at(3))
	}
	return geom.Cubic(at(0), at(1), at(2), at(3))
}

// add adds a part. What is there already counts so much more, and what no longer counts is
// left out: an edge that is sewn to its own image is as long as that in any case.
func (l *lengths) add(p part) {
	for i := range l.parts {
		q := &l.parts[i]
		if q.shape != p.shape || q.points != p.points || q.from != p.from || q.to != p.to {
			continue
		}
		if q.factor += p.factor; q.factor == 0 {
			l.parts = slices.Delete(l.parts, i, i+1)
		}
		return
	}
	l.parts = append(l.parts, p)
}

// chord is the distance between two places of a shape, or its part along a direction.
type chord struct {
	shape, n int
	v        mix
	along    geom.Point // a unit vector, or zero
	factor   float64
}

func (l *lengths) Value(x [][]float64) float64 {
	sum := 0.0
	for i := range l.parts {
		p := &l.parts[i]
		seg := p.segment(x[p.shape])
		switch {
		case p.straight:
			sum += p.factor * (p.to - p.from) * seg.Length()
		case p.from == 0 && p.to == 1:
			sum += p.factor * seg.Length()
		default:
			sum += p.factor * seg.Between(p.from, p.to).Length()
		}
	}
	for i := range l.chords {
		c := &l.chords[i]
		v := c.v.at(x[c.shape])
		if c.along != (geom.Point{}) {
			sum += c.factor * v.Dot(c.along)
		} else {
			sum += c.factor * v.Len()
		}
	}
	return sum
}

// Slope: the derivative of a length by a control point is the integral of its weight's
// derivative times the unit tangent.
func (l *lengths) Slope(x [][]float64, g *sqp.Gradient) {
	for i := range l.parts {
		p := &l.parts[i]
		into := g.Of(p.shape, p.n)
		seg := p.segment(x[p.shape])
		pull := func(k int, by geom.Point) {
			into[2*p.points[k]] += by.X
			into[2*p.points[k]+1] += by.Y
		}
		if p.straight {
			u := seg.P3.Sub(seg.P0).Unit().Mul(p.factor * (p.to - p.from))
			pull(0, u.Mul(-1))
			pull(3, u)
			continue
		}
		var by [4]geom.Point
		for k := range gaussAt {
			t := p.from + (p.to-p.from)*gaussAt[k]
			u := seg.Deriv(t).Unit().Mul(p.factor * (p.to - p.from) * gaussW[k])
			for a, w := range curvedSlope(t) {
				by[a] = by[a].Add(u.Mul(w))
			}
		}
		for a := range by {
			pull(a, by[a])
		}
	}
	for i := range l.chords {
		c := &l.chords[i]
		u := c.along
		if u == (geom.Point{}) {
			u = c.v.at(x[c.shape]).Unit()
		}
		c.v.pull(g.Of(c.shape, c.n), u.Mul(c.factor))
	}
}

const (
	// leastSpeed is the share of a stretch's chord below which its speed does not count:
	// near a handle of no length second derivatives have no bounds.
	leastSpeed = 0.1
	// leastLength is a length in mm below which nothing is divided by it.
	leastLength = 1e-9
)

// across returns k times the second derivative of the length of v.
func across(v geom.Point, k, least float64) matrix {
	u := v.Unit()
	return matrix{1 - u.X*u.X, -u.X * u.Y, -u.X * u.Y, 1 - u.Y*u.Y}.mul(k / math.Max(v.Len(), math.Max(least, leastLength)))
}

// Curve: the second derivative is the integral of both weights' derivatives over the
// speed, across the tangent.
func (l *lengths) Curve(x [][]float64, k float64, h []sqp.Square) {
	for i := range l.parts {
		p := &l.parts[i]
		seg, q := p.segment(x[p.shape]), h[p.shape]
		if p.straight {
			m := across(seg.P3.Sub(seg.P0), k*p.factor*(p.to-p.from), 0)
			a, b := p.points[0], p.points[3]
			add(q, a, a, m)
			add(q, b, b, m)
			add(q, a, b, m.mul(-1))
			add(q, b, a, m.mul(-1))
			continue
		}
		least := leastSpeed * seg.P0.Dist(seg.P3)
		var sum [4][4]matrix
		for n := range gaussAt {
			t := p.from + (p.to-p.from)*gaussAt[n]
			m := across(seg.Deriv(t), k*p.factor*(p.to-p.from)*gaussW[n], least)
			d := curvedSlope(t)
			for a := range d {
				for b := range a + 1 {
					w, s := d[a]*d[b], &sum[a][b]
					s.xx += w * m.xx
					s.xy += w * m.xy
					s.yy += w * m.yy
				}
			}
		}
		for a := range sum {
			for b := range a + 1 {
				m := sum[a][b]
				m.yx = m.xy
				add(q, p.points[a], p.points[b], m)
				if a != b {
					add(q, p.points[b], p.points[a], m)
				}
			}
		}
	}
	for i := range l.chords {
		c := &l.chords[i]
		if c.along != (geom.Point{}) {
			continue
		}
		m := across(c.v.at(x[c.shape]), k*c.factor, 0)
		for _, a := range c.v {
			for _, b := range c.v {
				add(h[c.shape], a.point, b.point, m.mul(a.by*b.by))
			}
		}
	}
}

// goal is the rule that a measure is what is wanted. It can be approached by shares.
type goal struct {
	measure     sqp.Rule
	first, want float64 // where nothing is changed, and in the end
	share       float64 // of the way
}

func (g *goal) Value(x [][]float64) float64 {
	return g.measure.Value(x) - (g.first + g.share*(g.want-g.first))
}

func (g *goal) Slope(x [][]float64, to *sqp.Gradient) { g.measure.Slope(x, to) }

func (g *goal) Curve(x [][]float64, k float64, h []sqp.Square) { g.measure.Curve(x, k, h) }

// product is the rule uᵀ k v = c of two vectors of one shape: that a point lies on a line,
// that a curve keeps turning the same way.
type product struct {
	shape, n int
	u, v     mix
	k        matrix
	c        float64
}

func (r *product) Value(x [][]float64) float64 {
	return r.u.at(x[r.shape]).Dot(r.k.times(r.v.at(x[r.shape]))) - r.c
}

func (r *product) Slope(x [][]float64, g *sqp.Gradient) {
	into := g.Of(r.shape, r.n)
	r.u.pull(into, r.k.times(r.v.at(x[r.shape])))
	r.v.pull(into, r.k.transposed().times(r.u.at(x[r.shape])))
}

func (r *product) Curve(_ [][]float64, k float64, h []sqp.Square) {
	for _, a := range r.u {
		for _, b := range r.v {
			m := r.k.mul(k * a.by * b.by)
			add(h[r.shape], a.point, b.point, m)
			add(h[r.shape], b.point, a.point, m.transposed())
		}
	}
}

// crossing is the matrix of the product that is u.Cross(v).
var crossing = matrix{xy: 1, yx: -1}

// towards is the part of a vector along a direction, less a bound.
type towards struct {
	shape, n int
	v        mix
	dir      geom.Point
	least    float64
}

func (r *towards) Value(x [][]float64) float64 { return r.v.at(x[r.shape]).Dot(r.dir) - r.least }

func (r *towards) Slope(_ [][]float64, g *sqp.Gradient) { r.v.pull(g.Of(r.shape, r.n), r.dir) }

func (r *towards) Curve([][]float64, float64, []sqp.Square) {}

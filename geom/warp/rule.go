package warp

import (
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

// add adds the block m of the second derivatives by points i (rows) and j.
func add(q sqp.Square, i, j int, m sqp.Matrix) {
	at := 2*i*q.N + 2*j
	q.A[at] += m.XX
	q.A[at+1] += m.XY
	q.A[at+q.N] += m.YX
	q.A[at+q.N+1] += m.YY
}

// Pull adds the derivative of a value by the coordinates, given that by the sum v.
func (v mix) Pull(g []float64, by geom.Point) {
	for _, s := range v {
		g[2*s.point] += s.by * by.X
		g[2*s.point+1] += s.by * by.Y
	}
}

// Bend adds the second derivatives of vᵀ m w by the coordinates.
func (v mix) Bend(h sqp.Square, w mix, m sqp.Matrix) {
	for _, a := range v {
		for _, b := range w {
			n := m.Mul(a.by * b.by)
			add(h, a.point, b.point, n)
			add(h, b.point, a.point, n.Transposed())
		}
	}
}

// product and towards are the rules of two vectors and of one, over sums of points.
type (
	product = sqp.Product[mix]
	towards = sqp.Along[mix]
)

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
		v := c.v.At(x[c.shape])
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
			u = c.v.At(x[c.shape]).Unit()
		}
		c.v.Pull(g.Of(c.shape, c.n), u.Mul(c.factor))
	}
}

const (
	// leastSpeed is the share of a stretch's chord below which its speed does not count:
	// near a handle of no length second derivatives have no bounds.
	leastSpeed = 0.1
	// leastLength is a length in mm below which nothing is divided by it.
	leastLength = 1e-9
)

// Curve adds the second derivatives, those of straight parts and of chords in closed form.
func (l *lengths) Curve(x [][]float64, k float64, h []sqp.Square) {
	for i := range l.parts {
		if p := &l.parts[i]; p.straight {
			p.curveStraight(x[p.shape], k, h[p.shape])
		} else {
			p.curveCubic(x[p.shape], k, h[p.shape])
		}
	}
	for i := range l.chords {
		c := &l.chords[i]
		if c.along != (geom.Point{}) {
			continue
		}
		m := sqp.Across(c.v.At(x[c.shape]), k*c.factor, 0)
		for _, a := range c.v {
			for _, b := range c.v {
				add(h[c.shape], a.point, b.point, m.Mul(a.by*b.by))
			}
		}
	}
}

func (p *part) curveStraight(x []float64, k float64, q sqp.Square) {
	seg := p.segment(x)
	m := sqp.Across(seg.P3.Sub(seg.P0), k*p.factor*(p.to-p.from), 0)
	a, b := p.points[0], p.points[3]
	add(q, a, a, m)
	add(q, b, b, m)
	add(q, a, b, m.Mul(-1))
	add(q, b, a, m.Mul(-1))
}

// curveCubic: the second derivative is the integral of both weights' derivatives over the
// speed, across the tangent.
func (p *part) curveCubic(x []float64, k float64, q sqp.Square) {
	seg := p.segment(x)
	least := leastSpeed * seg.P0.Dist(seg.P3)
	var sum [4][4]sqp.Matrix
	for n := range gaussAt {
		t := p.from + (p.to-p.from)*gaussAt[n]
		m := sqp.Across(seg.Deriv(t), k*p.factor*(p.to-p.from)*gaussW[n], least)
		d := curvedSlope(t)
		for a := range d {
			for b := range a + 1 {
				w, s := d[a]*d[b], &sum[a][b]
				s.XX += w * m.XX
				s.XY += w * m.XY
				s.YY += w * m.YY
			}
		}
	}
	for a := range sum {
		for b := range a + 1 {
			m := sum[a][b]
			m.YX = m.XY
			add(q, p.points[a], p.points[b], m)
			if a != b {
				add(q, p.points[b], p.points[a], m)
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

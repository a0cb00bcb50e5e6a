package regular

import (
	"math"

	"hemlet/geom"
)

// mod returns i modulo n in [0, n).
func mod(i, n int) int { return ((i % n) + n) % n }

// image returns the mirror image of corner c, and of edge e, under a pairing.
func (m *model) image(c, pairing int) int { return mod(pairing-c, len(m.corners)) }

func (m *model) imageEdge(e, pairing int) int { return mod(pairing-e-1, len(m.corners)) }

// pairings returns how many ways there are to pair the corners by a mirror.
func (m *model) pairings() int {
	if m.closed {
		return len(m.corners)
	}
	return 1
}

// pairingAt returns the k-th pairing: a mirror turns a ring of corners over and round, and
// swaps the ends of an open path.
func (m *model) pairingAt(k int) int {
	if m.closed {
		return k
	}
	return len(m.corners) - 1
}

// axisOf returns the axis about which the corners are most nearly mirrored in pairs: a
// point and the angle of its direction, by least squares.
func (m *model) axisOf(pairing int) (mid geom.Point, angle float64) {
	n := float64(len(m.corners))
	for _, p := range m.corners {
		mid = mid.Add(p.Mul(1 / n))
	}
	// The mirror image of q is e^(2iθ) times its conjugate: 2θ is the argument of the sum
	// of the products of the pairs as complex numbers.
	var re, im float64
	for c, p := range m.corners {
		a, b := p.Sub(mid), m.corners[m.image(c, pairing)].Sub(mid)
		re += a.X*b.X - a.Y*b.Y
		im += a.X*b.Y + a.Y*b.X
	}
	return mid, math.Atan2(im, re) / 2
}

// mirrored returns the mirror image of p about the axis at a signed distance from the
// origin along its normal.
func mirrored(p geom.Point, angle, dist float64) geom.Point {
	s, c := math.Sincos(angle)
	n := geom.Pt(-s, c)
	return p.Sub(n.Mul(2 * (p.Dot(n) - dist)))
}

// makeMirrored gives each edge and its image the same shape, turned over: the mean of
// both, or that of one of them, whichever moves the worse of them least. It returns false
// where their shapes cannot be brought together.
func (m *model) makeMirrored(pairing int) bool {
	for i := range m.edges {
		j := m.imageEdge(i, pairing)
		if j < i {
			continue
		}
		a, b := &m.edges[i], &m.edges[j]
		if a.straight && b.straight {
			continue
		}
		fa, okA := a.shape()
		fb, okB := b.shape()
		if !okA || !okB {
			return false
		}
		back := turnedOver(fb)
		best, off := geom.Path(nil), math.Inf(1)
		options := []geom.Path{meanShape(fa, back)}
		if i != j {
			options = append(options, fa, back)
		}
		for _, f := range options {
			if f == nil {
				continue
			}
			if d := max(apart(f, fa), apart(f, back)); d < off {
				best, off = f, d
			}
		}
		if best == nil {
			return false
		}
		a.setShape(best)
		b.setShape(turnedOver(best))
	}
	m.unknowns()
	return true
}

// shape returns the edge with its start at the origin and its end at (1, 0), or false
// where both are too near to each other for that.
func (e *edge) shape() (geom.Path, bool) {
	d := e.chord()
	n := d.Dot(d)
	if n < loopShare*loopShare*e.reach()*e.reach() {
		return nil, false
	}
	p := e.path.Start()
	back := geom.Affine{A: d.X / n, B: -d.Y / n, C: d.Y / n, D: d.X / n}
	return e.path.Transform(geom.Translation(p.Mul(-1)).Then(back)), true
}

// setShape lays a shape between the ends of the edge.
func (e *edge) setShape(f geom.Path) {
	p, q, d := e.path.Start(), e.path.End(), e.chord()
	out := f.Transform(geom.Affine{A: d.X, B: d.Y, C: -d.Y, D: d.X, E: p.X, F: p.Y})
	out[0] = moved(out[0], p, out[0].P3)
	last := len(out) - 1
	out[last] = moved(out[last], out[last].P0, q)
	e.path = out
	e.straight = len(out) == 1 && out[0].Straight
}

// turnedOver returns a shape mirrored and run from its other end.
func turnedOver(f geom.Path) geom.Path {
	return f.Transform(geom.Affine{A: -1, D: 1, E: 1}).Reverse()
}

// meanShape returns the mean of two shapes of like segments, or nil.
func meanShape(f, g geom.Path) geom.Path {
	if len(f) != len(g) {
		return nil
	}
	out := make(geom.Path, len(f))
	for i, s := range f {
		t := g[i]
		if s.Straight != t.Straight {
			return nil
		}
		out[i] = geom.Segment{
			P0: s.P0.Lerp(t.P0, .5), P1: s.P1.Lerp(t.P1, .5), P2: s.P2.Lerp(t.P2, .5), P3: s.P3.Lerp(t.P3, .5),
			Straight: s.Straight,
		}
	}
	return out
}

// mirrorRules wants the outline to be its mirror image about an axis, which is two
// unknowns more.
func (m *model) mirrorRules(pairing int) []rule {
	mid, angle := m.axisOf(pairing)
	s, c := math.Sincos(angle)
	at := len(m.start)
	m.start = append(m.start, angle*m.size, mid.Dot(geom.Pt(-s, c)))
	axis := []int{at, at + 1}
	image := func(p geom.Point, z []float64) geom.Point { return mirrored(p, z[at]/m.size, z[at+1]) }
	var out []rule
	pair := func(vars []int, miss func(z []float64) geom.Point) {
		vars = append(vars, axis...)
		out = append(out,
			rule{vars, func(z []float64) float64 { return miss(z).X }},
			rule{vars, func(z []float64) float64 { return miss(z).Y }})
	}
	for i := range m.corners {
		j := m.image(i, pairing)
		switch {
		case i < j:
			pair([]int{2 * i, 2*i + 1, 2 * j, 2*j + 1}, func(z []float64) geom.Point {
				return image(point(z, 2*i), z).Sub(point(z, 2*j))
			})
		case i == j:
			out = append(out, rule{append([]int{2 * i, 2*i + 1}, axis...), func(z []float64) float64 {
				p := point(z, 2*i)
				return image(p, z).Sub(p).Dot(geom.Pt(-math.Sin(z[at]/m.size), math.Cos(z[at]/m.size)))
			}})
		}
	}
	for i := range m.edges {
		j := m.imageEdge(i, pairing)
		if j < i {
			continue
		}
		// The head of one edge is the tail of the other.
		handle := func(i, j, head, tail int) {
			if head < 0 || tail < 0 {
				return
			}
			pair([]int{head, head + 1, tail, tail + 1}, func(z []float64) geom.Point {
				turn := z[at] / m.size
				return mirrored(point(z, head), turn, 0).Sub(point(z, tail))
			})
		}
		a, b := &m.edges[i], &m.edges[j]
		handle(i, j, a.head, b.tail)
		if i != j {
			handle(i, j, a.tail, b.head)
		}
	}
	return out
}

// isMirrored reports whether every edge is the mirror image of its partner: two axes may
// each want another shape.
func (m *model) isMirrored(pairing int, z []float64) bool {
	for i := range m.edges {
		a := edge{path: m.at(i, z)}
		b := edge{path: m.at(m.imageEdge(i, pairing), z)}
		fa, okA := a.shape()
		fb, okB := b.shape()
		if !okA || !okB || len(fa) != len(fb) {
			return false
		}
		fb = turnedOver(fb)
		for j, s := range fa {
			t := fb[j]
			off := max(s.P0.Dist(t.P0), s.P1.Dist(t.P1), s.P2.Dist(t.P2), s.P3.Dist(t.P3))
			if off*a.chord().Len() > mirrorExact {
				return false
			}
		}
	}
	return true
}

// mirrorExact is how far in mm a control point may lie from the image of its partner.
const mirrorExact = 1e-6

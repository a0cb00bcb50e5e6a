package warp

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

const (
	// onLine is how far in mm a point of an inner path may be off a straight stretch of
	// the outline and still lie on it: the grid of a document, and what is drawn by hand
	// with the snap.
	onLine = 1e-3
	// levelLine is the sine of the angle to the grain, or to its square, within which a
	// straight inner line runs along or across it.
	levelLine = 1e-4
)

// carry makes the rules for what lies inside shape k: ends on a straight stretch of the
// outline stay on it, what meets a fold at a right angle keeps that, and straight lines
// along or across the grain keep their direction.
func (m *model) carry(k int) {
	b := m.bodies[k]
	for i, path := range b.shape.Inner {
		for j, seg := range path {
			c := b.control(i+1, j)
			from, to := mix{{c[0], 1}}, mix{{c[3], 1}}
			if seg.Straight {
				m.level(k, seg, to.minus(from))
			}
			head, tail := to.minus(from), to.minus(from)
			if c[1] >= 0 {
				head, tail = mix{{c[1], 1}}.minus(from), to.minus(mix{{c[2], 1}})
			}
			open := !path.Closed()
			m.touch(k, seg.P0, from, head, open && j == 0)
			if open && j == len(path)-1 {
				m.touch(k, seg.P3, to, tail, true)
			}
		}
	}
}

// level keeps the direction of a straight inner line along or across the grain.
func (m *model) level(k int, seg geom.Segment, v mix) {
	b := m.bodies[k]
	d := seg.P3.Sub(seg.P0).Unit()
	if b.shape.Grain == (geom.Point{}) || d == (geom.Point{}) {
		return
	}
	if s := math.Abs(d.Cross(b.f.grain)); s < levelLine || math.Abs(d.Dot(b.f.grain)) < levelLine {
		b.linear = append(b.linear, linearRule{v, d.Left(), 0})
	}
}

// touch keeps a point of an inner path on the outline where it lies on it, to first order
// where that is curved there, and an end's right angle to a fold.
func (m *model) touch(k int, at geom.Point, v, way mix, end bool) {
	b := m.bodies[k]
	for i := range b.shape.Nodes {
		seg := b.shape.stretch(0, i)
		t, off := seg.Nearest(at)
		if off > onLine {
			continue
		}
		r := m.railOf(k, i)
		if r == nil {
			if at.Dist(seg.P0) > onLine && at.Dist(seg.P3) > onLine {
				m.slides(k, i, t, v)
			}
			continue
		}
		u := r.Along.Unit()
		b.linear = append(b.linear, linearRule{v.minus(b.node(i)), u.Left(), 0})
		w := way.of(b).Unit()
		if r.Square && end && w != (geom.Point{}) && math.Abs(w.Dot(u)) < rightAngle {
			b.linear = append(b.linear, linearRule{way, w.Left(), 0})
		}
	}
}

// slides lets v only slide along the tangent of stretch i at t.
func (m *model) slides(k, i int, t float64, v mix) {
	b := m.bodies[k]
	on, way := b.spot(Spot{On: &Place{Shape: k, Stretch: i, T: t}}), b.slope(i, t)
	speed := m.scale * way.of(b).Len()
	if speed <= leastLength {
		return
	}
	r := &product{Block: k, U: v.minus(on), V: way, K: sqp.Cross.Mul(1 / speed)}
	r.C = m.scale * v.minus(on).of(b).Cross(way.of(b)) * m.scale / speed
	m.form = append(m.form, r)
}

// slope returns the derivative of a stretch of the outline at t.
func (b *body) slope(i int, t float64) mix {
	c, w := b.control(0, i), curvedSlope(t)
	if c[1] < 0 {
		return mix{{c[3], 1}, {c[0], -1}}
	}
	return mix{{c[0], w[0]}, {c[1], w[1]}, {c[2], w[2]}, {c[3], w[3]}}
}

// railOf returns the rail on which stretch i of shape k lies.
func (m *model) railOf(k, i int) *Rail {
	next := m.p.Shapes[k].next(i)
	for j := range m.p.Rails {
		r := &m.p.Rails[j]
		if r.Shape != k {
			continue
		}
		for a := 1; a < len(r.Nodes); a++ {
			if r.Nodes[a-1] == i && r.Nodes[a] == next || r.Nodes[a] == i && r.Nodes[a-1] == next {
				return r
			}
		}
	}
	return nil
}

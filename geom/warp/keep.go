package warp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"

	"hemlet/geom"
	"hemlet/geom/adjust"
	"hemlet/geom/sqp"
)

const noTrans = blas.NoTrans

// The rules that keep the form of an outline, whatever is wanted.

const (
	// straightness is the distance in mm from the line of its ends within which a node
	// of a row stays as far off as it is; one that is farther off is put onto the line.
	straightness = 5e-4
	// rightAngle is the sine of the angle by which an angle at a fold may be off, two
	// degrees, and counts as right.
	rightAngle = 0.035
	// keptHandle and keptChord are the shares of a handle and of the line between the
	// ends of a stretch that stay of them along their old direction: what is shorter
	// or turned further is another curve.
	keptHandle, keptChord = 0.1, 0.05
)

// keeping makes the rules of the form.
func (m *model) keeping() {
	folded := make([]bool, len(m.bodies))
	for i := range m.p.Rails {
		r := &m.p.Rails[i]
		if len(r.Nodes) == 0 {
			continue
		}
		m.rule(r, r.Square && !folded[r.Shape])
		folded[r.Shape] = folded[r.Shape] || r.Square
	}
	mirrored := make([]bool, len(m.bodies))
	for i := range m.p.Mirrors {
		r := &m.p.Mirrors[i]
		if mirrored[r.Shape] {
			m.reflect(r)
		}
		mirrored[r.Shape] = true
	}
	for _, r := range m.p.Rows {
		if len(r.Nodes) > 2 && !m.onRail(r) {
			m.row(r)
		}
	}
	for k := range m.bodies {
		m.guard(k)
		m.carry(k)
	}
}

// rule holds the nodes of a rail on a line of its direction, and what is square to it.
func (m *model) rule(r *Rail, first bool) {
	b, u := m.bodies[r.Shape], r.Along.Unit()
	n := u.Left()
	start := b.node(r.Nodes[0])
	for _, i := range r.Nodes[1:] {
		b.linear = append(b.linear, linearRule{b.node(i).minus(start), n, 0})
	}
	if !r.Square {
		return
	}
	for _, i := range [2]int{r.Nodes[0], r.Nodes[len(r.Nodes)-1]} {
		for _, v := range [2]mix{b.head(i), b.tail(b.shape.prev(i))} {
			d := v.of(b).Unit()
			if d != (geom.Point{}) && math.Abs(d.Dot(u)) < rightAngle {
				b.linear = append(b.linear, linearRule{v, d.Left(), 0})
			}
		}
	}
	switch {
	case !first:
	case m.absolute(r.Shape):
		b.linear = append(b.linear, linearRule{start, n, 0})
	default:
		m.pinned = append(m.pinned, pin{r.Shape, start, n})
	}
}

// of returns a sum of points in the shape as it is.
func (v mix) of(b *body) geom.Point {
	var p geom.Point
	for _, s := range v {
		c := b.points[s.point]
		p = p.Add(c.at.Add(c.by).Mul(s.by))
	}
	return p
}

// reflect keeps pairs of nodes each other's images, with their handles.
func (m *model) reflect(r *Mirror) {
	b, u := m.bodies[r.Shape], r.Axis[1].Sub(r.Axis[0]).Unit()
	pair := func(v, w mix) {
		// Their movements along the axis are alike and those across it opposite.
		b.linear = append(b.linear, linearRule{v.minus(w), u, 0}, linearRule{v.plus(w), u.Left(), 0})
	}
	for _, p := range r.Pairs {
		i, j := p[0], p[1]
		pair(b.node(i), b.node(j))
		head, tail := b.control(0, i), b.control(0, b.shape.prev(j))
		if head[1] >= 0 && tail[2] >= 0 {
			pair(mix{{head[1], 1}}, mix{{tail[2], 1}})
		}
		head, tail = b.control(0, j), b.control(0, b.shape.prev(i))
		if head[1] >= 0 && tail[2] >= 0 {
			pair(mix{{head[1], 1}}, mix{{tail[2], 1}})
		}
	}
}

// plus returns v + w.
func (v mix) plus(w mix) mix { return append(append(mix(nil), v...), w...) }

// onRail reports whether a rail holds all nodes of a row already.
func (m *model) onRail(r adjust.Row) bool {
	return slices.ContainsFunc(m.p.Rails, func(rail Rail) bool {
		return rail.Shape == r.Shape && !slices.ContainsFunc(r.Nodes, func(i int) bool { return !slices.Contains(rail.Nodes, i) })
	})
}

// row makes the rules that the inner nodes of a row lie on the line of its ends.
func (m *model) row(r adjust.Row) {
	b := m.bodies[r.Shape]
	first, last := b.node(r.Nodes[0]), b.node(r.Nodes[len(r.Nodes)-1])
	whole := last.minus(first)
	line := whole.of(b)
	if line == (geom.Point{}) {
		return
	}
	for _, i := range r.Nodes[1 : len(r.Nodes)-1] {
		v := b.node(i).minus(first)
		t := &product{Block: r.Shape, U: v, V: whole, K: sqp.Cross.Mul(1 / (m.scale * line.Len()))}
		if off := m.scale * v.of(b).Cross(line) / line.Len(); math.Abs(off) <= straightness {
			t.C = off
		}
		m.form = append(m.form, t)
	}
}

// guard makes the rules that are not to be less than zero for shape k: stretches and
// handles keep about their directions, and the curves turn the way they did.
func (m *model) guard(k int) {
	b := m.bodies[k]
	keep := func(v mix, share, most float64) {
		d := v.of(b).Mul(m.scale)
		if d != (geom.Point{}) {
			m.guards = append(m.guards, &towards{Block: k, V: v, Dir: d.Unit(), Least: min(share*d.Len(), most)})
		}
	}
	for i := range b.shape.Nodes {
		c := b.control(0, i)
		most := math.Inf(1)
		if m.p.Stay == 0 && m.mouth(k, i) {
			most = leastMouth / 2 // a dart may nearly close in a fit
		}
		keep(mix{{c[3], 1}, {c[0], -1}}, keptChord, most)
		if c[1] < 0 {
			continue
		}
		head, middle, tail := b.polygon(i)
		keep(head, keptHandle, math.Inf(1))
		keep(tail, keptHandle, math.Inf(1))
		switch {
		case b.sides(i) == sides{} && !m.absolute(k):
			// In a fit. What moves a place on it may bend it.
			m.stayStraight(k, head, middle, tail)
		case !slices.Contains(b.shape.Loose, i):
			m.guardTurns(k, i)
		}
	}
}

// stayStraight holds a curve that is a straight line, given by the sides of its control
// polygon, on the line of its ends; one along or across the grain keeps its direction.
func (m *model) stayStraight(k int, head, middle, tail mix) {
	b := m.bodies[k]
	whole := head.plus(middle).plus(tail)
	line := whole.of(b)
	if u := line.Unit(); math.Abs(u.Cross(b.f.grain)) < levelLine || math.Abs(u.Dot(b.f.grain)) < levelLine {
		for _, v := range [3]mix{head, middle, tail} {
			b.linear = append(b.linear, linearRule{v, u.Left(), 0})
		}
		return
	}
	for _, v := range [2]mix{head, tail} {
		m.form = append(m.form, &product{
			Block: k, U: v, V: whole, K: sqp.Cross.Mul(1 / (m.scale * line.Len())), C: m.scale * v.of(b).Cross(line) / line.Len(),
		})
	}
}

// mouth reports whether stretch i of shape k is the mouth of a dart.
func (m *model) mouth(k, i int) bool {
	return slices.ContainsFunc(m.p.Darts, func(d Dart) bool { return d.Shape == k && d.Stretch == i })
}

package adjust

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// The rules that keep the form of an outline, whatever lengths are wished.

const (
	// straightness is the distance in mm from the line of its ends within which a node
	// of a row stays as far off as it is; one that is farther off is put onto the line.
	straightness = 5e-4
	// leastTurn is the sine of the angle below which two sides of a control polygon do
	// not turn either way: then they may.
	leastTurn = 1e-3
	// keptTurn is the share of its turn that a control polygon keeps.
	keptTurn = 0.01
	// keptHandle and keptChord are the shares of a handle and of the line between the
	// ends of a stretch that stay of them along their old direction: what is shorter
	// or turned further is another curve.
	keptHandle, keptChord = 0.1, 0.05
)

// keeping returns the rules of the form that are to be zero: smooth joints and rows, and
// those of the rails' straight stretches, told apart.
func (m *model) keeping() (form []sqp.Rule, rails []railRule) {
	for k, o := range m.outlines {
		for i := range o.at {
			if r := o.joint(k, i); r != nil {
				form = append(form, r)
			}
		}
	}
	for _, r := range m.p.Rows {
		form = append(form, m.outlines[r.Shape].row(r)...)
	}
	for i, r := range m.p.Rails {
		if r.Turns {
			continue
		}
		for _, t := range m.outlines[r.Shape].squared(r) {
			rails = append(rails, railRule{i, t})
		}
	}
	return form, rails
}

type railRule struct {
	rail int
	sqp.Rule
}

// joint returns the rule that the curves meet at node i under the angle that they do, or
// nil where they are not smooth or cannot but keep it.
func (o *outline) joint(shape, i int) sqp.Rule {
	n := o.shape.Nodes[i]
	if !n.Smooth {
		return nil
	}
	in, out := o.sides(i)
	if in == (geom.Point{}) || out == (geom.Point{}) {
		return nil
	}
	if (n.In == (geom.Point{}) || n.Out == (geom.Point{})) && !o.runsOn(i) {
		return nil
	}
	u, v := vector{{&o.in[i], -1}}, vector{{&o.out[i], 1}}
	if n.In == (geom.Point{}) {
		u = between(&o.at[o.shape.prev(i)], &o.at[i])
	}
	if n.Out == (geom.Point{}) {
		v = between(&o.at[i], &o.at[o.shape.next(i)])
	}
	if !u.turns() && !v.turns() {
		return nil
	}
	return o.angle(shape, u, v)
}

// turns reports whether a vector can change its direction: a handle that only grows
// cannot.
func (v vector) turns() bool {
	if len(v) == 1 {
		return v[0].dim == 2
	}
	return v.free()
}

// angle returns the rule that v keeps its angle to u, in mm at the end of v.
func (o *outline) angle(shape int, u, v vector) sqp.Rule {
	z := make([]float64, o.n)
	a, b := u.At(z), v.At(z)
	x, y := a.Dot(b), a.Cross(b)
	h := math.Hypot(x, y)
	if h == 0 {
		return nil
	}
	return &product{Block: shape, N: o.n, U: u, V: v, K: turned(y/h, x/h).Mul(1 / a.Len())}
}

// row returns the rules that the inner nodes of a row lie on the line of its ends.
func (o *outline) row(r Row) []sqp.Rule {
	if len(r.Nodes) < 3 {
		return nil
	}
	first, last := &o.at[r.Nodes[0]], &o.at[r.Nodes[len(r.Nodes)-1]]
	line := last.base.Sub(first.base)
	if line == (geom.Point{}) {
		return nil
	}
	var out []sqp.Rule
	for _, i := range r.Nodes[1 : len(r.Nodes)-1] {
		t := &product{Block: r.Shape, N: o.n, U: between(first, &o.at[i]), V: between(first, last)}
		if !t.U.free() && !t.V.free() {
			continue
		}
		t.K = turned(0, 1).Mul(1 / line.Len())
		if off := t.U.At(make([]float64, o.n)).Cross(line) / line.Len(); math.Abs(off) <= straightness {
			t.C = off
		}
		out = append(out, t)
	}
	return out
}

// squared returns the rules that the straight stretches beside a rail, but not along it,
// keep their angle to it.
func (o *outline) squared(r Rail) []sqp.Rule {
	u := r.Along.Mul(1 / largest(r.Along)).Unit()
	var out []sqp.Rule
	for _, to := range [2]int{o.shape.prev(r.Node), o.shape.next(r.Node)} {
		stretch := r.Node
		if to == o.shape.prev(r.Node) {
			stretch = to
		}
		v := between(&o.at[r.Node], &o.at[to])
		d := v.At(make([]float64, o.n))
		if !o.shape.straight(stretch) || !v.free() || d == (geom.Point{}) {
			continue
		}
		if math.Abs(u.Cross(d)) < leastTurn*d.Len() {
			continue // along the rail
		}
		// Its part across its old direction stays zero.
		out = append(out, &along{Block: r.Shape, N: o.n, V: v, Dir: d.Unit().Left()})
	}
	return out
}

// guarding returns the rules that are not to be less than zero: stretches and handles keep
// about their directions, and the curves turn the way they did.
func (m *model) guarding() []sqp.Rule {
	var out []sqp.Rule
	for k, o := range m.outlines {
		z := make([]float64, o.n)
		keep := func(v vector, share float64) {
			d := v.At(z)
			if d == (geom.Point{}) || !v.free() {
				return
			}
			out = append(out, &along{Block: k, N: o.n, V: v, Dir: d.Unit(), Least: share * d.Len()})
		}
		turn := func(u, v vector) {
			a, b := u.At(z), v.At(z)
			sin := a.Cross(b)
			if by := a.Len() * b.Len(); by == 0 || math.Abs(sin) < leastTurn*by || !u.free() && !v.free() {
				return
			}
			size := math.Max(a.Len(), b.Len())
			out = append(out, &product{
				Block: k, N: o.n, U: u, V: v, K: turned(0, math.Copysign(1, sin)).Mul(1 / size), C: keptTurn * math.Abs(sin) / size,
			})
		}
		for i := range o.at {
			s := o.stretch(i)
			keep(between(s[0], s[3]), keptChord)
			if o.shape.straight(i) {
				continue
			}
			head, tail := vector{{s[1], 1}}, vector{{s[2], -1}}
			keep(head, keptHandle)
			keep(tail, keptHandle)
			middle := vector{{s[3], 1}, {s[2], 1}, {s[0], -1}, {s[1], -1}}
			turn(head, middle)
			turn(middle, tail)
		}
	}
	return out
}

package adjust

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

// slot is a place or a handle as a function of the unknowns: base where nothing changes,
// or base and an unknown times a direction, or base and two unknowns.
type slot struct {
	base geom.Point
	v    int        // the first of its unknowns, counted within its shape
	dim  int        // how many it has: 0, 1 or 2
	axis geom.Point // the direction of the one unknown
}

// at returns the point or vector at the unknowns z of its shape.
func (s *slot) at(z []float64) geom.Point { return s.base.Add(s.shift(z)) }

// shift returns by how much it is moved.
func (s *slot) shift(z []float64) geom.Point {
	switch s.dim {
	case 1:
		return s.axis.Mul(z[s.v])
	case 2:
		return geom.Pt(z[s.v], z[s.v+1])
	}
	return geom.Point{}
}

// pull adds the derivative of a value by the unknowns, given that by the point.
func (s *slot) pull(g []float64, by geom.Point) {
	switch s.dim {
	case 1:
		g[s.v] += s.axis.Dot(by)
	case 2:
		g[s.v] += by.X
		g[s.v+1] += by.Y
	}
}

// add adds the block m of the second derivatives by the points of s (rows) and t.
func add(q sqp.Square, s, t *slot, m sqp.Matrix) {
	if s.dim == 0 || t.dim == 0 {
		return
	}
	rows, cols := s.units(), t.units()
	for i := 0; i < s.dim; i++ {
		for j := 0; j < t.dim; j++ {
			q.A[(s.v+i)*q.N+t.v+j] += rows[i].Dot(m.Times(cols[j]))
		}
	}
}

// units returns the directions of the unknowns.
func (s *slot) units() [2]geom.Point {
	if s.dim == 1 {
		return [2]geom.Point{s.axis}
	}
	return [2]geom.Point{geom.Pt(1, 0), geom.Pt(0, 1)}
}

// outline is one shape as a function of its unknowns.
type outline struct {
	shape       Shape
	n           int // unknowns
	at, in, out []slot
	size        float64 // the diagonal of the box of its nodes, mm
	inner       []bool  // for each node: its edge runs on there
}

// newOutline numbers the unknowns of shape k, which has none if it is still: no wish is
// about it.
func newOutline(p *Problem, k int, still bool) *outline {
	s := p.Shapes[k]
	n := len(s.Nodes)
	o := &outline{shape: s, at: make([]slot, n), in: make([]slot, n), out: make([]slot, n), inner: make([]bool, n)}
	box := geom.EmptyRect()
	for i, m := range s.Nodes {
		box = box.Include(m.At)
		o.inner[i] = m.Smooth
	}
	for _, r := range p.Rows {
		if r.Shape == k && len(r.Nodes) > 2 {
			for _, i := range r.Nodes[1 : len(r.Nodes)-1] {
				o.inner[i] = true
			}
		}
	}
	o.size = math.Hypot(box.W(), box.H())
	o.places(p, k)
	o.handles(railsOf(p, k))
	if still {
		o.hold()
	}
	o.followers()
	for _, list := range [...][]slot{o.in, o.out} {
		for i := range list {
			list[i].v = o.n
			o.n += list[i].dim
		}
	}
	return o
}

// hold takes all unknowns away.
func (o *outline) hold() {
	for i := range o.at {
		o.at[i].dim, o.in[i].dim, o.out[i].dim = 0, 0, 0
	}
	o.n = 0
}

// railsOf returns which nodes of the shape are on a rail.
func railsOf(p *Problem, k int) map[int]bool {
	on := map[int]bool{}
	for _, r := range p.Rails {
		if r.Shape == k {
			on[r.Node] = true
		}
	}
	return on
}

// places gives the nodes their unknowns, those of a tie the same ones.
func (o *outline) places(p *Problem, k int) {
	group := tied(p, k, len(o.at))
	dim, axis := o.freedom(p, k, group)
	first := make([]int, len(o.at))
	for i := range first {
		first[i] = -1
	}
	for i := range o.at {
		g := group[i]
		if first[g] < 0 {
			first[g] = o.n
			o.n += dim[g]
		}
		o.at[i] = slot{base: o.shape.Nodes[i].At, v: first[g], dim: dim[g], axis: axis[g]}
	}
}

// tied returns for each of the n nodes of shape k the group that moves as one: those of ties
// that share a node are one group.
func tied(p *Problem, k, n int) []int {
	group := make([]int, n)
	for i := range group {
		group[i] = i
	}
	for _, t := range p.Ties {
		if t.Shape != k || len(t.Nodes) == 0 {
			continue
		}
		for _, m := range t.Nodes {
			from, to := group[m], group[t.Nodes[0]]
			for i := range group {
				if group[i] == from {
					group[i] = to
				}
			}
		}
	}
	return group
}

// freedom returns in how many directions each group of nodes of shape k may move, and along
// what where that is one.
func (o *outline) freedom(p *Problem, k int, group []int) (dim []int, axis []geom.Point) {
	dim, axis = make([]int, len(group)), make([]geom.Point, len(group))
	for i := range dim {
		dim[i] = 2
	}
	for _, r := range p.Rails {
		if r.Shape != k {
			continue
		}
		g, u := group[r.Node], r.Along.Mul(1/largest(r.Along)).Unit()
		switch {
		case dim[g] == 2:
			dim[g], axis[g] = 1, u
		case dim[g] == 1 && math.Abs(axis[g].Cross(u)) > sameDirection:
			dim[g] = 0 // on two rails: where they cross
		}
	}
	for i, m := range o.shape.Nodes {
		if m.Fixed || m.Pinned {
			dim[group[i]] = 0
		}
	}
	return dim, axis
}

// sameDirection is the sine of the angle below which two rails of one node are the same.
const sameDirection = 1e-9

// largest returns the larger of the two coordinates' sizes.
func largest(p geom.Point) float64 { return math.Max(math.Abs(p.X), math.Abs(p.Y)) }

// handles says what each handle may do. On a rail it only grows or shrinks.
func (o *outline) handles(rail map[int]bool) {
	free := func(v geom.Point, fixed, onRail bool) slot {
		s := slot{base: v, dim: 2}
		switch {
		case v == (geom.Point{}) || fixed:
			s.dim = 0
		case onRail:
			s.dim, s.axis = 1, v.Unit()
		}
		return s
	}
	for i, m := range o.shape.Nodes {
		o.in[i] = free(m.In, m.Fixed || m.FixedIn, rail[i])
		o.out[i] = free(m.Out, m.Fixed || m.FixedOut, rail[i])
	}
}

// followers lets a handle at a smooth node only grow and shrink where the other side
// keeps its direction, so that the joint is kept exactly.
func (o *outline) followers() {
	for i, m := range o.shape.Nodes {
		if !m.Smooth {
			continue
		}
		if o.out[i].dim == 2 && o.stiff(i, &o.in[i], o.shape.prev(i)) {
			o.out[i].dim, o.out[i].axis = 1, m.Out.Unit()
		}
		if o.in[i].dim == 2 && o.stiff(i, &o.out[i], o.shape.next(i)) {
			o.in[i].dim, o.in[i].axis = 1, m.In.Unit()
		}
	}
}

// stiff reports whether the side of node i with the handle h, towards node to, keeps its
// direction and the joint is to keep to it.
func (o *outline) stiff(i int, h *slot, to int) bool {
	if h.base != (geom.Point{}) {
		return h.dim < 2
	}
	return o.at[i].dim == 0 && o.at[to].dim == 0 && o.runsOn(i)
}

// runsOn reports whether at node i, one side of which is straight or both, the curves
// meet nearly without a kink.
func (o *outline) runsOn(i int) bool {
	in, out := o.sides(i)
	return in != (geom.Point{}) && out != (geom.Point{}) && in.Unit().Dot(out.Unit()) > math.Cos(smoothKink)
}

// smoothKink is the angle in radians, 1 degree, up to which a straight stretch counts as
// running on smoothly where its node is said to be smooth: a handle that is missing on one
// side does not make it so.
const smoothKink = math.Pi / 180

// sides returns the directions in which the curves come to node i and leave it, zero where
// a zero handle leaves it open.
func (o *outline) sides(i int) (in, out geom.Point) {
	s, m := o.shape, o.shape.Nodes[i]
	in, out = m.In.Mul(-1), m.Out
	if s.straight(s.prev(i)) {
		in = m.At.Sub(s.Nodes[s.prev(i)].At)
	}
	if s.straight(i) {
		out = s.Nodes[s.next(i)].At.Sub(m.At)
	}
	return in, out
}

// moved returns the shape at the unknowns z. What has no unknowns keeps every bit.
func (o *outline) moved(z []float64) Shape {
	nodes := append([]Node(nil), o.shape.Nodes...)
	for i := range nodes {
		if o.at[i].dim > 0 {
			nodes[i].At = o.at[i].at(z)
		}
		if o.in[i].dim > 0 {
			nodes[i].In = o.in[i].at(z)
		}
		if o.out[i].dim > 0 {
			nodes[i].Out = o.out[i].at(z)
		}
	}
	return Shape{nodes}
}

// stretch returns the four slots of stretch i: the node it leaves, its two handles, and
// the node it comes to.
func (o *outline) stretch(i int) [4]*slot {
	j := o.shape.next(i)
	return [4]*slot{&o.at[i], &o.out[i], &o.in[j], &o.at[j]}
}

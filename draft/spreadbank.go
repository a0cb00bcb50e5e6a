package draft

import (
	"errors"
	"math"

	"hemlet/geom"
)

// bankNode is a node of one of the two edges, the last being the corner at which it ends.
type bankNode struct {
	Node
	// s is the share of the near edge on whose ruling it lies; after says that it lies
	// beyond a gap that is there.
	s     float64
	after bool
	// along is how far it lies from the start of the edge, in mm without mouths.
	along float64
	// made says that the spreading put it in.
	made bool
}

// bankStretch says how what follows a node is moved.
type bankStretch int

const (
	stretchMoves  bankStretch = iota // as it is
	stretchGrows                     // in a cell
	stretchIsGap                     // what is put in between two rulings on one place
	stretchIsDart                    // a mouth, which is moved as it is
)

// divide puts nodes into the edge of a bank at the places, and two where a gap lies. It
// returns the nodes with the rulings on which they lie.
func (w *spread) divide(b *bank, isNear bool, places []float64) ([]bankNode, error) {
	p, i := w.piece, b.edge
	made := make(map[ID]bool)
	for _, s := range places {
		u := s
		if !isNear {
			u, _ = w.opposite(s)
		}
		if err := w.putIn(i, u*p.EdgeLength(i), w.gapAt(s), made); err != nil {
			return nil, err
		}
	}
	return w.bankNodes(b, isNear, made), nil
}

// gapAt reports whether a gap lies at the place.
func (w *spread) gapAt(s float64) bool {
	for _, o := range w.openings {
		if o.half == 0 && o.at == s {
			return true
		}
	}
	return false
}

// putIn puts a node into edge i, along mm from its start, unless one lies there; two on
// one place where a gap is to open.
func (w *spread) putIn(i int, along float64, gap bool, made map[ID]bool) error {
	p := w.piece
	if math.IsNaN(along) {
		return errors.New("there a slash would have no place across")
	}
	k, t := p.locate(i, along)
	here := segment(*p.nodeAt(i, k), *p.nodeAt(i, k+1)).At(t)
	for _, j := range [2]int{k, k + 1} {
		if p.nodeAt(i, j).At.Dist(here) >= shortestStretch {
			continue
		}
		if !gap {
			return nil
		}
	}
	fresh := w.ids.make(kindNode)
	id, err := p.inner(i, along, fresh)
	if err != nil {
		return slashBlocked(err)
	}
	made[id] = id == fresh
	if !gap {
		return nil
	}
	e := &p.Edges[i]
	k = e.index(id)
	second := Node{ID: w.ids.make(kindNode), At: e.Nodes[k].At, Out: e.Nodes[k].Out}
	made[second.ID] = id == fresh || e.Nodes[k].Smooth
	e.Nodes[k].Out = geom.Point{}
	nodes := make([]Node, 0, len(e.Nodes)+1)
	e.Nodes = append(append(append(nodes, e.Nodes[:k+1]...), second), e.Nodes[k+1:]...)
	return nil
}

// bankNodes returns the nodes of the edge with the rulings on which they lie.
func (w *spread) bankNodes(b *bank, isNear bool, made map[ID]bool) []bankNode {
	p := w.piece
	nodes := p.EdgeNodes(b.edge)
	list := make([]bankNode, len(nodes))
	along, whole := 0.0, p.EdgeLength(b.edge)
	for k, n := range nodes {
		if k > 0 && p.dartAt(nodes[k-1].ID, n.ID) == nil {
			along += segment(nodes[k-1], n).Length()
		}
		u := along / whole
		if k == len(nodes)-1 {
			u = 1
		}
		s := u
		if !isNear {
			s, _ = w.facing(u)
		}
		list[k] = bankNode{Node: n, s: w.snapped(s), along: along, made: made[n.ID]}
		if k > 0 && nodes[k-1].At == n.At { // the second of a gap
			list[k].after, list[k-1].after = isNear, !isNear
		}
	}
	return list
}

// snapped returns the place nearest to s if s is that place but for rounding.
func (w *spread) snapped(s float64) float64 {
	const rounding = 1e-7 // a share: what lengths summed up another way differ by
	for _, at := range w.places {
		if math.Abs(at-s) < rounding {
			return at
		}
	}
	return min(max(s, 0), 1)
}

// kind returns how the stretch from node k of the list on is moved.
func (w *spread) kind(list []bankNode, k int) bankStretch {
	a, b := list[k], list[k+1]
	switch {
	case w.piece.dartAt(a.ID, b.ID) != nil:
		return stretchIsDart
	case a.At == b.At && a.after != b.after:
		return stretchIsGap
	}
	if near, far := w.density(a.s, b.s); near != 0 || far != 0 {
		return stretchGrows
	}
	return stretchMoves
}

// moved returns the nodes of a bank as they lie after the spreading.
func (w *spread) moved(b *bank, isNear bool, list []bankNode) []Node {
	out := make([]Node, len(list))
	for k, n := range list {
		m := w.motionAt(n.s, n.after)
		out[k] = n.Node
		out[k].At = m.affine().Apply(n.At)
		out[k].In, out[k].Out = geom.Point{}, geom.Point{}
	}
	for k := 0; k+1 < len(list); k++ {
		s := segment(list[k].Node, list[k+1].Node)
		switch w.kind(list, k) {
		case stretchMoves:
			if !s.Straight {
				m := w.motionAt(list[k].s, list[k].after)
				out[k].Out, out[k+1].In = m.of(list[k].Out), m.of(list[k+1].In)
			}
		case stretchGrows:
			w.grow(b, isNear, list, k, out)
		}
	}
	w.bridge(list, out)
	w.smoothen(list, out)
	w.hold(b, isNear, list, out)
	return out
}

// grow draws the stretch from node k on, into which cloth is put. It leaves and arrives
// as the rulings move it.
func (w *spread) grow(b *bank, isNear bool, list []bankNode, k int, out []Node) {
	s := segment(list[k].Node, list[k+1].Node)
	near, far := w.density(list[k].s, list[k+1].s)
	put, slope := near, 1.0
	if !isNear {
		put = far
		u := (list[k].s + list[k+1].s) / 2
		_, fall := w.opposite(u)
		slope = 1 / fall
	}
	handle := func(h geom.Point, at bankNode, sign float64) geom.Point {
		r := w.ruling(at.s, sign*slope > 0)
		return w.motionAt(at.s, at.after).of(h.Add(r.n.Mul(sign * put * slope * h.Len() / b.length)))
	}
	start, end := handle(s.P1.Sub(s.P0), list[k], 1), handle(s.P2.Sub(s.P3), list[k+1], -1)
	// A cubic that leaves and arrives with the speed of an arc falls short of it; the
	// handles of an arc are longer, the more it turns.
	longer := arcHandle(start, end.Mul(-1)) / arcHandle(s.P1.Sub(s.P0), s.P3.Sub(s.P2))
	out[k].Out, out[k+1].In = start.Mul(longer), end.Mul(longer)
	w.straighten(out, k)
}

// arcHandle returns by how much the handles of the cubic that follows an arc are longer
// than a third of the arc that turns from u to v: 4 tan(a/4) / a.
func arcHandle(u, v geom.Point) float64 {
	a := math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
	if a < straightSlack || a > math.Pi/2 {
		return 1
	}
	return 4 * math.Tan(a/4) / a
}

// stillStraight is how far, in radians, handles may lie off the chord of a line that was
// straight and is meant to be straight still: rounding, and no turn that was made.
const stillStraight = 1e-9

// straighten makes a stretch straight whose handles lie on its chord.
func (w *spread) straighten(out []Node, k int) {
	chord := out[k+1].At.Sub(out[k].At)
	off := math.Abs(chord.Cross(out[k].Out)) + math.Abs(chord.Cross(out[k+1].In))
	if off <= stillStraight*chord.Dot(chord) {
		out[k].Out, out[k+1].In = geom.Point{}, geom.Point{}
	}
}

// bridge draws what is put in at gaps as it goes on from what lies on either side.
func (w *spread) bridge(list []bankNode, out []Node) {
	for k := 1; k+2 < len(list); k++ {
		if w.kind(list, k) != stretchIsGap || w.isMouth(list[k]) {
			continue
		}
		u, v := segment(out[k-1], out[k]).Tangent(1), segment(out[k+1], out[k+2]).Tangent(0)
		third := out[k].At.Dist(out[k+1].At) / 3
		out[k].Out, out[k+1].In = u.Mul(third), v.Mul(-third)
		w.straighten(out, k)
	}
}

// isMouth reports whether the gap at the node is taken up again by a pleat there.
func (w *spread) isMouth(n bankNode) bool {
	_, i, _ := w.piece.Node(n.ID)
	for _, o := range w.openings {
		if o.half == 0 && o.at == n.s {
			return o.mouth && i == w.near.edge || o.farMouth && i == w.far.edge
		}
	}
	return false
}

// blendTurn is how far, in radians, an edge may turn where cloth begins to be put in and
// still be drawn smooth there: beyond it the slash runs along the edge rather than across.
const blendTurn = math.Pi / 2

// smoothen brings the handles into line where the edge was smooth, as long as they turn
// only a little from one another.
func (w *spread) smoothen(list []bankNode, out []Node) {
	for k := 1; k+1 < len(list); k++ {
		before, after := w.kind(list, k-1), w.kind(list, k)
		open := func(s bankStretch) bool { return s == stretchIsDart || s == stretchIsGap && w.isMouth(list[k]) }
		if open(before) || open(after) {
			out[k].Smooth = false
			continue
		}
		if !list[k].Smooth && !list[k].made {
			continue
		}
		first, second := segment(out[k-1], out[k]), segment(out[k], out[k+1])
		u, v := first.Tangent(1), second.Tangent(0)
		way := u.Add(v).Unit()
		turned := math.Abs(math.Atan2(u.Cross(v), u.Dot(v)))
		if turned > blendTurn || way == (geom.Point{}) {
			out[k].Smooth, w.kinked = false, true
			continue
		}
		switch {
		case first.Straight && second.Straight:
			out[k].Smooth = turned <= straightSlack
			continue
		case first.Straight:
			way = u
		case second.Straight:
			way = v
		}
		if !first.Straight {
			out[k].In = way.Mul(-out[k].In.Len())
		}
		if !second.Straight {
			out[k].Out = way.Mul(out[k].Out.Len())
		}
		out[k].Smooth = true
	}
}

// hold gives each stretch of the far edge into which nothing is put there the length
// that it had.
func (w *spread) hold(b *bank, isNear bool, list []bankNode, out []Node) {
	for k := 0; k+1 < len(list); k++ {
		if w.kind(list, k) != stretchGrows {
			continue
		}
		near, far := w.density(list[k].s, list[k+1].s)
		if isNear && near != 0 || !isNear && far != 0 {
			continue
		}
		holdLength(&out[k], &out[k+1], segment(list[k].Node, list[k+1].Node).Length())
	}
}

// holdLength scales the two handles between two nodes until the stretch has a length.
func holdLength(a, b *Node, want float64) {
	if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
		return
	}
	out, in := a.Out, b.In
	miss := func(scale float64) float64 {
		a.Out, b.In = out.Mul(scale), in.Mul(scale)
		return segment(*a, *b).Length() - want
	}
	x0, x1 := 1.0, 1.01
	f0, f1 := miss(x0), miss(x1)
	for range 30 {
		if f1 == f0 || math.Abs(f1) < Grid/100 {
			break
		}
		x2 := x1 - f1*(x1-x0)/(f1-f0)
		x2 = min(max(x2, 0.2), 5)
		x0, f0 = x1, f1
		x1, f1 = x2, miss(x2)
	}
	if math.Abs(f1) > math.Abs(miss(1)) {
		return // no scale gives it that length
	}
	miss(x1)
}

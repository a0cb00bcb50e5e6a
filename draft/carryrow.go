package draft

import (
	"math"

	"hemlet/geom"
)

// A row is a stretch of a ring with both its ends, laid out straight: its first and its
// last node may be the same one, all the way round.

// between returns a row: a copy of the nodes from a on to b, both included; all the
// way round where they are the same. The places of its nodes grow.
func (r ring) between(in map[ID]int, a, b ID) ring {
	i, n := in[a], (in[b]-in[a]+len(r))%len(r)
	if n == 0 {
		n = len(r)
	}
	out := make(ring, 0, n+4)
	for k := range n + 1 {
		node := *r.at(i + k)
		if i+k >= len(r) {
			node.pos += r.round()
		}
		out = append(out, node)
	}
	return out
}

// then adds a stretch to a row whose last node is the first of the stretch. The
// first stretch begins the row.
func (r ring) then(stretch ring) ring {
	if len(r) == 0 {
		return stretch
	}
	last := &r[len(r)-1]
	in := last.In
	*last = stretch[0]
	last.In = in
	return append(r, stretch[1:]...)
}

// closed makes a ring of a row whose last node is its first again.
func (r ring) closed() ring {
	r[0].In = r[len(r)-1].In
	return r[:len(r)-1]
}

// find returns the index of a node of a row but for its ends, or -1.
func (r ring) find(id ID) int {
	for i := 1; i < len(r)-1; i++ {
		if r[i].ID == id {
			return i
		}
	}
	return -1
}

// nextKnown returns for each node of the row the index of the first after it that is
// in the index, or of the last.
func (r ring) nextKnown(in map[ID]int) []int {
	list := make([]int, len(r))
	next := len(r) - 1
	for k := len(r) - 1; k >= 0; k-- {
		list[k] = next
		if _, ok := in[r[k].ID]; ok {
			next = k
		}
	}
	return list
}

// limit returns the index of node k of mine in the row, or that of the row's last.
func (r ring) limit(mine ring, k int) int {
	if i := r.find(mine[k].ID); i >= 0 {
		return i
	}
	return len(r) - 1
}

// without returns the row without node k, bridged as when a maker deletes it.
func (r ring) without(k int) ring {
	r[k-1].Out, r[k+1].In = bridge(r[k-1].Node, r[k].Node, r[k+1].Node)
	return append(r[:k:k], r[k+1:]...)
}

// rowPlace is a place on a row of nodes: at parameter t of the stretch that follows
// node seg.
type rowPlace struct {
	seg int
	t   float64
}

// insetShare is how near to its ends, as a parameter, a point may be put into a
// stretch: nearer, its handles would have no direction.
const insetShare = 1e-3

func (p rowPlace) inset() rowPlace {
	p.t = min(max(p.t, insetShare), 1-insetShare)
	return p
}

// lengths returns the length of each stretch of a row, 0 for mouths, and the sum.
func (r ring) lengths() (list []float64, sum float64) {
	list = make([]float64, len(r)-1)
	for i := range list {
		if !r[i].mouth {
			list[i] = segment(r[i].Node, r[i+1].Node).Length()
		}
		sum += list[i]
	}
	return list, sum
}

// nearest returns the place on the row between two of its nodes that is nearest to
// q, and the share of the row's length at which it lies.
func (r ring) nearest(q geom.Point, from, to int) (best rowPlace, share float64, ok bool) {
	least := math.Inf(1)
	for i := from; i < to; i++ {
		if r[i].mouth {
			continue
		}
		if t, d := segment(r[i].Node, r[i+1].Node).Nearest(q); d < least {
			best, least = rowPlace{i, t}, d
		}
	}
	lengths, sum := r.lengths()
	if math.IsInf(least, 1) || sum <= 0 {
		return best, 0, false
	}
	best = best.inset()
	at := 0.0
	for i := range best.seg {
		at += lengths[i]
	}
	at += segment(r[best.seg].Node, r[best.seg+1].Node).LengthTo(best.t)
	return best, at / sum, true
}

// place returns the place at a share of the row's length.
func (r ring) place(share float64) (rowPlace, bool) {
	lengths, sum := r.lengths()
	at := share * sum
	last := -1
	for i, l := range lengths {
		if r[i].mouth || l <= 0 {
			continue
		}
		if last = i; at < l {
			return rowPlace{i, segment(r[i].Node, r[i+1].Node).AtLength(at)}.inset(), true
		}
		at -= l
	}
	return rowPlace{last, 1}.inset(), last >= 0
}

// with returns the row with the node n put in at a place, which is at a share of its
// length. The line keeps its shape.
func (r ring) with(n ringNode, at rowPlace, share float64) ring {
	before, after := &r[at.seg], &r[at.seg+1]
	s := segment(before.Node, after.Node)
	a, b := s.Split(at.t)
	put := ringNode{Node: Node{ID: n.ID, At: a.P3, Smooth: n.Smooth}, pos: r[0].pos + share*(r[len(r)-1].pos-r[0].pos)}
	if !s.Straight {
		put.In, put.Out = a.P2.Sub(a.P3), b.P1.Sub(b.P0)
		before.Out, after.In = a.P1.Sub(a.P0), b.P2.Sub(b.P3)
	}
	out := make(ring, 0, len(r)+1)
	return append(append(append(out, r[:at.seg+1]...), put), r[at.seg+1:]...)
}

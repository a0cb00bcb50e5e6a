package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// lay lays what differs between base and mine on next.
func (c *carry) lay() (ring, error) {
	inFrom := c.from.index()
	out := append(ring(nil), c.to...)
	touched := make([]bool, len(out))
	for i := range out {
		out[i].edge = nil
		id := out[i].ID
		k, was := inFrom[id]
		m, is := c.inMine[id]
		if !was || !is {
			continue
		}
		touched[i] = out[i].moveAs(c.from, k, c.mine[m].Node, c.to, i)
	}
	if err := c.vanished(); err != nil {
		return nil, err
	}
	out.straighten(touched)
	c.divide(out)
	for i := range out {
		if out[i].edge != nil {
			return out, nil
		}
	}
	return nil, errors.New("none of its corners is left")
}

// moveAs moves a node of next, number i of to, as mine was moved from number k of
// from, and reports whether it was.
func (n *ringNode) moveAs(from ring, k int, mine Node, to ring, i int) bool {
	was := from[k].Node
	if mine.Smooth != was.Smooth {
		n.Smooth = mine.Smooth
	}
	by, in, out := mine.At.Sub(was.At), mine.In.Sub(was.In), mine.Out.Sub(was.Out)
	if by.Len() <= carrySlack && in.Len() <= carrySlack && out.Len() <= carrySlack {
		return mine.Smooth != was.Smooth
	}
	t := frameTurn(from, k, to, i)
	if by.Len() > carrySlack {
		n.At = n.At.Add(t.of(by))
	}
	if in.Len() <= carrySlack && out.Len() <= carrySlack {
		return true
	}
	// A block may make a point smooth for one body and a corner for another; where the
	// maker has bent the line, it is what the maker left.
	n.Smooth = mine.Smooth
	if mine.Smooth && mine.bends() {
		n.carryTangent(from.bent(k), mine, to.bent(i))
		return true
	}
	n.In = carryHandle(was.In, mine.In, n.In, t)
	n.Out = carryHandle(was.Out, mine.Out, n.Out, t)
	return true
}

// shortestHandle is the least length in mm to which a handle is shortened when the
// change of its length is carried to one that is shorter: what still has a direction
// on the grid.
const shortestHandle = 1e-3

// bends reports whether the line is curved on both sides of the node.
func (n *Node) bends() bool { return n.In != (geom.Point{}) && n.Out != (geom.Point{}) }

// bent returns node i of the ring with a handle on each side: on a straight side one
// of a third of the stretch, which leaves it straight.
func (r ring) bent(i int) Node {
	n := r[i].Node
	if n.In == (geom.Point{}) {
		s := r.after(i - 1)
		n.In = s.Tangent(1).Mul(-s.P0.Dist(s.P3) / 3)
	}
	if n.Out == (geom.Point{}) {
		s := r.after(i)
		n.Out = s.Tangent(0).Mul(s.P0.Dist(s.P3) / 3)
	}
	return n
}

// tangent returns the direction of the line at a node that bends: the mean of those
// of its two handles, which a block may draw a hair out of one line.
func (n *Node) tangent() geom.Point {
	if way := n.Out.Unit().Sub(n.In.Unit()).Unit(); way != (geom.Point{}) {
		return way
	}
	return n.Out.Unit()
}

// carryTangent turns the handles of a smooth point as mine were turned from was, and
// changes their lengths by as much: so they stay in one line. A handle that was shortened is
// shortened by the same share, since by the same amount it might have nothing left, and would
// not come back as it was. was and next have a handle on each side.
func (n *Node) carryTangent(was, mine, next Node) {
	turned, _ := turnFrom(was.tangent(), mine.tangent())
	way := turned.of(next.tangent())
	length := func(was, mine, next geom.Point) float64 {
		if mine.Len() < was.Len() {
			return max(next.Len()*mine.Len()/was.Len(), shortestHandle)
		}
		return next.Len() + mine.Len() - was.Len()
	}
	n.In = way.Mul(-length(was.In, mine.In, next.In))
	n.Out = way.Mul(length(was.Out, mine.Out, next.Out))
}

// carryHandle changes the handle next by the way by which mine differs from was.
func carryHandle(was, mine, next geom.Point, t turn) geom.Point {
	by := mine.Sub(was)
	if by.Len() <= carrySlack {
		return next
	}
	return next.Add(t.of(by))
}

// vanished complains about points that next no longer has and that were changed.
func (c *carry) vanished() error {
	for k := range c.from {
		id := c.from[k].ID
		if _, there := c.inNext[id]; there {
			continue
		}
		m, is := c.inMine[id]
		b, was := c.inBase[id]
		if !is || !was {
			continue // put in by the maker, and carried
		}
		mine, from := c.mine[m], c.from[k]
		same := mine.At.Near(from.At, carrySlack) && mine.In.Near(from.In, carrySlack) && mine.Out.Near(from.Out, carrySlack)
		if !same || mine.Smooth != from.Smooth || (mine.edge == nil) != (c.base[b].edge == nil) {
			return fmt.Errorf("%s, which was changed, is no longer there", c.label(id))
		}
	}
	return nil
}

// kinkSlack is the sine of the angle by which the handles of a smooth point may be
// out of line: what the grid makes of handles of a millimetre.
const kinkSlack = 1e-6

// straighten puts the handles of smooth points in line again, where a point at or
// beside them was changed.
func (r ring) straighten(touched []bool) {
	n := len(r)
	for i := range r {
		if !r[i].Smooth || !touched[i] && !touched[(i+1)%n] && !touched[(i+n-1)%n] {
			continue
		}
		node := &r[i].Node
		before, after := &r.at(i-1).Node, &r.at(i+1).Node
		none := geom.Point{}
		if node.In == none || node.Out == none {
			node.alignToStraight(before, after)
			continue
		}
		u, v := node.In.Unit().Mul(-1), node.Out.Unit()
		if math.Abs(u.Cross(v)) <= kinkSlack && u.Dot(v) > 0 {
			continue
		}
		if way := u.Add(v).Unit(); way != none {
			node.In, node.Out = way.Mul(-node.In.Len()), way.Mul(node.Out.Len())
		}
	}
}

// startingAt returns the ring with the node first, if an edge starts there.
func (r ring) startingAt(id ID) ring {
	for i := range r {
		if r[i].ID == id && r[i].edge != nil {
			return append(append(make(ring, 0, len(r)), r[i:]...), r[:i]...)
		}
	}
	return r
}

// divide says at which nodes of the ring an edge starts, and which.
func (c *carry) divide(out ring) {
	for i := range out {
		mine, base, next := c.edgesAt(out[i].ID)
		corner := next != nil
		if (mine != nil) != (base != nil) {
			corner = mine != nil
		}
		if corner {
			out[i].edge = edgeFrom(mine, base, next)
		}
		if (mine != nil) != (next != nil) && corner == (mine != nil) {
			// A corner of the maker's own, or none, is as smooth as the maker left it.
			out[i].Smooth = c.mine[c.inMine[out[i].ID]].Smooth
		}
	}
	for i := range out {
		mine, base, _ := c.edgesAt(out[i].ID)
		if out[i].edge != nil && mine != nil && (base == nil || base.ID != mine.ID) {
			c.ownEdge(out, i)
		}
	}
}

// edgesAt returns the edges that start at a node in the three outlines.
func (c *carry) edgesAt(id ID) (mine, base, next *Edge) {
	if i, ok := c.inMine[id]; ok {
		mine = c.mine[i].edge
	}
	if i, ok := c.inBase[id]; ok {
		base = c.base[i].edge
	}
	if i, ok := c.inNext[id]; ok {
		next = c.next[i].edge
	}
	return mine, base, next
}

// edgeFrom returns the edge that starts at a corner: the new one, with what the
// maker changed of it. Edges that the maker made are as they are.
func edgeFrom(mine, base, next *Edge) *Edge {
	if mine != nil && (base == nil || next == nil || mine.ID != base.ID) {
		e := *mine
		return &e
	}
	e := *next
	if mine == nil {
		return &e
	}
	e.Name = merged(mine.Name, base.Name, next.Name)
	e.Kind = merged(mine.Kind, base.Kind, next.Kind)
	e.Corner = merged(mine.Corner, base.Corner, next.Corner)
	e.Passes = merged(mine.Passes, base.Passes, next.Passes)
	e.Allowance.Start = merged(mine.Allowance.Start, base.Allowance.Start, next.Allowance.Start)
	e.Allowance.End = merged(mine.Allowance.End, base.Allowance.End, next.Allowance.End)
	e.Allowance.TrimTo = merged(mine.Allowance.TrimTo, base.Allowance.TrimTo, next.Allowance.TrimTo)
	return &e
}

// merged returns what the maker made of base or, where that is as it was, next.
func merged[T comparable](mine, base, next T) T {
	if mine != base {
		return mine
	}
	return next
}

// ownEdge lets an edge that the maker divided or joined, which starts at node i of
// out, follow the edges of the block in what the maker left as it was.
func (c *carry) ownEdge(out ring, i int) {
	e := out[i].edge
	start := out[i].ID
	mineStart := c.inMine[start]
	mineEnd := c.mine.nextCorner(mineStart).ID
	outEnd := out.nextCorner(i).ID
	was, okWas := widthsOf(c.base, c.from, start, mineEnd)
	now, okNow := widthsOf(c.next, c.to, start, outEnd)
	if !okWas || !okNow {
		return
	}
	e.Allowance.Start = followWidth(e.Allowance.Start, was.start, now.start)
	e.Allowance.End = followWidth(e.Allowance.End, was.end, now.end)
	e.Allowance.TrimTo = followWidth(e.Allowance.TrimTo, was.at.Allowance.TrimTo, now.at.Allowance.TrimTo)
	e.Kind = merged(e.Kind, was.at.Kind, now.at.Kind)
	if _, base, next := c.edgesAt(start); base != nil && next != nil {
		e.Corner = merged(e.Corner, base.Corner, next.Corner)
	}
}

// followWidth returns the new width of an allowance where mine is as it was.
func followWidth(mine, was, now float64) float64 {
	if math.Abs(mine-was) > widthSlack {
		return mine
	}
	return now
}

// widthSlack is how far, in mm, the width of an allowance may be from the taper of
// the edge that was divided, and still follow it.
const widthSlack = 1e-3

// nextCorner returns the node at which the edge that starts at node i ends.
func (r ring) nextCorner(i int) *ringNode {
	for k := 1; k < len(r); k++ {
		if n := r.at(i + k); n.edge != nil {
			return n
		}
	}
	return r.at(i)
}

// stretchWidths are the widths of the allowance of the outline's edges at the two
// ends of a stretch, and the edge at its start.
type stretchWidths struct {
	start, end float64
	at         *Edge
}

// widthsOf returns the widths at two nodes, whose places are those in marks.
func widthsOf(outline, marks ring, start, end ID) (w stretchWidths, ok bool) {
	in := marks.index()
	i, okStart := in[start]
	k, okEnd := in[end]
	if !okStart || !okEnd {
		return w, false
	}
	spans := outline.spans()
	for _, s := range spans {
		if share, inside := s.share(marks[i].pos, outline.round()); inside && share < 1-shareSlack {
			w.at, w.start = s.edge, s.edge.widthAt(share)
		}
		if share, inside := s.share(marks[k].pos, outline.round()); inside && share > shareSlack {
			w.end, ok = s.edge.widthAt(share), true
		}
	}
	return w, ok && w.at != nil
}

func (e *Edge) widthAt(share float64) float64 {
	return toGrid(e.Allowance.Start + (e.Allowance.End-e.Allowance.Start)*share)
}

package draft

import (
	"errors"
	"fmt"
	"math"
)

// When what a piece was generated from changes, the piece is generated anew, and
// what was done to it by hand since is carried over. There are three outlines: base,
// as it was generated; mine, as the maker left it; next, as it is generated now.
//
//  1. Base and next are brought to the points that mine has: those that the maker
//     took out are taken out of both, bridged as the act bridges them; those that
//     the maker put in are put into both at the same share of the stretch, by de
//     Casteljau, so that neither changes its shape.
//  2. Then each point of mine differs from its fellow in base by a way, and so does
//     each handle; at a smooth point the two handles differ by one turn and a length
//     each. These are laid on next, turned as the frame of the point turns from base
//     to next (see frameTurn), in millimetres as they are: a neckline lowered by 5 mm
//     stays lowered by 5 mm.
//  3. Edges are divided and joined at the points at which the maker divided and
//     joined them.
//
// What only next has is there; what base had and next has not is gone, unless the
// maker has changed it: then it cannot be carried.

// carrySlack is how far, in mm, a point or handle may be from where it was generated
// and still be as it was: what the grid rounds away where a point was put in.
const carrySlack = Grid

// maxCarryPairs bounds the points of an outline times those that were generated: each
// point that was put in is looked for along the stretches. It is far beyond what a block
// draws and a hand puts in, and keeps the time under a second.
const maxCarryPairs = 1_000_000

// carried is the outcome of carrying an outline.
type carried struct {
	edges []Edge
	// fromBase says which edges of mine stand where an edge of base does, fromNext
	// which new ones stand where an edge of next does. Edges that are still
	// themselves are not named.
	fromBase, fromNext Lineage
}

// carry is one outline under way.
type carry struct {
	base, mine, next       ring
	inBase, inMine, inNext map[ID]int
	// spanEnds are points of next that a span is measured from.
	spanEnds map[ID]bool
	// from and to are base and next with the points of mine; what only next has is
	// in to, what only base has is in from.
	from, to ring
}

// carryOutline carries what differs between the outlines of base and mine to the
// outline of next. The error says in plain words what cannot be carried.
func carryOutline(base, mine, next *Piece) (carried, error) {
	if equalEdges(base.Edges, mine.Edges) {
		return carried{edges: next.Edges}, nil
	}
	if base.nodeCount()*mine.nodeCount() > maxCarryPairs {
		return carried{}, errors.New("its outline has too many points to be carried over")
	}
	c := &carry{
		base: ringOf(base.Edges, base.Darts), mine: ringOf(mine.Edges, mine.Darts), next: ringOf(next.Edges, next.Darts),
		spanEnds: make(map[ID]bool),
	}
	if !(c.base.round() > 0 && c.next.round() > 0) {
		return carried{}, errors.New("its outline has no length")
	}
	c.inBase, c.inMine, c.inNext = c.base.index(), c.mine.index(), c.next.index()
	for _, s := range next.Spans {
		c.spanEnds[s.From], c.spanEnds[s.To] = true, true
	}
	anchors, err := c.anchors()
	if err != nil {
		return carried{}, err
	}
	for i, a := range anchors {
		if err := c.stretch(a, anchors[(i+1)%len(anchors)]); err != nil {
			return carried{}, err
		}
	}
	c.from, c.to = c.from.closed(), c.to.closed()
	out, err := c.lay()
	if err != nil {
		return carried{}, err
	}
	done := carried{edges: out.startingAt(mine.Edges[0].Nodes[0].ID).edges()}
	done.fromBase = lineageIn(c.from, c.base, c.mine)
	done.fromNext = lineageIn(c.to, c.next, out)
	return done, sound(done.edges, mine.Edges)
}

// label names a point for people: by its edge, since points have no names, and by
// its id.
func (c *carry) label(id ID) string {
	for _, r := range []ring{c.mine, c.base} {
		edge := ""
		for i := range 2 * len(r) { // twice round: the first edge may start later
			if n := r.at(i); n.edge != nil {
				edge = n.edge.label()
			}
			if n := r.at(i); n.ID == id && edge != "" {
				return fmt.Sprintf("the point %s of edge %s", id, edge)
			}
		}
	}
	return "the point " + string(id)
}

// anchors returns the points that all three outlines have, in their order.
func (c *carry) anchors() ([]ID, error) {
	var list []ID
	for i := range c.base {
		id := c.base[i].ID
		_, mine := c.inMine[id]
		_, next := c.inNext[id]
		if mine && next {
			list = append(list, id)
		}
	}
	if len(list) == 0 {
		return nil, errors.New("none of its points is left")
	}
	for _, in := range []map[ID]int{c.inMine, c.inNext} {
		descents := 0
		for i, id := range list {
			if in[list[(i+1)%len(list)]] <= in[id] {
				descents++
			}
		}
		if descents != 1 {
			return nil, errors.New("its points follow one another in another order now")
		}
	}
	return list, nil
}

// stretch brings base and next from the anchor a to the anchor b to the points that
// mine has there, and adds them to from and to.
func (c *carry) stretch(a, b ID) error {
	from, to := c.base.between(c.inBase, a, b), c.next.between(c.inNext, a, b)
	mine := c.mine.between(c.inMine, a, b)
	from, to, err := c.takeOut(from, to)
	if err != nil {
		return err
	}
	known := mine.nextKnown(c.inBase)
	at := 0 // where in from the last point of mine was found
	for k := 1; k < len(mine)-1; k++ {
		n := mine[k]
		if _, known := c.inBase[n.ID]; known {
			i := from.find(n.ID)
			if i <= at {
				return fmt.Errorf("%s lies elsewhere now", c.label(n.ID))
			}
			at = i
			continue
		}
		place, share, ok := from.nearest(n.At, at, from.limit(mine, known[k]))
		if !ok {
			return fmt.Errorf("there is no place left for %s", c.label(n.ID))
		}
		from = from.with(n, place, share)
		at = place.seg + 1
		if place, ok = to.place(share); !ok {
			return fmt.Errorf("there is no place left for %s", c.label(n.ID))
		}
		to = to.with(n, place, share)
	}
	c.from, c.to = c.from.then(from), c.to.then(to)
	return nil
}

// takeOut takes out of both what mine no longer has.
func (c *carry) takeOut(from, to ring) (ring, ring, error) {
	for k := 1; k < len(from)-1; k++ {
		id := from[k].ID
		if _, kept := c.inMine[id]; kept {
			continue
		}
		from = from.without(k)
		k--
		i := to.find(id)
		if i < 0 {
			continue
		}
		if to[i].mouth || to[i-1].mouth || c.spanEnds[id] {
			return nil, nil, fmt.Errorf("%s, which was taken out, is needed now", c.label(id))
		}
		to = to.without(i)
	}
	return from, to, nil
}

// sound says why an outline cannot be that of a piece whose outline was mine.
func sound(edges, mine []Edge) error {
	path := pathOfEdges(edges)
	box := path.Bounds()
	if area := path.Area(); !(area > areaSlack*math.Max(box.W(), box.H())) {
		return errors.New("its outline would enclose nothing")
	}
	if path.Simple() != nil && pathOfEdges(mine).Simple() == nil {
		return errors.New("its outline would cross itself")
	}
	return nil
}

package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// half is one of the two closed rings that a cut makes of a piece.
type half struct {
	// piece is a whole clone with the marks that lie on this side and the same id as
	// before.
	piece *Piece
	// cut is the index of the edge that the cut made.
	cut int
	// lin holds the heirs on this half of edges that were divided; their Piece is unset.
	lin Lineage
	// divided says whether the cut divided an edge where the edge cut starts and where it
	// ends; else there was a corner.
	divided [2]bool
	// whole is the piece before it was cut, nil where the half never was a part of one.
	whole *Piece
	// ties are the nodes at which lines inside the piece were divided, by their ids on the
	// left and on the right half.
	ties []tie
	// ownGrain says that the grain line of the whole lies on this half.
	ownGrain bool
}

// tie is one place at which a line was divided: the ids of its last node on the left
// half and on the right half.
type tie struct{ left, right ID }

// sever cuts p from place a to place b along line, which runs inside p from a to b. left
// lies to the left of it. Edges that are not cut keep their ids; a cut edge gets new ids on
// both sides. The edges that the cut makes are called name; they are seams with the
// widest allowance that a seam of the piece has. Places at which the cut is refused: the
// mouth of a dart, and any line that leaves the piece, crosses itself or crosses a dart.
func (p *Piece) sever(a, b outlinePlace, line geom.Path, name string, ids *idSource) (left, right half, err error) {
	q := p.clone()
	from, err := q.nodeFor(a, ids)
	if err != nil {
		return half{}, half{}, err
	}
	to, err := q.nodeFor(q.shifted(p, b), ids)
	if err != nil {
		return half{}, half{}, err
	}
	return q.severAt(p, from, to, line, name, ids)
}

// shifted returns the place b of p on q, which is p with one more node: the edge has the
// same shape, but its length may differ by rounding.
func (q *Piece) shifted(p *Piece, b outlinePlace) outlinePlace {
	if length := q.EdgeLength(b.edge); b.along > length || b.along == p.EdgeLength(b.edge) {
		b.along = length
	}
	return b
}

// severAt is sever between two nodes of q, a clone of p that may be written to.
func (q *Piece) severAt(p *Piece, from, to ID, line geom.Path, name string, ids *idSource) (left, right half, err error) {
	if err := q.canSever(from, to); err != nil {
		return half{}, half{}, err
	}
	var divided [2]bool
	lin := Lineage{}
	for n, id := range [2]ID{from, to} {
		_, i, k := q.Node(id)
		if k > 0 {
			divided[n] = true
			lin = lin.then(q.split(i, k, ids))
		}
	}
	_, ia, _ := q.Node(from)
	_, ib, _ := q.Node(to)
	line, err = q.fitted(line, q.Edges[ia].Nodes[0].At, q.Edges[ib].Nodes[0].At)
	if err != nil {
		return half{}, half{}, err
	}
	c := &cutting{old: p, ring: q, line: line, lin: lin, name: name, ids: ids}
	left, right = c.side(ib, ia, line), c.side(ia, ib, line.Reverse())
	left.divided, right.divided = divided, [2]bool{divided[1], divided[0]}
	if err := c.check(left, right); err != nil {
		return half{}, half{}, err
	}
	c.renewRight(&right)
	c.share(&left, &right)
	return left, right, nil
}

// canSever reports what stands against a cut between two nodes.
func (p *Piece) canSever(from, to ID) error {
	if from == to {
		return errors.New("the cut starts and ends at one point; it needs two places")
	}
	for _, id := range [2]ID{from, to} {
		if d := p.mouthOf(id); d != nil {
			return fmt.Errorf("the cut ends at the mouth of %s; let it end beside the dart, or make a seam of the dart", d.called())
		}
	}
	return nil
}

// fitReach is how far, in mm, the ends of a line may lie from the places between which
// it cuts: as far as a place may be moved to a corner, and half as much again.
const fitReach = 1.5 * placeReach

// fitted returns the line with its ends moved to a and b, on which they nearly lie.
func (p *Piece) fitted(line geom.Path, a, b geom.Point) (geom.Path, error) {
	if len(line) == 0 {
		return nil, errors.New("there is no line to cut along")
	}
	if line.Start().Dist(a) > fitReach || line.End().Dist(b) > fitReach {
		return nil, errors.New("the cut does not end on the outline")
	}
	out := append(geom.Path(nil), line...)
	first, last := &out[0], &out[len(out)-1]
	da, db := a.Sub(first.P0), b.Sub(last.P3)
	first.P0, first.P1 = a, first.P1.Add(da)
	last.P3, last.P2 = b, last.P2.Add(db)
	for i := range out {
		if out[i].Straight {
			out[i] = geom.Line(out[i].P0, out[i].P3)
		}
	}
	return out, nil
}

// cutting is a cut under way.
type cutting struct {
	// old is the piece as it was, ring the same with corners at both ends of the cut.
	old, ring *Piece
	line      geom.Path
	lin       Lineage
	name      string
	ids       *idSource
}

// side returns the half whose ring is the edges of c.ring from edge i up to edge j, closed
// by the cut along line, which leads back from where edge j starts to where edge i does.
// The marks are still those of the whole.
func (c *cutting) side(i, j int, line geom.Path) half {
	q := c.ring.clone()
	q.Edges = nil
	n := len(c.ring.Edges)
	last := i
	for k := i; ; k = (k + 1) % n {
		if k == j {
			break
		}
		q.Edges = append(q.Edges, cloneEdges(c.ring.Edges[k:k+1])...)
		last = k
	}
	cut := Edge{ID: c.ids.make(kindEdge), Allowance: Even(c.ring.seamWidth())}
	cut.Nodes = c.nodesAlong(line)
	// The corner at which the cut starts is that at which edge j of the ring does, its
	// handle that comes in being the one of the last edge before it.
	corner := c.ring.Edges[j].Nodes[0]
	cut.Nodes[0].ID, cut.Nodes[0].At, cut.Nodes[0].In, cut.Nodes[0].Smooth = corner.ID, corner.At, corner.In, false
	cut.Corner = Mitre
	start := &q.Edges[0].Nodes[0]
	start.In, start.Smooth = handleIn(line[len(line)-1]), false
	q.nameAsBefore(c.old, c.lin)
	cut.Name = unusedName(c.name, q.hasEdgeName)
	q.Edges = append(q.Edges, cut)
	cutAt := len(q.Edges) - 1
	h := half{piece: q, cut: cutAt, lin: Lineage{}, whole: c.old}
	for id, heirs := range c.lin {
		for _, heir := range heirs {
			if _, k := q.Edge(heir.Edge); k >= 0 {
				h.lin[id] = append(h.lin[id], heir)
			}
		}
	}
	// The edge that came first still does.
	if last < i {
		h.rotate(n - i)
	}
	return h
}

// nameAsBefore gives each part on p of an edge of old that was divided the name of the whole
// edge, where no other edge of p bears it: a centre stays the centre on both pieces, and a
// number only tells two edges of one piece apart.
func (p *Piece) nameAsBefore(old *Piece, lin Lineage) {
	for i := range old.Edges {
		e := &old.Edges[i]
		if p.hasEdgeName(e.Name) {
			continue
		}
		for _, heir := range lin[e.ID] {
			if part, _ := p.Edge(heir.Edge); part != nil {
				part.Name = e.Name
				break
			}
		}
	}
}

// rotate lets edge k be the first.
func (h *half) rotate(k int) {
	n := len(h.piece.Edges)
	h.piece.Edges = append(append([]Edge(nil), h.piece.Edges[k:]...), h.piece.Edges[:k]...)
	h.cut = (h.cut - k + n) % n
}

// seamWidth returns the widest allowance of a seam of the piece in mm; where it has no
// seam, the widest of all its edges.
func (p *Piece) seamWidth() float64 {
	widest, any := 0.0, 0.0
	for i := range p.Edges {
		switch e := &p.Edges[i]; e.Kind {
		case SeamEdge:
			widest = max(widest, e.Allowance.Widest())
		case FoldEdge:
		default:
			any = max(any, e.Allowance.Widest())
		}
	}
	if widest == 0 {
		return any
	}
	return widest
}

// nodesAlong returns the nodes at which the segments of a line start, smooth where the
// line is.
func (c *cutting) nodesAlong(line geom.Path) []Node {
	nodes := make([]Node, len(line))
	for k, s := range line {
		if k == 0 {
			nodes[0] = Node{At: s.P0}
			if !s.Straight {
				nodes[0].Out = s.P1.Sub(s.P0)
			}
			continue
		}
		nodes[k] = nodeBetween(c.ids.make(kindNode), line[k-1], s)
	}
	return nodes
}

// leastHalf is the mean width in mm that a half has at least: a thread's, below which there
// is nothing to hold.
const leastHalf = 0.05

// check reports a cut that makes no two sound pieces.
func (c *cutting) check(left, right half) error {
	outline := c.ring.DrawnPath()
	tape := c.line.Tape()
	for _, share := range [3]float64{0.25, 0.5, 0.75} {
		if !outline.Contains(c.line.At(tape.At(share * tape.Length()))) {
			return errors.New("the cut leaves the piece")
		}
	}
	if err := c.line.Simple(); err != nil {
		return errors.New("the cut crosses itself")
	}
	for _, h := range [2]half{left, right} {
		path := h.piece.DrawnPath()
		if box := path.Bounds(); path.Area() <= leastHalf*max(box.W(), box.H()) {
			return errors.New("the cut runs along the outline and cuts nothing off")
		}
	}
	for _, m := range c.line.Intersections(outline) {
		if m.Kind == geom.Overlaps {
			return errors.New("the cut runs along the outline for a part of its way")
		}
		if end := tape.To(m.A); end > fitReach && end < tape.Length()-fitReach {
			return errors.New("the cut crosses the outline on its way")
		}
	}
	return c.clearOfDarts()
}

// clearOfDarts reports a dart that the cut crosses.
func (c *cutting) clearOfDarts() error {
	for i := range c.ring.Darts {
		d := &c.ring.Darts[i]
		for _, id := range [2]ID{d.From, d.To} {
			n, _, _ := c.ring.Node(id)
			if n == nil {
				continue
			}
			for _, m := range c.line.Intersections(geom.Path{geom.Line(n.At, d.Apex)}) {
				if m.P.Dist(d.Apex) > placeReach {
					return c.crosses(d)
				}
			}
		}
	}
	return nil
}

// crosses says that the cut goes through a dart, and what can be done: also how long it
// may be so as to end before the cut.
func (c *cutting) crosses(d *Dart) error {
	shorter := ""
	if room := c.roomFor(d); d.Fold == Wedge && room >= 0.1 {
		shorter = fmt.Sprintf("; or make it no longer than %.1f mm, so that it ends before the cut", room)
	}
	return fmt.Errorf("the cut crosses %s and would part its two legs: pivot it to another edge first, and back after the cut%s; or cut to its point and on from there, and make a seam of it", d.called(), shorter)
}

// roomFor returns how long, in mm, a dart can be that keeps its mouth and its direction and
// does not reach the cut: rounded down to a tenth.
func (c *cutting) roomFor(d *Dart) float64 {
	from, _, _ := c.ring.Node(d.From)
	to, _, _ := c.ring.Node(d.To)
	if from == nil || to == nil {
		return 0
	}
	// Up to the share of a leg at which the cut meets it first, the legs of a shorter dart lie
	// between those of the longer.
	share := 1.0
	for _, n := range [2]*Node{from, to} {
		leg := geom.Path{geom.Line(n.At, d.Apex)}
		for _, m := range c.line.Intersections(leg) {
			share = min(share, m.P.Dist(n.At)/n.At.Dist(d.Apex))
		}
	}
	long := share * d.Apex.Dist(from.At.Lerp(to.At, 0.5))
	return math.Floor((long-placeReach)*10) / 10
}

// renewRight gives the two nodes at the ends of the cut new ids on the right half: the
// left keeps those of the whole.
func (c *cutting) renewRight(right *half) {
	q := right.piece
	ends := [2]*Node{&q.Edges[right.cut].Nodes[0], &q.Edges[(right.cut+1)%len(q.Edges)].Nodes[0]}
	for _, n := range ends {
		old := n.ID
		n.ID = c.ids.make(kindNode)
		for k := range q.Spans {
			s := &q.Spans[k]
			if s.From == old {
				s.From = n.ID
			}
			if s.To == old {
				s.To = n.ID
			}
		}
	}
}

package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// InsertNodeArgs are the arguments of InsertNode.
type InsertNodeArgs struct {
	Edge EdgeRef   `arg:"edge" says:"the edge"`
	At   EdgePlace `arg:"at" says:"where along it"`
}

// InsertNode puts a point on an edge; the curve keeps its shape exactly.
var InsertNode = register(Info{
	Name: "insert-node", Title: "Insert a point", Group: groupPoints,
	Says: "Puts a point on an edge without changing its shape.",
}, func(p *Project, a InsertNodeArgs) (Outcome, error) {
	return insertOn(p, a.At, func(f func(*Piece, *course) error) (Outcome, error) { return onEdge(p, a.Edge, f) })
})

// InsertLineNodeArgs are the arguments of InsertLineNode.
type InsertLineNodeArgs struct {
	Line LineRef   `arg:"line" says:"the line"`
	At   EdgePlace `arg:"at" says:"where along it"`
}

// InsertLineNode is InsertNode for a line inside a piece.
var InsertLineNode = register(Info{
	Name: "insert-line-node", Title: "Insert a point on a line", Group: groupPoints,
	Says: "Puts a point on a line inside a piece without changing its shape.",
}, func(p *Project, a InsertLineNodeArgs) (Outcome, error) {
	return insertOn(p, a.At, func(f func(*Piece, *course) error) (Outcome, error) { return onLine(p, a.Line, f) })
})

// insertOn puts a point at a place of the course that on gives.
func insertOn(p *Project, at EdgePlace, on func(func(*Piece, *course) error) (Outcome, error)) (Outcome, error) {
	ids := p.newIDs()
	made := ids.make(kindNode)
	out, err := on(func(q *Piece, c *course) error {
		k, t, err := c.place(at, p.Unit)
		if err != nil {
			return err
		}
		return c.insert(k, t, made)
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Made = made
	out.Project.NextID = ids.next
	return out, nil
}

// shortestStretch is the least distance in mm between neighbouring points: less can
// neither be seen nor cut, and its direction would be rounding.
const shortestStretch = 0.01

// locate returns the stretch of edge i, from node k of EdgeNodes to the next, on
// which the place along mm from its start lies, and the parameter there. The
// mouths of darts count for no length.
func (p *Piece) locate(i int, along float64) (k int, t float64) {
	nodes := p.EdgeNodes(i)
	for j := 1; j < len(nodes); j++ {
		if p.dartAt(nodes[j-1].ID, nodes[j].ID) != nil {
			continue
		}
		s := segment(nodes[j-1], nodes[j])
		length := s.Length()
		k, t = j-1, 1
		if along < length {
			return k, s.AtLength(along)
		}
		along -= length
	}
	return k, t
}

// insert puts a node at parameter t of the stretch that follows node k of edge i.
func (p *Piece) insert(i, k int, t float64, id ID) error {
	c := p.courseOfEdge(i)
	return c.insert(k, t, id)
}

// insert puts a node at parameter t of the stretch that follows node k, after which
// the course is to be made anew. The node is smooth where the stretch is a curve; on a
// straight stretch it may be dragged to a bend.
func (c *course) insert(k int, t float64, id ID) error {
	from, to := c.nodes[k], c.nodes[k+1]
	s := segment(*from, *to)
	a, b := s.Split(t)
	n := Node{ID: id, At: a.P3}
	if min(n.At.Dist(from.At), n.At.Dist(to.At)) < shortestStretch {
		return errors.New("there is a point already, too near to be told from it")
	}
	if !s.Straight {
		n.Smooth = true
		n.In, n.Out = a.P2.Sub(a.P3), b.P1.Sub(b.P0)
		from.Out, to.In = a.P1.Sub(a.P0), b.P2.Sub(b.P3)
	}
	old := *c.list
	nodes := make([]Node, 0, len(old)+1)
	*c.list = append(append(append(nodes, old[:k+1]...), n), old[k+1:]...)
	return nil
}

// DeleteNodeArgs are the arguments of DeleteNode.
type DeleteNodeArgs struct {
	Nodes []NodeRef `arg:"nodes" says:"the points"`
}

// DeleteNode takes points away. The curve that bridges the gap leaves and arrives
// as the two old ones did and stays as near to them as it can. Where the point is
// a corner its two edges become one.
var DeleteNode = register(Info{
	Name: "delete-node", Title: "Delete points", Group: groupPoints,
	Says: "Takes points away and changes the shape as little as can be; at a corner the two edges become one.",
}, func(p *Project, a DeleteNodeArgs) (Outcome, error) {
	return oneByOne(p, a.Nodes, func(q *Piece, i, k int, ids *idSource, out *Outcome) error {
		return q.deleteNode(i, k, ids, out)
	}, (*Piece).deleteLineNode)
})

// oneByOne changes one point after the other, each as a finished edit: an edge
// that one of them ends is another when the next is due. f changes point k of edge i,
// inside point k of line j.
func oneByOne(p *Project, refs []NodeRef, f func(q *Piece, i, k int, ids *idSource, out *Outcome) error, inside func(q *Piece, j, k int) error) (Outcome, error) {
	if len(refs) == 0 {
		return Outcome{}, errors.New("no point is named")
	}
	var said []string
	var order []ID
	var made ID
	lineage := Lineage{}
	now := p
	done := make(map[NodeRef]bool)
	for _, r := range refs {
		if done[r] {
			continue
		}
		done[r] = true
		step := Outcome{unit: p.Unit}
		ids := now.newIDs()
		next, err := onePiece(now, r.Piece, func(q *Piece) error {
			if n, i, k := q.Node(r.Node); n != nil {
				return f(q, i, k, ids, &step)
			}
			n, j, k := q.LineNode(r.Node)
			if n == nil {
				return fmt.Errorf("point %s %w", r.Node, errGone)
			}
			return inside(q, j, k)
		})
		if err != nil {
			return Outcome{}, err
		}
		next.NextID = ids.next
		if len(step.Lineage) > 0 {
			if next, err = followLineage(now, next, step.Lineage); err != nil {
				return Outcome{}, err
			}
			lineage = lineage.then(step.Lineage)
		}
		if step.Made != "" {
			made = step.Made
		}
		said, order, now = append(said, step.Says...), append(order, r.Piece), next
	}
	return Outcome{Project: now, followed: lineage, Made: made, Says: said, subject: p.subject(distinct(order))}, nil
}

// distinct returns the ids without repeats.
func distinct(ids []ID) []ID {
	seen := make(map[ID]bool, len(ids))
	var out []ID
	for _, id := range ids {
		if !seen[id] {
			out = append(out, id)
		}
		seen[id] = true
	}
	return out
}

// deleteNode takes node k of edge i away.
func (p *Piece) deleteNode(i, k int, ids *idSource, out *Outcome) error {
	n := p.Edges[i].Nodes[k]
	if err := p.isFree(n.ID); err != nil {
		return err
	}
	if k == 0 && len(p.Edges) == 1 {
		return errors.New("its outline begins and ends at this point; make another point a corner first")
	}
	if p.nodeCount() <= 2 {
		return errors.New("an outline needs two points at least")
	}
	if k == 0 {
		if err := p.canMerge(i); err != nil {
			return err
		}
	}
	at := p.cornerShare(i)
	before, after := p.nodesAround(i, k)
	before.Out, after.In = bridge(*before, n, *after)
	if k > 0 {
		e := &p.Edges[i]
		e.Nodes = append(append([]Node(nil), e.Nodes[:k]...), e.Nodes[k+1:]...)
	} else {
		out.Lineage = p.merge(i, at, false, ids, out)
	}
	if path := p.DrawnPath(); path.Area() <= areaSlack*max(path.Bounds().W(), path.Bounds().H()) {
		return errors.New("without this point its outline would enclose nothing")
	}
	return nil
}

// deleteLineNode takes node k of line j away.
func (p *Piece) deleteLineNode(j, k int) error {
	l := &p.Lines[j]
	n := l.Nodes[k]
	if err := p.isFree(n.ID); err != nil {
		return err
	}
	if len(l.Nodes) <= 2 {
		return fmt.Errorf("line %s needs its points; delete the line itself", l.label())
	}
	before, after := l.around(k)
	switch {
	case before == nil:
		after.In = geom.Point{} // the line begins there now
	case after == nil:
		before.Out = geom.Point{}
	default:
		before.Out, after.In = bridge(*before, n, *after)
	}
	l.Nodes = append(append([]Node(nil), l.Nodes[:k]...), l.Nodes[k+1:]...)
	return nil
}

// isFree reports an error if something besides the outline hangs on the node.
func (p *Piece) isFree(id ID) error {
	if d := p.mouthOf(id); d != nil {
		return fmt.Errorf("this point is a mouth of %s, and stays as long as the dart does", d.called())
	}
	for _, s := range p.Spans {
		if s.From == id || s.To == id {
			return fmt.Errorf("the length %s is measured from this point, and the point stays as long as that does", labelOf(s.Name, s.ID))
		}
	}
	return nil
}

// bridge returns the handles of the one stretch from a to b that stands in for the
// two by way of n.
func bridge(a, n, b Node) (out, in geom.Point) {
	first, second := segment(a, n), segment(n, b)
	if first.Straight && second.Straight && !bentAt(a, n, b) {
		return geom.Point{}, geom.Point{}
	}
	return bridgeFit(first, second)
}

// bentAt reports whether a straight line from a to b would break the smooth course
// of the line at a or b.
func bentAt(a, n, b Node) bool {
	u, v, w := n.At.Sub(a.At).Unit(), b.At.Sub(n.At).Unit(), b.At.Sub(a.At).Unit()
	off := func(x geom.Point) bool { return max(x.Cross(w), -x.Cross(w)) > straightSlack }
	return a.Smooth && off(u) || b.Smooth && off(v)
}

// straightSlack is how far, in radians, two directions may differ and still count
// as one: the direction of a line of 10 mm whose ends are on the grid.
const straightSlack = 1e-6

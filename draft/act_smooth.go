package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// SmoothNodeArgs are the arguments of SmoothNode.
type SmoothNodeArgs struct {
	Nodes []NodeRef `arg:"nodes" says:"the points"`
	Name  string    `arg:"name,optional" says:"the name of the edge that two become; without it, that of the longer"`
}

// SmoothNode makes points smooth: their two handles come into one line. A corner
// then no longer divides the outline, and its two edges become one.
var SmoothNode = register(Info{
	Name: "smooth-node", Title: "Make smooth", Group: groupPoints,
	Says: "Makes a point smooth; at a corner the two edges become one.",
}, func(p *Project, a SmoothNodeArgs) (Outcome, error) {
	return oneByOne(p, a.Nodes, func(q *Piece, i, k int, ids *idSource, out *Outcome) error {
		n := q.Edges[i].Nodes[k]
		if d := q.mouthOf(n.ID); d != nil {
			return fmt.Errorf("this point is a mouth of %s and cannot be smooth", d.called())
		}
		if k == 0 && len(q.Edges) > 1 {
			if err := q.canMerge(i); err != nil {
				return err
			}
		}
		if !n.Smooth {
			q.smooth(i, k)
		}
		if k > 0 || len(q.Edges) == 1 {
			return nil
		}
		out.Lineage = q.merge(i, q.cornerShare(i), true, ids, out)
		return q.renameMade(out.Made, a.Name)
	}, func(q *Piece, j, k int) error {
		n := &q.Lines[j].Nodes[k]
		before, after := q.Lines[j].around(k)
		if before == nil || after == nil {
			return fmt.Errorf("line %s ends at this point, and an end is neither smooth nor a corner", q.Lines[j].label())
		}
		if !n.Smooth {
			n.smoothBetween(before, after)
		}
		return nil
	})
})

// smooth makes node k of edge i smooth.
func (p *Piece) smooth(i, k int) {
	before, after := p.nodesAround(i, k)
	p.Edges[i].Nodes[k].smoothBetween(before, after)
}

// smoothBetween turns the two handles of the node into one line, halfway between
// their directions; they keep their lengths. A straight side becomes a curve that
// leaves its other end in the old direction.
func (n *Node) smoothBetween(before, after *Node) {
	first, second := segment(*before, *n), segment(*n, *after)
	u, v := first.Tangent(1), second.Tangent(0)
	way := u.Add(v).Unit()
	if way == (geom.Point{}) {
		way = u // the line turns back on itself: keep to the side that comes in
	}
	turned := max(u.Cross(v), -u.Cross(v)) > straightSlack || u.Dot(v) < 0
	if turned && first.Straight {
		before.Out, n.In = first.P1.Sub(first.P0), first.P2.Sub(first.P3)
	}
	if turned && second.Straight {
		n.Out, after.In = second.P1.Sub(second.P0), second.P2.Sub(second.P3)
	}
	n.Smooth = true
	if turned && n.In == (geom.Point{}) {
		n.In = before.At.Sub(n.At).Mul(1. / 3)
	}
	if turned && n.Out == (geom.Point{}) {
		n.Out = after.At.Sub(n.At).Mul(1. / 3)
	}
	n.In, n.Out = way.Mul(-n.In.Len()), way.Mul(n.Out.Len())
}

// CornerNodeArgs are the arguments of CornerNode.
type CornerNodeArgs struct {
	Nodes []NodeRef `arg:"nodes" says:"the points"`
	Name  string    `arg:"name,optional" says:"the name of the second of the two edges that it makes"`
}

// CornerNode makes points corners. A point inside an edge then divides it in two;
// what was sewn to the whole edge is sewn to both.
var CornerNode = register(Info{
	Name: "corner-node", Title: "Make a corner", Group: groupPoints,
	Says: "Makes a point a corner; inside an edge it divides the edge in two.",
}, func(p *Project, a CornerNodeArgs) (Outcome, error) {
	return oneByOne(p, a.Nodes, func(q *Piece, i, k int, ids *idSource, out *Outcome) error {
		n := &q.Edges[i].Nodes[k]
		if d := q.mouthOf(n.ID); d != nil {
			return fmt.Errorf("this point is a mouth of %s, which lies inside one edge", d.called())
		}
		n.Smooth = false
		if k == 0 {
			return nil
		}
		if q.Edges[i].Kind == FoldEdge {
			return errors.New("this point lies on the fold, which is one straight edge")
		}
		out.Lineage = q.split(i, k, ids)
		out.Made = q.Edges[i+1].ID
		return q.renameMade(out.Made, a.Name)
	}, func(q *Piece, j, k int) error {
		q.Lines[j].Nodes[k].Smooth = false
		return nil
	})
})

// renameMade gives the edge that an act made a name, if there is one to give.
func (p *Piece) renameMade(id ID, name string) error {
	name, err := cleanName(name)
	if err != nil || name == "" {
		return err
	}
	_, i := p.Edge(id)
	for k := range p.Edges {
		if k != i && p.Edges[k].Name == name {
			return fmt.Errorf("another edge is called %s already", name)
		}
	}
	p.Edges[i].Name = name
	return nil
}

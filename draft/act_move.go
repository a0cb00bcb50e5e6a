package draft

import (
	"fmt"

	"hemlet/geom"
)

// MoveNodesArgs are the arguments of MoveNodes.
type MoveNodesArgs struct {
	Nodes []NodeRef `arg:"nodes" says:"the points to move"`
	// By is the way in mm as it lies on the bench.
	By Vector `arg:"by" says:"how far across and up, as the piece lies on the bench"`
}

// MoveNodes moves points of outlines, and of lines inside pieces, with their handles. At a smooth point that
// joins a curve to a straight stretch, the curve's handle turns along with the
// straight.
var MoveNodes = register(Info{
	Name: "move-nodes", Title: "Move points", Group: groupPoints,
	Says: "Moves points of an outline, or of a line inside a piece, together with their handles.",
}, func(p *Project, a MoveNodesArgs) (Outcome, error) {
	next, ids, err := byPiece(p, a.Nodes, pieceOfNode, "point", func(q *Piece, refs []NodeRef) error {
		by := q.fromBench(geom.Point(a.By))
		moved := make(map[ID]bool, len(refs))
		for _, r := range refs {
			n := q.AnyNode(r.Node)
			if n == nil {
				return fmt.Errorf("point %s %w", r.Node, errGone)
			}
			if !moved[n.ID] {
				n.At = n.At.Add(by)
			}
			moved[n.ID] = true
		}
		q.alignBeside(moved)
		return nil
	})
	return Outcome{Project: next, subject: p.subject(ids)}, err
})

// alignBeside puts the handles of smooth points at and next to the moved ones in
// line again where the stretch on their other side is straight.
func (p *Piece) alignBeside(moved map[ID]bool) {
	for i := range p.Edges {
		for k := range p.Edges[i].Nodes {
			before, after := p.nodesAround(i, k)
			n := &p.Edges[i].Nodes[k]
			if n.Smooth && (moved[n.ID] || moved[before.ID] || moved[after.ID]) {
				n.alignToStraight(before, after)
			}
		}
	}
	for i := range p.Lines {
		l := &p.Lines[i]
		for k := range l.Nodes {
			before, after := l.around(k)
			n := &l.Nodes[k]
			if before == nil || after == nil || !n.Smooth {
				continue
			}
			if moved[n.ID] || moved[before.ID] || moved[after.ID] {
				n.alignToStraight(before, after)
			}
		}
	}
}

// alignToStraight turns the handle of a smooth node into the line of the straight
// stretch on its other side, if there is one; the handle keeps its length.
func (n *Node) alignToStraight(before, after *Node) {
	straightIn := n.In == (geom.Point{}) && before.Out == (geom.Point{})
	straightOut := n.Out == (geom.Point{}) && after.In == (geom.Point{})
	switch {
	case straightIn && !straightOut && n.Out != (geom.Point{}):
		n.Out = along(n.At.Sub(before.At), n.Out)
	case straightOut && !straightIn && n.In != (geom.Point{}):
		n.In = along(n.At.Sub(after.At), n.In)
	}
}

// along returns v turned into the direction of way, or v where way has none.
func along(way, v geom.Point) geom.Point {
	u := way.Unit()
	if u == (geom.Point{}) {
		return v
	}
	return u.Mul(v.Len())
}

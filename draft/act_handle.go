package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// MoveHandleArgs are the arguments of MoveHandle.
type MoveHandleArgs struct {
	Handle HandleRef `arg:"handle" says:"the handle"`
	// To is the handle as a way from its point, in mm on the bench.
	To Vector `arg:"to" says:"where the handle ends, across and up from its point, as the piece lies on the bench"`
}

// MoveHandle sets one handle of a point. At a smooth point the other handle turns
// to stay in line and keeps its length; where the other side is straight, the
// handle stays in the line of it.
var MoveHandle = register(Info{
	Name: "move-handle", Title: "Move a handle", Group: groupPoints,
	Says: "Bends the curve on one side of a point; at a smooth point the other side stays in line.",
}, func(p *Project, a MoveHandleArgs) (Outcome, error) {
	next, err := onePiece(p, a.Handle.Piece, func(q *Piece) error {
		to := q.fromBench(geom.Point(a.To))
		if n, i, k := q.Node(a.Handle.Node); n != nil {
			before, after := q.nodesAround(i, k)
			n.setHandle(before, after, a.Handle.Out, to)
			return nil
		}
		n, j, k := q.LineNode(a.Handle.Node)
		if n == nil {
			return fmt.Errorf("point %s %w", a.Handle.Node, errGone)
		}
		before, after := q.Lines[j].around(k)
		return n.setLineHandle(before, after, a.Handle.Out, to)
	})
	return Outcome{Project: next, subject: p.subject([]ID{a.Handle.Piece})}, err
})

// setLineHandle is setHandle for the node of a line, which may end there.
func (n *Node) setLineHandle(before, after *Node, out bool, v geom.Point) error {
	switch {
	case out && after == nil, !out && before == nil:
		return errors.New("the line ends at this point, and there is nothing to bend beyond it")
	case before == nil:
		n.Out = v
	case after == nil:
		n.In = v
	default:
		n.setHandle(before, after, out, v)
	}
	return nil
}

// setHandle sets one handle and, at a smooth node, keeps the two sides in line.
func (n *Node) setHandle(before, after *Node, out bool, v geom.Point) {
	own, other, far := &n.In, &n.Out, after
	if out {
		own, other, far = &n.Out, &n.In, before
	}
	if !n.Smooth {
		*own = v
		return
	}
	if *other != (geom.Point{}) {
		*own = v
		*other = along(v.Mul(-1), *other)
		return
	}
	// The other side leaves the node without a handle: its direction is given by
	// what comes next on it, and this side has to keep to that.
	lead := far.At
	if out {
		lead = lead.Add(far.Out)
	} else {
		lead = lead.Add(far.In)
	}
	u := n.At.Sub(lead).Unit()
	if u == (geom.Point{}) {
		*own = v
		return
	}
	*own = u.Mul(max(v.Dot(u), 0))
}

package draft

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// BendEdgeArgs are the arguments of BendEdge.
type BendEdgeArgs struct {
	Edge EdgeRef   `arg:"edge" says:"the edge"`
	At   EdgePlace `arg:"at" says:"the place that is pulled"`
	To   Vector    `arg:"to" says:"where it is pulled to, in mm on the bench"`
	// Hold is what stays while the length is held.
	Hold Held `arg:"hold" says:"nothing: the edge grows longer; start, end or middle: it stays as long as it is, and that place stays where it is" default:"nothing"`
}

// Held says what stays where it is while an edge is bent that keeps its length.
type Held int

const (
	// HoldNothing lets the length change; both ends stay.
	HoldNothing Held = iota
	// HoldStart and HoldEnd keep the length and that end; the other end comes nearer.
	HoldStart
	HoldEnd
	// HoldMiddle keeps the length and has both ends come nearer alike.
	HoldMiddle
)

var heldNames = names[Held]{"nothing", "start", "end", "middle"}

func (h Held) String() string               { return heldNames.text(h) }
func (h Held) MarshalText() ([]byte, error) { return heldNames.marshal(h) }

// UnmarshalText reads one of nothing, start, end, middle.
func (h *Held) UnmarshalText(b []byte) error { return heldNames.unmarshal(h, b, "place to hold") }

// BendEdge pulls a place of an edge to a point: the curve goes through it, and changes
// as little as can be. Directions at smooth points are kept where the curve can go
// through the point with them; else the line turns there and stays smooth. With
// the length held, an end comes nearer along the line between the two.
var BendEdge = register(Info{
	Name: "bend-edge", Title: "Bend an edge", Group: groupEdges,
	Says: "Pulls a place of an edge to a point; the curve goes through it and changes as little as can be.",
}, func(p *Project, a BendEdgeArgs) (Outcome, error) {
	return onEdge(p, a.Edge, func(_ *Piece, c *course) error { return c.pull(a.At, geom.Point(a.To), a.Hold, p.Unit) })
})

// BendLineArgs are the arguments of BendLine.
type BendLineArgs struct {
	Line LineRef   `arg:"line" says:"the line"`
	At   EdgePlace `arg:"at" says:"the place that is pulled"`
	To   Vector    `arg:"to" says:"where it is pulled to, in mm on the bench"`
	Hold Held      `arg:"hold" says:"nothing: the line grows longer; start, end or middle: it stays as long as it is, and that place stays where it is" default:"nothing"`
}

// BendLine is BendEdge for a line inside a piece.
var BendLine = register(Info{
	Name: "bend-line", Title: "Bend a line", Group: groupDrawing,
	Says: "Pulls a place of a line inside a piece to a point; the curve goes through it and changes as little as can be.",
}, func(p *Project, a BendLineArgs) (Outcome, error) {
	return onLine(p, a.Line, func(_ *Piece, c *course) error { return c.pull(a.At, geom.Point(a.To), a.Hold, p.Unit) })
})

// pull bends the course so that a place of it comes to a point on the bench.
func (c *course) pull(at EdgePlace, to geom.Point, hold Held, unit Unit) error {
	if err := c.mayBend(); err != nil {
		return err
	}
	back, ok := c.piece.Place.Affine().Invert()
	if !ok {
		return errors.New("the piece has no place on the bench")
	}
	k, t, err := c.place(at, unit)
	if err != nil {
		return err
	}
	if to = back.Apply(to); hold == HoldNothing {
		return c.bend(k, t, to)
	}
	return c.bendHeld(k, t, to, hold)
}

// mayBend reports why the course cannot be bent.
func (c *course) mayBend() error {
	if c.edge >= 0 && c.piece.Edges[c.edge].Kind == FoldEdge {
		return fmt.Errorf("%s is a fold, and a fold is straight", c.what)
	}
	return nil
}

// bendEnd is how near to an end of its stretch, as a parameter, a place can be pulled:
// nearer, the curve would have to swing out wide to go through another point.
const bendEnd = 0.02

// bend pulls the place at parameter t of the stretch after node k to a point in the
// piece's own millimetres.
func (c *course) bend(k int, t float64, to geom.Point) error {
	var err error
	for _, keep := range bendKeeps {
		if err = c.bendKeeping(k, t, to, keep); err == nil {
			return nil
		}
	}
	return err
}

// bendKeep says on which sides of a stretch the direction is kept at a smooth point.
type bendKeep struct{ start, end bool }

// bendKeeps are tried in order: both directions, then fewer.
var bendKeeps = []bendKeep{{true, true}, {true, false}, {false, true}, {false, false}}

// bendKeeping is bend for the sides that are kept.
func (c *course) bendKeeping(k int, t float64, to geom.Point, keep bendKeep) error {
	a, b := c.nodes[k], c.nodes[k+1]
	if t < bendEnd || t > 1-bendEnd {
		if t > 0.5 {
			k++
		}
		return c.pullNode(k, to)
	}
	s := segment(*a, *b)
	w := bendWork{from: s, t: t, by: to.Sub(s.At(t))}
	w.start, w.startFixed = c.keeps(k, true)
	w.end, w.endFixed = c.keeps(k+1, false)
	out, in, ok := w.keeping(keep)
	if !ok {
		return errors.New("the straight stretch beside it holds its direction; make the point between them a corner first")
	}
	c.setHandles(k, out, in)
	return nil
}

// pullNode moves node k, near which the course was pulled.
func (c *course) pullNode(k int, to geom.Point) error {
	n := c.nodes[k]
	inside := k > 0 && k < len(c.nodes)-1
	if !inside && !(c.closed() && n.Smooth) {
		return errors.New("the ends of an edge stay; pull it farther from its end, or move the point")
	}
	if d := c.piece.mouthOf(n.ID); d != nil {
		return fmt.Errorf("this point is a mouth of %s; move the point itself", d.called())
	}
	n.At = to
	c.piece.alignBeside(map[ID]bool{n.ID: true})
	return nil
}

// bendSide says in which direction a handle has to lie, and whether what lies beside
// it can turn along.
type bendSide struct {
	u     geom.Point // unit direction of the handle from its node
	fixed bool       // a straight stretch beside it cannot turn
}

// keeps returns what holds the handle of node k: none at a corner. out is the handle
// that goes out.
func (c *course) keeps(k int, out bool) (side *bendSide, fixed bool) {
	n := c.nodes[k]
	before, after := c.beside(k)
	other, far := n.In, before
	if !out {
		other, far = n.Out, after
	}
	if !n.Smooth || far == nil {
		return nil, false
	}
	if other != (geom.Point{}) {
		return &bendSide{u: other.Mul(-1).Unit()}, false
	}
	lead := far.At.Add(far.Out)
	if !out {
		lead = far.At.Add(far.In)
	}
	u := n.At.Sub(lead).Unit()
	if u == (geom.Point{}) {
		return nil, false
	}
	return &bendSide{u: u, fixed: true}, true
}

// beside returns the nodes before and after node k, beyond the ends too.
func (c *course) beside(k int) (before, after *Node) {
	before, after = c.before, c.after
	if k > 0 {
		before = c.nodes[k-1]
	}
	if k < len(c.nodes)-1 {
		after = c.nodes[k+1]
	}
	return before, after
}

// setHandles gives the stretch after node k its handles; at smooth points the other
// handle turns along and keeps its length.
func (c *course) setHandles(k int, out, in geom.Point) {
	a, b := c.nodes[k], c.nodes[k+1]
	a.Out, b.In = out, in
	if a.Smooth && a.In != (geom.Point{}) {
		a.In = along(out.Mul(-1), a.In)
	}
	if b.Smooth && b.Out != (geom.Point{}) {
		b.Out = along(in.Mul(-1), b.Out)
	}
}

// bendWork bends one stretch so that its point at t moves by a way.
type bendWork struct {
	from                 geom.Segment
	t                    float64
	by                   geom.Point
	start, end           *bendSide
	startFixed, endFixed bool
}

// keeping returns the two handles of the bent stretch with the directions of the sides
// that are kept. It gives up where a direction that is fixed is not to be kept.
func (w *bendWork) keeping(keep bendKeep) (out, in geom.Point, ok bool) {
	if !keep.start && w.startFixed || !keep.end && w.endFixed {
		return geom.Point{}, geom.Point{}, false
	}
	var a, b *bendSide
	if keep.start {
		a = w.start
	}
	if keep.end {
		b = w.end
	}
	return w.solve(a, b)
}

// bendReach bounds the handles of a bent stretch as a multiple of the control polygon
// before and the way of the pull together: longer ones would make a loop.
const bendReach = 2

// solve returns the handles that move the point at t by the way and themselves the
// least, by the sum of their squares. A control point i that moves takes the point at t
// along by the Bernstein polynomial B_i(t), so that the least change under that equation
// is x = M^T (M M^T)^-1 by (Lagrange's multipliers). Both handles go the way of the
// pull then: the least change of the curve itself, in the mean over all of it, would
// have it swing back on the side that is not pulled. A side that is kept leaves its
// handle one unknown, its length.
func (w *bendWork) solve(a, b *bendSide) (out, in geom.Point, ok bool) {
	r, t := 1-w.t, w.t
	b1, b2 := 3*r*r*t, 3*r*t*t
	// Basis vectors of what may change, each moving one control point.
	type basis struct {
		first bool
		v     geom.Point
	}
	var list []basis
	for _, side := range []struct {
		first bool
		keep  *bendSide
	}{{true, a}, {false, b}} {
		if side.keep != nil {
			list = append(list, basis{side.first, side.keep.u})
			continue
		}
		list = append(list, basis{side.first, geom.Pt(1, 0)}, basis{side.first, geom.Pt(0, 1)})
	}
	out, in = w.from.P1.Sub(w.from.P0), w.from.P2.Sub(w.from.P3)
	by := w.by
	// Where a kept side does not have its direction yet, it gets it first.
	place := func(h *geom.Point, keep *bendSide, weight float64) {
		if keep == nil {
			return
		}
		turned := along(keep.u, *h)
		by = by.Sub(turned.Sub(*h).Mul(weight))
		*h = turned
	}
	place(&out, a, b1)
	place(&in, b, b2)
	weights := make([]geom.Point, len(list))
	// M M^T is 2 by 2.
	var xx, xy, yy float64
	for i, x := range list {
		weight := b2
		if x.first {
			weight = b1
		}
		m := x.v.Mul(weight)
		weights[i] = m
		xx, xy, yy = xx+m.X*m.X, xy+m.X*m.Y, yy+m.Y*m.Y
	}
	det := xx*yy - xy*xy
	if !(det > bendSingular*(xx+yy)*(xx+yy)) {
		return out, in, false
	}
	l := geom.Pt((by.X*yy-by.Y*xy)/det, (by.Y*xx-by.X*xy)/det)
	for i, x := range list {
		if way := x.v.Mul(weights[i].Dot(l)); x.first {
			out = out.Add(way)
		} else {
			in = in.Add(way)
		}
	}
	return out, in, w.sound(out, in, a, b)
}

// sound reports whether the handles of kept sides still point ahead and none runs off.
func (w *bendWork) sound(out, in geom.Point, a, b *bendSide) bool {
	if a != nil && out.Dot(a.u) <= 0 || b != nil && in.Dot(b.u) <= 0 {
		return false
	}
	if a == nil && b == nil {
		return true
	}
	s := w.from
	polygon := s.P0.Dist(s.P1) + s.P1.Dist(s.P2) + s.P2.Dist(s.P3)
	return max(out.Len(), in.Len()) <= bendReach*(polygon+w.by.Len())
}

// bendSingular is the share of the determinant below which the handles that may move
// cannot move the point in every direction: two directions within about 4 degrees.
const bendSingular = 1e-3

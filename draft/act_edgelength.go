package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// SetEdgeLengthArgs are the arguments of SetEdgeLength.
type SetEdgeLengthArgs struct {
	Edge   EdgeRef `arg:"edge" says:"the edge"`
	Length *Length `arg:"length" says:"how long it is to be, without the mouths of darts"`
	// Angle is that of the straight line from its start to its end on the bench.
	Angle *Angle   `arg:"angle" says:"the direction from its start to its end on the bench, 0 to the right and 90 up"`
	Moves *EdgeEnd `arg:"moves" says:"the end that moves; without it, the end, or the start where a fold begins at the end"`
}

// EdgeEnd names one of the two ends of an edge.
type EdgeEnd int

const (
	EdgeStart EdgeEnd = iota
	EdgeFinish
)

var edgeEndNames = names[EdgeEnd]{"start", "end"}

func (e EdgeEnd) String() string               { return edgeEndNames.text(e) }
func (e EdgeEnd) MarshalText() ([]byte, error) { return edgeEndNames.marshal(e) }

// UnmarshalText reads start or end.
func (e *EdgeEnd) UnmarshalText(b []byte) error {
	return edgeEndNames.unmarshal(e, b, "end of an edge")
}

// SetEdgeLength makes an edge as long as told by moving one of its ends along it: a
// shorter one stops earlier on its own curve, a longer one runs on in it. With an
// angle, the whole edge turns about its other end. The length is exact to 1e-9 before
// coordinates go to the grid.
var SetEdgeLength = register(Info{
	Name: "set-edge-length", Title: "Set an edge's length", Group: groupEdges,
	Says: "Makes an edge as long as told, or turns it, by moving one of its ends.",
}, func(p *Project, a SetEdgeLengthArgs) (Outcome, error) {
	return onEdge(p, a.Edge, func(_ *Piece, c *course) error { return c.set(a.Length, a.Angle, a.Moves, p.Unit) })
})

// SetLineLengthArgs are the arguments of SetLineLength.
type SetLineLengthArgs struct {
	Line   LineRef  `arg:"line" says:"the line"`
	Length *Length  `arg:"length" says:"how long it is to be"`
	Angle  *Angle   `arg:"angle" says:"the direction from its start to its end on the bench, 0 to the right and 90 up"`
	Moves  *EdgeEnd `arg:"moves" says:"the end that moves; without it, the end"`
}

// SetLineLength is SetEdgeLength for a line inside a piece.
var SetLineLength = register(Info{
	Name: "set-line-length", Title: "Set a line's length", Group: groupDrawing,
	Says: "Makes a line inside a piece as long as told, or turns it, by moving one of its ends.",
}, func(p *Project, a SetLineLengthArgs) (Outcome, error) {
	return onLine(p, a.Line, func(_ *Piece, c *course) error { return c.set(a.Length, a.Angle, a.Moves, p.Unit) })
})

// set gives the course a length, a direction, or both.
func (c *course) set(length *Length, angle *Angle, moves *EdgeEnd, unit Unit) error {
	if length == nil && angle == nil {
		return errors.New("neither a length nor an angle is given")
	}
	end, err := c.movingEnd(moves)
	if err != nil {
		return err
	}
	if length != nil {
		if err := c.setLength(float64(*length), end, unit); err != nil {
			return err
		}
	}
	if angle == nil {
		return nil
	}
	return c.turnTo(float64(*angle)-c.piece.Place.Turn, end)
}

// movingEnd returns the end that is to move, and why none can.
func (c *course) movingEnd(wanted *EdgeEnd) (EdgeEnd, error) {
	if c.closed() {
		return 0, fmt.Errorf("%s is closed in itself and has no end to move", c.what)
	}
	if c.edge < 0 {
		if wanted != nil {
			return *wanted, nil
		}
		return EdgeFinish, nil
	}
	n := len(c.piece.Edges)
	fold := [2]bool{
		EdgeStart:  c.piece.Edges[(c.edge+n-1)%n].Kind == FoldEdge,
		EdgeFinish: c.piece.Edges[(c.edge+1)%n].Kind == FoldEdge,
	}
	switch {
	case wanted != nil && fold[*wanted], fold[EdgeStart] && fold[EdgeFinish]:
		return 0, fmt.Errorf("%s ends at the fold there, which is to stay straight", c.what)
	case wanted != nil:
		return *wanted, nil
	case fold[EdgeFinish]:
		return EdgeStart, nil
	}
	return EdgeFinish, nil
}

// shortestEdge is the least length in mm to which an edge is set.
const shortestEdge = 0.1

// setLength makes the course want mm long by moving the end along it.
func (c *course) setLength(want float64, end EdgeEnd, unit Unit) error {
	if want < shortestEdge {
		return fmt.Errorf("an edge is at least %s long, and cannot be %s", unit.Format(shortestEdge), unit.Format(want))
	}
	if c.edge >= 0 && c.piece.Edges[c.edge].Kind == FoldEdge && end == EdgeStart {
		end = EdgeFinish // along the fold either end is as good
	}
	now := c.length()
	if now == 0 {
		return fmt.Errorf("%s has no length and no direction in which it could be longer", c.what)
	}
	if want < now {
		return c.shorten(now-want, end)
	}
	return c.runOn(want-now, end)
}

// last returns the stretch at an end, run towards that end, and the indices of its two
// nodes, the one at the end first.
func (c *course) last(end EdgeEnd) (s geom.Segment, at, inner int) {
	if end == EdgeFinish {
		n := len(c.nodes) - 1
		return c.stretch(n - 1), n, n - 1
	}
	return c.stretch(0).Reverse(), 0, 1
}

// shorten takes by mm off the course at an end.
func (c *course) shorten(by float64, end EdgeEnd) error {
	for {
		s, at, inner := c.last(end)
		length := s.Length()
		if c.gap(min(at, inner)) {
			return errors.New("a dart opens at this place, and the edge cannot end before it")
		}
		if by < length {
			if length-by < shortestStretch {
				by = length - shortestStretch
			}
			kept, _ := s.Split(s.AtLength(length - by))
			c.setLast(kept, at, inner)
			return nil
		}
		by -= length
		n := c.nodes[inner]
		if len(c.nodes) == 2 {
			return errors.New("nothing would be left of it")
		}
		if c.edge >= 0 {
			if err := c.piece.isFree(n.ID); err != nil {
				return err
			}
		}
		c.dropInner(at, inner)
	}
}

// dropInner takes the node beside an end away; the end comes to its place, and the
// stretch beyond keeps its shape.
func (c *course) dropInner(at, inner int) {
	e, n := c.nodes[at], *c.nodes[inner]
	e.At = n.At
	if at > inner {
		e.In = n.In
	} else {
		e.Out = n.Out
	}
	list := *c.list
	kept := make([]Node, 0, len(list)-1)
	for _, m := range list {
		if m.ID != n.ID {
			kept = append(kept, m)
		}
	}
	*c.list = kept
	if c.edge >= 0 {
		*c = *c.piece.courseOfEdge(c.edge)
	} else {
		*c = *c.piece.courseOfLine(c.line)
	}
}

// setLast gives the stretch at an end another shape, run towards that end.
func (c *course) setLast(s geom.Segment, at, inner int) {
	e, n := c.nodes[at], c.nodes[inner]
	e.At = s.P3
	if s.Straight {
		return
	}
	out, in := s.P1.Sub(s.P0), s.P2.Sub(s.P3)
	if at > inner {
		n.Out, e.In = out, in
	} else {
		n.In, e.Out = out, in
	}
}

// farthestRun is the parameter up to which a curve is run on by its own formula; beyond
// it a cubic soon turns away, and the edge goes on straight.
const farthestRun = 1.5

// runOn makes the course longer by so many mm at an end: in its own curve where that
// stays calm, else straight on from it.
func (c *course) runOn(by float64, end EdgeEnd) error {
	s, at, inner := c.last(end)
	if c.gap(min(at, inner)) {
		return errors.New("a dart opens at its end, and it cannot be longer there")
	}
	if by == 0 {
		return nil
	}
	want := s.Length() + by
	if s.Straight {
		u := s.P3.Sub(s.P0).Unit()
		c.setLast(geom.Line(s.P0, s.P0.Add(u.Mul(want))), at, inner)
		return nil
	}
	if long, _ := s.Split(farthestRun); long.Length() >= want {
		if long = long.Between(0, long.AtLength(want)); calm(s, long) {
			c.setLast(long, at, inner)
			return nil
		}
	}
	// The last handle and the end go on along the tangent, so that the stretch is a
	// cubic still and as long as wanted.
	u := s.Tangent(1)
	if u == (geom.Point{}) {
		return errors.New("its end has no direction in which it could run on")
	}
	longer := func(x float64) geom.Segment {
		return geom.Cubic(s.P0, s.P1, s.P2.Add(u.Mul(x*2/3)), s.P3.Add(u.Mul(x)))
	}
	lo, hi := 0.0, by
	for longer(hi).Length() < want {
		if hi *= 2; hi > MaxCoordinate {
			return errors.New("it cannot be made so long")
		}
	}
	for range 200 { // halves the way down to rounding
		mid := (lo + hi) / 2
		if longer(mid).Length() < want {
			lo = mid
		} else {
			hi = mid
		}
		if mid == lo && mid == hi {
			break
		}
	}
	c.setLast(longer(hi), at, inner)
	return nil
}

// calmTurn is how far, in radians, a curve may turn on where it is run on: 30 degrees.
const calmTurn = math.Pi / 6

// calm reports whether a curve that was run on goes on about as it did.
func calm(s, long geom.Segment) bool {
	u, v := s.Tangent(1), long.Tangent(1)
	return u.Dot(v) > math.Cos(calmTurn)
}

// turnTo turns the course about the end that stays, until the straight line from its
// start to its end has the angle in the piece's own millimetres.
func (c *course) turnTo(angle float64, end EdgeEnd) error {
	if c.edge >= 0 && c.piece.Edges[c.edge].Kind == FoldEdge {
		return fmt.Errorf("%s is a fold; turn the piece instead", c.what)
	}
	first, last := c.nodes[0], c.nodes[len(c.nodes)-1]
	chord := last.At.Sub(first.At)
	if chord.Len() < shortestStretch {
		return errors.New("its two ends are one point and have no direction")
	}
	about := first.At
	if end == EdgeStart {
		about = last.At
	}
	turn := geom.Rotation(angle-chord.Angle(), about)
	for i, n := range c.nodes {
		n.At = turn.Apply(n.At)
		if i > 0 {
			n.In = turn.ApplyVector(n.In)
		}
		if i < len(c.nodes)-1 {
			n.Out = turn.ApplyVector(n.Out)
		}
	}
	if c.edge < 0 {
		return nil
	}
	for i := range c.piece.Darts {
		if d := &c.piece.Darts[i]; d.Edge == c.piece.Edges[c.edge].ID {
			d.Apex = turn.Apply(d.Apex)
		}
	}
	return nil
}

// SquareEdgeArgs are the arguments of SquareEdge.
type SquareEdgeArgs struct {
	Edge EdgeRef `arg:"edge" says:"the edge"`
	At   EdgeEnd `arg:"at" says:"at which of its ends"`
}

// SquareEdge squares an edge off at a corner: it leaves the edge beside it at a right
// angle. The corner stays where it is; a straight stretch becomes a curve that leaves
// its other end in the old direction.
var SquareEdge = register(Info{
	Name: "square-edge", Title: "Square an edge off", Group: groupEdges,
	Says: "Has an edge leave the one beside it at a right angle; the corner stays.",
}, func(p *Project, a SquareEdgeArgs) (Outcome, error) {
	return byEdge(p, []EdgeRef{a.Edge}, func(q *Piece, i int) error {
		c := q.courseOfEdge(i)
		if err := c.mayBend(); err != nil {
			return err
		}
		if len(q.Edges) == 1 {
			return fmt.Errorf("%s is closed in itself and has no corner", c.what)
		}
		return c.square(a.At)
	})
})

// square turns the course at an end square to what lies beyond it.
func (c *course) square(end EdgeEnd) error {
	s, at, inner := c.last(end)
	if c.gap(min(at, inner)) {
		return errors.New("a dart opens at this corner")
	}
	corner := c.nodes[at]
	beyond := segment(*corner, *c.after).Tangent(0)
	if end == EdgeStart {
		beyond = segment(*c.before, *corner).Tangent(1).Mul(-1)
	}
	u := s.Tangent(1).Mul(-1) // from the corner into the edge
	square := beyond.Left()
	if square.Dot(u) < 0 {
		square = square.Mul(-1)
	}
	if square == (geom.Point{}) || square.Dot(u) < squareNear {
		return errors.New("it runs on from the edge beside it, and cannot be square to that")
	}
	handle := s.P2.Dist(s.P3)
	if handle == 0 {
		handle = s.P0.Dist(s.P3) / 3
	}
	out := s.P1.Sub(s.P0)
	s = geom.Cubic(s.P0, s.P0.Add(out), corner.At.Add(square.Mul(handle)), corner.At)
	c.setLast(s, at, inner)
	return nil
}

// squareNear is the cosine of the largest turn that squares an edge off: 75 degrees.
const squareNear = 0.26

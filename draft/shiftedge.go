package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// shiftKnot is a place of an edge and how far it moves: at is mm from the edge's start, out
// mm out of the piece, below 0 into it.
type shiftKnot struct{ at, out float64 }

// shiftLine says how far each place of an edge moves square to it: at each knot as far as
// that says, level there, and between two by the smooth step 3u²-2u³, which on a straight
// line is exactly a cubic. Before the first knot and after the last it stays the same.
type shiftLine []shiftKnot

// at returns how far the place s mm from the start moves, and how fast that grows along the
// edge.
func (l shiftLine) at(s float64) (out, slope float64) {
	for k := 1; k < len(l); k++ {
		a, b := l[k-1], l[k]
		if s > b.at {
			continue
		}
		if s <= a.at {
			return a.out, 0
		}
		u := (s - a.at) / (b.at - a.at)
		by := b.out - a.out
		return a.out + by*u*u*(3-2*u), 6 * by * u * (1 - u) / (b.at - a.at)
	}
	if s <= l[0].at {
		return l[0].out, 0
	}
	return l[len(l)-1].out, 0
}

// level reports whether all of the stretch from a to b moves alike.
func (l shiftLine) level(a, b float64) bool {
	from, _ := l.at(a)
	to, _ := l.at(b)
	mid, _ := l.at((a + b) / 2)
	return from == to && from == mid
}

// knotReach is how near a point of an edge must lie to a knot to be taken for it, as a share
// of the edge's length: another one beside it would make a line of short stretches.
const knotReach = 1. / 50

// shiftEdge moves edge i of a piece that may be written to. Points are put in at the knots;
// all others stay on the line. Where an end of the edge moves, it goes along the edge beside
// it, which is cut shorter or runs on. The legs of a dart that opens on the edge get shorter
// or longer alike; its tip stays. It returns the nodes at the corners that moved.
func (p *Piece) shiftEdge(i int, line shiftLine, ids *idSource) (corners []ID, err error) {
	e := &p.Edges[i]
	if e.Kind == FoldEdge {
		return nil, fmt.Errorf("edge %s is a fold and stays where it is; move the edges beside it", e.label())
	}
	if len(p.Edges) < 2 {
		return nil, errors.New("its outline is one edge without corners, along which nothing could end")
	}
	marks := p.marksAlong()
	line, err = p.addKnots(i, line, ids)
	if err != nil {
		return nil, err
	}
	nodes, err := p.movedNodes(i, line)
	if err != nil {
		return nil, err
	}
	last := len(nodes) - 1
	for _, end := range [...]struct {
		k, edge int
		at      EdgeEnd
	}{{0, p.beside(i, EdgeStart), EdgeFinish}, {last, p.beside(i, EdgeFinish), EdgeStart}} {
		out, _ := line.at(nodes[end.k].at)
		if out == 0 {
			continue
		}
		if err := p.slideCorner(end.edge, end.at, nodes[end.k].side, out); err != nil {
			return nil, err
		}
		corners = append(corners, nodes[end.k].id)
	}
	c := p.courseOfEdge(i)
	for k, n := range nodes {
		to := c.nodes[k]
		if k > 0 && k < last {
			to.At = to.At.Add(n.by)
			to.Smooth = to.Smooth || n.smooth
		}
		if k > 0 {
			to.In = n.in
		}
		if k < last {
			to.Out = n.out
		}
	}
	p.keepMarksAlong(i, marks)
	return corners, nil
}

// addKnots puts points at the knots inside edge i that lie near none, and returns the line
// with its knots at points.
func (p *Piece) addKnots(i int, line shiftLine, ids *idSource) (shiftLine, error) {
	length := p.EdgeLength(i)
	out := append(shiftLine(nil), line...)
	for k := range out {
		if at, near := p.nodeNear(i, out[k].at, length*knotReach); near {
			out[k].at = at
			continue
		}
		j, t := p.locate(i, out[k].at)
		if err := p.insert(i, j, t, ids.make(kindNode)); err != nil {
			return nil, err
		}
	}
	for k := 1; k < len(out); k++ {
		if out[k].at <= out[k-1].at {
			return nil, errors.New("two places lie too near to each other to tell them apart")
		}
	}
	return out, nil
}

// nodeNear returns where along edge i its point lies that is nearest to a place, if that is
// within reach.
func (p *Piece) nodeNear(i int, at, reach float64) (float64, bool) {
	best, near := 0.0, false
	for _, s := range p.nodePlaces(i) {
		if d := math.Abs(s - at); d <= reach {
			best, reach, near = s, d, true
		}
	}
	return best, near
}

// nodePlaces returns where along edge i each of its points lies, its end included, in mm
// without the mouths of darts.
func (p *Piece) nodePlaces(i int) []float64 {
	c := p.courseOfEdge(i)
	list := make([]float64, len(c.nodes))
	for k := range len(c.nodes) - 1 {
		list[k+1] = list[k]
		if !c.gap(k) {
			list[k+1] += c.stretch(k).Length()
		}
	}
	return list
}

// shiftedNode is a point of an edge that moves.
type shiftedNode struct {
	id      ID
	at      float64 // along the edge, mm
	by      geom.Point
	in, out geom.Point
	// side is the unit normal of the edge at the point, out of the piece.
	side   geom.Point
	smooth bool
}

// movedNodes works out where the points of edge i come to, with handles that follow the moved
// line: with unit tangent T, outward normal n and curvature κ, the line c + d·n has the
// derivative (1 + d·κ)·T + d'·n along c (do Carmo, Differential Geometry of Curves and
// Surfaces, 1976, exercise 1-5.6, for constant d). The handles of a line that is bent get
// the length of a third of it.
func (p *Piece) movedNodes(i int, line shiftLine) ([]shiftedNode, error) {
	c, places := p.courseOfEdge(i), p.nodePlaces(i)
	last := len(c.nodes) - 1
	list := make([]shiftedNode, last+1)
	for k, n := range c.nodes {
		m := &list[k]
		*m = shiftedNode{id: n.ID, at: places[k], in: n.In, out: n.Out}
		d, slope := line.at(places[k])
		var before, after geom.Point // tangents on both sides
		if k > 0 && !c.gap(k-1) {
			s := c.stretch(k - 1)
			before = s.Tangent(1)
			if !s.Straight || !line.level(places[k-1], places[k]) {
				v, err := movedHandle(handleLength(s.Reverse()), before, d, slope, meanBend(s, 0.5, 1))
				if err != nil {
					return nil, err
				}
				m.in = v.Mul(-1)
			}
		}
		if k < last && !c.gap(k) {
			s := c.stretch(k)
			after = s.Tangent(0)
			if !s.Straight || !line.level(places[k], places[k+1]) {
				v, err := movedHandle(handleLength(s), after, d, slope, meanBend(s, 0, 0.5))
				if err != nil {
					return nil, err
				}
				m.out = v
			}
		}
		m.side = outward(before, after)
		m.by = m.side.Mul(d)
		m.smooth = before != (geom.Point{}) && after != (geom.Point{}) && before.Dot(after) > 0 && math.Abs(before.Cross(after)) < straightSlack
	}
	return list, p.shiftMouths(c, list, line)
}

// outward returns the vector by which a point moves for each mm that the edge beside it
// moves out, where the edge has these unit tangents before and after it; one of them may be
// zero.
func outward(before, after geom.Point) geom.Point {
	a, b := clothless(before), clothless(after)
	switch {
	case before == geom.Point{}:
		return b
	case after == geom.Point{}:
		return a
	}
	if half := 1 + a.Dot(b); half > 0.1 { // else the edge turns back on itself there
		return a.Add(b).Mul(1 / half)
	}
	return b
}

// clothless returns the side of a line on which the cloth does not lie: an outline has it on
// the left.
func clothless(tangent geom.Point) geom.Point { return tangent.Left().Mul(-1) }

// leastKept is how much of its length a handle must keep where the line moves towards the
// centre of its bend: less, and the moved line has a kink.
const leastKept = 0.2

// movedHandle returns the handle of a line that has moved, along its run: h is the length of
// the handle before, tangent and bend the direction and curvature of the line there, d how
// far the point moves out and slope how fast that grows.
func movedHandle(h float64, tangent geom.Point, d, slope, bend float64) (geom.Point, error) {
	if 1+d*bend < leastKept {
		return geom.Point{}, errors.New("the edge is bent too tightly to move so far; move it less")
	}
	return tangent.Mul(h * (1 + d*bend)).Add(clothless(tangent).Mul(h * slope)), nil
}

// meanBend returns the mean curvature of a stretch from one parameter to another in 1/mm, as
// Segment.Curvature counts it. What it is at a node alone says little where the handle there
// is short.
func meanBend(s geom.Segment, from, to float64) float64 {
	part := s.Between(from, to)
	a, b := part.Tangent(0), part.Tangent(1)
	length := part.Length()
	if s.Straight || !(length > 0) {
		return 0
	}
	return math.Atan2(a.Cross(b), a.Dot(b)) / length
}

// handleLength returns the length of the handle at the start of a stretch: of a line, what
// it has as a curve.
func handleLength(s geom.Segment) float64 {
	if s.Straight {
		return s.Length() / 3
	}
	return s.P1.Sub(s.P0).Len()
}

// shiftMouths has the two points at the mouth of a dart move by one shift, along the middle
// of the dart, so that its legs stay as long as each other.
func (p *Piece) shiftMouths(c *course, list []shiftedNode, line shiftLine) error {
	for k := range len(c.nodes) - 1 {
		if !c.gap(k) {
			continue
		}
		d, _ := line.at(list[k].at)
		if d == 0 {
			continue
		}
		dart := p.dartAt(c.nodes[k].ID, c.nodes[k+1].ID)
		from, to := c.nodes[k].At, c.nodes[k+1].At
		way, across := from.Lerp(to, 0.5).Sub(dart.Apex), clothless(to.Sub(from).Unit())
		lean := way.Unit().Dot(across)
		if lean < 0.5 {
			return fmt.Errorf("%s lies too slanting to the edge to move its mouth", dart.called())
		}
		if depth := way.Len() * lean; d < 0 && depth+d < leastDartLength {
			return fmt.Errorf("%s would be gone: its tip lies %s from the edge", dart.called(), exactFigure(math.Round(depth*10)/10)+" mm")
		}
		by := way.Unit().Mul(d / lean)
		list[k].by, list[k+1].by = by, by
	}
	return nil
}

// leastDartLength is how far, in mm, the tip of a dart must lie from its mouth at least.
const leastDartLength = 2

// slideCorner moves a corner along an edge that meets it until it lies out mm beyond the
// line of the other edge there, whose outward side is given: the edge gets shorter, or runs
// on.
func (p *Piece) slideCorner(i int, end EdgeEnd, side geom.Point, out float64) error {
	c := p.courseOfEdge(i)
	corner := c.nodes[0].At
	if end == EdgeFinish {
		corner = c.nodes[len(c.nodes)-1].At
	}
	side = side.Unit()
	length := c.length()
	marks := p.marksAlong()
	// reach returns how far out the corner lies once the edge is so much longer, and the
	// piece with it.
	reach := func(by float64) (float64, *Piece, error) {
		q := p.clone()
		c := q.courseOfEdge(i)
		var err error
		if by < 0 {
			err = c.shorten(-by, end)
		} else {
			err = c.runOn(by, end)
		}
		if err != nil {
			return 0, nil, err
		}
		at := q.Edges[i].Nodes[0].At
		if end == EdgeFinish {
			at = q.nodeAt(i, len(q.Edges[i].Nodes)).At
		}
		return at.Sub(corner).Dot(side), q, nil
	}
	sign := 1.0
	if out < 0 {
		sign = -1
	}
	lo, hi := 0.0, out*sign
	var best *Piece
	for {
		if sign < 0 && hi > length-shortestEdge {
			return fmt.Errorf("edge %s beside it is too short for that", p.Edges[i].label())
		}
		got, q, err := reach(sign * hi)
		if err != nil {
			return fmt.Errorf("edge %s beside it: %w", p.Edges[i].label(), err)
		}
		if got*sign >= out*sign {
			best = q
			break
		}
		if lo, hi = hi, hi*1.5; hi > mostSlide*out*sign {
			return fmt.Errorf("edge %s beside it meets it too slantingly", p.Edges[i].label())
		}
	}
	for range slideHalvings {
		mid := (lo + hi) / 2
		got, q, err := reach(sign * mid)
		if err != nil {
			return err
		}
		if got*sign >= out*sign {
			hi, best = mid, q
		} else {
			lo = mid
		}
	}
	*p = *best
	p.keepMarksFrom(i, end, marks)
	return nil
}

const (
	// mostSlide is how many times as far as its edge a corner may move along the edge beside.
	mostSlide = 6
	// slideHalvings finds a corner to a millionth of a millionth of how far it slides.
	slideHalvings = 45
)

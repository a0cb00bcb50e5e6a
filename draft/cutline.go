package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// runOnReach is how far, in mm, a line inside a piece may end from the outline and still
// be meant to reach it: what a hand that draws it stops short by.
const runOnReach = 2

// errFoldTwice says that a cut would leave a piece with two folds.
var errFoldTwice = errors.New("the cut begins and ends on the fold and would leave a piece that folds on two lines; cut from the fold to another edge")

// across returns the way of a cut along a line inside the piece: the places at which it
// begins and ends, and the line between them. A line that ends a little inside the piece
// is run on straight, one that runs out of it is cut off at the outline.
func (p *Piece) across(l *Line, unit Unit) (a, b outlinePlace, line geom.Path, err error) {
	if l.Closed || len(l.Nodes) < 2 {
		return a, b, nil, fmt.Errorf("line %s leads from no edge to another; a piece is cut in two along an open line", labelOf(l.Name, l.ID))
	}
	line = l.Path()
	outline := p.DrawnPath()
	for range 2 {
		line = line.Reverse()
		if line, err = reachedEnd(line, outline); err != nil {
			return a, b, nil, fmt.Errorf("line %s ends inside the piece, more than %s from its outline; draw it on to an edge", labelOf(l.Name, l.ID), unit.Format(runOnReach))
		}
	}
	a, b = p.placeAt(line.Start()), p.placeAt(line.End())
	return a, b, line, nil
}

// reachedEnd returns the line so that it ends on the outline.
func reachedEnd(line, outline geom.Path) (geom.Path, error) {
	if _, off := outline.Nearest(line.End()); off <= fitReach {
		return line, nil
	}
	if !outline.Contains(line.End()) {
		meets := line.Intersections(outline)
		if len(meets) == 0 {
			return nil, errors.New("the line does not reach the piece")
		}
		part := line.Part(geom.Place{}, meets[len(meets)-1].A)
		if len(part) == 0 { // only its start touches the piece
			return nil, errors.New("the line does not reach into the piece")
		}
		return part, nil
	}
	last := line[len(line)-1]
	on := geom.Path{geom.Line(last.P3, last.P3.Add(last.Tangent(1).Mul(runOnReach)))}
	meets := on.Intersections(outline)
	if len(meets) == 0 {
		// It may end beside an edge at a slant, near enough to mean it all the same.
		at, off := outline.Nearest(last.P3)
		if off > runOnReach/2 {
			return nil, errors.New("the line ends inside the piece")
		}
		return append(append(geom.Path(nil), line...), geom.Line(last.P3, outline.At(at))), nil
	}
	return append(append(geom.Path(nil), line...), geom.Line(last.P3, meets[0].P)), nil
}

// placeAt returns the place of the outline nearest to a point.
func (p *Piece) placeAt(q geom.Point) outlinePlace {
	best, least := outlinePlace{}, math.Inf(1)
	for i := range p.Edges {
		nodes := p.EdgeNodes(i)
		along := 0.0
		for k := 1; k < len(nodes); k++ {
			s := segment(nodes[k-1], nodes[k])
			t, off := s.Nearest(q)
			mouth := p.dartAt(nodes[k-1].ID, nodes[k].ID) != nil
			if off < least {
				best, least = outlinePlace{i, along}, off
				if !mouth {
					best.along += s.LengthTo(t)
				}
			}
			if !mouth {
				along += s.Length()
			}
		}
	}
	return best
}

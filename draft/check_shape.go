package draft

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"hemlet/geom"
)

// checkOutline finds a stitching line that bounds no cloth and a cut line that
// cannot be made.
func (c *pieceCheck) checkOutline(flat *Flat, err error) {
	var unsound *geom.OutlineError
	switch {
	case errors.As(err, &unsound) && unsound.Intricate():
		c.add(Problem, nil, "cut line", "It has no cut line: %v. Draw its outline with fewer points.", unsound)
	case errors.As(err, &unsound):
		c.addUnsound(flat, unsound)
	case err != nil && !errors.Is(err, ErrNoFold):
		c.add(Problem, nil, "cut line", "It has no cut line: %v.", rootCause(err))
	}
	if flat == nil || len(flat.Cut) == 0 {
		return
	}
	if box := flat.Cut.Bounds(); math.Max(box.W(), box.H()) < smallestPiece {
		f := c.add(LookAgain, nil, "tiny", "It is only %s long. Was the drawing read in the right unit?", c.unit.Format(math.Max(box.W(), box.H())))
		f.mend("Take its millimetres for centimetres", "scale-piece", "pieces", idText(c.piece.ID), "factor", "10")
		f.mend("Take its millimetres for inches", "scale-piece", "pieces", idText(c.piece.ID), "factor", "25.4")
	}
}

// addUnsound tells why an outline has no inside to cut, and where.
func (c *pieceCheck) addUnsound(flat *Flat, why *geom.OutlineError) {
	var edge *Edge
	if flat != nil && why.Edge >= 0 && why.Edge < len(flat.Edges) {
		edge = flat.Edges[why.Edge].Edge
	}
	says := why.Why
	if !strings.HasPrefix(says, "the ") {
		says = "the edge " + says
	}
	f := c.add(Problem, edge, "outline", "There is no inside to cut: %s. Move its points until it encloses the piece once.", says)
	if why.At != (geom.Point{}) {
		at := why.At
		f.At = &at
	}
}

// smallestPiece is a size in mm below which no piece of cloth can be held and
// sewn; most often the drawing's unit was taken wrongly. (Common practice, no
// source.)
const smallestPiece = 5

// rootCause returns the innermost error, whose text says why.
func rootCause(err error) error {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return err
		}
		err = inner
	}
}

// squareSlack is how far, in degrees, a corner at the fold may be from square
// before the unfolded edge shows a point: a pencil line drawn with a set square is
// that good. (Common practice, no source.)
const squareSlack = 3

// pointMeant is how far off square, in degrees, an edge that meets the fold is meant
// to make a point: the neck of a V, a pointed hem, a collar. What comes of a slip of
// the hand is less. (Common practice, no source.)
const pointMeant = 25

// checkFold finds a fold that is missing, doubled, bent, or met at a slant.
func (c *pieceCheck) checkFold() {
	var folds []int
	for i, e := range c.piece.Edges {
		if e.Kind == FoldEdge {
			folds = append(folds, i)
		}
	}
	if c.piece.Cut.Way != CutOnFold {
		if len(folds) > 0 {
			edge := &c.piece.Edges[folds[0]]
			f := c.add(LookAgain, edge, "fold unused", "The edge is a fold, but the piece is cut as drawn: half the garment would be missing. Cut it on the fold, or make the edge a seam.")
			f.mend("Cut it on the fold", "set-cut", "pieces", idText(c.piece.ID), "way", CutOnFold.String())
			f.mend("Make the edge a seam", "set-kind", "edges", c.piece.edgeText(edge), "kind", SeamEdge.String())
		}
		return
	}
	if len(folds) == 0 {
		f := c.add(Problem, nil, "fold", "It is cut on the fold, but none of its edges is a fold. Make one edge a fold, or change how it is cut.")
		if edge := c.likelyFold(); edge != nil {
			f.mend("Make the "+edge.label()+" its fold", "set-kind", "edges", c.piece.edgeText(edge), "kind", FoldEdge.String())
		}
		f.mend("Cut it as drawn", "set-cut", "pieces", idText(c.piece.ID), "way", CutSingle.String(), "count", strconv.Itoa(max(c.piece.Cut.Count, 1)))
		return
	}
	if len(folds) > 1 {
		f := c.add(Problem, &c.piece.Edges[folds[1]], "fold twice", "It has %d fold edges; cloth folds on one. Leave one and make the others seams.", len(folds))
		var others []*Edge
		for _, i := range folds[1:] {
			others = append(others, &c.piece.Edges[i])
		}
		f.mend("Keep the first and make the others seams", "set-kind", "edges", c.piece.edgesText(others), "kind", SeamEdge.String())
	}
	c.checkFoldLine(folds[0])
	c.checkFoldCorners(folds[0])
}

func (c *pieceCheck) checkFoldLine(i int) {
	edge, line := &c.piece.Edges[i], c.piece.EdgePath(i)
	if off := bend(line); off > FoldTolerance {
		f := c.add(Problem, edge, "fold bent", "The fold bends by %s; cloth folds on a straight line only, so the two halves would not match. Straighten the edge.", c.unit.FormatSmall(off))
		f.Value, f.Limit = off, FoldTolerance
		f.mend("Straighten the edge", "straighten-edge", "edges", c.piece.edgeText(edge))
	}
	// The mirror image must lie beyond the fold, not on the piece.
	a, b := line.Start(), line.End()
	along := b.Sub(a).Unit()
	over := 0.0
	for k := range c.piece.Edges {
		for _, n := range c.piece.EdgePath(k).Flatten(FoldTolerance) {
			over = math.Max(over, -along.Cross(n.Sub(a)))
		}
	}
	if over > FoldTolerance {
		f := c.add(Problem, edge, "fold inside", "The piece reaches %s across its own fold, so that the two halves would overlap. Move the fold out or the edge in.", c.unit.FormatSmall(over))
		f.Value, f.Limit = over, FoldTolerance
	}
}

// checkFoldCorners finds edges that do not meet the fold squarely.
func (c *pieceCheck) checkFoldCorners(i int) {
	n := len(c.piece.Edges)
	if n < 3 {
		return
	}
	fold := c.piece.EdgePath(i)
	along := fold.End().Sub(fold.Start()).Unit()
	before, after := c.piece.EdgePath((i+n-1)%n), c.piece.EdgePath((i+1)%n)
	c.checkSquare((i+n-1)%n, EdgeFinish, before[len(before)-1].Tangent(1), along)
	c.checkSquare((i+1)%n, EdgeStart, after[0].Tangent(0), along)
}

func (c *pieceCheck) checkSquare(edge int, at EdgeEnd, tangent, along geom.Point) {
	off := math.Abs(math.Asin(min(max(tangent.Dot(along), -1), 1))) * 180 / math.Pi
	if off <= squareSlack || off > pointMeant {
		return
	}
	f := c.add(LookAgain, &c.piece.Edges[edge], "fold corner", "It meets the fold %.0f° off square: unfolded, the edge has a point or a dip there. Draw its last bit square to the fold.", off)
	f.mend("Draw it square to the fold", "square-edge", "edge", c.piece.edgeText(&c.piece.Edges[edge]), "at", at.String())
}

// likelyFold returns the edge that is most likely meant as the fold: the longest straight
// one that is sewn to nothing, or nil.
func (c *pieceCheck) likelyFold() *Edge {
	var best *Edge
	length := 0.0
	for i := range c.piece.Edges {
		e := &c.piece.Edges[i]
		path := c.piece.EdgePath(i)
		if e.Kind != SeamEdge || c.lookup.sewn[edgeKey{c.piece.ID, e.ID}] || bend(path) > FoldTolerance || path.Length() <= length {
			continue
		}
		best, length = e, path.Length()
	}
	return best
}

// bend returns the largest distance in mm of the path from its chord.
func bend(p geom.Path) float64 {
	a, b := p.Start(), p.End()
	along := b.Sub(a).Unit()
	off := 0.0
	for _, q := range p.Flatten(FoldTolerance / 10) {
		off = math.Max(off, math.Abs(along.Cross(q.Sub(a))))
	}
	return off
}

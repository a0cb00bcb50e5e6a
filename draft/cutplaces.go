package draft

import (
	"errors"

	"hemlet/geom"
)

// laidBetween returns a course laid so that it runs from a to b: turned, and as large as
// that takes.
func laidBetween(course geom.Path, a, b geom.Point) (geom.Path, error) {
	if len(course) == 0 || course.Start().Dist(course.End()) < shortestStretch || a.Dist(b) < shortestStretch {
		return nil, errors.New("a course leads from one place to another")
	}
	from, to := course.Start(), course.End()
	was, is := to.Sub(from), b.Sub(a)
	// The quotient of the two ways as complex numbers turns and sizes the one to the other.
	k := 1 / was.Dot(was)
	c, s := was.Dot(is)*k, was.Cross(is)*k
	m := geom.Translation(from.Mul(-1)).Then(geom.Affine{A: c, B: s, C: -s, D: c}).Then(geom.Translation(a))
	laid := course.Transform(m)
	laid[0].P0, laid[len(laid)-1].P3 = a, b // but for rounding they are there already
	return laid, nil
}

// byPlaces says the same cut by the places at which its line meets the outline.
func (a SplitPieceArgs) byPlaces(before *Project) (any, bool) {
	if a.Line == nil {
		return nil, false
	}
	c, err := before.cutFor(a)
	if err != nil {
		return nil, false
	}
	from, to := c.shares()
	a.Line, a.From, a.To, a.Seam = nil, &from, &to, c.name
	if len(c.line) > 1 || !c.line[0].Straight {
		course := Drawn(c.line)
		a.Course = &course
	}
	return a, true
}

// byPlaces says the same fold by the places at which its line meets the outline.
func (a FoldPieceArgs) byPlaces(before *Project) (any, bool) {
	if a.Line == nil {
		return nil, false
	}
	c, err := before.foldFor(a)
	if err != nil {
		return nil, false
	}
	from, to := c.shares()
	a.Line, a.From, a.To = nil, &from, &to
	return a, true
}

// shares returns the ends of the cut as shares of the edges on which they lie.
func (c pieceCut) shares() (from, to PlaceRef) {
	at := func(o outlinePlace) PlaceRef {
		place := EdgePlace{Share: true}
		if length := c.piece.EdgeLength(o.edge); length > 0 {
			place.At = min(o.along/length, 1)
		}
		return PlaceRef{c.piece.ID, c.piece.Edges[o.edge].ID, place}
	}
	return at(c.a), at(c.b)
}

// byPlaces says the same join by the two edges: a seam that the maker has recorded is not
// there when the pieces are generated.
func (a JoinPiecesArgs) byPlaces(before *Project) (any, bool) {
	if a.Seam == nil {
		return nil, false
	}
	s := before.Seam(ID(*a.Seam))
	if s == nil || len(s.A) != 1 || len(s.B) != 1 {
		return nil, false
	}
	a.Seam, a.A, a.B = nil, &EdgeRef{s.A[0].Piece, s.A[0].Edge}, &EdgeRef{s.B[0].Piece, s.B[0].Edge}
	return a, true
}

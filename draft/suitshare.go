package draft

import (
	"math"

	"hemlet/draft/body"
)

// SuitingShare returns which part of another measure a stretch of a piece stands for, from
// above 0, that has stood for a part of the one of its span. A half of an arc is a quarter of
// the girth, for an arc and a width cover half of the body; of what was no measure round the
// body before, the fold and how often the piece is cut say which part it is. Of a height style
// decides: it is what the length of the stretch in mm is of that of the body for which the
// pattern was made, all of it where that is not known.
func (s *Slots) SuitingShare(p *Project, piece *Piece, span Span, measure string, length float64) float64 {
	is, ok := body.Find(measure)
	was, had := body.Find(span.Measure)
	if !ok || !had || is.Name == was.Name {
		return span.Share
	}
	from, to := sidesOf(was.Kind), sidesOf(is.Kind)
	switch {
	case is.Kind == body.Height:
		f := &spanFinder{slots: s, p: p, bodies: make(map[ID]measureOf)}
		if mm := f.mm(piece, measure); mm > 0 && length > 0 {
			return min(math.Round(length/mm*styleShare)/styleShare, maxShare)
		}
		return 1
	case to == 0 && was.Kind == is.Kind:
		return span.Share
	case to == 0:
		return 1
	case from == 0:
		return s.shareRound(p, piece, to)
	case from == to:
		return span.Share
	}
	return min(span.Share*from/to, 1)
}

// sidesOf is how many sides of the body, front and back, a measure of the kind covers, 0 for
// what does not go round it.
func sidesOf(k body.Kind) float64 {
	switch k {
	case body.Girth:
		return 2
	case body.Arc, body.Width:
		return 1
	}
	return 0
}

// shareRound is which part of a measure that covers so many sides of the body a stretch right
// across a piece is.
func (s *Slots) shareRound(p *Project, piece *Piece, sides float64) float64 {
	pa := s.Anatomy(p).Of(piece.ID)
	switch {
	case pa == nil:
		return 1
	case pa.Part != PartTrunk && pa.Part != PartSkirt:
		if pa.Half {
			return 0.5 // each limb has a measure of its own
		}
		return 1
	case pa.Aspect == AspectUnknown:
		return 1 / pa.times()
	}
	return 1 / (sides * pa.times())
}

package draft

import "strconv"

// ID names a thing inside a project for ever: it is never reused, and what
// points at another thing points at its ID. IDs made here are a letter for the
// kind and a number from the project's counter ("p3", "e17"); things that a
// block made bear the block's own names ("front.side").
type ID string

// idSource hands out new IDs for an edit under way.
type idSource struct{ next int }

func (s *idSource) make(kind byte) ID {
	id := ID(string(kind) + strconv.Itoa(s.next))
	s.next++
	return id
}

// The letters that begin the ids of each kind of thing.
const (
	kindPiece      = 'p'
	kindEdge       = 'e'
	kindNode       = 'n'
	kindSeam       = 's'
	kindNotch      = 't'
	kindDart       = 'd'
	kindLine       = 'l'
	kindSpan       = 'm'
	kindStretch    = 'g'
	kindCloth      = 'c'
	kindWearer     = 'w'
	kindPicture    = 'i'
	kindDerivation = 'r'
	kindOrigin     = 'o'
	kindMark       = 'k'
	kindNote       = 'j'
	kindVersion    = 'v'
)

package draft

import "fmt"

// lookup finds pieces, and tells which edges are sewn, in one step: a project is
// a few lists, and looking each seam's pieces up in them at every step of a drag
// costs more than the checks themselves.
type lookup struct {
	pieces map[ID]*Piece
	sewn   map[edgeKey]bool
}

type edgeKey struct{ piece, edge ID }

// lookupIn returns the lookup of the project, which lives as long as the project
// is the one that is looked at. What is sewn hangs on its seams alone.
func (s *Slots) lookupIn(p *Project) *lookup {
	return slotOf(s, "lookup", "", slotInputs{p}, func() *lookup {
		return &lookup{pieces: piecesByID(p), sewn: s.bareLookup(s.bareOf(p)).sewn}
	})
}

func newLookup(p *Project) *lookup {
	l := &lookup{pieces: piecesByID(p), sewn: make(map[edgeKey]bool, 2*len(p.Seams))}
	for _, seam := range p.Seams {
		for _, run := range [...]Run{seam.A, seam.B} {
			for _, use := range run {
				l.sewn[edgeKey{use.Piece, use.Edge}] = true
			}
		}
	}
	return l
}

// piecesByID returns the pieces of the project by their ids.
func piecesByID(p *Project) map[ID]*Piece {
	pieces := make(map[ID]*Piece, len(p.Pieces))
	for _, piece := range p.Pieces {
		if _, known := pieces[piece.ID]; !known {
			pieces[piece.ID] = piece
		}
	}
	return pieces
}

// edge returns the piece of a use and the index of its edge, or says what is gone.
func (l *lookup) edge(use EdgeUse) (*Piece, int, error) {
	piece := l.pieces[use.Piece]
	if piece == nil {
		return nil, -1, fmt.Errorf("piece %s is gone", use.Piece)
	}
	_, i := piece.Edge(use.Edge)
	if i < 0 {
		return nil, -1, fmt.Errorf("edge %s of %s is gone", use.Edge, piece.label())
	}
	return piece, i, nil
}

// sewnMarks returns a short text that is another when other edges of the piece
// are sewn to something.
func (l *lookup) sewnMarks(piece *Piece) string {
	text := make([]byte, len(piece.Edges))
	for i := range piece.Edges {
		text[i] = '.'
		if l.sewn[edgeKey{piece.ID, piece.Edges[i].ID}] {
			text[i] = 's'
		}
	}
	return string(text)
}

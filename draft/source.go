package draft

// Source is a pattern as it was before it was fitted to a body, so that it can be fitted
// anew when the body, or what is asked of the fit, changes.
type Source struct {
	// Pieces bear the ids of the fitted pieces. They have no cloth, no origin and no
	// derivation: those are the fitted pieces' own.
	Pieces []*Piece
	// Seams are those that sew these pieces, and no others.
	Seams []*Seam
}

// Piece returns the piece with the id as it was, or nil.
func (s *Source) Piece(id ID) *Piece {
	if s == nil {
		return nil
	}
	return pieceIn(s.Pieces, id)
}

// pieceIn returns the piece with the id among those of a list, or nil.
func pieceIn(list []*Piece, id ID) *Piece {
	for _, p := range list {
		if p.ID == id {
			return p
		}
	}
	return nil
}

// asSource returns a copy of the piece as it is kept apart from the pattern: for a fit, or
// in a version.
func (p *Piece) asSource() *Piece {
	q := p.clone()
	q.Cloth, q.Origin, q.Derived = "", "", nil
	q.Hidden, q.Locked, q.Ghost = false, false, 0
	for i := range q.Notches {
		q.Notches[i].Mark = "" // its seam may be gone by then
	}
	return q
}

package draft

import "slices"

// bareOf returns the project as far as it has no shape: its seams, and its pieces with what
// they are called, how they are cut and which edges they have, in order. It is the same
// pointer for as long as all that stays, however points are moved; what reads nothing else
// is kept in a slot by it, and cannot go by more than it holds.
func (s *Slots) bareOf(p *Project) *Project {
	return slotSame(s, "bare", "", slotInputs{p}, func() *Project {
		bare := &Project{Pieces: make([]*Piece, len(p.Pieces)), Seams: p.Seams}
		for i, piece := range p.Pieces {
			bare.Pieces[i] = slotSame(s, "bare piece", piece.ID, slotInputs{piece}, piece.bare, (*Piece).equalBare)
		}
		return bare
	}, func(a, b *Project) bool { return slices.Equal(a.Pieces, b.Pieces) && slices.Equal(a.Seams, b.Seams) })
}

// bare returns what of the piece has no shape.
func (p *Piece) bare() *Piece {
	q := &Piece{ID: p.ID, Name: p.Name, Garment: p.Garment, Layer: p.Layer, Cut: p.Cut, Edges: make([]Edge, len(p.Edges))}
	for i := range p.Edges {
		e := &p.Edges[i]
		q.Edges[i] = Edge{ID: e.ID, Name: e.Name, Kind: e.Kind}
	}
	return q
}

// equalBare reports whether two bare pieces say the same.
func (p *Piece) equalBare(q *Piece) bool {
	return p.ID == q.ID && p.Name == q.Name && p.Garment == q.Garment && p.Layer == q.Layer && p.Cut == q.Cut &&
		slices.EqualFunc(p.Edges, q.Edges, func(a, b Edge) bool { return a.ID == b.ID && a.Name == b.Name && a.Kind == b.Kind })
}

// bareLookup is lookupIn for the bare project.
func (s *Slots) bareLookup(bare *Project) *lookup {
	return slotOf(s, "bare lookup", "", slotInputs{bare}, func() *lookup { return newLookup(bare) })
}

package draft

// ByHand reports whether a piece that follows a block is another than the block has
// made of it last: its outline, its marks, or what is written on it. Its cloth, its
// garment and its place on the bench are the maker's own in any case.
func (p *Piece) ByHand() bool {
	d := p.Derived
	if d == nil || d.Rest == nil {
		return d != nil && !equalEdges(p.Edges, d.Base)
	}
	rest := restOf(p)
	rest.Garment = d.Rest.Garment
	return !equalEdges(p.Edges, d.Base) || !equalRest(rest, d.Rest)
}

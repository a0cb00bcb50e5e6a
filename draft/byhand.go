package draft

// ByHand reports whether a piece that follows a block is another than the block has
// made of it last: its outline, its marks, or what is written on it. Its cloth and its
// place on the bench are the maker's own in any case.
func (p *Piece) ByHand() bool {
	d := p.Derived
	return d != nil && (!equalEdges(p.Edges, d.Base) || d.Rest != nil && !equalRest(restOf(p), d.Rest))
}

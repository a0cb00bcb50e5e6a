package draft

// Untold lists the pieces of the pattern of which neither their names nor their shape nor what
// they are sewn to tells what they are on the body, in its order: for their edges hardly a seam
// and no measure can be suggested until they are named. Trimmings, whose names say that they are
// none of all that, and pieces that follow others are left out.
func (s *Slots) Untold(p *Project) []*Piece {
	f := &spanFinder{p: s.patternOf(p)}
	var out []*Piece
	for _, pa := range s.Anatomy(p).Pieces {
		if pa.Part == PartUnknown && !isTrimming(pa.Piece.Name) && !f.isLinked(pa.Piece) {
			out = append(out, pa.Piece)
		}
	}
	return out
}

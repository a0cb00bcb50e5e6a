package draft

import "slices"

// Pattern returns the project as it is checked, sewn and exported: without the ghosts,
// which are only looked at, and without seams that sew them. It is the project itself
// where it has no ghost.
func (p *Project) Pattern() *Project {
	ghosts := make(map[ID]bool)
	for _, piece := range p.Pieces {
		if piece.Ghost > 0 {
			ghosts[piece.ID] = true
		}
	}
	if len(ghosts) == 0 {
		return p
	}
	real := p.shallow()
	real.Pieces = slices.DeleteFunc(slices.Clone(p.Pieces), func(q *Piece) bool { return ghosts[q.ID] })
	real.Seams = slices.DeleteFunc(slices.Clone(p.Seams), func(s *Seam) bool { return s.sews(ghosts) })
	return real
}

// patternOf keeps the pattern of a project, so that what is worked out from it is kept
// too.
func (s *Slots) patternOf(p *Project) *Project {
	return slotOf(s, "pattern", "", slotInputs{p}, p.Pattern)
}

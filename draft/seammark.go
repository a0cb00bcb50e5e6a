package draft

import "slices"

// marks reports whether a seam that sews the edge of the piece has the mark.
func (p *Project) marks(mark, piece, edge ID) bool {
	return slices.ContainsFunc(p.Seams, func(s *Seam) bool {
		return s.hasMark(mark) && s.runsAlong(piece, edge)
	})
}

func (s *Seam) hasMark(mark ID) bool {
	return slices.ContainsFunc(s.Marks, func(m SeamMark) bool { return m.ID == mark })
}

// runsAlong reports whether a side of the seam runs along the edge, of whichever copy.
func (s *Seam) runsAlong(piece, edge ID) bool {
	along := func(u EdgeUse) bool { return u.Piece == piece && u.Edge == edge }
	return slices.ContainsFunc(s.A, along) || slices.ContainsFunc(s.B, along)
}

// withoutIdleMarks returns p in which a notch that stands for a mark of a seam which no
// longer has it, or no longer runs there, is a notch by itself.
func (p *Project) withoutIdleMarks() *Project {
	next := p
	for i, piece := range p.Pieces {
		idle := func(n Notch) bool { return n.Mark != "" && !p.marks(n.Mark, piece.ID, n.Edge) }
		if !slices.ContainsFunc(piece.Notches, idle) {
			continue
		}
		if next == p {
			next = p.shallow()
			next.Pieces = slices.Clone(p.Pieces)
		}
		q := piece.clone()
		for k := range q.Notches {
			if idle(q.Notches[k]) {
				q.Notches[k].Mark = ""
			}
		}
		next.Pieces[i] = q
	}
	return next
}

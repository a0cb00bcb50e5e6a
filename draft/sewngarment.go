package draft

import "slices"

// sewnGarment is a garment with its seams as they are worn and as they are when it is
// opened for dressing.
type sewnGarment struct {
	*Project
	slots          *Slots
	name           string
	pieces         []*Piece
	lookup         *lookup
	closed, opened *sewnState
	wearer         *fitted
	passed         []openLoop
	told           []toldPlace
}

// garmentOf sews a garment together.
func (s *Slots) garmentOf(p *Project, name string) *sewnGarment {
	// One slot for all: names of garments come and go, and a slot for each would stay.
	all := slotOf(s, "sewn garments", "", slotInputs{p}, func() map[string]*sewnGarment { return make(map[string]*sewnGarment) })
	if all[name] == nil {
		all[name] = s.sewGarment(p, name)
	}
	return all[name]
}

func (s *Slots) sewGarment(p *Project, name string) *sewnGarment {
	g := &sewnGarment{Project: p, slots: s, name: name, lookup: s.lookupIn(p)}
	for _, piece := range p.Pieces {
		if piece.Garment == name {
			g.pieces = append(g.pieces, piece)
		}
	}
	top := s.sewnOf(p, g.pieces)
	g.closed = top.with(func(*Seam) bool { return true })
	g.opened = g.closed
	if slices.ContainsFunc(p.Seams, func(s *Seam) bool { return s.Opens }) {
		g.opened = top.with(func(s *Seam) bool { return !s.Opens })
	}
	g.wearer = s.fittedOf(p, g.pieces)
	g.passed = g.findPassages()
	return g
}

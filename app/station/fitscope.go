package station

import (
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// fitScope is what is fitted: all pieces, those of a garment, or those that were picked.
type fitScope struct {
	f      *Fitting
	object fyne.CanvasObject
	title  *control.Text
	choice *control.Choice
	row    fyne.CanvasObject

	kind    scopeKind
	garment string
	picked  []draft.ID
	// offered are what the choice lists.
	offered []scopeOption
}

type scopeKind int

const (
	scopeAll scopeKind = iota
	scopeGarment
	scopePicked
)

// scopeOption is an entry of the choice.
type scopeOption struct {
	kind    scopeKind
	garment string
	word    string
}

func newFitScope(f *Fitting) *fitScope {
	s := &fitScope{f: f}
	s.title = control.NewText("Fit a pattern to a body", control.TitleSize, true, look.Ink).AtLeast(fitRoom)
	s.choice = control.NewChoice("Which pieces are fitted", nil, s.chosen)
	s.row = control.LabelledBy(52, "Fit", s.choice.Object())
	s.object = control.Stack(6, s.title, s.row)
	return s
}

func (s *fitScope) forget() { s.kind, s.garment, s.picked, s.offered = scopeAll, "", nil, nil }

func (s *fitScope) chosen(i int) {
	if i < 0 || i >= len(s.offered) {
		return
	}
	s.f.drop()
	o := s.offered[i]
	s.kind, s.garment = o.kind, o.garment
	if s.kind == scopePicked {
		s.picked = s.f.desk.Picked().Pieces()
	}
	s.f.table.forget()
	s.f.see.forget()
	s.f.Update()
}

// follow takes the garment of what is picked when the station is entered.
func (s *fitScope) follow() {
	pieces := s.f.desk.Picked().Pieces()
	if len(pieces) == 0 {
		return
	}
	if p := s.f.desk.Project().Piece(pieces[len(pieces)-1]); p != nil && p.Garment != "" && !slices.Contains(s.ids(), p.ID) {
		s.kind, s.garment = scopeGarment, p.Garment
	}
}

// pieces returns the pieces that are fitted.
func (s *fitScope) pieces() []*draft.Piece {
	var out []*draft.Piece
	for _, p := range s.f.desk.Project().Pieces {
		if s.has(p) {
			out = append(out, p)
		}
	}
	return out
}

// ids returns their ids.
func (s *fitScope) ids() []draft.ID {
	var out []draft.ID
	for _, p := range s.pieces() {
		out = append(out, p.ID)
	}
	return out
}

// has reports whether the piece is one of them. A ghost is not sewn, and never is.
func (s *fitScope) has(p *draft.Piece) bool {
	switch {
	case p.Ghost > 0:
		return false
	case s.kind == scopeGarment:
		return p.Garment == s.garment
	case s.kind == scopePicked:
		return slices.Contains(s.picked, p.ID)
	}
	return true
}

// update offers what there is to choose from.
func (s *fitScope) update() {
	p := s.f.desk.Project()
	all, garments := 0, []string{}
	count := map[string]int{}
	for _, x := range p.Pieces {
		if x.Ghost > 0 {
			continue
		}
		all++
		if count[x.Garment]++; x.Garment != "" && !slices.Contains(garments, x.Garment) {
			garments = append(garments, x.Garment)
		}
	}
	offered := []scopeOption{{scopeAll, "", "all " + wording.Count(all, "piece")}}
	if len(garments) > 1 || len(garments) == 1 && count[garments[0]] < all {
		for _, g := range garments {
			offered = append(offered, scopeOption{scopeGarment, g, g + ", " + wording.Count(count[g], "piece")})
		}
	}
	if n := len(p.Pieces); n > 1 {
		picked := s.picked
		if s.kind != scopePicked {
			picked = s.f.desk.Picked().Pieces()
		}
		if len(picked) > 0 {
			offered = append(offered, scopeOption{scopePicked, "", "the picked " + wording.Count(len(picked), "piece")})
		}
	}
	at := slices.IndexFunc(offered, func(o scopeOption) bool { return o.kind == s.kind && o.garment == s.garment })
	if at < 0 {
		s.kind, s.garment, at = scopeAll, "", 0
	}
	show(s.row, all > 1)
	if !slices.Equal(offered, s.offered) {
		s.offered = offered
		words := make([]string, len(offered))
		for i, o := range offered {
			words[i] = o.word
		}
		s.choice.Offer(words, at)
		return
	}
	s.choice.Put(at)
}

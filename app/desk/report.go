package desk

import "hemlet/draft"

// Report returns everything that the checks say of the project as it stands.
func (d *Desk) Report() draft.Report {
	if p := d.Project(); d.reportFor != p {
		d.report, d.reportFor = d.slots.Check(p), p
	}
	return d.report
}

// Findings returns the open findings: those that the maker has not decided to live
// with.
func (d *Desk) Findings() []draft.Finding {
	var open []draft.Finding
	for _, f := range d.Report().Findings {
		if f.Open() {
			open = append(open, f)
		}
	}
	return open
}

// Count is how many open findings of each level there are.
type Count struct{ Problems, LookAgain, Notes int }

// Count returns how many open findings of each level there are, of the whole
// project or, where piece is not empty, of one piece.
func (d *Desk) Count(piece draft.ID) Count {
	var c Count
	for _, f := range d.Report().Findings {
		if !f.Open() || piece != "" && !d.Concerns(f, piece) {
			continue
		}
		switch f.Level {
		case draft.Problem:
			c.Problems++
		case draft.LookAgain:
			c.LookAgain++
		default:
			c.Notes++
		}
	}
	return c
}

// Concerns reports whether the finding is about the piece, a seam that it is in, or the
// whole of the block by which it was drafted.
func (d *Desk) Concerns(f draft.Finding, piece draft.ID) bool {
	if aboutBlock(f) {
		p := d.Project().Piece(piece)
		return p != nil && p.Derived != nil && p.Derived.Derivation == f.Derivation
	}
	seam := d.Project().Seam(f.Seam)
	if f.Piece == piece || seam == nil {
		return f.Piece == piece
	}
	for _, run := range []draft.Run{seam.A, seam.B} {
		for _, use := range run {
			if use.Piece == piece {
				return true
			}
		}
	}
	return false
}

// aboutBlock reports whether a finding is about all the pieces that a block has made.
func aboutBlock(f draft.Finding) bool {
	return f.Derivation != "" && f.Piece == "" && f.Seam == ""
}

// Place returns what a finding points at, as far as it points at anything: an
// edge, a piece, the edges of a seam, or the pieces that a block has made.
func (d *Desk) Place(f draft.Finding) []Ref {
	switch {
	case f.Edge != "":
		return []Ref{EdgeRef(f.Piece, f.Edge)}
	case f.Piece != "":
		return []Ref{PieceRef(f.Piece)}
	case f.Seam != "":
		if seam := d.Project().Seam(f.Seam); seam != nil {
			return SeamRefs(seam)
		}
	case aboutBlock(f):
		return d.madeBy(f.Derivation)
	}
	return nil
}

// madeBy returns the pieces that follow a derivation.
func (d *Desk) madeBy(derivation draft.ID) []Ref {
	of := d.Project().Derivation(derivation)
	if of == nil {
		return nil
	}
	var out []Ref
	for _, piece := range d.Project().PiecesOf(of) {
		out = append(out, PieceRef(piece.ID))
	}
	return out
}

// SeamsOf returns the seams in which any of the edges is sewn.
func (d *Desk) SeamsOf(edges Picked) []*draft.Seam {
	var out []*draft.Seam
	for _, s := range d.Project().Seams {
		for _, r := range SeamRefs(s) {
			if edges.Has(r) {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

// Letter returns the letter that both edges of the seam bear, empty where the
// project has no such seam.
func Letter(p *draft.Project, seam draft.ID) string {
	for i, s := range p.Seams {
		if s.ID == seam {
			return draft.Letter(i)
		}
	}
	return ""
}

// SeamWaived reports whether the checks have something to say of the seam and the
// maker has decided to live with all of it.
func SeamWaived(r draft.Report, seam draft.ID) bool {
	waived := false
	for _, f := range r.Findings {
		if f.Seam == seam {
			if f.Open() {
				return false
			}
			waived = true
		}
	}
	return waived
}

// SeamRefs returns the edges that the seam joins, each once.
func SeamRefs(seam *draft.Seam) Picked {
	var refs Picked
	for _, run := range []draft.Run{seam.A, seam.B} {
		for _, use := range run {
			if r := EdgeRef(use.Piece, use.Edge); !refs.Has(r) {
				refs = append(refs, r)
			}
		}
	}
	return refs
}

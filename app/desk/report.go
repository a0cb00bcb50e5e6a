package desk

import (
	"slices"

	"hemlet/draft"
)

// Report returns everything that the checks say of the project as it stands. In the midst of
// a drag, what they say of garments put together is that of the project as it was when the
// drag began: it is worked out when the drag ends.
func (d *Desk) Report() draft.Report {
	p := d.Project()
	if d.reportFor == p {
		return d.report
	}
	if !d.dragging() || d.madeUpFor == nil {
		d.madeUp, d.madeUpFor = d.slots.CheckMadeUp(p), p
	}
	d.report, d.reportFor = d.slots.CheckBesides(p, d.madeUp), p
	return d.report
}

// dragging reports whether a drag is under way, which a trial is not.
func (d *Desk) dragging() bool { return d.gesture != nil && !d.gesture.trial }

// settle has what was left aside during a drag told.
func (d *Desk) settle() {
	if p := d.Project(); d.reportFor == p && d.madeUpFor != p {
		d.reportFor, d.counts = nil, nil
		d.tell(Document)
	}
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
	if report := d.Report(); d.counts == nil || d.countsFor != d.reportFor {
		d.counts, d.countsFor = d.countAll(report), d.reportFor
	}
	return d.counts[piece]
}

// countAll counts the open findings of every piece in one go, and under no id those of
// the project: asked for each of many pieces, as a drag does, it would be read as often.
func (d *Desk) countAll(report draft.Report) map[draft.ID]Count {
	counts := make(map[draft.ID]Count)
	for _, f := range report.Findings {
		if !f.Open() {
			continue
		}
		counts[""] = counts[""].with(f.Level)
		for _, piece := range d.concerned(f) {
			counts[piece] = counts[piece].with(f.Level)
		}
	}
	return counts
}

// with returns the count with one finding of the level more.
func (c Count) with(level draft.Gravity) Count {
	switch level {
	case draft.Problem:
		c.Problems++
	case draft.LookAgain:
		c.LookAgain++
	default:
		c.Notes++
	}
	return c
}

// concerned returns the pieces that a finding concerns, each once; see Concerns.
func (d *Desk) concerned(f draft.Finding) []draft.ID {
	if aboutBlock(f) {
		var ids []draft.ID
		for _, r := range d.madeBy(f.Derivation) {
			ids = append(ids, r.Piece)
		}
		return ids
	}
	var ids []draft.ID
	if f.Piece != "" {
		ids = append(ids, f.Piece)
	}
	if seam := d.Project().Seam(f.Seam); seam != nil {
		for _, use := range slices.Concat(seam.A, seam.B) {
			if !slices.Contains(ids, use.Piece) {
				ids = append(ids, use.Piece)
			}
		}
	}
	return ids
}

// Concerns reports whether the finding is about the piece, a seam that it is in, or the
// whole of the block by which it was drafted.
func (d *Desk) Concerns(f draft.Finding, piece draft.ID) bool {
	return slices.Contains(d.concerned(f), piece)
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

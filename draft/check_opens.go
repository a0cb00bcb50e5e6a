package draft

import (
	"fmt"
	"math"
)

// How far the sides of an opening lie over each other, in mm: 20 on a person, less on who is
// smaller, and at least as far as the smallest snap is wide. (Common practice, no source.)
const (
	lapMost  = 20
	lapLeast = 5
	lapShare = 1. / 85 // of the stature
	// lapKept is the least lap that is worth keeping.
	lapKept = 3
)

// fastenReach is how far from its edge a row of fastenings lies at most, in mm and in the
// size of the fastenings, whichever is more.
const (
	fastenReach      = 10
	fastenReachSizes = 3
)

// singleHook is below which length in mm of an opening one hook is enough.
const singleHook = 25

// checkOpens tells of seams that open and that nothing holds closed: their sides do not lap,
// and no fastenings lie along them.
func (s *Slots) checkOpens(p *Project) []Finding {
	var out []Finding
	for _, seam := range p.Seams {
		if !seam.Opens || seam.Lap > 0 || len(seam.A) == 0 || s.fastened(p, seam) {
			continue
		}
		f := Finding{
			Key: "seam/" + string(seam.ID) + "/open", Level: Remark, About: "seam " + seam.label(), Seam: seam.ID,
			Piece: seam.A[0].Piece, Edge: seam.A[0].Edge,
			Says: "It opens, and nothing holds it closed: its sides do not lap, and no fastenings lie along it. Set hooks along it edge to edge, or let its sides lap and set snaps or buttons.",
		}
		if use, length := s.longestUse(p, seam.A); length >= 2*Hooks.DefaultSize() {
			args := []string{"edge", partText(use.Piece, use.Edge), "kind", Hooks.String()}
			if length < singleHook {
				args = append(args, "count", "1")
			}
			f.mend("Set hooks along it, edge to edge", "add-row", args...)
		}
		if lap := s.lapFor(p, seam); s.lapFits(p, seam, lap) {
			f.mend("Let its sides lap", "edit-seam", "seam", idText(seam.ID), "lap", exactFigure(lap)+"mm")
		}
		out = append(out, f)
	}
	return out
}

// longestUse returns the longest edge of a run that is drawn as it is, and its length in mm.
func (s *Slots) longestUse(p *Project, run Run) (best EdgeUse, length float64) {
	for _, u := range run {
		piece := p.Piece(u.Piece)
		if piece == nil || piece.Derived != nil {
			continue
		}
		if i := piece.indexOf(u.Edge); i >= 0 {
			if l := s.EdgeLengths(piece)[i]; l > length {
				best, length = u, l
			}
		}
	}
	return best, length
}

// fastened reports whether a row of fastenings lies along a side of the seam.
func (s *Slots) fastened(p *Project, seam *Seam) bool {
	for _, run := range [...]Run{seam.A, seam.B} {
		for _, u := range run {
			piece := p.Piece(u.Piece)
			if piece == nil {
				continue
			}
			i := piece.indexOf(u.Edge)
			if i < 0 {
				continue
			}
			path := piece.EdgePath(i)
			for k := range piece.Lines {
				l := &piece.Lines[k]
				if l.Row == nil || l.Row.Kind == Exits || len(l.Path()) == 0 {
					continue
				}
				at := l.Path().Tape()
				if _, d := path.Nearest(l.Path().At(at.At(at.Length() / 2))); d <= math.Max(fastenReach, fastenReachSizes*l.Row.Size) {
					return true
				}
			}
		}
	}
	return false
}

// lapFor returns a lap in mm for a seam by the size of its wearer.
func (s *Slots) lapFor(p *Project, seam *Seam) float64 {
	stature := s.statureFor(p, seam.A)
	if stature <= 0 {
		return lapMost
	}
	return roundDown(min(max(lapShare*stature, lapLeast), lapMost))
}

// lapFits reports whether the garment of a seam still closes round the body with a lap.
func (s *Slots) lapFits(p *Project, seam *Seam, lap float64) bool {
	piece := p.Piece(seam.A[0].Piece)
	if piece == nil {
		return false
	}
	for _, pr := range s.Proofs(p) {
		if pr.Kind == ProofGirth && pr.Garment == piece.Garment && pr.Diff < lap-closeLimit {
			return false
		}
	}
	return true
}

// lapMends offers less of a lap where an opening does not close round the body by as much as
// it wants.
func (g *sewnGarment) lapMends(o Opening, tight float64) []Mend {
	var widest *Seam
	for _, id := range o.Closures {
		if seam := g.Seam(id); seam != nil && seam.Lap > 0 && (widest == nil || seam.Lap > widest.Lap) {
			widest = seam
		}
	}
	if widest == nil {
		return nil
	}
	title, lap := fmt.Sprintf("Let seam %s lap less", widest.label()), widest.Lap-tight
	if lap = roundDown(max(lap, 0)); lap < lapKept {
		title, lap = fmt.Sprintf("Close seam %s edge to edge, with no lap", widest.label()), 0
	}
	return []Mend{{Title: title, Act: "edit-seam", Args: map[string]string{"seam": idText(widest.ID), "lap": exactFigure(lap) + "mm"}}}
}

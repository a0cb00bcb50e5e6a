package draft

import (
	"fmt"
	"strings"
)

// checkHanded finds pieces that are cut alike and sewn to the two sides of the body, so
// that one of them would lie wrong side out.
func (s *Slots) checkHanded(p *Project) []Finding {
	var out []Finding
	for _, piece := range p.Pieces {
		if piece.Cut.Way == CutSingle && piece.Cut.Count > 1 {
			out = append(out, s.checkTwins(p, piece)...)
		}
	}
	return append(out, s.checkFellows(p)...)
}

// ownImage keeps whether a piece is its own mirror image.
func (s *Slots) ownImage(piece *Piece) bool {
	return slotOf(s, "own image", piece.ID, slotInputs{piece}, piece.ownMirrorImage)
}

// shape keeps the shape of the edges of a piece.
func (s *Slots) shape(piece *Piece) []edgeShape {
	return slotOf(s, "edge shapes", piece.ID, slotInputs{piece}, func() []edgeShape { return shapeOf(piece) })
}

// checkTwins holds the copies of a piece that is cut several times alike against what they
// are sewn to.
func (s *Slots) checkTwins(p *Project, piece *Piece) []Finding {
	if s.ownImage(piece) {
		return nil
	}
	for _, seam := range p.Seams {
		mine, other, ok := seam.sidesOf(piece.ID)
		if !ok || mine[0].Copy.Number != 1 {
			continue
		}
		beyond, ok := p.mirrored(other)
		if !ok || sameEdgesOf(other, beyond) {
			continue
		}
		f := Finding{
			Key: "piece/" + string(piece.ID) + "/not mirrored", Level: LookAgain,
			About: piece.label(), Piece: piece.ID, Seam: seam.ID,
			Mends: []Mend{{
				Title: "Cut it left and right", Act: "cut-left-right", Args: map[string]string{"pieces": idText(piece.ID)},
			}},
		}
		const what = "It is cut %d times alike, and is no mirror image of itself. It is sewn to the %s, of which there is a right and a left: "
		f.Says = fmt.Sprintf(what, piece.Cut.Count, p.runLabel(other))
		if second := p.seamBetween(piece.ID, 2, beyond); second != nil {
			f.Level, f.Seam = Problem, second.ID
			f.Says += "on one of the two sides it would lie wrong side out, or its front behind. Cut it left and right."
			return []Finding{f}
		}
		if !p.copySewn(piece.ID, 2) {
			f.Says += "the second one would lie wrong side out on the other side. Cut it left and right."
			return []Finding{f}
		}
	}
	return nil
}

// sidesOf returns the side of a seam that lies on a piece alone, and the other one, which
// has nothing of the piece; false where there are none such.
func (s *Seam) sidesOf(piece ID) (mine, other Run, ok bool) {
	onA, allA := s.A.on(piece)
	onB, allB := s.B.on(piece)
	switch {
	case allA && !onB:
		return s.A, s.B, true
	case allB && !onA:
		return s.B, s.A, true
	}
	return nil, nil, false
}

// on reports whether any of a run lies on a piece, and whether all of it does.
func (r Run) on(piece ID) (some, all bool) {
	all = len(r) > 0
	for _, u := range r {
		if u.Piece == piece {
			some = true
		} else {
			all = false
		}
	}
	return some, all
}

// sameEdgesOf reports whether two runs go along the same edges, in whatever order.
func sameEdgesOf(a, b Run) bool { return runKey(a) == runKey(b) }

// seamBetween returns the seam that sews a copy of a piece to the edges of a run, or nil.
func (p *Project) seamBetween(piece ID, copy int, run Run) *Seam {
	for _, s := range p.Seams {
		mine, other, ok := s.sidesOf(piece)
		if ok && mine[0].Copy.Number == copy && sameEdgesOf(other, run) {
			return s
		}
	}
	return nil
}

// copySewn reports whether a copy of a piece is sewn anywhere.
func (p *Project) copySewn(piece ID, copy int) bool {
	for _, s := range p.Seams {
		for _, run := range []Run{s.A, s.B} {
			for _, u := range run {
				if u.Piece == piece && u.Copy.Number == copy {
					return true
				}
			}
		}
	}
	return false
}

// checkFellows holds pieces that are cut once against their fellow for the other side of
// the body: one which is sewn to the mirror image of what they are sewn to, or whose name
// says so.
func (s *Slots) checkFellows(p *Project) []Finding {
	bare := s.bareOf(p)
	pairs := slotOf(s, "fellows", "", slotInputs{bare}, func() []fellows { return bare.fellows(s.bareLookup(bare)) })
	look := s.lookupIn(p)
	var out []Finding
	for _, f := range pairs {
		if found := s.fellowFinding(p, look.pieces[f.a], look.pieces[f.b], f.sewn); found != nil {
			out = append(out, *found)
		}
	}
	return out
}

// fellows are two pieces that may be one for the two sides of the body, with the seam by
// which the second is, nil where it is by name.
type fellows struct {
	a, b ID
	sewn *Seam
}

// fellows lists the pieces of a project, which may be bare, that may be fellows, each two once.
func (p *Project) fellows(look *lookup) []fellows {
	var out []fellows
	held := make(map[pieceRelation]bool)
	hold := func(a, b *Piece, sewn *Seam) {
		if a == nil || b == nil || a == b || held[relationOf(a, b)] || !a.mayBeFellow(b) {
			return
		}
		held[relationOf(a, b)] = true
		out = append(out, fellows{a.ID, b.ID, sewn})
	}
	// What is sewn, by the edges of the other side.
	type sewing struct {
		piece *Piece
		seam  *Seam
	}
	sewn := make(map[string]sewing)
	for _, seam := range p.Seams {
		for _, mine := range []Run{seam.A, seam.B} {
			if len(mine) == 0 {
				continue
			}
			piece := look.pieces[mine[0].Piece]
			if piece == nil || piece.Cut != (CutRule{Way: CutSingle, Count: 1}) {
				continue
			}
			_, other, ok := seam.sidesOf(piece.ID)
			if !ok {
				continue
			}
			beyond, ok := p.mirrored(other)
			if !ok || sameEdgesOf(other, beyond) {
				continue
			}
			if first, ok := sewn[runKey(beyond)]; ok {
				hold(first.piece, piece, seam)
			}
			sewn[runKey(other)] = sewing{piece, seam}
		}
	}
	named := make(map[string]*Piece)
	for _, piece := range p.Pieces {
		if name, opposite, ok := sidedName(piece.Name); ok {
			hold(named[opposite], piece, nil)
			named[name] = piece
		}
	}
	return out
}

// mayBeFellow reports whether two pieces may be one piece for the two sides of the body.
func (p *Piece) mayBeFellow(q *Piece) bool {
	return p.Cut == (CutRule{Way: CutSingle, Count: 1}) && q.Cut == p.Cut &&
		len(p.Edges) == len(q.Edges) && p.Garment == q.Garment && p.Layer == q.Layer
}

// fellowFinding says that the second of two pieces for the two sides of the body is the
// first once more and not its mirror image; nil where that is not so.
func (s *Slots) fellowFinding(p *Project, a, b *Piece, sewn *Seam) *Finding {
	shapeA, shapeB := s.shape(a), s.shape(b)
	if !drawnAlike(shapeA, shapeB) || drawnAlike(shapeA, mirroredShape(shapeB)) {
		return nil
	}
	f := &Finding{
		Key: "piece/" + string(b.ID) + "/not mirrored", Level: LookAgain, About: b.label(), Piece: b.ID,
		Says: fmt.Sprintf("It is drawn just as %s is, and not as its mirror image: on its side of the body it would lie wrong side out, or its front behind. Turn it over.", a.label()),
	}
	if sewn != nil {
		f.Level, f.Seam = Problem, sewn.ID
	}
	for _, piece := range []*Piece{b, a} {
		f.Mends = append(f.Mends, Mend{
			Title: "Turn " + piece.label() + " over for its side", Act: "turn-for-side", Args: map[string]string{"piece": idText(piece.ID)},
		})
	}
	return f
}

// sidedName returns the name of a piece in small letters, and that with left and right
// changed round; false where it says neither.
func sidedName(name string) (own, opposite string, sided bool) {
	words := strings.Fields(strings.ToLower(name))
	other := make([]string, len(words))
	for i, w := range words {
		switch w {
		case "left":
			w, sided = "right", true
		case "right":
			w, sided = "left", true
		}
		other[i] = w
	}
	return strings.Join(words, " "), strings.Join(other, " "), sided
}

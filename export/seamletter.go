package export

import (
	"hemlet/draft"
	"hemlet/geom"
)

// seamLetters is the size in mm of the letters that tell which edges are sewn to
// each other, and seamLetterOff how far their middle stands inside the stitching.
const (
	seamLetters   = 2.4
	seamLetterOff = 2.6
)

// letterPlaces are the shares of an edge's length at which its letter may stand, the
// best first.
var letterPlaces = [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9}

// seamLetter is the letter of a seam on an edge of a flat piece.
type seamLetter struct {
	text Text
	// edge is the index of the edge, does what is done to it before it is sewn.
	edge int
	does string
}

// letters returns the letters of the piece's seams: the same letter stands on both
// edges of a seam, as printed patterns have it, as near to their middles as label,
// notes and lines let it. It counts those for which there is no room.
func (r ruler) letters(flat *draft.Flat, l *Laid, by geom.Affine) (out []seamLetter, missing int) {
	var set []Text
	for n, seam := range r.project.Seams {
		for i, e := range flat.Edges {
			if !uses(seam.A, seam.BothSides, flat.Piece.ID, e) && !uses(seam.B, seam.BothSides, flat.Piece.ID, e) {
				continue
			}
			t, ok := placeLetter(e, draft.Letter(n), l, by, set)
			if !ok {
				missing++
				continue
			}
			set = append(set, t)
			out = append(out, seamLetter{t, i, r.fullnessWords(seam, flat.Piece.ID, e)})
		}
	}
	return out, missing
}

// placeLetter finds the place of one letter on a copy that bears the others.
func placeLetter(e draft.FlatEdge, words string, l *Laid, by geom.Affine, others []Text) (Text, bool) {
	for _, share := range letterPlaces {
		if t, ok := letter(e, share, words, by); ok && free(t.slab(), l, others) {
			return t, true
		}
	}
	return Text{}, false
}

// uses reports whether the run, or with bothSides its mirror image, holds the edge of
// this half.
func uses(run draft.Run, bothSides bool, piece draft.ID, e draft.FlatEdge) bool {
	for _, use := range run {
		if use.Piece == piece && use.Edge == e.Edge.ID && (use.Half == e.Half || bothSides) {
			return true
		}
	}
	return false
}

// letter sets words inside the stitching line at the share of the edge's length.
func letter(e draft.FlatEdge, share float64, words string, by geom.Affine) (Text, bool) {
	foot, ok := stand(e, share*e.Length())
	if !ok {
		return Text{}, false
	}
	at := by.Apply(foot.at.Sub(foot.out.Mul(seamLetterOff)))
	at.Y -= (textHeight - textDepth) / 2 * seamLetters
	return Text{At: at, Size: seamLetters, Anchor: Middle, Strong: true, Words: words}, true
}

// textApart is how far in mm two texts stand apart: far enough not to be read as one.
const textApart = 0.9

// free reports whether the slab of a text lies inside the stitching line and crosses
// neither a line nor another text.
func free(s slab, l *Laid, others []Text) bool {
	if !l.Stitch.Contains(s.centre()) {
		return false
	}
	if meetsWords(s, append(l.Words(), others...)) {
		return false
	}
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			if s.crosses(c) {
				return false
			}
		}
	}
	return true
}

// meetsWords reports whether a slab lies nearer to any of the texts than texts may.
func meetsWords(s slab, texts []Text) bool {
	apart := slab{s.turn, s.box.Grow(textApart)}
	for _, o := range texts {
		if apart.meets(o.slab()) {
			return true
		}
	}
	return false
}

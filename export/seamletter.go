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

// letters returns the letters of the piece's seams: the same letter stands on both
// edges of a seam, as printed patterns have it, as near to their middles as label,
// notes and lines let it. It counts those for which there is no room.
func (r ruler) letters(flat *draft.Flat, l *Laid, by geom.Affine) (out []Text, missing int) {
	for n, seam := range r.project.Seams {
		for _, e := range flat.Edges {
			if !sews(seam, flat.Piece.ID, e) {
				continue
			}
			if t, ok := placeLetter(e, draft.Letter(n), l, by, out); ok {
				out = append(out, t)
			} else {
				missing++
			}
		}
	}
	return out, missing
}

// placeLetter finds the place of one letter on a copy that bears the others.
func placeLetter(e draft.FlatEdge, words string, l *Laid, by geom.Affine, others []Text) (Text, bool) {
	for _, share := range letterPlaces {
		if t, ok := letter(e, share, words, by); ok && free(t, l, others) {
			return t, true
		}
	}
	return Text{}, false
}

// sews reports whether a run of the seam uses the edge of this half.
func sews(seam *draft.Seam, piece draft.ID, e draft.FlatEdge) bool {
	for _, run := range [...]draft.Run{seam.A, seam.B} {
		for _, use := range run {
			if use.Piece == piece && use.Edge == e.Edge.ID && (use.Half == e.Half || seam.BothSides) {
				return true
			}
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

// textApart is how far two texts stand apart, as a share of the size of the one that
// finds its place: far enough not to be read as one.
const textApart = 0.4

// free reports whether a text lies inside the stitching line and crosses neither a
// line nor another text.
func free(t Text, l *Laid, others []Text) bool {
	box := t.Bounds()
	if !l.Stitch.Contains(box.Center()) {
		return false
	}
	for _, o := range append(l.Words(), others...) {
		if o.Bounds().Overlaps(box.Grow(textApart * t.Size)) {
			return false
		}
	}
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			if len(clip(c, box)) > 0 {
				return false
			}
		}
	}
	return true
}

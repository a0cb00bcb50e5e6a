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

// letters returns the letters of the piece's seams: the same letter stands on both
// edges of a seam, as printed patterns have it. One that would run into a line is
// left out.
func (r ruler) letters(flat *draft.Flat, l *Laid, by geom.Affine) []Text {
	used := make(map[int]int)
	var out []Text
	for n, seam := range r.project.Seams {
		for i, e := range flat.Edges {
			if !sews(seam, flat.Piece.ID, e) {
				continue
			}
			// A second seam on the same edge stands beside the first.
			shares := [...]float64{0.5, 0.3, 0.7}
			share := shares[used[i]%len(shares)]
			used[i]++
			if t, ok := letter(e, share, groupName(n), by); ok && free(t, l, out) {
				out = append(out, t)
			}
		}
	}
	return out
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

// free reports whether a text lies inside the stitching line and crosses neither a
// line nor another text.
func free(t Text, l *Laid, others []Text) bool {
	box := t.Bounds()
	if !l.Stitch.Contains(box.Center()) {
		return false
	}
	for _, o := range append(others[:len(others):len(others)], l.Notes...) {
		if o.Bounds().Overlaps(box) {
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

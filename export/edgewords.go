package export

import (
	"fmt"

	"hemlet/draft"
	"hemlet/geom"
)

// edgeWords is the size in mm of words that stand alone along a line; after a letter
// they have its size, and stand wordsGap of it away.
const (
	edgeWords = 2.0
	wordsGap  = 0.5
)

// wordsOff are how far in mm the middle of such words may stand from their line, the
// best first: inside a hollow curve straight words touch it sooner.
var wordsOff = [...]float64{seamLetterOff, seamLetterOff + 1.2, seamLetterOff + 2.4}

// foldWord stands along the line on which a piece is unfolded.
const foldWord = "fold line"

// fullnessWords says what is done to the edge of the piece where the seam wants it
// fuller than what it is sewn to; empty where it is sewn as it is. A run of one edge
// is brought to the length of the other run. No edge of a longer run has a length of
// its own to come to, so that the ratio stands there.
func (r ruler) fullnessWords(seam *draft.Seam, piece draft.ID, e draft.FlatEdge) string {
	full, other := seam.A, seam.B
	if seam.Fuller == draft.SideB {
		full, other = other, full
	}
	if seam.Fullness == draft.Plain || seam.Ratio <= 1 || !uses(full, seam.BothSides, piece, e) {
		return ""
	}
	verb := map[draft.Fullness]string{draft.Gathers: "gather", draft.Pleats: "pleat"}[seam.Fullness]
	if verb == "" {
		return seam.Fullness.String()
	}
	to, err := r.slots.RunLength(r.project, other)
	if len(full) > 1 || err != nil {
		return fmt.Sprintf("%s %s to 1", verb, decimals(seam.Ratio, 2))
	}
	return verb + " to " + r.project.Unit.FormatTrue(to)
}

// kindWords names what happens to an edge that is sewn to nothing, empty where that
// goes without saying.
func kindWords(kind draft.EdgeKind) string {
	switch kind {
	case draft.HemEdge, draft.CasingEdge, draft.RawEdge:
		return kind.String()
	default:
		return ""
	}
}

// edgeNotes returns the letters with what they say to do, and the words on the fold
// and on edges that have no letter, all where there is room: a letter keeps its place
// where its words have none.
func (r ruler) edgeNotes(flat *draft.Flat, l *Laid, by geom.Affine, letters []seamLetter) []Text {
	var out []Text
	for _, s := range letters {
		out = append(out, s.text)
	}
	lettered := make(map[int]bool)
	for i, s := range letters {
		lettered[s.edge] = true
		others := append(append([]Text(nil), out[:i]...), out[i+1:]...)
		if s.does == "" {
			continue
		}
		if line := alongEdge(flat.Edges[s.edge], s.text.Words, s.does, l, by, others); line != nil {
			out[i] = line[0]
			out = append(out, line[1:]...)
		}
	}
	if l.Label.Leader != nil {
		return out
	}
	if flat.Fold != nil {
		out = append(out, alongFold(flat, l, by, out)...)
	}
	for i, e := range flat.Edges {
		if words := kindWords(e.Edge.Kind); words != "" && !lettered[i] && !runsOn(flat, i) {
			out = append(out, alongEdge(e, "", words, l, by, out)...)
		}
	}
	return out
}

// runsOn reports whether an edge beyond the fold goes on where the edge that it
// mirrors ends: words on one of them do for both.
func runsOn(flat *draft.Flat, i int) bool {
	twin := flat.Edges[len(flat.Edges)-1-i]
	e := flat.Edges[i]
	return e.Half == draft.Far && (e.Line.Start() == twin.Line.End() || e.Line.End() == twin.Line.Start())
}

// alongEdge sets words along an edge, inside the stitching, after its letter if it
// has one; nil where there is no room.
func alongEdge(e draft.FlatEdge, letter, words string, l *Laid, by geom.Affine, others []Text) []Text {
	length := e.Length()
	for _, off := range wordsOff {
		for _, share := range letterPlaces {
			foot, ok := stand(e, share*length)
			if !ok {
				continue
			}
			at := by.Apply(foot.at)
			out := by.ApplyVector(foot.out)
			line, width := lineOfWords(at.Sub(out.Mul(off)), readable(out.Left()), letter, words)
			if width > length {
				return nil
			}
			if line, ok := fits(line, l, others); ok {
				return line
			}
		}
	}
	return nil
}

// alongFold sets the word on the fold, on either side of it.
func alongFold(flat *draft.Flat, l *Laid, by geom.Affine, others []Text) []Text {
	fold := geom.Path{*flat.Fold}.Transform(by)[0]
	along := fold.P3.Sub(fold.P0).Unit()
	for _, share := range letterPlaces {
		for _, side := range [...]float64{1, -1} {
			at := fold.At(share).Add(along.Left().Mul(side * seamLetterOff))
			line, width := lineOfWords(at, readable(along), "", foldWord)
			if width > fold.P0.Dist(fold.P3) {
				return nil
			}
			if line, ok := fits(line, l, others); ok {
				return line
			}
		}
	}
	return nil
}

// lineOfWords sets a letter, if any, and words in one line whose middle is given, and
// returns it with its width in mm.
func lineOfWords(middle geom.Point, turn float64, letter, words string) ([]Text, float64) {
	size, before := edgeWords, 0.0
	if letter != "" {
		size = seamLetters
		before = textWidth(letter, size, true) + wordsGap*size
	}
	width := before + textWidth(words, size, false)
	along := geom.Rotation(turn, geom.Point{}).ApplyVector(geom.Pt(1, 0))
	start := middle.Sub(along.Mul(width / 2)).Sub(along.Left().Mul((textHeight - textDepth) / 2 * size))
	line := []Text{{At: start.Add(along.Mul(before)), Size: size, Turn: turn, Words: words}}
	if letter != "" {
		line = append([]Text{{At: start, Size: size, Turn: turn, Strong: true, Words: letter}}, line...)
	}
	return line, width
}

// fits returns the line if it is free as a whole.
func fits(line []Text, l *Laid, others []Text) ([]Text, bool) {
	whole := line[0].slab()
	for _, t := range line[1:] {
		whole.box = whole.box.Union(t.slab().box)
	}
	return line, free(whole, l, others)
}

package export

import (
	"math"

	"hemlet/geom"
)

// Label is what is written on a piece.
type Label struct {
	Lines []Text
	// Note is the piece's note where it has no room among the lines and stands apart.
	Note []Text
	// NoteLeftOut says that the piece's note has no room anywhere.
	NoteLeftOut bool
	// Leader ties the words to the piece where they stand beside it.
	Leader geom.Path
}

// words returns every line of text of the label.
func (l Label) words() []Text { return append(append([]Text(nil), l.Lines...), l.Note...) }

func (l Label) transform(by geom.Affine) Label {
	l.Lines, l.Note = transformed(l.Lines, by), transformed(l.Note, by)
	if l.Leader != nil {
		l.Leader = l.Leader.Transform(by)
	}
	return l
}

// transformed returns texts moved by a map that neither scales nor mirrors.
func transformed(texts []Text, by geom.Affine) []Text {
	out := make([]Text, len(texts))
	for i, t := range texts {
		out[i] = t.Transform(by)
	}
	return out
}

func (l Label) bounds() geom.Rect {
	box := geom.EmptyRect()
	for _, t := range l.words() {
		box = box.Union(t.Bounds())
	}
	if l.Leader != nil {
		box = box.Union(l.Leader.Bounds())
	}
	return box
}

// The sizes of lettering in mm to the em: what is pleasant, and the least that is
// read at arm's length on paper.
const (
	largestLetters  = 5.5
	fullLabelLeast  = 2.2
	smallestLetters = 1.8
	besideLetters   = 2.4
	letterStep      = 0.88
)

// leading is the distance of baselines as a share of the larger line's em.
const leading = 1.25

// block is a set of lines, centred on each other, at a size of 1 mm.
type block struct {
	lines []wording
	w, h  float64
}

func blockOf(lines []wording) block {
	b := block{lines: lines}
	for _, l := range lines {
		b.w = max(b.w, textWidth(l.words, l.share, l.strong))
		b.h += leading * l.share
	}
	return b
}

// set places the block with its middle at centre.
func (b block) set(centre geom.Point, size, turn float64) []Text {
	place := geom.Rotation(turn, geom.Point{}).Then(geom.Translation(centre))
	out := make([]Text, len(b.lines))
	y := b.h / 2 * size
	for i, l := range b.lines {
		em := l.share * size
		y -= leading * em
		// The letters stand in the middle of their line.
		base := y + (leading-textHeight+textDepth)/2*em
		out[i] = Text{At: place.Apply(geom.Pt(0, base)), Size: em, Turn: turn, Anchor: Middle, Strong: l.strong, Words: l.words}
	}
	return out
}

// label finds the label's place on a copy that is laid without one: inside the
// stitching line and off every mark, upright where it can be, as large as fits.
// A note for which the label has no room stands near it, and where the piece has none
// at all, less is said besides. Where no legible size fits, the label stands beside the
// piece with a leader. Borders are further lines that it keeps off.
func (r ruler) label(l *Laid, by geom.Affine, borders ...geom.Path) Label {
	room, tries := roomIn(l, borders), r.tries(l)
	if at := l.Piece.LabelAt; at != nil {
		return labelAt(tries[0].blocks, room, by.Apply(*at))
	}
	var noteless Label
	for _, try := range tries {
		lines := room.largestOf(try.blocks, try.least)
		if lines == nil {
			continue
		}
		if try.whole {
			return Label{Lines: lines}
		}
		if note := room.apart(lines, l.Piece.Note); note != nil {
			return Label{Lines: lines, Note: note}
		}
		if noteless.Lines == nil {
			noteless = Label{Lines: lines, NoteLeftOut: true}
		}
	}
	if noteless.Lines != nil {
		return noteless
	}
	return beside(tries[0].blocks[0], l, room)
}

// worthTurning is how many times larger a label must come out to be set sideways.
const worthTurning = 1.6

// largestOf returns the one of the blocks that comes out largest, the first of several
// that come out alike; nil where none reaches the least size.
func (r *room) largestOf(blocks []block, least float64) []Text {
	var lines []Text
	best := 0.0
	for _, b := range blocks {
		if best >= largestLetters {
			break
		}
		if set, size := r.largest(b, largestLetters, math.Max(least, best)); size > best {
			lines, best = set, size
		}
	}
	return lines
}

// largest returns the block at the largest size up to the most that fits, and the
// size; nil where that is below the least.
func (r *room) largest(b block, most, least float64) ([]Text, float64) {
	var upright, turned float64
	var at, turnedAt geom.Point
	for size := most; size >= least && upright == 0; size *= letterStep {
		if p, ok := r.find(b.w*size, b.h*size, size); ok {
			at, upright = p, size
		}
	}
	for size := most; size >= least && size > upright*worthTurning && turned == 0; size *= letterStep {
		if p, ok := r.find(b.h*size, b.w*size, size); ok {
			turnedAt, turned = p, size
		}
	}
	switch {
	case turned > 0:
		return b.set(turnedAt, turned, math.Pi/2), turned
	case upright > 0:
		return b.set(at, upright, 0), upright
	default:
		return nil, 0
	}
}

// labelAt sets the label where its maker wants it, the block of it that comes out
// largest, at the largest size that stays clear of other lines there.
func labelAt(blocks []block, room *room, at geom.Point) Label {
	size := largestLetters
	for ; size > smallestLetters; size *= letterStep {
		for _, b := range blocks {
			if room.holds(at, b.w*size, b.h*size, clearOf*size) {
				return Label{Lines: b.set(at, size, 0)}
			}
		}
	}
	return Label{Lines: blocks[0].set(at, size, 0)}
}

// besideGap is how far in mm a label stands off a piece that has no room for it.
const besideGap = 4

// beside sets the label to the right of the piece.
func beside(b block, l *Laid, room *room) Label {
	box := l.Cut.Bounds()
	for _, m := range l.Marks {
		box = box.Union(m.Bounds())
	}
	left := geom.Pt(box.Max.X+besideGap, box.Center().Y)
	lines := b.set(left.Add(geom.Pt(b.w/2*besideLetters, 0)), besideLetters, 0)
	gap := geom.Pt(besideLetters/3, 0)
	return Label{Lines: lines, Leader: geom.Path{geom.Line(room.middle(left), left.Sub(gap))}}
}

package export

import (
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// Label is what is written on a piece.
type Label struct {
	Lines []Text
	// Leader ties the words to the piece where they stand beside it.
	Leader geom.Path
}

func (l Label) transform(by geom.Affine) Label {
	lines := make([]Text, len(l.Lines))
	for i, t := range l.Lines {
		lines[i] = t.Transform(by)
	}
	l.Lines = lines
	if l.Leader != nil {
		l.Leader = l.Leader.Transform(by)
	}
	return l
}

func (l Label) bounds() geom.Rect {
	box := geom.EmptyRect()
	for _, t := range l.Lines {
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

// wording is one line of a label: its words, and its size as a share of the
// label's.
type wording struct {
	words  string
	share  float64
	strong bool
}

// words returns the lines that a label has in full, and the few that a small piece
// has room for, below each other or as one line.
func (r ruler) words(l *Laid) (full, few, one []wording) {
	p := l.Piece
	name := wording{p.Name, 1.25, true}
	rule := wording{ruleWords(p.Cut), 1, false}
	revision := wording{"rev " + l.Revision, 0.85, false}
	full = append(full, name, rule)
	if cloth := r.clothWords(p); cloth != "" {
		full = append(full, wording{cloth, 1, false})
	}
	full = append(full, wording{allowanceWords(p, r.project.Unit), 0.85, false})
	for _, line := range wrap(p.Note, 32) {
		full = append(full, wording{line, 0.85, false})
	}
	full = append(full, revision)
	line := wording{name.words + ", " + rule.words + ", " + revision.words, 1, false}
	return full, []wording{name, rule, revision}, []wording{line}
}

// ruleWords says how often the piece is cut; a piece that is cut on the fold is
// drawn unfolded, so that nobody folds it twice.
func ruleWords(rule draft.CutRule) string {
	if rule.Way != draft.CutOnFold {
		return rule.String()
	}
	return draft.CutRule{Count: rule.Count}.String() + ", drawn unfolded"
}

// clothWords names the cloth, and the layer where it is not the shell.
func (r ruler) clothWords(p *draft.Piece) string {
	var words []string
	if c := r.project.Cloth(p.Cloth); c != nil && c.Name != "" {
		words = append(words, c.Name)
	}
	if p.Layer != draft.Shell {
		words = append(words, p.Layer.String())
	}
	return strings.Join(words, ", ")
}

// allowanceWords says what the cut line holds beyond the stitching line.
func allowanceWords(p *draft.Piece, unit draft.Unit) string {
	width, one := -1.0, true
	for _, e := range p.Edges {
		if e.Kind == draft.FoldEdge {
			continue
		}
		for _, w := range [...]float64{e.Allowance.Start, e.Allowance.End} {
			if width >= 0 && w != width {
				one = false
			}
			width = max(width, w)
		}
	}
	switch {
	case width <= 0:
		return "no allowance"
	case one:
		return unit.FormatTrue(width) + " allowance included"
	default:
		return "allowances included"
	}
}

// wrap breaks a text into lines of at most most letters where it can.
func wrap(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > most {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

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
// Where no legible size fits it stands beside the piece with a leader.
// Borders are further lines that it keeps off.
func (r ruler) label(l *Laid, by geom.Affine, borders ...geom.Path) Label {
	full, few, one := r.words(l)
	room := roomIn(l, borders)
	if at := l.Piece.LabelAt; at != nil {
		return labelAt(blockOf(full), room, by.Apply(*at))
	}
	for _, try := range []struct {
		lines []wording
		least float64
	}{{full, fullLabelLeast}, {few, smallestLetters}, {one, smallestLetters}} {
		if lines := room.largest(blockOf(try.lines), try.least); lines != nil {
			return Label{Lines: lines}
		}
	}
	return beside(blockOf(full), l, room)
}

// worthTurning is how many times larger a label must come out to be set sideways.
const worthTurning = 1.6

// largest returns the block at the largest size that fits, nil where that is
// below the least.
func (r *room) largest(b block, least float64) []Text {
	var upright, turned float64
	var at, turnedAt geom.Point
	for size := largestLetters; size >= least && upright == 0; size *= letterStep {
		if p, ok := r.find(b.w*size, b.h*size, size); ok {
			at, upright = p, size
		}
	}
	for size := largestLetters; size >= least && size > upright*worthTurning && turned == 0; size *= letterStep {
		if p, ok := r.find(b.h*size, b.w*size, size); ok {
			turnedAt, turned = p, size
		}
	}
	switch {
	case turned > 0:
		return b.set(turnedAt, turned, math.Pi/2)
	case upright > 0:
		return b.set(at, upright, 0)
	default:
		return nil
	}
}

// labelAt sets the label where its maker wants it, at the largest size that stays
// clear of other lines there.
func labelAt(b block, room *room, at geom.Point) Label {
	size := largestLetters
	for ; size > smallestLetters; size *= letterStep {
		if room.holds(at, b.w*size, b.h*size, clearOf*size) {
			break
		}
	}
	return Label{Lines: b.set(at, size, 0)}
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

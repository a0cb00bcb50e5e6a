package station

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/formula"
	"hemlet/geom"
)

// linkShape is that of a name that leads to its step.
var linkShape = control.Shape{Size: fyne.NewSize(8, 19), Text: 11.5, Radius: 5, Beside: true, Close: true}

// putReads shows the names that the formula of a step reads, with their values; those of
// steps lead there.
func (v *stepView) putReads(st block.Step, u draft.Unit) {
	v.reads.RemoveAll()
	for _, name := range v.readBy(st) {
		text := name + "  " + v.valueOf(name, u)
		i, isStep := v.index[name]
		if !isStep {
			v.reads.Add(control.Inset(4, 2, 4, 2, control.NewText(text, linkShape.Text, false, look.Faint)))
			continue
		}
		link := control.NewButton(linkShape, "", text, "Go to the step "+name+": "+v.steps[i].Says, func() { v.goTo(i) })
		link.Colour = theme.ColorNamePrimary
		v.reads.Add(link)
	}
	show(v.reads, len(v.reads.Objects) > 0)
}

// fromPoint returns the first point of an earlier step that the formula of a step reads,
// where that makes a point.
func (v *stepView) fromPoint(st block.Step) (name string, from, at geom.Point, ok bool) {
	p, isPoint := st.Value.(formula.Point)
	if !isPoint {
		return "", from, at, false
	}
	for _, name := range v.readBy(st) {
		if i, known := v.index[name]; known {
			if q, isPoint := v.steps[i].Value.(formula.Point); isPoint {
				return name, q.At, p.At, true
			}
		}
	}
	return "", from, at, false
}

// sameSpot is how near, in mm, two points are that are told to be one.
const sameSpot = 1e-6

// valueWords says what a step comes to: of a point how it lies from the point that it was
// drawn from, which a ruler can follow, and only else where on the sheet.
func (v *stepView) valueWords(st block.Step, u draft.Unit) string {
	name, from, at, ok := v.fromPoint(st)
	if !ok {
		return showValue(st.Value, u)
	}
	by := at.Sub(from)
	across, up := "", ""
	switch {
	case by.X > sameSpot:
		across = u.Format(by.X) + " right of"
	case by.X < -sameSpot:
		across = u.Format(-by.X) + " left of"
	}
	switch {
	case by.Y > sameSpot:
		up = u.Format(by.Y) + " above"
	case by.Y < -sameSpot:
		up = u.Format(-by.Y) + " below"
	}
	switch {
	case across == "" && up == "":
		return "at " + name
	case across == "" || up == "":
		return across + up + " " + name
	}
	return across + " and " + up + " " + name
}

// shortValue is valueWords for the narrow list.
func (v *stepView) shortValue(st block.Step, u draft.Unit) string {
	name, from, at, ok := v.fromPoint(st)
	if !ok {
		if p, isPoint := st.Value.(formula.Point); isPoint {
			return u.FormatBare(p.At.X) + ", " + u.FormatBare(p.At.Y)
		}
		return showValue(st.Value, u)
	}
	text := u.Format(at.Dist(from))
	// What fits beside the step's own name, in letters.
	const room = 36
	if full := text + " from " + name; len(full)+len(st.Name) <= room {
		return full
	}
	return text
}

// onPiece is how near, in mm, a line of the construction lies to one of a finished piece
// that it has become.
const onPiece = 0.05

// leads reports whether a line of the construction has become one of a finished piece: an
// edge, a part of one, or a line inside.
func leads(path geom.Path, s *block.Sheet) bool {
	for i := range s.Pieces {
		lines := []geom.Path{outlineOf(&s.Pieces[i])}
		for _, l := range s.Pieces[i].Lines {
			lines = append(lines, pathOf(l.Nodes, l.Closed))
		}
		for _, line := range lines {
			if len(line) > 0 && along(path, line) {
				return true
			}
		}
	}
	return false
}

// along reports whether a path runs along another.
func along(path, line geom.Path) bool {
	for _, share := range []float64{0.02, 0.35, 0.65, 0.98} {
		at := path.At(path.AtLength(share * path.Length()))
		if _, d := line.Nearest(at); d > onPiece || math.IsNaN(d) {
			return false
		}
	}
	return true
}

// chapterAt returns the chapter in which a step is, -1 where there is none.
func (v *stepView) chapterAt(step int) int {
	at := -1
	for i, c := range v.chapters {
		if v.index[c.Step] <= step {
			at = i
		}
	}
	return at
}

// takeChapters takes in the chapters of the block in hand.
func (v *stepView) takeChapters() {
	v.chapters = nil
	if t := v.s.now; t != nil {
		for _, c := range t.block.Chapters() {
			if _, ok := v.index[c.Step]; ok {
				v.chapters = append(v.chapters, c)
			}
		}
	}
	titles := make([]string, len(v.chapters))
	for i, c := range v.chapters {
		titles[i] = c.Title
	}
	show(v.partsBox, len(titles) > 0)
	if !slices.Equal(titles, v.titles) {
		v.titles = titles
		v.parts.Offer(titles, -1)
	}
	// A row that begins a chapter bears its title above.
	heads := map[int]string{}
	for _, c := range v.chapters {
		heads[v.index[c.Step]] = c.Title
	}
	for i := range v.heads {
		if heads[i] == "" {
			v.list.SetItemHeight(i, stepRowHigh)
		}
	}
	for i := range heads {
		v.list.SetItemHeight(i, stepRowHigh+stepHeadHigh)
	}
	v.heads = heads
}

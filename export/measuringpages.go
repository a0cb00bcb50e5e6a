package export

import (
	"fmt"
	"strings"

	"hemlet/draft/body"
	"hemlet/geom"
)

// Where things lie on the pages, in mm from the lower left.
const (
	formTop     = formHigh - formMargin
	firstFigure = 143.0 // the lower edge of the figure on the first page
	figureTop   = formTop - 24
	askedTop    = 133.0
	askedStep   = 23.6
	columnGap   = 10.0
	columnWide  = (formRoom - columnGap) / 2
)

// first draws the page of the ten measures that are asked for first.
func (f *form) first() {
	f.say(geom.Pt(formMargin, formTop-5.5), titleSize, true, "Measuring sheet")
	y := formTop - 5.5
	f.toFill("for", formMargin+74, formMargin+134, y)
	f.toFill("on", formMargin+138, formMargin+formRoom, y)
	y -= 8.5
	f.say(geom.Pt(formMargin, y), noteSize, false, "Measure over what is worn underneath, tape held level and not drawn in. All figures in")
	x := formMargin + textWidth("Measure over what is worn underneath, tape held level and not drawn in. All figures in", noteSize, false) + 2.5
	for _, unit := range []string{"mm", "cm", "in"} {
		f.box(geom.Pt(x, y-0.4))
		f.say(geom.Pt(x+4, y), noteSize, true, unit)
		x += 11
	}
	f.line(geom.Pt(formMargin, y-4.5), geom.Pt(formMargin+formRoom, y-4.5), formFaint)
	f.figures(geom.Rect{Min: geom.Pt(formMargin, firstFigure), Max: geom.Pt(formMargin+formRoom, figureTop)}, f.asked)
	f.say(geom.Pt(formMargin, askedTop+1.5), headSize, true, "These ten first")
	f.say(geom.Pt(formMargin+textWidth("These ten first", headSize, true)+3, askedTop+1.5), noteSize, false, "What you cannot take, leave empty: it is estimated from the others.")
	for i, m := range f.asked {
		col, row := i/5, i%5
		f.askedLine(m, geom.Pt(formMargin+float64(col)*(columnWide+columnGap), askedTop-5.5-float64(row)*askedStep))
	}
}

// toFill draws a word and a line to write on, from x to right.
func (f *form) toFill(word string, x, right, y float64) {
	f.say(geom.Pt(x, y), noteSize, false, word)
	f.line(geom.Pt(x+textWidth(word, noteSize, false)+1.5, y-0.8), geom.Pt(right, y-0.8), formRule)
}

// box draws a small square to tick.
func (f *form) box(at geom.Point) {
	f.trace(squareAt(at, 2.7), geom.Identity, formRule)
}

// lineFor is how long the line to write a measure on is, in mm.
const lineFor = 28

// askedLine draws one of the measures that are asked for first under a place: its
// number and words, how it is taken, and a line to write on.
func (f *form) askedLine(m *body.Measure, at geom.Point) {
	f.disc(at.Add(geom.Pt(2.4, -2.6)), f.number[m.Name])
	words := capital(m.Words)
	f.say(at.Add(geom.Pt(7, -3.7)), wordSize, true, words)
	const from = 7
	y := at.Y - 8
	for _, l := range setLines(strings.Fields(m.How), columnWide-from, howSize) {
		f.say(geom.Pt(at.X+from, y), howSize, false, l)
		y -= howSize * 1.3
	}
	right := at.X + columnWide
	left := max(at.X+from+textWidth(words, wordSize, true)+3, right-lineFor)
	f.line(geom.Pt(left, at.Y-4.4), geom.Pt(right, at.Y-4.4), formRule)
}

// second draws the page of the other measures, the levels, what comes off and what is
// worn underneath.
func (f *form) second() {
	f.say(geom.Pt(formMargin, formTop-4), headSize, true, "More, where you have the time")
	f.say(geom.Pt(formMargin+textWidth("More, where you have the time", headSize, true)+3, formTop-4), noteSize, false, "Each makes the pattern surer at its place.")
	f.line(geom.Pt(formMargin, formTop-7.5), geom.Pt(formMargin+formRoom, formTop-7.5), formFaint)
	rows := (len(f.rest) + 1) / 2
	const step = 7.6
	low := 84 + float64(rows)*step
	f.figures(geom.Rect{Min: geom.Pt(formMargin, low+9), Max: geom.Pt(formMargin+formRoom, formTop-10)}, f.rest)
	for i, m := range f.rest {
		col, row := i/rows, i%rows
		at := geom.Pt(formMargin+float64(col)*(columnWide+columnGap), low-float64(row)*step)
		f.disc(at.Add(geom.Pt(2.2, 1)), f.number[m.Name])
		f.say(at.Add(geom.Pt(6.4, 0)), 2.8, false, capital(m.Words))
		left := max(at.X+6.4+textWidth(m.Words, 2.8, false)+3, at.X+columnWide-lineFor)
		f.line(geom.Pt(left, at.Y-0.9), geom.Pt(at.X+columnWide, at.Y-0.9), formRule)
	}
	f.levelTable(geom.Pt(formMargin, 76))
	f.asideTable(geom.Pt(formMargin+columnWide+columnGap, 76))
}

// levelTable draws the table of the levels below a place.
func (f *form) levelTable(at geom.Point) {
	f.say(at, headSize, true, "Levels")
	f.say(at.Add(geom.Pt(0, -4.2)), howSize, false, "How high above the ground, and from side to side across the front")
	f.say(at.Add(geom.Pt(0, -7.4)), howSize, false, "and the back. Add your own, such as over the spines.")
	const name, step = 22.0, 7.3
	each := (columnWide - name) / 3
	y := at.Y - 12
	for i, w := range []string{"height", "front", "back"} {
		f.say(geom.Pt(at.X+name+float64(i)*each+2, y), noteSize, false, w)
	}
	for _, l := range append(append([]string{}, body.Levels[:]...), "", "", "") {
		y -= step
		if l != "" {
			f.say(geom.Pt(at.X, y), 2.8, false, capital(l))
		} else {
			f.line(geom.Pt(at.X, y-0.9), geom.Pt(at.X+name-2, y-0.9), formRule)
		}
		for i := range 3 {
			x := at.X + name + float64(i)*each
			f.line(geom.Pt(x+2, y-0.9), geom.Pt(x+each, y-0.9), formRule)
		}
	}
}

// asideTable draws the lines for what comes off and for what is worn underneath.
func (f *form) asideTable(at geom.Point) {
	f.say(at, headSize, true, "Parts that come off, or must pass")
	y := at.Y - 4.2
	f.say(geom.Pt(at.X, y), howSize, false, "A head, a tail, a hand with a lantern: how much round at the largest.")
	const step = 7.3
	y -= 1.2
	for range 4 {
		y -= step
		f.line(geom.Pt(at.X, y-0.9), geom.Pt(at.X+34, y-0.9), formRule)
		f.toFill("round", at.X+36, at.X+62, y)
		f.box(geom.Pt(at.X+66, y-0.4))
		f.say(geom.Pt(at.X+70, y), noteSize, false, "comes off")
	}
	y -= 11
	f.say(geom.Pt(at.X, y), headSize, true, "Worn underneath")
	for range 2 {
		y -= step
		f.line(geom.Pt(at.X, y-0.9), geom.Pt(at.X+46, y-0.9), formRule)
		f.toFill("thick", at.X+48, at.X+columnWide, y)
	}
}

// capital begins words with a capital.
func capital(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// disc draws a number in a circle.
func (f *form) disc(at geom.Point, n int) {
	const r = 2.05
	f.fillPath(circle(at, r), formWhite)
	f.trace(circle(at, r), geom.Identity, formMark)
	f.sayMiddle(at.Add(geom.Pt(0, -0.82)), 2.3, true, fmt.Sprint(n))
}

// circle returns a circle of four cubics, off by less than 0.03 % of its radius.
func circle(c geom.Point, r float64) geom.Path {
	const k = 0.5523
	pt := func(x, y float64) geom.Point { return c.Add(geom.Pt(x*r, y*r)) }
	return geom.Path{
		geom.Cubic(pt(1, 0), pt(1, k), pt(k, 1), pt(0, 1)), geom.Cubic(pt(0, 1), pt(-k, 1), pt(-1, k), pt(-1, 0)),
		geom.Cubic(pt(-1, 0), pt(-1, -k), pt(-k, -1), pt(0, -1)), geom.Cubic(pt(0, -1), pt(k, -1), pt(1, -k), pt(1, 0)),
	}
}

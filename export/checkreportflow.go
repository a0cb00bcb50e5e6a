package export

import (
	"strings"

	"github.com/tdewolff/canvas"

	"hemlet/geom"
)

// flow lays a report on pages from top to bottom. Its places are mm from the lower left
// of a page.
type flow struct {
	left, width, top, bottom float64
	// y is where on the last page the next thing goes.
	y      float64
	leaves [][]func(*form)
	// again, where set, is drawn at the top of a page that a table runs on to.
	again func()
}

// footRoom is what the foot of a page takes above the margin, in mm.
const footRoom = 6

func newFlow(p Paper) *flow {
	f := &flow{left: reportMargin, width: p.Width - 2*reportMargin, top: p.Height - reportMargin, bottom: reportMargin + footRoom}
	f.turn()
	return f
}

// newReportForm returns the form that draws a page of a report, at its own size.
func newReportForm(to canvas.Renderer, fonts *lettering) *form {
	return &form{pen: pen{to: to, fonts: fonts, place: geom.Identity}, scale: 1}
}

// turn begins a page.
func (f *flow) turn() {
	f.leaves = append(f.leaves, nil)
	f.y = f.top
	if f.again != nil {
		f.again()
	}
}

// need begins a page where less than high mm are left on this one, unless it is empty.
func (f *flow) need(high float64) {
	if f.y-high < f.bottom && f.y < f.top {
		f.turn()
	}
}

func (f *flow) draw(do func(*form)) {
	last := len(f.leaves) - 1
	f.leaves[last] = append(f.leaves[last], do)
}

func (f *flow) skip(mm float64) { f.y -= mm }

// lineStep is the distance of lines as a share of their size.
const lineStep = 1.32

// say writes words at x in lines of at most width mm and goes on below them.
func (f *flow) say(x, width, size float64, strong bool, words string) {
	for _, line := range setLinesIn(strings.Fields(words), width, size, strong) {
		f.need(size * lineStep)
		f.write(x, size, strong, line)
		f.skip(size * lineStep)
	}
}

// write puts one line of text with its top at y, and stays there.
func (f *flow) write(x, size float64, strong bool, words string) {
	at := geom.Pt(x, f.y-textHeight*size)
	f.draw(func(to *form) { to.say(at, size, strong, words) })
}

// rule draws a thin line across the page.
func (f *flow) rule(look stroke) {
	a, b := geom.Pt(f.left, f.y), geom.Pt(f.left+f.width, f.y)
	f.draw(func(to *form) { to.line(a, b, look) })
}

// The sizes of the letters of a report, in mm to the em.
const (
	reportTitle = 6.4
	reportHead  = 4.2
	reportText  = 2.9
	reportCell  = 2.6
	reportNote  = 2.4
)

// chapterRoom is the room in mm that a heading and its first line need at the least.
const chapterRoom = 24

// chapter begins a section with a heading that does not stand alone at the foot of a
// page.
func (f *flow) chapter(title, says string) { f.chapterFor(title, says, 0) }

// chapterFor begins a section whose first part is high mm high.
func (f *flow) chapterFor(title, says string, high float64) {
	f.again = nil
	f.skip(5)
	f.need(chapterRoom + high)
	f.say(f.left, f.width, reportHead, true, title)
	f.skip(0.8)
	if says != "" {
		f.say(f.left, f.width, reportNote, false, says)
	}
	f.skip(1.6)
}

// column is one column of a table.
type column struct {
	title string
	// share is its part of the width of the table.
	share float64
}

// cell is one field of a table: a sign, words, or both.
type cell struct {
	sign   sign
	words  string
	strong bool
}

func plain(words string) cell { return cell{words: words} }

// cellGap is what is free between two columns and above and below a row, in mm.
const (
	cellGap = 2
	rowGap  = 0.9
)

// table writes rows under the titles of their columns, and the titles again on every
// page that it runs on to.
func (f *flow) table(columns []column, rows [][]cell) {
	if len(rows) == 0 {
		return
	}
	whole := 0.0
	for _, c := range columns {
		whole += c.share
	}
	lefts, widths := make([]float64, len(columns)), make([]float64, len(columns))
	x := f.left
	for i, c := range columns {
		lefts[i], widths[i] = x, c.share/whole*f.width-cellGap
		x += c.share / whole * f.width
	}
	titles := func() {
		f.rowOf(lefts, widths, titleCells(columns), reportNote)
		f.rule(formRule)
	}
	f.need(4 * reportCell * lineStep)
	titles()
	f.again = titles
	for i, r := range rows {
		// The last two rows stay together, so that none stands alone on a page.
		if i > 0 && i == len(rows)-2 {
			if high := f.rowHigh(widths, r, reportCell) + f.rowHigh(widths, rows[i+1], reportCell); high < (f.top-f.bottom)/2 {
				f.need(high)
			}
		}
		f.rowOf(lefts, widths, r, reportCell)
		f.rule(formFaint)
	}
	f.again = nil
}

func titleCells(columns []column) []cell {
	cells := make([]cell, len(columns))
	for i, c := range columns {
		cells[i] = cell{words: c.title, strong: true}
	}
	return cells
}

// signRoom is what a sign takes beside words, in mm.
const signRoom = 4

// rowLines sets the words of a row in lines, and returns how many there are at most.
func rowLines(widths []float64, cells []cell, size float64) (lines [][]string, most int) {
	lines, most = make([][]string, len(cells)), 1
	for i, c := range cells {
		room := widths[i]
		if c.sign != noSign {
			room -= signRoom
		}
		lines[i] = setLinesIn(strings.Fields(c.words), room, size, c.strong)
		most = max(most, len(lines[i]))
	}
	return lines, most
}

// rowHigh returns how high a row is.
func (f *flow) rowHigh(widths []float64, cells []cell, size float64) float64 {
	_, most := rowLines(widths, cells, size)
	return float64(most)*size*lineStep + 2*rowGap
}

// rowOf writes one row: whole on one page, unless it is longer than half of one.
func (f *flow) rowOf(lefts, widths []float64, cells []cell, size float64) {
	lines, most := rowLines(widths, cells, size)
	if high := float64(most)*size*lineStep + 2*rowGap; high < (f.top-f.bottom)/2 {
		f.need(high)
	}
	f.skip(rowGap)
	for n := range most {
		f.need(size*lineStep + rowGap)
		for i, c := range cells {
			x := lefts[i]
			if c.sign != noSign {
				if n == 0 {
					f.sign(geom.Pt(x+1.4, f.y-0.42*size), c.sign)
				}
				x += signRoom
			}
			if n < len(lines[i]) {
				f.write(x, size, c.strong, lines[i][n])
			}
		}
		f.skip(size * lineStep)
	}
	f.skip(rowGap)
}

// sign is a small shape that stands beside a word, so that neither shape, word nor
// colour tells alone.
type sign int

const (
	noSign sign = iota
	signProblem
	signLook
	signNote
	signHolds
)

// The colours of the signs on paper.
const (
	pinColour   = "#c8502f"
	ochreColour = "#9a6a12"
	inkColour   = "#24303a"
	mossColour  = "#4b7a47"
)

// besides returns the middle of a sign at x that stands beside the line of text at y.
func (f *flow) besides(x float64) geom.Point { return geom.Pt(x+1.4, f.y-0.42*reportText) }

// sign draws a sign with its middle at a place.
func (f *flow) sign(at geom.Point, s sign) {
	f.draw(func(to *form) {
		switch s {
		case signProblem:
			to.fillPath(geom.Polygon(at.Add(geom.Pt(-1.3, -1.1)), at.Add(geom.Pt(1.3, -1.1)), at.Add(geom.Pt(0, 1.2))), pinColour)
		case signLook:
			to.trace(geom.Polygon(at.Add(geom.Pt(0, -1.2)), at.Add(geom.Pt(1.2, 0)), at.Add(geom.Pt(0, 1.2)), at.Add(geom.Pt(-1.2, 0))), geom.Identity, stroke{0.4, ochreColour, nil})
		case signNote:
			to.trace(circle(at, 0.9), geom.Identity, stroke{0.3, inkColour, nil})
		case signHolds:
			to.trace(geom.Path{geom.Line(at.Add(geom.Pt(-1.1, 0)), at.Add(geom.Pt(-0.3, -0.9))), geom.Line(at.Add(geom.Pt(-0.3, -0.9)), at.Add(geom.Pt(1.2, 1.1)))}, geom.Identity, stroke{0.45, mossColour, nil})
		}
	})
}

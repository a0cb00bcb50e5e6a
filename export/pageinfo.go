package export

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hemlet/draft"
	"hemlet/geom"
)

// The parts of the facts that the first page bears, in mm.
const (
	// factsTop keeps the squares off the upper border of what the page shows.
	factsTop = 1
	// factsGap lies between the squares, the words and the map.
	factsGap = 3
	// squareGap lies between the two squares where the page is wide enough.
	squareGap = 5
	// titleLetters and factsLetters are the sizes of the words, titleLine and
	// factsLine what a line of them takes.
	titleLetters = 4.2
	titleLine    = 5.4
	factsLetters = 2.5
	factsLine    = 3.3
	// mapBeside is the width of a map beside the words, mapBelow the height of one
	// below them.
	mapBeside = 34
	mapBelow  = 50
)

// twoInches is the side in mm of the second square.
const twoInches = 2 * draft.MMPerInch

// facts is the block of squares, words and map on the first page. Its places are in
// mm from its upper left corner, y upward.
type facts struct {
	w, h float64
	// squares are the lower left corners of the squares of 50 mm and of 2 in.
	squares [2]geom.Point
	words   geom.Rect
	lines   []string
	chart   geom.Rect
}

// factsFor returns the block for a page that shows w mm across: with the map beside
// the words, or larger below them.
func (p *Plan) factsFor(w float64, below bool) facts {
	f := facts{w: math.Min(w, ScaleMM+squareGap+twoInches)}
	base := -float64(factsTop + twoInches)
	f.squares = [2]geom.Point{geom.Pt(0, base), geom.Pt(f.w-twoInches, base)}
	top, width := base-factsGap, f.w
	if !below {
		width -= factsGap + mapBeside
	}
	f.lines = p.factLines(width, p.options.now())
	// The room is the same whatever the day, so that the pages of another day fit these.
	lines := max(len(f.lines), len(p.factLines(width, widestDay)))
	high := titleLine + float64(lines)*factsLine
	f.words = geom.Rect{Min: geom.Pt(0, top-high), Max: geom.Pt(width, top)}
	if below {
		under := f.words.Min.Y - factsGap
		f.chart = geom.Rect{Min: geom.Pt(0, under-mapBelow), Max: geom.Pt(f.w, under)}
	} else {
		f.chart = geom.Rect{Min: geom.Pt(f.w-mapBeside, f.words.Min.Y), Max: geom.Pt(f.w, top)}
	}
	f.h = -math.Min(f.words.Min.Y, f.chart.Min.Y)
	return f
}

// widestDay is a day that takes the most room in words.
var widestDay = time.Date(2000, time.September, 26, 0, 0, 0, 0, time.UTC)

// factLines are the words below the squares, in lines of a width in mm.
func (p *Plan) factLines(width float64, day time.Time) []string {
	correction := "Printer correction: none."
	if p.across != 1 || p.up != 1 {
		correction = fmt.Sprintf("Printer correction: %s %% across, %s %% up.", decimals(p.across*100, 2), decimals(p.up*100, 2))
	}
	join := "No page needs to be joined to another."
	if p.joined {
		join = "Pages of one sheet are joined: trim along the grey line, lay it on the dashed grey line of its neighbour so that the diamonds meet."
	}
	var lines []string
	for _, says := range [...]string{
		fmt.Sprintf("%s, printed %s", p.Paper.words(p.Project.Unit), day.Format("2 January 2006")),
		"Print at 100 %, then measure both squares.",
		correction,
		"Solid: cut here. Dashed: stitch, darts as well.",
		"Dash and dot: fold line; thinner: a level or a place.",
		"The mark after rev changes when the piece changes: compare it with the screen before you cut an old print.",
		join,
	} {
		lines = append(lines, setLines(strings.Fields(says), width, factsLetters)...)
	}
	return lines
}

// drawFacts draws squares, words and map on the first page.
func (p *Plan) drawFacts(to pen) {
	f, corner := p.facts, geom.Pt(p.info.Min.X, p.info.Max.Y)
	p.square(to, corner.Add(f.squares[0]), ScaleMM, "50 mm")
	p.square(to, corner.Add(f.squares[1]), twoInches, "2 in")
	at := corner.Add(geom.Pt(f.words.Min.X, f.words.Max.Y-titleLetters*textHeight))
	to.write(Text{At: at, Size: titleLetters, Strong: true, Words: fit(p.Project.Name, f.words.W(), titleLetters, true)})
	at = corner.Add(geom.Pt(f.words.Min.X, f.words.Max.Y-titleLine-factsLetters*textHeight))
	for _, line := range f.lines {
		to.write(Text{At: at, Size: factsLetters, Words: line})
		at.Y -= factsLine
	}
	p.drawMap(to, geom.Rect{Min: f.chart.Min.Add(corner), Max: f.chart.Max.Add(corner)})
}

func (p *Plan) square(to pen, corner geom.Point, side float64, words string) {
	to.strokePath(squareAt(corner, side), squareLook, 0)
	to.write(Text{At: corner.Add(geom.Pt(side/2, side/2-1)), Size: 4, Anchor: Middle, Words: words})
}

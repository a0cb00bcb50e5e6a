package export

import (
	"fmt"
	"math"
	"strings"

	"hemlet/draft"
	"hemlet/geom"
)

// The parts of what the first page bears, in mm.
const (
	infoTitle   = 13
	infoMap     = 50
	infoGap     = 5
	squareWords = 6
	// wordsBeside is the least width that the words need beside the squares.
	wordsBeside = 60
	// linesBelow is how many lines they take at most below them.
	linesBelow  = 7
	infoLine    = 3.9
	infoLetters = 2.8
)

// squaresWidth is the width of the two squares, side by side.
const squaresWidth = ScaleMM + infoGap + 2*draft.MMPerInch

// infoHeight returns the height in mm of what the first page bears, for a page
// that shows w mm across.
func infoHeight(w float64) float64 {
	h := infoTitle + 2*draft.MMPerInch + infoGap + infoMap
	if w < squaresWidth+infoGap+wordsBeside {
		h += linesBelow*infoLine + infoGap
	}
	return h
}

// infoLines are the words beside the squares, in lines of a width in mm.
func (p *Plan) infoLines(width float64) []string {
	correction := "Printer correction: none."
	if p.across != 1 || p.up != 1 {
		correction = fmt.Sprintf("Printer correction: %s %% across, %s %% up.", decimals(p.across*100, 2), decimals(p.up*100, 2))
	}
	join := "No page needs to be joined to another."
	for _, g := range p.Groups {
		if g.Rows*g.Cols > 1 {
			join = "Pages of one sheet are joined: trim along the grey line, lay it on the dashed grey line of its neighbour so that the diamonds meet."
		}
	}
	var lines []string
	for _, says := range [...]string{
		"Print at 100 %, then measure both squares.",
		correction,
		"Solid: cut here. Dashed: stitching line.",
		"The mark after rev changes when the piece changes: compare it with the screen before you cut an old print.",
		join,
	} {
		lines = append(lines, setLines(strings.Fields(says), width, infoLetters)...)
	}
	return lines
}

// drawInfo draws title, squares, words and map at the top of the first page.
func (p *Plan) drawInfo(to pen) {
	x, top, w := p.info.Min.X, p.info.Max.Y, p.info.W()
	to.write(Text{At: geom.Pt(x, top-5.5), Size: 5, Strong: true, Words: fit(p.Project.Name, w, 5, true)})
	made := fmt.Sprintf("%s, printed %s", p.Paper.words(p.Project.Unit), p.options.now().Format("2 January 2006"))
	if len(p.Pages) > 1 {
		made += fmt.Sprintf(", %d pages", len(p.Pages))
	}
	to.write(Text{At: geom.Pt(x, top-10.5), Size: infoLetters, Words: made})
	two := 2 * draft.MMPerInch
	base := top - infoTitle - two
	p.square(to, geom.Pt(x, base), ScaleMM, "50 mm")
	p.square(to, geom.Pt(x+ScaleMM+infoGap, base), two, "2 in")
	at := geom.Pt(x+squaresWidth+infoGap, top-infoTitle-infoLetters)
	room := x + w - at.X
	under := base - infoGap
	if w < squaresWidth+infoGap+wordsBeside {
		at, room = geom.Pt(x, under-infoLetters), w
		under -= linesBelow*infoLine + infoGap
	}
	for _, line := range p.infoLines(room) {
		to.write(Text{At: at, Size: infoLetters, Words: line})
		at.Y -= infoLine
	}
	p.drawMap(to, geom.Rect{Min: geom.Pt(x, under-infoMap), Max: geom.Pt(x+w, under)})
}

func (p *Plan) square(to pen, corner geom.Point, side float64, words string) {
	to.strokePath(squareAt(corner, side), squareLook, 0)
	to.write(Text{At: corner.Add(geom.Pt(side/2, side/2-1)), Size: 4, Anchor: Middle, Words: words})
}

// mapGap is the room in mm between the sheets on the map, for their names.
const mapGap = 6

// drawMap draws every sheet with its pages and pieces, as large as the box holds.
func (p *Plan) drawMap(to pen, box geom.Rect) {
	scale := 0.2
	var corners []geom.Point
	for ; scale > 1e-4; scale *= 0.95 {
		var ok bool
		if corners, ok = p.mapCorners(box, scale); ok {
			break
		}
	}
	for i, g := range p.Groups {
		if i < len(corners) {
			p.mapGroup(to, g, corners[i], scale)
		}
	}
}

// mapCorners returns the lower left corner of each sheet on the map, or false if
// the box does not hold them at the scale.
func (p *Plan) mapCorners(box geom.Rect, scale float64) ([]geom.Point, bool) {
	x, y, row := box.Min.X, box.Max.Y, 0.0
	out := make([]geom.Point, len(p.Groups))
	for i, g := range p.Groups {
		w, h := g.W*scale, p.shownHeight(g)*scale
		if x+w > box.Max.X && x > box.Min.X {
			x, y, row = box.Min.X, y-row-mapGap, 0
		}
		if x+w > box.Max.X || y-h-mapGap < box.Min.Y {
			return nil, false
		}
		out[i] = geom.Pt(x, y-h-mapGap/2)
		x, row = x+w+mapGap, math.Max(row, h)
	}
	return out, true
}

// shownHeight is the height of a group, on a roll cut off below its pieces.
func (p *Plan) shownHeight(g *Group) float64 {
	if !p.Paper.endless() {
		return g.H
	}
	low := g.H
	for _, page := range p.Pages {
		if page.Group == g {
			low = math.Min(low, page.Window.Min.Y)
		}
	}
	return g.H - low
}

// mapGroup draws one sheet on the map.
func (p *Plan) mapGroup(to pen, g *Group, corner geom.Point, scale float64) {
	low := g.H - p.shownHeight(g)
	small := geom.Translation(geom.Pt(0, -low)).Then(geom.Scaling(scale, scale)).Then(geom.Translation(corner))
	for _, l := range g.Pieces {
		to.strokePath(l.Cut.Transform(small), mapPiece, 0)
	}
	for _, page := range p.Pages {
		if page.Group != g {
			continue
		}
		own := page.Window
		sx, sy := p.step()
		// Pages are drawn as they lie when joined, each up to its neighbour.
		if page.Col < g.Cols {
			own.Max.X = own.Min.X + sx
		}
		if page.Row < g.Rows {
			own.Min.Y = own.Max.Y - sy
		}
		cell := rectPath(own).Transform(small)
		to.strokePath(cell, mapLook, 0)
		box := cell.Bounds()
		if page.Number == 1 {
			info := rectPath(p.info).Transform(small)
			to.strokePath(info, mapPiece, 0)
		}
		mapNumber(to, box, page.Number)
	}
	to.write(Text{At: corner.Add(geom.Pt(0, -2.6)), Size: 2.2, Words: "sheet " + g.Name})
}

// mapNumber writes the number of a page into the upper left corner of its cell, on
// white, so that no line runs through it.
func mapNumber(to pen, cell geom.Rect, n int) {
	const largest, share = 3.5, 0.3
	t := Text{Size: math.Min(largest, share*math.Min(cell.W(), cell.H())), Strong: true, Words: fmt.Sprint(n)}
	t.At = geom.Pt(cell.Min.X, cell.Max.Y).Add(geom.Pt(0.3*t.Size, -1.1*t.Size))
	to.fillPath(rectPath(t.Bounds().Grow(0.1*t.Size)), "#ffffff")
	to.write(t)
}

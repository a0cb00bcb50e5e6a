package export

import (
	"fmt"
	"math"
	"sort"

	"hemlet/geom"
)

// The lines of a page that are no part of the pattern.
var (
	frameLook   = stroke{0.15, "#888888", nil}
	trimLook    = stroke{0.2, "#666666", nil}
	overlapLook = stroke{0.2, "#666666", []float64{1.2, 1.2}}
	squareLook  = stroke{0.2, "#000000", nil}
	mapLook     = stroke{0.2, "#000000", nil}
	mapPiece    = stroke{0.15, "#333333", nil}
	mapFacts    = stroke{0.15, "#777777", nil}
)

// mapFill fills the pieces on the map.
const mapFill = "#d9d9d9"

// checkBar is the length in mm of the bar on every page by which its size is
// checked.
const checkBar = 50

// draw draws one page. The pen's place is set here.
func (p *Plan) draw(to pen, page Page) {
	paper := to
	paper.place = geom.Identity
	m := p.Paper.Margin
	to.place = geom.Affine{A: p.across, D: p.up, E: m - p.across*page.Window.Min.X, F: m - p.up*page.Window.Min.Y}
	for _, l := range page.Pieces {
		to.piece(l, page.Window)
	}
	p.mask(paper, page)
	p.joins(to, page)
	if page.Number == 1 {
		p.drawFacts(to)
	}
	p.head(paper, page)
}

// mask whitens the margins, into which a label on the border of a page reaches.
func (p *Plan) mask(paper pen, page Page) {
	over := false
	for _, l := range page.Pieces {
		for _, t := range l.Words() {
			b := t.Bounds()
			over = over || b.Overlaps(page.Window) && !(page.Window.Contains(b.Min) && page.Window.Contains(b.Max))
		}
	}
	if !over {
		return
	}
	tile := p.tileOnPaper(page)
	w, h := page.Width, page.Height
	for _, r := range [...]geom.Rect{
		{Max: geom.Pt(tile.Min.X, h)}, {Min: geom.Pt(tile.Max.X, 0), Max: geom.Pt(w, h)},
		{Max: geom.Pt(w, tile.Min.Y)}, {Min: geom.Pt(0, tile.Max.Y), Max: geom.Pt(w, h)},
	} {
		paper.fillPath(rectPath(r), "#ffffff")
	}
}

// tileOnPaper returns where on the paper the window lies.
func (p *Plan) tileOnPaper(page Page) geom.Rect {
	m := p.Paper.Margin
	return geom.Rect{Min: geom.Pt(m, m), Max: geom.Pt(m+p.across*page.Window.W(), m+p.up*page.Window.H())}
}

func rectPath(r geom.Rect) geom.Path {
	return geom.Polygon(r.Min, geom.Pt(r.Max.X, r.Min.Y), r.Max, geom.Pt(r.Min.X, r.Max.Y))
}

// joins draws where the page meets its neighbours: along its left and upper border
// it is trimmed, and laid on the dashed line of the page before or above. A diamond
// lies on each join, whole on one page and halved by the trim on the other.
func (p *Plan) joins(to pen, page Page) {
	w, g := page.Window, page.Group
	p.cornerTicks(to, page)
	vertical := func(x float64, look stroke) {
		to.strokePath(geom.Path{geom.Line(geom.Pt(x, w.Min.Y), geom.Pt(x, w.Max.Y))}, look, 0)
	}
	level := func(y float64, look stroke) {
		to.strokePath(geom.Path{geom.Line(geom.Pt(w.Min.X, y), geom.Pt(w.Max.X, y))}, look, 0)
	}
	sx, sy := p.step()
	if page.Col > 1 {
		vertical(w.Min.X, trimLook)
		p.diamond(to, w, geom.Pt(w.Min.X, w.Center().Y))
		p.joinWords(to, geom.Pt(w.Min.X+3, w.Min.Y+w.H()/4), math.Pi/2, "trim here, lay on page "+p.pageAt(g, page.Row, page.Col-1))
	}
	if page.Col < g.Cols {
		vertical(w.Min.X+sx, overlapLook)
		p.diamond(to, w, geom.Pt(w.Min.X+sx, w.Center().Y))
		p.joinWords(to, geom.Pt(w.Min.X+sx+3, w.Min.Y+w.H()*3/4), math.Pi/2, "overlap: page "+p.pageAt(g, page.Row, page.Col+1)+" begins here")
	}
	if page.Row > 1 {
		level(w.Max.Y, trimLook)
		p.diamond(to, w, geom.Pt(w.Center().X, w.Max.Y))
		p.joinWords(to, geom.Pt(w.Min.X+w.W()/4, w.Max.Y-3), 0, "trim here, lay on page "+p.pageAt(g, page.Row-1, page.Col))
	}
	if page.Row < g.Rows {
		level(w.Max.Y-sy, overlapLook)
		p.diamond(to, w, geom.Pt(w.Center().X, w.Max.Y-sy))
		p.joinWords(to, geom.Pt(w.Min.X+w.W()*3/4, w.Max.Y-sy-3), 0, "overlap: page "+p.pageAt(g, page.Row+1, page.Col)+" begins here")
	}
}

// pageAt names a page by its number, or says that nothing is printed there.
func (p *Plan) pageAt(g *Group, row, col int) string {
	for _, page := range p.Pages {
		if page.Group == g && page.Row == row && page.Col == col {
			return fmt.Sprint(page.Number)
		}
	}
	return "(blank)"
}

func (p *Plan) joinWords(to pen, at geom.Point, turn float64, words string) {
	to.write(Text{At: at, Size: 2, Turn: turn, Anchor: Middle, Words: words})
}

// cornerTicks marks the corners of what the page shows, in its margins.
func (p *Plan) cornerTicks(to pen, page Page) {
	w := page.Window
	size := math.Min(4, p.Paper.Margin/2)
	for _, c := range [...]struct {
		at     geom.Point
		dx, dy float64
	}{
		{w.Min, -1, -1}, {geom.Pt(w.Max.X, w.Min.Y), 1, -1}, {w.Max, 1, 1}, {geom.Pt(w.Min.X, w.Max.Y), -1, 1},
	} {
		to.strokePath(geom.Path{geom.Line(c.at, c.at.Add(geom.Pt(c.dx*size, 0)))}, frameLook, 0)
		if c.dy < 0 { // the strip with the words lies above
			to.strokePath(geom.Path{geom.Line(c.at, c.at.Add(geom.Pt(0, c.dy*size)))}, frameLook, 0)
		}
	}
}

// diamond draws the sign on which two pages meet.
func (p *Plan) diamond(to pen, window geom.Rect, at geom.Point) {
	const r = 4
	shape := geom.Polygon(at.Add(geom.Pt(r, 0)), at.Add(geom.Pt(0, r)), at.Add(geom.Pt(-r, 0)), at.Add(geom.Pt(0, -r)))
	for _, part := range clip(shape, window) {
		to.strokePath(part.path, trimLook, 0)
	}
}

// head writes what the page is into the strip above the pattern, and a bar to check
// the size by.
func (p *Plan) head(paper pen, page Page) {
	m := p.Paper.Margin
	right, top := page.Width-m, page.Height-m
	bar := checkBar * p.across
	x0 := right - bar
	y := top - 6.5
	// One line each: the drawing library merges lines that turn back on themselves.
	for _, l := range [...]geom.Segment{
		geom.Line(geom.Pt(x0, y), geom.Pt(right, y)),
		geom.Line(geom.Pt(x0, y-1.5), geom.Pt(x0, y+1.5)),
		geom.Line(geom.Pt(right, y-1.5), geom.Pt(right, y+1.5)),
	} {
		paper.strokePath(geom.Path{l}, squareLook, 0)
	}
	paper.write(Text{At: geom.Pt(x0+bar/2, y+1), Size: 2, Anchor: Middle, Words: fmt.Sprintf("%d mm", checkBar)})
	g := page.Group
	line := fmt.Sprintf("sheet %s, row %d of %d, column %d of %d · page %d of %d", g.Name, page.Row, g.Rows, page.Col, g.Cols, page.Number, p.most)
	if p.since != nil {
		line += " · changed since " + p.since.Name
	}
	size, room := 2.8, p.namesRoom()
	line = fit(line, room, size, false)
	where := Text{Size: size, Words: line}
	name := Text{At: geom.Pt(m, top-3), Size: size, Strong: true, Words: fit(p.Project.Name, room-textWidth(line, size, false)-4, size, true)}
	where.At = geom.Pt(m+textWidth(name.Words, size, true), top-3)
	if name.Words != "" {
		where.At.X += 3
	}
	paper.write(name)
	paper.write(where)
	lines, letters := p.nameLines(page)
	for i, words := range lines {
		paper.write(Text{At: geom.Pt(m, top-namesFrom-float64(i)*namesStep*letters), Size: letters, Words: words})
	}
}

// The names of the pieces in the head of a page, in mm: the size of their letters,
// how far the first line lies below the top of the head, the distance of lines as a
// share of the size, and what is free between them and the pattern.
const (
	nameLetters = 2.3
	namesFrom   = 6.8
	namesStep   = 1.26
	namesClear  = 1
)

// namesRoom is the width in mm beside the bar.
func (p *Plan) namesRoom() float64 { return p.Paper.Width - 2*p.Paper.Margin - checkBar*p.across - 4 }

// headFor returns the height in mm of a head with so many lines of names.
func headFor(lines int, letters float64) float64 {
	return namesFrom + (float64(lines-1)*namesStep+textDepth)*letters + namesClear
}

// nameLines returns the names of the pieces on the page, all of them, and the size in
// mm at which the head has room for them.
func (p *Plan) nameLines(page Page) ([]string, float64) {
	size := nameLetters
	lines := setLines(pageNames(page), p.namesRoom(), size)
	for headFor(len(lines), size) > p.strip && len(lines) > 1 {
		size *= letterStep
		lines = setLines(pageNames(page), p.namesRoom(), size)
	}
	return lines, size
}

// wantedHead returns the height in mm at which the head of every page holds its names
// in letters of full size.
func (p *Plan) wantedHead() float64 {
	strip := p.strip
	for _, page := range p.Pages {
		strip = math.Max(strip, headFor(len(setLines(pageNames(page), p.namesRoom(), nameLetters)), nameLetters))
	}
	return strip
}

// pageNames lists the pieces on the page with their revisions, and says whom they are
// for.
func pageNames(page Page) []string {
	if len(page.Pieces) == 0 {
		return []string{"page map and squares; no piece"}
	}
	wearer := oneWearer(page.Pieces)
	names := make([]string, len(page.Pieces))
	for i, l := range page.Pieces {
		name := l.title()
		if wearer != "" {
			name = l.Piece.Name
		}
		names[i] = fmt.Sprintf("%s (rev %s)", name, l.Revision)
		if i < len(names)-1 {
			names[i] += ","
		}
	}
	if wearer != "" {
		names = append([]string{"For " + wearer + ":"}, names...)
	}
	return names
}

// oneWearer names the wearer for whom all the pieces are, empty where they are for
// several or for none.
func oneWearer(pieces []*Laid) string {
	wearer := pieces[0].Wearer
	for _, l := range pieces[1:] {
		if l.Wearer != wearer {
			return ""
		}
	}
	return wearer
}

// fit shortens words to the width in mm.
func fit(words string, width, size float64, strong bool) string {
	if textWidth(words, size, strong) <= width {
		return words
	}
	letters := []rune(words)
	cut := func(n int) string { return string(letters[:n]) + "…" }
	n := sort.Search(len(letters), func(n int) bool { return textWidth(cut(n+1), size, strong) > width })
	if n == 0 {
		return ""
	}
	return cut(n)
}

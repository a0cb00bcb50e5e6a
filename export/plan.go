package export

import (
	"context"
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// Plan is a project laid out on pages of paper.
type Plan struct {
	Project *draft.Project
	Paper   Paper
	Pages   []Page
	Groups  []*Group
	// info is where the facts lie that the first page bears.
	info  geom.Rect
	facts facts
	// joined says that some sheet takes more pages than one.
	joined bool
	// mapScale is the scale of the map.
	mapScale float64
	options  Options
	ruler    ruler
	// strip is the height in mm of the head of every page.
	strip float64
	// across and up are the factors by which a printer's error is corrected.
	across, up float64
	// most is the highest number that a page has or had.
	most int
	// since is the version whose arrangement the plan keeps, nil for none.
	since *draft.Version
	// asWere names the pieces on pages to be printed anew that are as they were in it.
	asWere []string
}

// Group is a set of pages that are joined to one, or a single page.
type Group struct {
	// Name is a letter: A for the first.
	Name       string
	Rows, Cols int
	Pieces     []*Laid
	// W and H are the size in mm of what its pages show together.
	W, H float64
	// grown is the height in mm by which the group has become higher than with the version
	// whose arrangement the plan keeps.
	grown float64
}

// Page is one leaf of a group. Row and Col count from 1, from the top left.
type Page struct {
	Number   int
	Group    *Group
	Row, Col int
	// Window is the part of the group that the page shows, in mm.
	Window geom.Rect
	// Width and Height are the size of the paper in mm.
	Width, Height float64
	Pieces        []*Laid
	// Stays says that the page shows what it showed with the version whose arrangement the
	// plan keeps, so that what was printed then holds.
	Stays bool
}

// piecePad is what a page leaves round a piece, in mm, so that no line falls on
// the border of what it shows.
const piecePad = 1

// LayPages lays the project out on pages: pieces that fit on one page are not cut
// by a border, larger ones are spread over pages that are joined. Where the options name a
// version, each piece stays where that version has it as far as it can.
func LayPages(ctx context.Context, p *draft.Project, o Options) (*Plan, error) {
	if o.Since != "" {
		return laySince(ctx, p, o)
	}
	return layAfresh(ctx, p, o)
}

func layAfresh(ctx context.Context, p *draft.Project, o Options) (*Plan, error) {
	paper, err := o.Paper.checked()
	if err != nil {
		return nil, err
	}
	across, up, err := o.Correction.factors()
	if err != nil {
		return nil, err
	}
	// A page that bears many pieces needs a higher head for their names, and that
	// may move pieces to other pages.
	stock, err := newStock(ctx, p, o)
	if err != nil {
		return nil, err
	}
	for strip := float64(headBand); ; {
		plan := &Plan{Project: p, Paper: paper, options: o, ruler: stock.ruler, strip: strip, across: across, up: up}
		if err := plan.lay(ctx, stock); err != nil {
			return nil, err
		}
		wanted := math.Min(plan.wantedHead(), paper.mostHead())
		if wanted <= strip {
			return plan, nil
		}
		strip = wanted
	}
}

// tile returns the size in mm of the pattern that a page shows.
func (p *Plan) tile() (w, h float64) {
	w, h = p.Paper.tile()
	return w / p.across, (h + headBand - p.strip) / p.up
}

// step returns how far neighbouring pages lie apart.
func (p *Plan) step() (x, y float64) {
	w, h := p.tile()
	return w - p.Paper.Overlap, h - p.Paper.Overlap
}

// span returns how many pages of the size tile, step apart, show the length.
func span(length, tile, step float64) int {
	if length <= tile {
		return 1
	}
	return 1 + int(math.Ceil((length-tile)/step))
}

// needs returns how many columns and rows a box of pattern takes.
func (p *Plan) needs(w, h float64) (cols, rows int) {
	tw, th := p.tile()
	sx, sy := p.step()
	return span(w+2*piecePad, tw, sx), span(h+2*piecePad, th, sy)
}

// bestTurn returns a quarter turn more where the piece then takes fewer pages:
// paper has no grain.
func (p *Plan) bestTurn(flat *draft.Flat, turn float64) float64 {
	box := flat.Cut.Transform(geom.Rotation(turn, geom.Point{})).Bounds()
	cols, rows := p.needs(box.W(), box.H())
	turnedCols, turnedRows := p.needs(box.H(), box.W())
	if turnedCols*turnedRows < cols*rows {
		return turn + math.Pi/2
	}
	return turn
}

// spread returns a group of pages with the one piece at its top left.
func (p *Plan) spread(l *Laid, cols, rows int) *Group {
	g := p.group(cols, rows)
	box := l.Bounds()
	move := geom.Pt(onGrid(piecePad-box.Min.X), onGrid(g.H-piecePad-box.Max.Y))
	moved := l.Transform(geom.Translation(move))
	p.relabel(g, moved)
	g.Pieces = []*Laid{moved}
	return g
}

// relabel moves the label of a piece off the borders of the pages that it lies on.
func (p *Plan) relabel(g *Group, l *Laid) {
	if len(l.Label.Lines) == 0 || l.Piece.LabelAt != nil {
		return
	}
	var borders []geom.Path
	line := func(a, b geom.Point) { borders = append(borders, geom.Path{geom.Line(a, b)}) }
	for row := 1; row <= g.Rows; row++ {
		for col := 1; col <= g.Cols; col++ {
			w := p.window(g, row, col)
			line(w.Min, geom.Pt(w.Min.X, w.Max.Y))
			line(geom.Pt(w.Max.X, w.Min.Y), w.Max)
			line(w.Min, geom.Pt(w.Max.X, w.Min.Y))
			line(geom.Pt(w.Min.X, w.Max.Y), w.Max)
		}
	}
	if label := p.ruler.label(l, geom.Identity, borders...); label.Leader == nil {
		l.Label = label
	}
}

func (p *Plan) group(cols, rows int) *Group {
	w, h := p.tile()
	sx, sy := p.step()
	return &Group{Cols: cols, Rows: rows, W: w + float64(cols-1)*sx, H: h + float64(rows-1)*sy}
}

// leftOver returns the room beside and below the piece of a group, on single
// pages and off the overlaps.
func (p *Plan) leftOver(g *Group, piece geom.Rect) []*field {
	var rooms []*field
	right, below := piece.W()+piecePad+sheetGap, g.H-piece.H()-piecePad-sheetGap
	for row := 1; row <= g.Rows; row++ {
		own := p.own(g, row, g.Cols)
		own.Min.X = math.Max(own.Min.X, right)
		if row == g.Rows {
			own.Min.Y = math.Max(own.Min.Y, below)
		}
		rooms = append(rooms, p.newField(g, own))
	}
	for col := 1; col <= g.Cols; col++ {
		own := p.own(g, g.Rows, col)
		own.Max.Y = math.Min(own.Max.Y, below)
		rooms = append(rooms, p.newField(g, own))
	}
	return rooms
}

// window returns the part of a group that one of its pages shows.
func (p *Plan) window(g *Group, row, col int) geom.Rect {
	w, h := p.tile()
	sx, sy := p.step()
	x, top := float64(col-1)*sx, g.H-float64(row-1)*sy
	return geom.Rect{Min: geom.Pt(x, top-h), Max: geom.Pt(x+w, top)}
}

// own returns the part of a group that this page alone shows.
func (p *Plan) own(g *Group, row, col int) geom.Rect {
	r := p.window(g, row, col)
	if col > 1 {
		r.Min.X += p.Paper.Overlap
	}
	if col < g.Cols {
		r.Max.X -= p.Paper.Overlap
	}
	if row > 1 {
		r.Max.Y -= p.Paper.Overlap
	}
	if row < g.Rows {
		r.Min.Y += p.Paper.Overlap
	}
	return r
}

// benchGroup keeps the pieces where they lie on the bench.
func (p *Plan) benchGroup(pieces []*Laid) *Group {
	box := geom.EmptyRect()
	moved := make([]*Laid, len(pieces))
	for i, l := range pieces {
		moved[i] = l.Transform(geom.Translation(l.Piece.Place.At))
		box = box.Union(moved[i].Bounds())
	}
	g := p.group(p.needs(box.W(), box.H()))
	move := geom.Pt(piecePad-box.Min.X, g.H-piecePad-box.Max.Y)
	for _, l := range moved {
		g.Pieces = append(g.Pieces, l.Transform(geom.Translation(move)))
	}
	return g
}

// number names the groups and lists the pages that show anything.
func (p *Plan) number() {
	for i, g := range p.Groups {
		g.Name = groupName(i)
		for _, page := range p.pagesOf(g, i == 0) {
			page.Number = len(p.Pages) + 1
			p.Pages = append(p.Pages, page)
		}
	}
	p.most = len(p.Pages)
}

// pagesOf returns the pages of a group that show anything; the first page of all
// bears the facts.
func (p *Plan) pagesOf(g *Group, first bool) []Page {
	var pages []Page
	for row := 1; row <= g.Rows; row++ {
		for col := 1; col <= g.Cols; col++ {
			page := Page{Group: g, Row: row, Col: col, Window: p.window(g, row, col), Width: p.Paper.Width, Height: p.Paper.Height}
			if p.Paper.endless() {
				p.cutOff(&page, first)
			}
			for _, l := range g.Pieces {
				if shows(l, page.Window) {
					page.Pieces = append(page.Pieces, l)
				}
			}
			if len(page.Pieces) > 0 || first {
				pages = append(pages, page)
			}
		}
	}
	return pages
}

// groupName returns A to Z, AA, AB and so on.
func groupName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// cutOff shortens a page off the roll to what lies on its group.
func (p *Plan) cutOff(page *Page, first bool) {
	low := page.Window.Max.Y
	if first {
		low = p.info.Min.Y
	}
	for _, l := range page.Group.Pieces {
		low = math.Min(low, l.Bounds().Min.Y-piecePad)
	}
	low = math.Max(low, page.Window.Min.Y)
	page.Window.Min.Y = low
	page.Height = page.Window.H()*p.up + 2*p.Paper.Margin + p.strip
}

// shows reports whether any line or word of the copy lies in the window.
func shows(l *Laid, window geom.Rect) bool {
	if !l.Bounds().Overlaps(window) {
		return false
	}
	for _, m := range l.Strokes() {
		for _, c := range m.Chains {
			if len(clip(c, window)) > 0 {
				return true
			}
		}
	}
	for _, t := range l.Words() {
		if t.Bounds().Overlaps(window) {
			return true
		}
	}
	return false
}

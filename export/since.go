package export

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"hemlet/draft"
	"hemlet/geom"
)

// laySince lays the project out in the arrangement of a version, and tells the pages that
// stay as they were printed then.
func laySince(ctx context.Context, p *draft.Project, o Options) (*Plan, error) {
	v := p.Version(o.Since)
	if v == nil {
		return nil, fmt.Errorf("there is no version %q", o.Since)
	}
	was, err := layVersion(ctx, p, v, o)
	if err != nil {
		return nil, err
	}
	plan, err := was.follow(ctx, p, o)
	if err != nil {
		return nil, err
	}
	plan.since = v
	for i := range plan.Pages {
		page := &plan.Pages[i]
		page.Stays = plan.stays(page, was)
	}
	plan.asWere = plan.unchanged(was)
	return plan, nil
}

// layVersion lays a version out as it was printed: by itself, or where only what had changed
// was printed, in the arrangement of the version before.
func layVersion(ctx context.Context, p *draft.Project, v *draft.Version, o Options) (*Plan, error) {
	old := p.AsOf(v)
	own := o
	own.Since = ""
	if len(o.Pieces) > 0 {
		own.Pieces = slices.DeleteFunc(slices.Clone(o.Pieces), func(id draft.ID) bool { return old.Piece(id) == nil })
		if len(own.Pieces) == 0 {
			return nil, fmt.Errorf("version %s has none of the pieces that are asked for; write all their pages", v.Name)
		}
	}
	if v.Follows == "" {
		return layAfresh(ctx, old, own)
	}
	before := p.Version(v.Follows)
	if before == nil {
		return nil, fmt.Errorf("version %s was printed in the arrangement of one that is gone; write all pages", v.Name)
	}
	was, err := layVersion(ctx, p, before, o)
	if err != nil {
		return nil, err
	}
	return was.follow(ctx, old, own)
}

// follow lays another state of the project out so that every piece stays where it was, as
// far as it has room there. What has none goes to pages that change in any case, or to new
// ones. Pages keep their numbers, and a page that shows nothing any more leaves a gap.
func (p *Plan) follow(ctx context.Context, project *draft.Project, o Options) (*Plan, error) {
	stock, err := newStock(ctx, project, o)
	if err != nil {
		return nil, err
	}
	next := *p
	next.Project, next.options, next.ruler = project, o, stock.ruler
	next.Pages, next.Groups = nil, nil
	f := &following{plan: &next, was: p, stock: stock, place: make(map[draft.ID]int), settled: make(map[int]bool)}
	for i, flat := range stock.flats {
		f.place[flat.Piece.ID] = i
	}
	for n, g := range p.Groups {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if err := f.group(g, n == 0); err != nil {
			return nil, err
		}
	}
	if err := f.rest(ctx); err != nil {
		return nil, err
	}
	next.numberAs(p)
	next.joined = slices.ContainsFunc(next.Groups, func(g *Group) bool { return g.Rows*g.Cols > 1 })
	next.mapScale, _ = next.mapPlaces(next.facts.chart)
	return &next, nil
}

// following is a plan in the making that keeps the arrangement of another.
type following struct {
	plan, was *Plan
	stock     *stock
	// place is where in the stock a piece is, settled which of them have their place.
	place   map[draft.ID]int
	settled map[int]bool
	// open are groups of one page that show something else than they did.
	open []*Group
}

// group lays the pieces of a group where they were in it.
func (f *following) group(was *Group, first bool) error {
	g := *was
	g.Pieces, g.grown = nil, 0
	f.plan.Groups = append(f.plan.Groups, &g)
	changed := false
	for _, old := range was.Pieces {
		i, still := f.place[old.Piece.ID]
		if !still {
			changed = true
			continue
		}
		l, err := f.stock.at(turnKey{i, old.turn})
		if err != nil {
			return err
		}
		l = l.Transform(geom.Translation(old.origin.Add(geom.Pt(0, g.grown)).Sub(l.origin)))
		if !f.was.onOnePage(was, old.Bounds()) {
			l = f.plan.enlarge(&g, l)
			f.plan.relabel(&g, l)
		}
		if !f.holds(&g, l, old, first) {
			changed = true
			continue
		}
		g.Pieces = append(g.Pieces, l)
		f.settled[i] = true
		changed = changed || !sameDrawing(old, l, geom.Pt(0, g.grown))
	}
	if changed && g.Rows*g.Cols == 1 {
		f.open = append(f.open, &g)
	}
	return nil
}

// keptPad is what a page leaves at least, in mm, round a piece that stays where it was: half
// of the broadest line that is printed, with some to spare. Where pieces are laid out anew
// there is more, and a piece that has grown by a little need not go elsewhere for it.
const keptPad = 0.25

// enlarge adds rows below and columns to the right of joined pages for what has outgrown
// them; the pages that there are stay where they are from the top left. It returns the
// piece as it then lies.
func (p *Plan) enlarge(g *Group, l *Laid) *Laid {
	box := l.Bounds()
	cols, rows := g.Cols, g.Rows
	sx, sy := p.step()
	for over := box.Max.X + keptPad - g.W; over > 0 && sx > 0; over -= sx {
		cols++
	}
	for over := keptPad - box.Min.Y; over > 0 && sy > 0; over -= sy {
		rows++
	}
	if cols == g.Cols && rows == g.Rows {
		return l
	}
	larger := p.group(cols, rows)
	up := geom.Pt(0, larger.H-g.H)
	for i, other := range g.Pieces {
		g.Pieces[i] = other.Transform(geom.Translation(up))
	}
	g.Cols, g.Rows, g.W, g.H = cols, rows, larger.W, larger.H
	g.grown += up.Y
	return l.Transform(geom.Translation(up))
}

// holds reports whether a piece may lie where it was: on the pages of its group, whole on
// one where it was whole on one, and clear of what lies there already.
func (f *following) holds(g *Group, l, old *Laid, first bool) bool {
	box := l.Bounds().Grow(keptPad)
	if box.Min.X < 0 || box.Min.Y < 0 || box.Max.X > g.W || box.Max.Y > g.H {
		return false
	}
	moved := old.Bounds().Grow(keptPad)
	moved.Min.Y += g.grown
	moved.Max.Y += g.grown
	if f.plan.onOnePage(g, moved) && !f.plan.onOnePage(g, box) {
		return false
	}
	if first && meetsBox(l, f.plan.info) {
		return false
	}
	return !slices.ContainsFunc(g.Pieces, func(other *Laid) bool { return meets(l, other) })
}

// onOnePage reports whether a box lies within what one page of the group shows.
func (p *Plan) onOnePage(g *Group, box geom.Rect) bool {
	for row := 1; row <= g.Rows; row++ {
		for col := 1; col <= g.Cols; col++ {
			if w := p.window(g, row, col); w.Contains(box.Min) && w.Contains(box.Max) {
				return true
			}
		}
	}
	return false
}

// keptGap is what is left free at least, in mm, round a piece that stays where it was: less
// than where pieces are laid out anew, and still enough for scissors.
const keptGap = nestGap / 2

// meets reports whether two pieces, or what is written beside them, lie nearer to each other
// than keptGap.
func meets(a, b *Laid) bool {
	if !a.Bounds().Grow(keptGap).Overlaps(b.Bounds()) {
		return false
	}
	if a.Cut.Contains(b.Cut.Start()) || b.Cut.Contains(a.Cut.Start()) || len(a.Cut.Intersections(b.Cut)) > 0 {
		return true
	}
	if nearer(a.Cut, b.Cut) || nearer(b.Cut, a.Cut) {
		return true
	}
	for _, pair := range [2][2]*Laid{{a, b}, {b, a}} {
		for _, t := range pair[1].Words() {
			if meetsBox(pair[0], t.Bounds()) {
				return true
			}
		}
	}
	return false
}

// nearer reports whether a place of a path lies nearer to another one than keptGap.
func nearer(a, b geom.Path) bool {
	reach := b.Bounds().Grow(keptGap)
	for _, s := range a {
		if !(geom.Path{s}).Bounds().Overlaps(reach) {
			continue
		}
		n := max(4, int(math.Ceil(s.Length()/(keptGap/4))))
		for k := range n {
			if at := s.At(float64(k) / float64(n)); reach.Contains(at) {
				if _, d := b.Nearest(at); d < keptGap {
					return true
				}
			}
		}
	}
	return false
}

// meetsBox reports whether a piece lies on a box, or nearer to it than keptGap.
func meetsBox(l *Laid, box geom.Rect) bool {
	box = box.Grow(keptGap)
	if !l.Bounds().Overlaps(box) {
		return false
	}
	if l.Cut.Contains(box.Center()) || len(clip(l.Cut, box)) > 0 {
		return true
	}
	return slices.ContainsFunc(l.Words(), func(t Text) bool { return t.Bounds().Overlaps(box) })
}

// rest lays what has no place yet.
func (f *following) rest(ctx context.Context) error {
	var left []int
	for i := range f.stock.flats {
		if !f.settled[i] {
			left = append(left, i)
		}
	}
	if len(left) == 0 {
		return nil
	}
	smalls, larges, _, err := f.plan.sortThese(ctx, f.stock, left)
	if err != nil {
		return err
	}
	var rooms []*field
	for _, g := range f.open {
		room, err := f.room(g)
		if err != nil {
			return err
		}
		rooms = append(rooms, room)
	}
	return f.plan.settle(f.stock, smalls, larges, rooms, arrangement{nested: true, quarters: true})
}

// room returns what is free on a group of one page.
func (f *following) room(g *Group) (*field, error) {
	room := f.plan.newField(g, geom.Rect{Max: geom.Pt(g.W, g.H)})
	cover := func(shape footprint, box geom.Rect) {
		down := (room.box.Max.Y - box.Max.Y) / room.row
		// A footprint begins at a row; one that lies between two covers both.
		room.cover(shape, box.Min.X-room.box.Min.X, int(down))
		room.cover(shape, box.Min.X-room.box.Min.X, int(down)+1)
	}
	for _, l := range g.Pieces {
		cover(outlineFootprint(l, room.row).grown(nestGap), l.Bounds())
	}
	if g == f.plan.Groups[0] {
		info := f.plan.info
		cover(boxFootprint(info.W(), info.H(), room.row).bordered(nestGap), info)
	}
	return room, nil
}

// numberAs names the groups and lists the pages that show anything. Those that there were
// keep their numbers, new ones come after the highest that there ever was.
func (p *Plan) numberAs(was *Plan) {
	p.most = was.most
	for i, g := range p.Groups {
		g.Name = groupName(i)
		for _, page := range p.pagesOf(g, i == 0) {
			if old := was.samePage(i, page.Row, page.Col); old != nil {
				page.Number = old.Number
			} else {
				p.most++
				page.Number = p.most
			}
			p.Pages = append(p.Pages, page)
		}
	}
	sort.Slice(p.Pages, func(i, j int) bool { return p.Pages[i].Number < p.Pages[j].Number })
}

// samePage returns the page at a place of a group, by the group's number, or nil.
func (p *Plan) samePage(group, row, col int) *Page {
	if group >= len(p.Groups) {
		return nil
	}
	for i := range p.Pages {
		page := &p.Pages[i]
		if page.Group == p.Groups[group] && page.Row == row && page.Col == col {
			return page
		}
	}
	return nil
}

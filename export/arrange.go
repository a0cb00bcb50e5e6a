package export

import (
	"context"
	"math"
	"sort"

	"hemlet/geom"
)

// nestGap is what is left free between outlines that reach into each other's boxes,
// in mm: enough to part them with scissors before each is cut out.
const nestGap = 4

// arrangement is one way to lay small pieces on pages.
type arrangement struct {
	// mapBelow makes the map on the first page a large one below the words.
	mapBelow bool
	// right sets the facts into the upper right corner of the first page.
	right bool
	// nested lets outlines reach into each other's boxes, and turns pieces half
	// round for it; quarters turns them by quarters.
	nested, quarters bool
	// upward fills the first page from its lower border.
	upward bool
	// byArea takes the pieces with the largest boxes first, not the tallest.
	byArea bool
}

// arrangements lists the ways to try, those first that are tidy: of several that take
// as few pages the first is taken.
func arrangements(endless bool) []arrangement {
	list := []arrangement{{}, {mapBelow: true}}
	either := [...]bool{false, true}
	for _, right := range either {
		for _, quarters := range either {
			for _, upward := range either {
				for _, byArea := range either {
					for _, mapBelow := range either {
						if !upward || !endless {
							list = append(list, arrangement{mapBelow, right, true, quarters, upward, byArea})
						}
					}
				}
			}
		}
	}
	return list
}

// clearMap is the scale of the map from which on it shows all that is wanted.
const clearMap = 0.08

// better reports whether the plan takes fewer pages than the other, or as many and
// has the clearer map.
func (p *Plan) better(other *Plan) bool {
	if a, b := len(p.Pages), len(other.Pages); a != b {
		return a < b
	}
	return math.Min(p.mapScale, clearMap) > math.Min(other.mapScale, clearMap)
}

// mostWork is how many rows are looked at before no more arrangements are tried: a
// second's work or so.
const mostWork = 30e6

// small is a piece that fits on one page, in the turn that suits it by itself.
type small struct {
	key turnKey
	box geom.Rect
}

// lay fills the pages of a plan that has none, in the arrangement that takes the
// fewest.
func (p *Plan) lay(ctx context.Context, s *stock) error {
	if p.onBench() {
		return p.layBench(s)
	}
	smalls, larges, area, err := p.sort(ctx, s)
	if err != nil {
		return err
	}
	p.joined = len(larges) > 0
	least := p.leastPages(area, larges)
	s.work = 0
	var best *Plan
	for _, a := range arrangements(p.Paper.endless()) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if a.nested && (len(best.Pages) <= least || s.work > mostWork) {
			break
		}
		try := *p
		if err := try.arrange(s, smalls, larges, a); err != nil {
			return err
		}
		if best == nil || try.better(best) {
			best = &try
		}
	}
	*p = *best
	return nil
}

// layBench lays the pieces as on the bench, on sheets after the one with the facts.
func (p *Plan) layBench(s *stock) error {
	pieces := make([]*Laid, len(s.flats))
	for i, flat := range s.flats {
		var err error
		if pieces[i], err = s.at(turnKey{i, flat.Piece.Place.Turn}); err != nil {
			return err
		}
	}
	g := p.benchGroup(pieces)
	p.joined = g.Rows*g.Cols > 1
	p.begin(arrangement{mapBelow: true})
	p.Groups = append(p.Groups, g)
	p.number()
	return nil
}

// sort parts pieces that fit on one page from those that do not, each of which is
// spread over pages of its own, and adds up the areas of the former in mm2.
func (p *Plan) sort(ctx context.Context, s *stock) (smalls []small, larges []*Group, area float64, err error) {
	all := make([]int, len(s.flats))
	for i := range all {
		all[i] = i
	}
	return p.sortThese(ctx, s, all)
}

// sortThese does that for some of the pieces, by their numbers in the stock.
func (p *Plan) sortThese(ctx context.Context, s *stock, these []int) (smalls []small, larges []*Group, area float64, err error) {
	for _, i := range these {
		if err := ctx.Err(); err != nil {
			return nil, nil, 0, err
		}
		flat := s.flats[i]
		key := turnKey{i, p.bestTurn(flat, flat.Piece.Place.Turn)}
		l, err := s.at(key)
		if err != nil {
			return nil, nil, 0, err
		}
		box := l.Bounds()
		if cols, rows := p.needs(box.W(), box.H()); cols*rows > 1 {
			larges = append(larges, p.spread(l, cols, rows))
			continue
		}
		smalls = append(smalls, small{key, box})
		area += math.Abs(l.Cut.Area())
	}
	return smalls, larges, area, nil
}

func (p *Plan) onBench() bool {
	return p.options.Arrangement == AsOnBench && !p.options.Purpose.Cuts()
}

// leastPages returns a number of pages below which no arrangement comes, for small
// pieces of so many mm2 in all.
func (p *Plan) leastPages(area float64, larges []*Group) int {
	if len(larges) == 0 {
		w, h := p.tile()
		return max(1, int(math.Ceil(area/(w*h))))
	}
	n := 1
	for _, g := range larges {
		n += len(p.pagesOf(g, false))
	}
	return n
}

// begin sets the facts on the first page, and returns what room they leave.
func (p *Plan) begin(a arrangement) *field {
	w, h := p.tile()
	p.facts = p.factsFor(w, a.mapBelow)
	left := 0.0
	if a.right {
		left = w - p.facts.w
	}
	p.info = geom.Rect{Min: geom.Pt(left, h-p.facts.h), Max: geom.Pt(left+p.facts.w, h)}
	first := &Group{Rows: 1, Cols: 1, W: w, H: h}
	p.Groups = []*Group{first}
	f := p.newField(first, geom.Rect{Max: geom.Pt(w, h)})
	gap := float64(sheetGap)
	if a.nested {
		gap = nestGap
	}
	f.cover(boxFootprint(p.facts.w, p.facts.h-piecePad, p.rowHeight()).bordered(gap), left-piecePad, 0)
	return f
}

// arrange lays the small pieces into what room the facts and the large pieces leave,
// and on pages of their own.
func (p *Plan) arrange(s *stock, smalls []small, larges []*Group, a arrangement) error {
	first := p.begin(a)
	if err := p.settle(s, smalls, larges, []*field{first}, a); err != nil {
		return err
	}
	p.number()
	p.mapScale, _ = p.mapPlaces(p.facts.chart)
	return nil
}

// settle lays small pieces into the rooms that there are and those that the large ones
// leave, and on pages of their own. Where a plan fills its first page upward, that is the
// last of the rooms.
func (p *Plan) settle(s *stock, smalls []small, larges []*Group, rooms []*field, a arrangement) error {
	var first *field
	if len(rooms) > 0 {
		first = rooms[len(rooms)-1]
	}
	given := rooms
	rooms = nil
	var joined []*Group
	for _, g := range larges {
		own := *g
		own.Pieces = append([]*Laid(nil), g.Pieces...)
		joined = append(joined, &own)
		rooms = append(rooms, p.leftOver(&own, g.Pieces[0].Bounds())...)
	}
	sort.SliceStable(rooms, func(i, j int) bool {
		return rooms[i].box.W()*rooms[i].box.H() < rooms[j].box.W()*rooms[j].box.H()
	})
	rooms = append(rooms, given...)
	smalls = append([]small(nil), smalls...)
	sort.SliceStable(smalls, func(i, j int) bool {
		m, n := smalls[i].box, smalls[j].box
		if a.byArea {
			return m.W()*m.H() > n.W()*n.H()
		}
		return m.H() > n.H()
	})
	for _, one := range smalls {
		at, err := p.findRoom(s, rooms, first, one, a)
		if err != nil {
			return err
		}
		if at.field == nil {
			g := p.group(1, 1)
			p.Groups = append(p.Groups, g)
			rooms = append(rooms, p.newField(g, geom.Rect{Max: geom.Pt(g.W, g.H)}))
			if at, err = p.findRoom(s, rooms[len(rooms)-1:], first, one, a); err != nil {
				return err
			}
		}
		if err := at.take(s, a.nested); err != nil {
			return err
		}
	}
	p.Groups = append(p.Groups, joined...)
	return nil
}

// spot is where a piece has room.
type spot struct {
	field *field
	key   turnKey
	x     float64
	row   int
}

// findRoom returns where the first of the rooms that holds the piece in any turn
// holds it best.
func (p *Plan) findRoom(s *stock, rooms []*field, first *field, one small, a arrangement) (spot, error) {
	for _, f := range rooms {
		upward := a.upward && f == first
		var best spot
		edge := math.Inf(1)
		for n := range 4 {
			if n > 0 && !a.nested || n%2 == 1 && !a.quarters {
				continue
			}
			key := one.key.quarter(n)
			shape, err := s.printsOf(key, a.nested, f.row)
			if err != nil {
				return spot{}, err
			}
			x, row, ok := f.find(shape.bare, upward, &s.work)
			// How far the piece reaches into what is still free.
			reach := float64(row)*f.row + shape.bare.h
			if upward {
				reach = -float64(row)
			}
			if ok && (reach < edge || reach == edge && x < best.x) {
				best, edge = spot{f, key, x, row}, reach
			}
		}
		if best.field != nil {
			return best, nil
		}
	}
	return spot{}, nil
}

// take lays the piece where it has room.
func (t spot) take(s *stock, nested bool) error {
	l, err := s.at(t.key)
	if err != nil {
		return err
	}
	shape, err := s.printsOf(t.key, nested, t.field.row)
	if err != nil {
		return err
	}
	box, f := l.Bounds(), t.field
	move := geom.Pt(onGrid(f.box.Min.X+t.x-box.Min.X), onGrid(f.box.Max.Y-float64(t.row)*f.row-box.Max.Y))
	f.group.Pieces = append(f.group.Pieces, l.Transform(geom.Translation(move)))
	f.cover(shape.grown, t.x, t.row)
	return nil
}

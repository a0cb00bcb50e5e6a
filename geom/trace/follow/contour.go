package follow

import (
	"context"
	"slices"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// contour is a closed line of one level round ink, or round paper in ink.
type contour struct {
	pts    []geom.Point
	area   float64 // px², above 0 round ink, below 0 round paper
	cut    bool    // it touches the border of what was read
	parent int     // index of the contour round it, -1 for none
	first  crossing
}

// crossing is where a contour crosses the way from the middle of pixel (x, y) to that of
// (x+1, y); x is -1 at the left border.
type crossing struct{ y, x, id int32 }

// tracer follows the contours of a field at a level. Cell (x, y) has the middles of the
// pixels (x, y), (x+1, y), (x, y+1), (x+1, y+1) as corners; x and y start at -1, and what
// lies outside the picture is paper.
type tracer struct {
	f     *scan.Field
	level uint16
	seen  []uint64 // crossings that a contour went through, a bit each
	wide  int      // crossings in a row
	row   []crossing
	pts   []geom.Point
	cut   bool
}

// lookEvery is how many rows are looked through between two looks at the context.
const lookEvery = 64

// contours returns the contours of f that enclose at least least px², with their nesting,
// how many smaller ones there are round ink, and an error when ctx ends.
func contours(ctx context.Context, f *scan.Field, level uint16, least float64) ([]contour, int, error) {
	t := &tracer{f: f, level: max(level, 1), wide: f.W + 1}
	t.seen = make([]uint64, (t.wide*f.H+63)/64)
	var out []contour
	var rows []crossing
	specks := 0
	for y := range f.H {
		if y%lookEvery == 0 && ctx.Err() != nil {
			return nil, 0, ctx.Err()
		}
		row := f.V[y*f.W : (y+1)*f.W]
		was := false
		for x := range len(row) + 1 {
			is := x < len(row) && row[x] < t.level
			if is == was {
				continue
			}
			was = is
			if t.marked(x-1, y) {
				continue
			}
			c := t.follow(x-1, y, is)
			if c.area < least && c.area > -least {
				if c.area > 0 {
					specks++
				}
				continue
			}
			id := int32(len(out))
			for _, k := range t.row {
				rows = append(rows, crossing{k.y, k.x, id})
			}
			c.first = crossing{int32(y), int32(x - 1), id}
			c.pts = slices.Clone(t.pts)
			out = append(out, c)
		}
	}
	nest(f, t.level, out, rows)
	return out, specks, nil
}

func (t *tracer) bit(x, y int) int       { return y*t.wide + x + 1 }
func (t *tracer) marked(x, y int) bool   { b := t.bit(x, y); return t.seen[b/64]>>(b%64)&1 == 1 }
func (t *tracer) mark(x, y int)          { b := t.bit(x, y); t.seen[b/64] |= 1 << (b % 64) }
func (t *tracer) inside(x, y int) bool   { return x >= 0 && y >= 0 && x < t.f.W && y < t.f.H }
func (t *tracer) ink(x, y int) bool      { return t.inside(x, y) && t.f.V[y*t.f.W+x] < t.level }
func (t *tracer) value(x, y int) float64 { return float64(t.f.V[y*t.f.W+x]) }

// Sides of a cell.
const (
	north = iota
	east
	south
	west
)

// follow follows the contour through the crossing right of pixel (x, y), ink on its left as
// seen on screen; into tells whether ink lies right of the crossing.
func (t *tracer) follow(x, y int, into bool) contour {
	t.pts, t.row, t.cut = t.pts[:0], t.row[:0], false
	// With ink on the right of the crossing the contour runs down on screen, through the
	// cell below; else up, through the cell above.
	cx, cy, from := x, y, north
	if !into {
		cy, from = y-1, south
	}
	c := contour{parent: -1}
	for {
		if from == north || from == south {
			ry := cy
			if from == south {
				ry++
			}
			if t.marked(cx, ry) {
				break
			}
			t.mark(cx, ry)
			t.row = append(t.row, crossing{int32(ry), int32(cx), 0})
		}
		t.pts = append(t.pts, t.place(cx, cy, from))
		switch from = t.leave(cx, cy, from); from {
		case north:
			cy, from = cy-1, south
		case south:
			cy, from = cy+1, north
		case east:
			cx, from = cx+1, west
		case west:
			cx, from = cx-1, east
		}
	}
	c.cut = t.cut
	// On screen, y down, a counter-clockwise loop has a negative shoelace sum.
	c.area = -signedArea(t.pts)
	return c
}

// place returns where the contour crosses a side of cell (cx, cy), straight between the
// middles of the two pixels.
func (t *tracer) place(cx, cy, side int) geom.Point {
	ax, ay, bx, by := cx, cy, cx+1, cy
	switch side {
	case east:
		ax, ay, bx, by = cx+1, cy, cx+1, cy+1
	case south:
		ay, by = cy+1, cy+1
	case west:
		bx, by = cx, cy+1
	}
	k := 0.5 // between a pixel and the outside
	switch {
	case !t.inside(ax, ay) || !t.inside(bx, by):
		t.cut = true
	default:
		a, b := t.value(ax, ay), t.value(bx, by)
		if a == scan.Unread || b == scan.Unread {
			t.cut = true
		} else if a != b {
			k = (float64(t.level) - 0.5 - a) / (b - a)
		}
	}
	return geom.Pt(float64(ax)+0.5+k*float64(bx-ax), float64(ay)+0.5+k*float64(by-ay))
}

// leave returns the side by which a contour that came in by a side leaves cell (cx, cy).
func (t *tracer) leave(cx, cy, from int) int {
	a, b := t.ink(cx, cy), t.ink(cx+1, cy)
	c, d := t.ink(cx, cy+1), t.ink(cx+1, cy+1)
	crosses := [4]bool{north: a != b, east: b != d, south: c != d, west: a != c}
	if crosses == [4]bool{true, true, true, true} {
		return t.saddle(cx, cy, from, a)
	}
	for side, yes := range crosses {
		if yes && side != from {
			return side
		}
	}
	return from // no cell is crossed once
}

// saddle returns the side opposite or beside from in a cell whose corners are ink crosswise.
// Its middle decides whether the ink or the paper holds together.
func (t *tracer) saddle(cx, cy, from int, inkFirst bool) int {
	sum := 0.0
	for _, p := range [4][2]int{{cx, cy}, {cx + 1, cy}, {cx, cy + 1}, {cx + 1, cy + 1}} {
		sum += t.value(p[0], p[1]) // a saddle touches no outside: that is all paper
	}
	// Where the first corner is of the kind that holds together, the contours cut off the
	// other two corners: north with east, south with west.
	if (sum/4 < float64(t.level)) == inkFirst {
		return [4]int{north: east, east: north, south: west, west: south}[from]
	}
	return [4]int{north: west, west: north, south: east, east: south}[from]
}

// nest sets the parents of contours, whose crossings are given.
func nest(f *scan.Field, level uint16, cs []contour, rows []crossing) {
	before := func(a, b crossing) int {
		if a.y != b.y {
			return int(a.y - b.y)
		}
		return int(a.x - b.x)
	}
	slices.SortFunc(rows, before)
	for i := range cs {
		at, _ := slices.BinarySearchFunc(rows, cs[i].first, before)
		if at == 0 || rows[at-1].y != cs[i].first.y {
			continue
		}
		// The way from the last crossing before the first of contour i crosses no other: it
		// lies in that crossing's contour or beside it. That one was found before, with its
		// parent.
		last := rows[at-1]
		x := int(last.x) + 1
		ink := x < f.W && f.V[int(last.y)*f.W+x] < level
		cs[i].parent = int(last.id)
		if o := cs[last.id]; (o.area > 0) != ink {
			cs[i].parent = o.parent
		}
	}
}

// signedArea returns the shoelace area of a closed polyline.
func signedArea(pts []geom.Point) float64 {
	sum := 0.0
	for i, p := range pts {
		sum += p.Cross(pts[(i+1)%len(pts)])
	}
	return sum / 2
}

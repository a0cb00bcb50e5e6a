package export

import (
	"math"
	"slices"

	"hemlet/geom"
)

// field is room on one page of a group.
type field struct {
	group *Group
	// box is where lines may lie.
	box geom.Rect
	// row is the height of a row in mm, and taken what of each row is covered,
	// downward from the top of the box: stretches in order that do not meet.
	row   float64
	taken [][]stretch
}

// newField returns the room in a box of a group, off its borders.
func (p *Plan) newField(g *Group, box geom.Rect) *field {
	f := &field{group: g, box: box.Grow(-piecePad), row: p.rowHeight()}
	f.taken = make([][]stretch, max(0, int(math.Ceil(f.box.H()/f.row))))
	return f
}

// cover takes what the footprint covers with its upper left corner x mm from the
// left at the top of a row.
func (f *field) cover(shape footprint, x float64, row int) {
	for i, parts := range shape.rows {
		at := row + i - shape.above
		if at < 0 || at >= len(f.taken) {
			continue
		}
		for _, s := range parts {
			f.taken[at] = with(f.taken[at], stretch{s.lo + x, s.hi + x})
		}
	}
}

// with adds a stretch to others that are in order and do not meet.
func with(row []stretch, s stretch) []stretch {
	from := 0
	for from < len(row) && row[from].hi < s.lo {
		from++
	}
	to := from
	for to < len(row) && row[to].lo <= s.hi {
		s.lo, s.hi = min(s.lo, row[to].lo), max(s.hi, row[to].hi)
		to++
	}
	return slices.Replace(row, from, to, s)
}

// slack is the length in mm by which rounding may make something too long for room
// that it just fills.
const slack = 1e-9

// find returns the uppermost place at which the footprint has room, or the lowest,
// there the one farthest to the left. It adds to the work how often it looked.
func (f *field) find(shape footprint, upward bool, work *int) (x float64, row int, ok bool) {
	if shape.w > f.box.W()+slack || shape.h > f.box.H()+slack {
		return 0, 0, false
	}
	last := int(math.Floor((f.box.H() - shape.h + slack) / f.row))
	for i := range last + 1 {
		row := i
		if upward {
			row = last - i
		}
		if x, ok := f.leftmost(shape, row, work); ok {
			return x, row, true
		}
	}
	return 0, 0, false
}

// leftmost returns the least x at which the footprint has room in the row.
func (f *field) leftmost(shape footprint, row int, work *int) (float64, bool) {
	x, most := 0.0, f.box.W()-shape.w+slack
	rows := min(len(shape.rows), len(f.taken)-row)
	// The place is found once it has suited every row since it was last moved.
	for i, suits := 0, 0; suits < rows; i = (i + 1) % rows {
		*work++
		moved := false
		for _, s := range shape.rows[i] {
			for _, t := range f.taken[row+i] {
				if s.lo+x < t.hi-slack && t.lo < s.hi+x-slack {
					x, moved = t.hi-s.lo, true
				}
			}
		}
		if x > most {
			return 0, false
		}
		if suits++; moved {
			suits = 0
		}
	}
	return x, true
}

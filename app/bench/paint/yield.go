package paint

import "hemlet/geom"

// Spot is a place for a text: At moved by DX, DY screen units, with what is laid round the
// letters there.
type Spot struct {
	At     geom.Point
	DX, DY float64
	Halo   Colour
}

// yieldClear is what stays free, in screen units, between a text that yields and others.
const yieldClear = 2.0

// headClear is what stays free of an arrow, in screen units: half of its head.
const headClear = 5.0

// lastYield is the highest Yield of a text.
const lastYield = 3

// yielding is where the texts of an item stand that yield to others.
type yielding struct {
	taken []geom.Rect // boxes of texts, in pixels
	lines [][2]geom.Point
	// of are the texts that stand, by the index of their mark; left out are those that
	// have none.
	of map[int]Text
}

// yields finds places for the texts of the item that yield, and reports whether there are any.
// The marks of an item are alike whatever part of it is painted, so that a text stands or is
// left out the same way each time.
func (f *frame) yields(marks []Mark) bool {
	y := &f.yield
	y.taken, y.lines = y.taken[:0], y.lines[:0]
	clear(y.of)
	some := false
	for _, m := range marks {
		switch m := m.(type) {
		case Text:
			if m.Yield > 0 {
				some = true
			} else if box, ok := f.textBox(m); ok {
				y.taken = append(y.taken, box)
			}
		case Arrow:
			y.lines = append(y.lines, [2]geom.Point{f.px(m.A), f.px(m.B)})
		}
	}
	if !some {
		return false
	}
	if y.of == nil {
		y.of = map[int]Text{}
	}
	for rank := uint8(1); rank <= lastYield; rank++ {
		for i, m := range marks {
			if t, ok := m.(Text); ok && t.Yield == rank {
				f.stand(i, t)
			}
		}
	}
	return true
}

// stand lets a text stand where it is free, clear of arrows too if it can be.
func (f *frame) stand(i int, t Text) {
	for _, overLines := range [...]bool{false, true} {
		if f.standsAt(i, t, overLines) {
			return
		}
		if at := t.Else; at != nil {
			other := t
			other.At, other.DX, other.DY, other.Halo = at.At, at.DX, at.DY, at.Halo
			if f.standsAt(i, other, overLines) {
				return
			}
		}
	}
}

// standsAt lets a text stand where it is, if that is free.
func (f *frame) standsAt(i int, t Text, overLines bool) bool {
	box, ok := f.textBox(t)
	if !ok || f.covers(box, overLines) {
		return false
	}
	f.yield.taken = append(f.yield.taken, box)
	f.yield.of[i] = t
	return true
}

// covers reports whether a box lies over a text that stands, or over an arrow where that
// counts.
func (f *frame) covers(box geom.Rect, overLines bool) bool {
	for _, o := range f.yield.taken {
		if box.Overlaps(o) {
			return true
		}
	}
	if overLines {
		return false
	}
	wide := box.Grow(f.units(headClear))
	for _, l := range f.yield.lines {
		if crosses(wide, l[0], l[1]) {
			return true
		}
	}
	return false
}

// crosses reports whether a line touches a box: what of it lies between the sides, one pair
// after the other, is not nothing.
func crosses(box geom.Rect, a, b geom.Point) bool {
	from, to := 0.0, 1.0
	for _, s := range [...][4]float64{{a.X, b.X, box.Min.X, box.Max.X}, {a.Y, b.Y, box.Min.Y, box.Max.Y}} {
		at, by := s[0], s[1]-s[0]
		if by == 0 {
			if at < s[2] || at > s[3] {
				return false
			}
			continue
		}
		low, high := (s[2]-at)/by, (s[3]-at)/by
		from, to = max(from, min(low, high)), min(to, max(low, high))
	}
	return from <= to
}

// textBox returns where a text stands, in pixels, with what stays free about it; false where
// it has no room.
func (f *frame) textBox(t Text) (geom.Rect, bool) {
	if t.Text == "" {
		return geom.Rect{}, false
	}
	fc, m, ok := f.fit(t, t.Room*f.scale)
	if !ok {
		return geom.Rect{}, false
	}
	at := f.px(t.At).Add(geom.Point{X: f.units(t.DX), Y: f.units(t.DY)})
	x := at.X - m.width*[...]float64{Start: 0, Middle: 0.5, End: 1}[min(t.Anchor, End)]
	return geom.Rect{Min: geom.Pt(x, at.Y-fc.capHeight), Max: geom.Pt(x+m.width, at.Y)}.Grow(f.units(yieldClear)), true
}

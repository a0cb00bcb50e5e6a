package export

import (
	"math"

	"hemlet/geom"
)

// slab is a box that lies turned by turn radians, as the box round a line of text
// does. The box is what it is once the plane is turned back about its origin.
type slab struct {
	turn float64
	box  geom.Rect
}

// slab returns the slab that holds the text.
func (t Text) slab() slab {
	level := t
	level.At, level.Turn = geom.Rotation(-t.Turn, geom.Point{}).Apply(t.At), 0
	return slab{t.Turn, level.Bounds()}
}

// centre returns the middle of the slab.
func (s slab) centre() geom.Point {
	return geom.Rotation(s.turn, geom.Point{}).Apply(s.box.Center())
}

// seen returns the box round the slab in a plane that is turned back by turn.
func (s slab) seen(turn float64) geom.Rect {
	return rectPath(s.box).Transform(geom.Rotation(s.turn-turn, geom.Point{})).Bounds()
}

// meets reports whether two slabs overlap: rectangles that do not are parted by a
// line along a side of one of them.
func (s slab) meets(o slab) bool {
	return s.box.Overlaps(o.seen(s.turn)) && o.box.Overlaps(s.seen(o.turn))
}

// crosses reports whether any of the path lies in the slab.
func (s slab) crosses(p geom.Path) bool {
	if !p.Bounds().Overlaps(s.seen(0)) {
		return false
	}
	if s.turn != 0 {
		p = p.Transform(geom.Rotation(-s.turn, geom.Point{}))
	}
	return len(clip(p, s.box)) > 0
}

// readable returns the turn in radians of text that runs along a direction or
// against it, so that it is read from below or from the right.
func readable(along geom.Point) float64 {
	const level = 1e-9 // radians: a line is upright in spite of rounding
	turn := along.Angle()
	if turn > math.Pi/2+level || turn <= -math.Pi/2+level {
		return along.Mul(-1).Angle()
	}
	return turn
}

package tracing

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace"
)

// What is taken for the tick of a notch (common practice, no source: notches are drawn as
// short ticks square to the line they mark).
const (
	// tickMost is how long in mm a tick is at most, and tickShare the same as a share of the
	// shorter side of the piece: on the smallest dolls' pieces 12 mm is a dart.
	tickMost, tickShare = 12.0, 1.0 / 8
	// tickReach is how far in mm beyond the pen's width the end of a tick may lie from the
	// outline: what following leaves where two strokes meet.
	tickReach = 0.5
	// tickLean is how far in radians from square a tick may stand: 30 degrees.
	tickLean = math.Pi / 6
	// tickBend is by what share of its length a tick may be longer than from end to end.
	tickBend = 0.08
)

// split tells the ticks of notches among the lines inside an outline, as the places on the
// outline where they stand, from all others. A tick is a straight line no longer than 12 mm
// or an eighth of the shorter side of the outline, whichever is less, that stands on the
// outline: one end within a pen's width of it, about square to it, the other end free. Two
// short lines that meet are the legs of a dart and no ticks.
func split(o trace.Outline) (ticks []geom.Point, lines []trace.Inner) {
	b := o.Path.Bounds()
	most := math.Min(tickMost, tickShare*math.Min(b.W(), b.H()))
	for i, in := range o.Inner {
		at, free, ok := tick(o, in.Path, most)
		if ok && !meets(o.Inner, i, free, o.Pen+tickReach) {
			ticks = append(ticks, at)
			continue
		}
		lines = append(lines, in)
	}
	return ticks, lines
}

// tick returns where a line stands on the outline as a tick, and its free end.
func tick(o trace.Outline, line geom.Path, most float64) (at, free geom.Point, ok bool) {
	if len(line) == 0 || line.Closed() {
		return at, free, false
	}
	a, b := line[0].P0, line[len(line)-1].P3
	long := line.Length()
	if long > most || long > a.Dist(b)*(1+tickBend) {
		return at, free, false
	}
	place, d := o.Path.Nearest(a)
	other, far := o.Path.Nearest(b)
	if far < d {
		a, b, place, d, far = b, a, other, far, d
	}
	reach := o.Pen + tickReach
	if d > reach || far <= reach {
		return at, free, false
	}
	square := b.Sub(a).Unit().Dot(o.Path.Tangent(place))
	return o.Path.At(place), b, math.Abs(square) <= math.Sin(tickLean)
}

// meets reports whether another line than i ends or passes at a place.
func meets(lines []trace.Inner, i int, at geom.Point, reach float64) bool {
	for k, other := range lines {
		if k == i || len(other.Path) == 0 {
			continue
		}
		if _, d := other.Path.Nearest(at); d <= reach {
			return true
		}
	}
	return false
}

package formula

import (
	"math"

	"hemlet/geom"
)

// touching is the distance in mm within which two points are one: the grid to which
// coordinates are rounded when an edit is committed.
const touching = 1e-6

// throughOf draws a smooth curve through points: a cubic between neighbours whose
// handles are a third of the chord. At the ends it runs along the chord; at a point
// between, the turn from one chord to the next is divided in proportion to their
// lengths, as a circle through the three points would do to first order. Neighbours
// that are one point are joined by a stretch without length, so that there is always
// one stretch less than there are points.
func throughOf(a []any) (Value, error) {
	p := make([]geom.Point, len(a))
	for i, v := range a {
		p[i] = pt(v)
	}
	path := make(geom.Path, len(p)-1)
	last := -1 // the chord before, of those with a length
	var travel geom.Point
	for i := range path {
		chord := p[i+1].Sub(p[i])
		if chord.Len() <= touching {
			path[i] = geom.Line(p[i], p[i+1])
			continue
		}
		if last < 0 {
			travel = chord.Unit()
		}
		third := chord.Len() / 3
		out := p[i].Add(travel.Mul(third))
		travel = chord.Unit()
		if next, ok := nextChord(p, i+1); ok {
			travel = dividedTurn(chord, next)
		}
		path[i] = geom.Cubic(p[i], out, p[i+1].Sub(travel.Mul(third)), p[i+1])
		last = i
	}
	if len(path) == 1 {
		path[0] = geom.Line(p[0], p[1])
	}
	return Curve{path}, nil
}

// nextChord returns the first chord with a length that starts at point i or later.
func nextChord(p []geom.Point, i int) (geom.Point, bool) {
	for ; i+1 < len(p); i++ {
		if chord := p[i+1].Sub(p[i]); chord.Len() > touching {
			return chord, true
		}
	}
	return geom.Point{}, false
}

// dividedTurn returns the direction at the point between two chords.
func dividedTurn(before, after geom.Point) geom.Point {
	turn := math.Atan2(before.Cross(after), before.Dot(after))
	share := before.Len() / (before.Len() + after.Len())
	return heading(before.Angle() + turn*share)
}

package draft

import "hemlet/geom"

// jointSlack is how far, in mm, a joint of a moved line may lie from where a node of the
// old one would be moved, and still be that node: the tolerance of the line, twice.
const jointSlack = 2 * geom.ParallelTolerance

// runOnLimit is how far a moved line is run on straight to end on the edge beside it, as
// a multiple of the width by which it was moved: as far as a mitre goes.
const runOnLimit = geom.MitreLimit

// movedEnd is where the end of a line is when it is moved inside by a width: the point,
// and the direction in which the line leaves it.
type movedEnd struct{ at, way geom.Point }

// endOf returns the moved end of a line.
func endOf(line geom.Path, width float64) movedEnd {
	way := line.Tangent(geom.Place{Seg: len(line) - 1, T: 1})
	return movedEnd{line.End().Add(way.Left().Mul(width)), way}
}

// endOn returns a moved line so that it ends on the edge beside it, which starts where
// the line ended before it was moved. What a corner rule made of the end of the line is
// left out: it is cut off where it meets the edge, or run on straight to it. The second
// result is where it ends; it is false where the line meets the edge nowhere near.
func endOn(moved geom.Path, end movedEnd, side geom.Path, width float64) (geom.Path, geom.Point, bool) {
	at, d := moved.Nearest(end.at)
	if d > jointSlack {
		q := moved.End()
		_, off := side.Nearest(q)
		return moved, q, off <= geom.ParallelTolerance
	}
	part := moved.Part(geom.Place{}, at)
	if len(part) == 0 {
		return nil, geom.Point{}, false
	}
	from := part.End()
	if place, off := side.Nearest(from); off <= geom.ParallelTolerance {
		return pathTo(part, side.At(place)), side.At(place), true
	}
	ray := geom.Path{geom.Line(from, from.Add(end.way.Mul(runOnLimit*width)))}
	meet := ray.Intersections(side)
	if len(meet) == 0 {
		return part, geom.Point{}, false
	}
	hit := meet[0].P
	if last := part[len(part)-1]; isStub(from, hit, last.P0) {
		return pathTo(ledOn(part, from.Dist(hit)), hit), hit, true
	}
	return append(part[:len(part):len(part)], geom.Line(from, hit)), hit, true
}

// longestStub is how long in mm a line at the end of an inset is at most to be none of its
// own: a blade cannot cut one.
const longestStub = 0.2

// isStub reports whether the line from the end of another one, which starts at a point, is so
// short that the other is led on in its place.
func isStub(from, to, start geom.Point) bool {
	by := from.Dist(to)
	return by <= longestStub && 50*by <= start.Dist(from)
}

// ledOn returns a path that goes on by a short length in mm as its last line bends.
func ledOn(p geom.Path, by float64) geom.Path {
	out := append(geom.Path(nil), p...)
	last := &out[len(out)-1]
	speed := 3 * last.P2.Dist(last.P3)
	if last.Straight || speed <= by {
		return out // pathTo moves its end
	}
	t := 1 + by/speed
	a, b, c := last.P0.Lerp(last.P1, t), last.P1.Lerp(last.P2, t), last.P2.Lerp(last.P3, t)
	d, e := a.Lerp(b, t), b.Lerp(c, t)
	*last = geom.Cubic(last.P0, a, d, d.Lerp(e, t))
	return out
}

// startOn is endOn for the start of a moved line and the edge before it.
func startOn(moved, line, side geom.Path, width float64) (geom.Path, geom.Point, bool) {
	end := endOf(line.Reverse(), -width)
	out, at, ok := endOn(moved.Reverse(), end, side.Reverse(), width)
	return out.Reverse(), at, ok
}

// pathFrom is pathTo for the start of a path.
func pathFrom(p geom.Path, q geom.Point) geom.Path { return pathTo(p.Reverse(), q).Reverse() }

// pathTo returns a path with its end moved to a point that is very near it.
func pathTo(p geom.Path, q geom.Point) geom.Path {
	out := append(geom.Path(nil), p...)
	last := &out[len(out)-1]
	if last.Straight {
		*last = geom.Line(last.P0, q)
		return out
	}
	last.P2 = last.P2.Add(q.Sub(last.P3))
	last.P3 = q
	return out
}

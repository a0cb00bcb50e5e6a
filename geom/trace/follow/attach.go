package follow

import (
	"math"

	"hemlet/geom"
)

// attach draws the first (0) or last (1) end of a line on to an outline that it touches
// near a node.
func (l *Line) attach(end int, node geom.Point, outline []geom.Point) {
	pts := l.Pts
	a, b := pts[0], pts[min(leastTail, len(pts)-1)]
	if end == 1 {
		a, b = pts[len(pts)-1], pts[max(len(pts)-1-leastTail, 0)]
	}
	dir := a.Sub(b).Unit()
	best, foot := math.Inf(1), node
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		side := q.Sub(p)
		turn := dir.Cross(side)
		if turn == 0 {
			continue
		}
		t, u := p.Sub(a).Cross(side)/turn, p.Sub(a).Cross(dir)/turn
		if u < 0 || u > 1 {
			continue
		}
		if x := a.Add(dir.Mul(t)); x.Dist(node) < best {
			best, foot = x.Dist(node), x
		}
	}
	if best > attachPens*l.Width {
		foot = nearestOn(outline, node)
	}
	if end == 0 {
		l.Pts = append([]geom.Point{foot}, pts...)
	} else {
		l.Pts = append(pts, foot)
	}
}

// attachPens is how far from a crossing, in pens, a line drawn on may meet an outline.
const attachPens = 3.0

// nearestOn returns the point of a closed polyline that is nearest to p.
func nearestOn(poly []geom.Point, p geom.Point) geom.Point {
	best, at := math.Inf(1), p
	for i, a := range poly {
		side := poly[(i+1)%len(poly)].Sub(a)
		t := 0.0
		if n := side.Dot(side); n > 0 {
			t = min(max(p.Sub(a).Dot(side)/n, 0), 1)
		}
		if q := a.Add(side.Mul(t)); q.Dist(p) < best {
			best, at = q.Dist(p), q
		}
	}
	return at
}

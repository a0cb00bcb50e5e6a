package figure

import "math"

// halfOval returns half the girth of an ellipse with the half axes w and d, by the
// approximation of Ramanujan (1914), which is off by less than 0.05 % for every shape.
func halfOval(w, d float64) float64 {
	return math.Pi / 2 * (3*(w+d) - math.Sqrt((3*w+d)*(w+3*d)))
}

// ring is what the body measures at one level: half its width, and how deep it is in
// front of and behind the line that runs from side to side. All are in mm.
type ring struct{ w, front, back float64 }

// depth returns the depth from front to back.
func (r ring) depth() float64 { return r.front + r.back }

// flattest and deepest bound a depth, as a share of half the width: what lies outside
// cannot be drawn as a body.
const (
	flattest = 0.15
	deepest  = 3.0
)

// ringOf returns the ring with the girth whose depth is a share of its width, so that
// a larger girth is always a wider ring. The arcs shape its front and its back.
func ringOf(girth, depthShare, frontArc, backArc float64) ring {
	w := girth / (2 * halfOval(1, depthShare))
	return ring{w: w, front: depthOf(w, frontArc), back: depthOf(w, backArc)}
}

// roundOf returns the ring with the girth as an ellipse.
func roundOf(girth, depthShare float64) ring {
	w := girth / (2 * halfOval(1, depthShare))
	return ring{w: w, front: w * depthShare, back: w * depthShare}
}

// depthOf returns the depth at which a half ellipse over the half width w has the arc,
// held within what can be drawn.
func depthOf(w, arc float64) float64 {
	lo, hi := flattest*w, deepest*w
	for range 50 { // halves the range to far below a line's width
		mid := (lo + hi) / 2
		if halfOval(w, mid) < arc {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

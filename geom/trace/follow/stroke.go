package follow

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// stroke is a place along a pen stroke: its middle, and the ways from there across to its
// two edges, left and right of the direction of the line on a screen with y up.
type stroke struct {
	at          geom.Point
	left, right float64 // px; +Inf where no edge was met
	pen         float64 // px: how wide the pen draws thereabouts; 0 for as wide as all over
}

// width returns the width of the stroke there.
func (s stroke) width() float64 { return s.left + s.right }

const (
	// probePx is the step by which an edge is looked for, in px: two edges are not nearer.
	probePx = 0.5
	// mostPenMM is the widest pen.
	mostPenMM = 3.0
	// penReach is how many pens far an edge is looked for.
	penReach = 1.6
	// tangentReach is how far to both sides a direction is taken from, in pens.
	tangentReach = 0.5
)

// edgeFrom returns how far from p, in the direction of the unit vector n, the level is
// crossed from ink to paper; +Inf if not within reach px.
func edgeFrom(f *scan.Field, p, n geom.Point, level, reach float64) float64 {
	last := sample(f, p)
	if last >= level {
		return math.Inf(1)
	}
	for d := probePx; d <= reach+probePx; d += probePx {
		v := sample(f, p.Add(n.Mul(d)))
		if v >= level {
			return d - probePx*(v-level)/(v-last)
		}
		last = v
	}
	return math.Inf(1)
}

// across measures a stroke at p, whose line runs in the direction of the unit vector t.
func across(f *scan.Field, p, t geom.Point, level, reach float64) stroke {
	n := t.Left()
	return stroke{at: p, left: edgeFrom(f, p, n, level, reach), right: edgeFrom(f, p, n.Mul(-1), level, reach)}
}

// centred moves a stroke to the middle of its edges, if both were met.
func (s stroke) centred(t geom.Point) stroke {
	w := s.width()
	if math.IsInf(w, 0) {
		return s
	}
	s.at = s.at.Add(t.Left().Mul((s.left - s.right) / 2))
	s.left, s.right = w/2, w/2
	return s
}

// smoothPasses of [1 2 1]/4 take the steps of pixels out of a thinned line: a Gaussian of
// sigma root 2 px.
const smoothPasses = 4

// smoothed returns a polyline with its points moved towards their neighbours.
func smoothed(pts []geom.Point, closed bool) []geom.Point {
	n := len(pts)
	a, b := append([]geom.Point(nil), pts...), make([]geom.Point, n)
	for range smoothPasses {
		for i, p := range a {
			if !closed && (i == 0 || i == n-1) {
				b[i] = p
				continue
			}
			b[i] = p.Mul(0.5).Add(a[(i+1)%n].Add(a[(i+n-1)%n]).Mul(0.25))
		}
		a, b = b, a
	}
	return a
}

// direction returns the unit tangent of a polyline at point i from the points k before and
// after it.
func direction(pts []geom.Point, i, k int, closed bool) geom.Point {
	n := len(pts)
	if closed {
		k = min(k, n/4)
		return pts[(i+k)%n].Sub(pts[(i+n-k)%n]).Unit()
	}
	return pts[min(i+k, n-1)].Sub(pts[max(i-k, 0)]).Unit()
}

// penOf returns the widths of the stroke along a raw line, at up to some 200 places, where
// both its edges lie no more than reach px apart.
func penOf(f *scan.Field, raw []geom.Point, closed bool, level, reach float64) []float64 {
	var all []float64
	line := smoothed(raw, closed)
	every := max(1, len(line)/200)
	for i := every / 2; i < len(line); i += every {
		t := direction(line, i, 3, closed)
		if w := across(f, line[i], t, level, reach).width(); w <= reach {
			all = append(all, w)
		}
	}
	return all
}

// refine measures the branch r all along, with a pen of the given width: the middle of the
// stroke each step.
func (r *branch) refine(f *scan.Field, d *drawing, pen, step, level float64) {
	closed := r.from < 0
	raw := r.raw
	if !closed {
		raw = append(append([]geom.Point{d.nodes[r.from].at}, raw...), d.nodes[r.to].at)
	}
	line := evenly(smoothed(raw, closed), closed, step)
	k := max(1, int(math.Round(tangentReach*pen/step)))
	var out []stroke
	// The second time the directions are those of the middle found the first time.
	for range 2 {
		out = out[:0]
		for i, p := range line {
			t := direction(line, i, k, closed)
			out = append(out, across(f, p, t, level, penReach*pen).centred(t))
		}
		for i := range line {
			line[i] = out[i].at
		}
	}
	r.pts = out
	localPens(out, pen, step)
}

const (
	// localReach is how far to both sides, in pens, it is read how wide the pen draws
	// thereabouts: farther than a corner, a speck or the legs of a dart disturb it.
	localReach = 20.0
	// localShare is by what share the pen may draw wider or narrower than in the middle of
	// all: in a photograph, what lies near is larger than what lies far.
	localShare = 0.45
	// localEvery is at every how many places it is read.
	localEvery = 16
)

// localPens notes how wide the pen draws along a branch that is long enough to tell: the
// median of the widths.
func localPens(pts []stroke, pen, step float64) {
	reach := int(localReach * pen / step)
	if len(pts) < 2*reach {
		return
	}
	widths := make([]float64, 0, 2*reach+1)
	for from := 0; from < len(pts); from += localEvery {
		to := min(from+localEvery, len(pts))
		widths = widths[:0]
		for _, s := range pts[max(0, from-reach):min(len(pts), to+reach)] {
			if w := s.width(); math.Abs(w-pen) <= localShare*pen {
				widths = append(widths, w)
			}
		}
		if len(widths) < reach/2 {
			continue
		}
		local := median(widths)
		for i := from; i < to; i++ {
			pts[i].pen = local
		}
	}
}

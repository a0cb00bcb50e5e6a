package scan

import (
	"errors"
	"math"

	"hemlet/geom"
)

// Errors of SnapMark.
var (
	errMarkOutside = errors.New("the mark lies outside of the picture")
	errNoMark      = errors.New("no mark shows there: click nearer to a cross, a dot or a corner")
	errOnlyLine    = errors.New("only a line shows there, which does not fix a place: click where two lines meet")
)

// Parameters of centring a mark.
const (
	// markContrast is the least difference in grey levels between a mark and its paper.
	markContrast = 20.0
	// markRounds bounds the steps of centring; most marks need four.
	markRounds = 12
	// markSettled is the step in px below which a place is settled.
	markSettled = .005
	// markWindow is the least half width in px of a window: twice the width of a pen at 300
	// an inch.
	markWindow = 9.0
	// leastCross is the least share of the weaker direction of slopes in the stronger one
	// below which a mark is but a line.
	leastCross = .04
)

// SnapMark returns the middle of the printed mark near a click, to a fraction of a pixel: a
// cross, a dot, or the corner at which lines meet. reach is how far in px the mark may
// lie off the click.
//
// Method: the place to which the slopes within a window that moves along are
// square, for crossings and corners, or at which they point, for dots (Förstner and Gülch
// 1987).
func SnapMark(r *Raster, near geom.Point, reach float64) (geom.Point, error) {
	if !r.whole() {
		return geom.Point{}, errNoPicture
	}
	if !holds(r.W, r.H, near) {
		return geom.Point{}, errMarkOutside
	}
	reach = clamp(reach, 3, float64(max(r.W, r.H)))
	// Wide windows would take in what lies beside; they are bounded for speed too.
	reach = math.Min(reach, 80)
	if r.contrast(near, reach) < markContrast {
		return geom.Point{}, errNoMark
	}
	// The nearest mark is meant: a narrow window finds it, and what lies beside draws a wide
	// one off.
	for w := markWindow; ; w *= 2 {
		wide := w >= reach/2
		if wide {
			w = reach / 2
		}
		at, ok := near, false
		if r.contrast(near, 2*w) >= markContrast {
			at, ok = r.centreMark(near, w)
		}
		switch {
		case ok && at.Dist(near) <= 3*w && holds(r.W, r.H, at) && r.contrast(at, 2*w) >= markContrast:
			return r.narrowMark(at, w/2), nil
		case wide && !ok:
			return geom.Point{}, errOnlyLine
		case wide:
			return geom.Point{}, errNoMark
		}
	}
}

// narrowMark centres ever narrower windows on a mark, from w px each way.
func (r *Raster) narrowMark(at geom.Point, w float64) geom.Point {
	for ; w >= markWindow; w /= 2 {
		if next, ok := r.centreMark(at, w); ok && next.Dist(at) <= w {
			at = next
		}
	}
	return at
}

// centreMark moves a window of w px each way until what it shows is centred in it, or
// reports that it shows no more than a line.
func (r *Raster) centreMark(at geom.Point, w float64) (geom.Point, bool) {
	start := at
	for range markRounds {
		t := r.slopesAround(at, w)
		next, ok := t.centre()
		if !ok || !(next.Dist(start) <= 4*w) {
			return at, false
		}
		moved := next.Dist(at)
		if at = next; moved < markSettled {
			break
		}
	}
	return at, true
}

// contrast returns how far the levels near p lie apart, without the outermost fiftieth.
func (r *Raster) contrast(p geom.Point, reach float64) float64 {
	var vs []float64
	r.around(p, reach, func(x, y int) { vs = append(vs, float64(r.Pix[y*r.W+x])) })
	return shareOf(vs, .99) - shareOf(vs, .01)
}

// around calls do for each pixel of which the middle lies within reach of p.
func (r *Raster) around(p geom.Point, reach float64, do func(x, y int)) {
	for y := max(int(p.Y-reach), 0); y < min(int(p.Y+reach)+1, r.H); y++ {
		for x := max(int(p.X-reach), 0); x < min(int(p.X+reach)+1, r.W); x++ {
			if math.Hypot(float64(x)+.5-p.X, float64(y)+.5-p.Y) <= reach {
				do(x, y)
			}
		}
	}
}

// slopes sums up the slopes of a window: xx, xy and yy of their squares, and the same
// multiplied by where they are, seen from the middle of the window.
type slopes struct {
	mid              geom.Point
	xx, xy, yy       float64
	squareX, squareY float64 // Σ of the slopes' squares times the place, for crossings
	alongX, alongY   float64 // the same for dots
	squares, alongs  float64 // Σ of the squared distances, both ways
}

// slopesAround sums up the slopes round p, weighted by a Gaussian of sigma px.
func (r *Raster) slopesAround(p geom.Point, sigma float64) slopes {
	s := slopes{mid: p}
	r.around(p, 2.5*sigma, func(x, y int) {
		if x < 1 || y < 1 || x > r.W-2 || y > r.H-2 {
			return
		}
		v := func(dx, dy int) float64 { return float64(r.Pix[(y+dy)*r.W+x+dx]) }
		gx := (v(1, -1) + 2*v(1, 0) + v(1, 1) - v(-1, -1) - 2*v(-1, 0) - v(-1, 1)) / 8
		gy := (v(-1, 1) + 2*v(0, 1) + v(1, 1) - v(-1, -1) - 2*v(0, -1) - v(1, -1)) / 8
		dx, dy := float64(x)+.5-p.X, float64(y)+.5-p.Y
		w := math.Exp(-(dx*dx + dy*dy) / (2 * sigma * sigma))
		xx, xy, yy := w*gx*gx, w*gx*gy, w*gy*gy
		s.xx, s.xy, s.yy = s.xx+xx, s.xy+xy, s.yy+yy
		s.squareX, s.squareY = s.squareX+xx*dx+xy*dy, s.squareY+xy*dx+yy*dy
		s.alongX, s.alongY = s.alongX+yy*dx-xy*dy, s.alongY-xy*dx+xx*dy
		s.squares += xx*dx*dx + 2*xy*dx*dy + yy*dy*dy
		s.alongs += yy*dx*dx - 2*xy*dx*dy + xx*dy*dy
	})
	return s
}

// centre returns the place at which the edges meet or at which they point, whichever
// leaves less, or false if the slopes have but one direction.
func (s slopes) centre() (geom.Point, bool) {
	trace, det := s.xx+s.yy, s.xx*s.yy-s.xy*s.xy
	if !(trace > 0) {
		return geom.Point{}, false
	}
	weak := trace/2 - math.Sqrt(math.Max(trace*trace/4-det, 0))
	if !(weak >= leastCross*(trace-weak)) {
		return geom.Point{}, false
	}
	cross := geom.Pt((s.yy*s.squareX-s.xy*s.squareY)/det, (s.xx*s.squareY-s.xy*s.squareX)/det)
	dot := geom.Pt((s.xx*s.alongX+s.xy*s.alongY)/det, (s.yy*s.alongY+s.xy*s.alongX)/det)
	leftCross := s.squares - cross.X*s.squareX - cross.Y*s.squareY
	leftDot := s.alongs - dot.X*s.alongX - dot.Y*s.alongY
	if leftDot < leftCross {
		return s.mid.Add(dot), true
	}
	return s.mid.Add(cross), true
}

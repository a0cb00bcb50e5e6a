package scan

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Frame is a rectangle of known size in a picture: a sheet of paper, a printed frame, a
// cutting mat.
type Frame struct {
	Corners [4]geom.Point   // px, in the order of the clicks
	RMS     float64         // px, of the points of the edges from their straight lines
	Edges   [4][]geom.Point // px, points on the edge from corner i to the next
	Drawn   bool            // the edges are drawn lines, of which the middle was taken
	Bend    float64         // of the lens, if the edges bow so that one tells it, else 0: see Straighten
}

// Limits of a frame.
const (
	// leastSide is the shortest side in px that gives enough points for a line.
	leastSide = 24.0
	// leastCorner is the least sine of the angle at a corner; a sheet seen so flatly
	// (about 10 degrees) could not be measured.
	leastCorner = .17
	// frameReach is how far a click may lie off the edge, as a share of a side: on a
	// picture shown 1000 pixels wide it is about 20 of them.
	frameReach = .022
	// leastReach is frameReach's least in px.
	leastReach = 6.0
	// leastSeen is the share of a side that must show.
	leastSeen = .25
)

// sideNames name the sides of a frame by its corners in the order of clicks.
var sideNames = [4]string{"between the first and the second corner", "between the second and the third corner",
	"between the third and the fourth corner", "between the fourth and the first corner"}

// FrameEdges is FitFrame for those who need but the corners and the rms in px.
func FrameEdges(r *Raster, rough [4]geom.Point) (corners [4]geom.Point, rmsPx float64, err error) {
	f, err := FitFrame(r, rough)
	return f.Corners, f.RMS, err
}

// FitFrame fits the four edges of a rectangle, light or dark on its ground or drawn as a
// line, near four clicks at its corners that go round it, and returns the corners at
// which the fitted lines meet. A part of an edge may be hidden, and a corner bent or cut
// off. It refuses corners outside of the picture, crossed, or three in a line, and says
// along which side it found no edge.
//
// Method: the steepest places across each side, a line among them by sampling (Fischler
// and Bolles 1981), then total least squares on subpixel places with outliers rejected.
func FitFrame(r *Raster, rough [4]geom.Point) (Frame, error) {
	if !r.whole() {
		return Frame{}, errNoPicture
	}
	if err := checkCorners(r.W, r.H, rough); err != nil {
		return Frame{}, err
	}
	var f Frame
	var fits [4]edgeFit
	drawn := 0
	for i := range 4 {
		a, b := rough[i], rough[(i+1)%4]
		e, err := fitEdge(r, a, b, math.Max(leastReach, frameReach*a.Dist(b)))
		if err != nil {
			return Frame{}, fmt.Errorf("%w %s", err, sideNames[i])
		}
		fits[i] = e
		if e.drawn {
			drawn++
		}
	}
	f.Drawn = drawn > 2
	f.Bend = lensBend(r, &fits)
	f.RMS = offLines(fits)
	for i := range 4 {
		f.Edges[i] = fits[i].pts
		p, ok := fits[(i+3)%4].line.meet(fits[i].line)
		far := 2 * math.Max(leastReach, frameReach*math.Max(rough[i].Dist(rough[(i+1)%4]), rough[i].Dist(rough[(i+3)%4])))
		if !ok || p.Dist(rough[i]) > far {
			return Frame{}, fmt.Errorf("the edges do not meet near corner %d: click nearer to the corner", i+1)
		}
		f.Corners[i] = p
	}
	return f, nil
}

// offLines returns the root mean square of the distances of the points of edges from their
// lines.
func offLines(fits [4]edgeFit) float64 {
	var sum, n float64
	for _, e := range fits {
		for _, p := range e.pts {
			d := e.line.off(p)
			sum, n = sum+d*d, n+1
		}
	}
	return math.Sqrt(sum / n)
}

// lensBend returns the bend of the lens that the edges tell, or 0. Edges that bow are then
// all of what shows of them, and their lines the best straight ones, so that the residual
// tells how far they bow.
func lensBend(r *Raster, fits *[4]edgeFit) float64 {
	var bowed [4][]geom.Point
	for i, e := range fits {
		if bowed[i] = bowedEdge(r, e.a, e.b, e.side); bowed[i] == nil {
			return 0
		}
	}
	bend, ok := bendOf(r.W, r.H, bowed)
	if !ok {
		return 0
	}
	for i, pts := range bowed {
		fits[i].line, fits[i].pts = bestLine(pts), pts
	}
	return bend
}

// checkCorners refuses corners that cannot be those of a rectangle seen by a camera.
func checkCorners(w, h int, c [4]geom.Point) error {
	for i, p := range c {
		if !holds(w, h, p) {
			return fmt.Errorf("corner %d lies outside of the picture", i+1)
		}
	}
	return checkQuad(c)
}

// checkQuad refuses four points that are not the corners of a convex quadrilateral in
// going round it.
func checkQuad(c [4]geom.Point) error {
	left, right := 0, 0
	for i := range 4 {
		a, b := c[(i+1)%4].Sub(c[i]), c[(i+2)%4].Sub(c[(i+1)%4])
		if a.Len() < leastSide {
			return fmt.Errorf("corners %d and %d lie on one another", i+1, (i+1)%4+1)
		}
		s := a.Cross(b) / (a.Len() * b.Len())
		switch {
		case s >= leastCorner:
			left++
		case s <= -leastCorner:
			right++
		case math.IsNaN(s):
			return errLostMark
		}
	}
	if left+right < 4 && (left == 0 || right == 0) {
		return errors.New("three of the corners lie in one line")
	}
	if left < 4 && right < 4 {
		return errors.New("the corners are crossed: click them in going round the frame")
	}
	return nil
}

// True returns the map from pixels to mm, y up, of a frame whose sides from the first to
// the second and from the second to the third corner are width and height mm long, and
// the residual: the root mean square in mm of the distances of the points of its edges from
// the sides of the true rectangle. See Trueness.
func (f Frame) True(width, height float64, middle geom.Point) (geom.Homography, float64, error) {
	return Trueness(f.Corners, f.Edges, width, height, middle)
}

// swapShare is by how much more likely, in shares of the sides' ratio, width and height
// must be the other way about before Swapped says so.
const swapShare = .1

// Swapped reports whether width and height fit the frame much better the other way about.
func (f Frame) Swapped(width, height float64) bool {
	c := f.Corners
	seen := math.Log((c[0].Dist(c[1]) + c[2].Dist(c[3])) / (c[1].Dist(c[2]) + c[3].Dist(c[0])))
	told := math.Log(width / height)
	return math.Abs(seen+told)+swapShare < math.Abs(seen-told)
}

// Trueness returns the map from pixels to mm, y up, under which the corners are those of a
// true rectangle: width mm from the first to the second and from the third to the fourth,
// height mm the other way. The middle of the rectangle comes to middle, and its sides lie
// across and up the way that turns the picture least. The residual in mm is the root
// mean square of the distances from the points on the edges, which may be none, to the
// sides.
func Trueness(corners [4]geom.Point, edges [4][]geom.Point, width, height float64, middle geom.Point) (geom.Homography, float64, error) {
	if !(width > 0) || !(height > 0) || width > mostLength || height > mostLength {
		return geom.Homography{}, 0, errors.New("the width and the height of the frame must lie above 0 and be at most 100 m")
	}
	if !middle.Finite() {
		return geom.Homography{}, 0, errLostMark
	}
	for _, p := range corners {
		if !p.Finite() {
			return geom.Homography{}, 0, errLostMark
		}
	}
	if err := checkQuad(corners); err != nil {
		return geom.Homography{}, 0, err
	}
	to := trueCorners(corners, width, height, middle)
	h, _, err := geom.FitHomography(corners[:], to[:])
	if err != nil {
		return geom.Homography{}, 0, err
	}
	var sum float64
	var count int
	for i, pts := range edges {
		side := lineThrough(to[i], to[(i+1)%4])
		for _, p := range pts {
			d := side.off(h.Apply(p))
			sum += d * d
			count++
		}
	}
	if count == 0 {
		return h, 0, nil
	}
	return h, math.Sqrt(sum / float64(count)), nil
}

// trueCorners returns the corners of the true rectangle in mm.
func trueCorners(c [4]geom.Point, width, height float64, middle geom.Point) [4]geom.Point {
	// The side of the width runs across or up, whichever is nearer to how it is seen.
	along := c[1].Sub(c[0]).Add(c[2].Sub(c[3]))
	along.Y = -along.Y
	u := geom.Pt(math.Copysign(1, along.X), 0)
	if math.Abs(along.Y) > math.Abs(along.X) {
		u = geom.Pt(0, math.Copysign(1, along.Y))
	}
	v := u.Left()
	if c[1].Sub(c[0]).Cross(c[2].Sub(c[1])) > 0 {
		v = v.Mul(-1) // clockwise with y down
	}
	u, v = u.Mul(width/2), v.Mul(height/2)
	return [4]geom.Point{
		middle.Sub(u).Sub(v), middle.Add(u).Sub(v), middle.Add(u).Add(v), middle.Sub(u).Add(v),
	}
}

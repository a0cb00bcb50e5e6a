package follow

import (
	"context"
	"errors"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

const (
	stepMM = 0.1 // mm between the points of a line, finer than anything that is sewn
	stepPx = 1.0 // px between the points at least: between them lies nothing new

	halfLevel = 0.5
)

// errNoField is the error for a field without pixels.
var errNoField = errors.New("there is no picture to follow")

// Bounds of the options.
const (
	mostScale = 1000.0 // px per mm: 25,400 dpi
	mostGap   = 50.0   // mm
	mostLeast = 1e9    // mm²
)

// sound returns the options within their bounds, 0 for what is no number.
func (o Options) sound() Options {
	within := func(v, most float64) float64 {
		if !(v > 0) {
			return 0
		}
		return min(v, most)
	}
	o.S, o.Gap, o.Least = within(o.S, mostScale), within(o.Gap, mostGap), within(o.Least, mostLeast)
	return o
}

// step returns the way between the points of a line, in px.
func (o Options) step() float64 { return max(stepPx, stepMM*o.S) }

// leastPx returns the area in px² below which ink is a speck.
func (o Options) leastPx() float64 { return max(leastSpeckPx, o.Least*o.S*o.S) }

// leastSpeckPx is the area of the smallest shape whatever the options: four pixels have no
// shape.
const leastSpeckPx = 4

// level returns the value of a field at the edge.
func (o Options) level() uint16 {
	l := o.Level
	if !(l > 0 && l < 1) {
		l = halfLevel
	}
	return uint16(math.Round(l * scan.Paper))
}

// Edges returns the shapes of ink in a field: the line of half level round each, with the
// edges of the paper in it as holes; ink in such a hole is a shape of its own.
//
// The contours are those of marching squares (Lorensen and Cline 1987, in the plane), with
// straight interpolation, a point each max(0.1 mm, 1 px). Shapes that touch the border of
// what was read are in Cut. It fails without a field and when ctx ends.
func Edges(ctx context.Context, f *scan.Field, o Options) (Found, error) {
	if f == nil || f.W <= 0 || f.H <= 0 {
		return Found{}, errNoField
	}
	o = o.sound()
	cs, specks, err := contours(ctx, f, o.level(), o.leastPx())
	if err == nil && o.Level == 0 {
		if o.Level = edgeLevel(f, edgeLines(f, cs, o), o.S); o.Level != halfLevel {
			cs, specks, err = contours(ctx, f, o.level(), o.leastPx())
		}
	}
	if err != nil {
		return Found{}, err
	}
	found := Found{Specks: specks + f.Specks}
	at := make([]int, len(cs))
	for i, c := range cs {
		at[i] = -1
		line := edgeLine(f, c.pts, o)
		switch {
		case c.area > 0 && signedArea(line.Pts) >= 0:
			found.Specks++ // so small that its points, spread evenly, enclose nothing
		case c.area > 0 && c.cut:
			found.Cut = append(found.Cut, line)
		case c.area > 0:
			at[i] = len(found.Shapes)
			found.Shapes = append(found.Shapes, Shape{Outline: line})
		case c.parent >= 0 && at[c.parent] >= 0:
			s := &found.Shapes[at[c.parent]]
			s.Holes = append(s.Holes, line)
		}
	}
	return found, nil
}

// edgeLines makes lines of the contours that are whole.
func edgeLines(f *scan.Field, cs []contour, o Options) []Line {
	var lines []Line
	for _, c := range cs {
		if !c.cut {
			lines = append(lines, edgeLine(f, c.pts, o))
		}
	}
	return lines
}

// edgeLine makes a line of a contour.
func edgeLine(f *scan.Field, pts []geom.Point, o Options) Line {
	even := evenly(pts, true, o.step())
	return Line{Pts: even, Closed: true, Blur: blurOf(f, even, true), Noise: noiseOf(even, true)}
}

// evenly returns points along a polyline, step apart or as much less as makes them even.
// A closed line does not repeat its first point; an open one keeps both ends.
func evenly(pts []geom.Point, closed bool, step float64) []geom.Point {
	if len(pts) < 2 {
		return slices.Clone(pts)
	}
	if closed {
		pts = append(slices.Clip(pts), pts[0])
	}
	total := 0.0
	for i := 1; i < len(pts); i++ {
		total += pts[i].Dist(pts[i-1])
	}
	n := max(int(math.Ceil(total/step)), 1)
	if closed {
		n = max(n, 3)
	}
	each := total / float64(n)
	out := make([]geom.Point, 0, n+1)
	gone, next := 0.0, 0.0
	for i := 1; i < len(pts) && len(out) < n; i++ {
		d := pts[i].Dist(pts[i-1])
		for len(out) < n && d > 0 && next <= gone+d {
			out = append(out, pts[i-1].Lerp(pts[i], (next-gone)/d))
			next = float64(len(out)) * each
		}
		gone += d
	}
	if !closed {
		out = append(out, pts[len(pts)-1])
	}
	return out
}

// sample returns the value of a field at a place, 0 for ink and 1 for paper, straight
// between the middles of pixels; outside it is paper.
func sample(f *scan.Field, p geom.Point) float64 {
	x, y := p.X-0.5, p.Y-0.5
	i, j := int(math.Floor(x)), int(math.Floor(y))
	if i < 0 || j < 0 || i+1 >= f.W || j+1 >= f.H {
		return sampleRim(f, i, j, x-float64(i), y-float64(j))
	}
	u, v := x-float64(i), y-float64(j)
	a, b := f.V[j*f.W+i:][:2], f.V[(j+1)*f.W+i:][:2]
	top := float64(a[0])*(1-u) + float64(a[1])*u
	low := float64(b[0])*(1-u) + float64(b[1])*u
	return (top*(1-v) + low*v) / scan.Paper
}

// sampleRim is sample where not all four pixels lie inside.
func sampleRim(f *scan.Field, i, j int, u, v float64) float64 {
	at := func(i, j int) float64 {
		if i < 0 || j < 0 || i >= f.W || j >= f.H {
			return 1
		}
		return float64(f.V[j*f.W+i]) / scan.Paper
	}
	return (at(i, j)*(1-u)+at(i+1, j)*u)*(1-v) + (at(i, j+1)*(1-u)+at(i+1, j+1)*u)*v
}

// slopeReach is how far to both sides of an edge its slope is taken, in px.
const slopeReach = 0.5

// blurOf returns the blur of the edge along a line: of a step softened by a Gaussian the
// steepest slope is 1/(sigma sqrt(2 pi)). The median of many places counts.
func blurOf(f *scan.Field, pts []geom.Point, closed bool) float64 {
	n := len(pts)
	if n < 3 {
		return 0
	}
	var slopes []float64
	every := max(1, n/mostSlopes)
	for i := 0; i < n; i += every {
		if !closed && (i == 0 || i == n-1) {
			continue
		}
		across := pts[(i+1)%n].Sub(pts[(i+n-1)%n]).Left().Unit().Mul(slopeReach)
		d := math.Abs(sample(f, pts[i].Add(across)) - sample(f, pts[i].Sub(across)))
		slopes = append(slopes, d/(2*slopeReach))
	}
	slope := median(slopes)
	if slope <= 0 {
		return 0
	}
	sigma := 1 / (slope * math.Sqrt(2*math.Pi))
	return math.Sqrt(max(sigma*sigma-slopeVariance, leastBlur*leastBlur))
}

// slopeVariance is what the reach of the slope, a mean over its width, and the straight
// lines between pixels add to the variance of a blur, in px².
const slopeVariance = slopeReach*slopeReach/3 + 1.0/6

// leastBlur is the least blur in px: that of a pixel itself.
const leastBlur = 0.29

// mostSlopes is about how many places along a line are looked at for its slope.
const mostSlopes = 400

// noiseStride is how many points apart the points are by which noise is told: nearer ones
// share pixels.
const noiseStride = 3

// noiseOf returns the standard deviation of points across a line, from their fourth
// differences, in which a curve leaves next to nothing.
func noiseOf(pts []geom.Point, closed bool) float64 {
	n := len(pts)
	if n < 4*noiseStride+1 {
		return 0
	}
	at := func(i int) geom.Point { return pts[(i+n)%n] }
	var off []float64
	lo, hi := 0, n
	if !closed {
		lo, hi = 2*noiseStride, n-2*noiseStride
	}
	for i := lo; i < hi; i++ {
		a, b := at(i-noiseStride), at(i+noiseStride)
		d := at(i).Mul(6).Sub(a.Add(b).Mul(4)).Add(at(i - 2*noiseStride)).Add(at(i + 2*noiseStride))
		off = append(off, math.Abs(b.Sub(a).Unit().Cross(d)))
	}
	// Variance 36 + 2·16 + 2.
	return 1.4826 * median(off) / math.Sqrt(70)
}

// median returns the median of v, which it sorts; 0 of nothing.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return v[len(v)/2]
}

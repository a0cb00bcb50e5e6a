package scan

import (
	"context"
	"errors"
	"math"

	"hemlet/geom"
)

// A lens bends straight lines. Lens undoes it for a picture of W by H px: a place at the
// distance r from the middle, in half diagonals, moves outward to r (1 + Bend r²). Bend is
// above 0 for lines that bow outward, as those of wide lenses do, and 0 for none (the
// first term of Brown 1971).
type Lens struct {
	W, H int
	Bend float64
}

// Limits of bending.
const (
	// mostBend is the strongest bend that is believed; phones write pictures of less than 0.02.
	mostBend = .15
	// leastBow is how far in px the bows of the edges of a frame must lie off straight
	// lines, on the root mean square, before a bend is told.
	leastBow = .15
	// leastGain is the share of the residual that the bend must take away: paper curls too.
	leastGain = .5
)

// middle returns the middle of the picture and half of its diagonal.
func (l Lens) middle() (geom.Point, float64) {
	m := geom.Pt(float64(l.W)/2, float64(l.H)/2)
	return m, m.Len()
}

// Straight returns where a place of the picture lies in the straightened picture.
func (l Lens) Straight(p geom.Point) geom.Point {
	m, half := l.middle()
	d := p.Sub(m)
	return m.Add(d.Mul(1 + l.Bend*d.Dot(d)/(half*half)))
}

// Bent returns where a place of the straightened picture lies in the picture: the inverse
// of Straight, by Newton's method.
func (l Lens) Bent(p geom.Point) geom.Point {
	m, half := l.middle()
	d := p.Sub(m)
	return m.Add(d.Mul(l.pulled(d.Len() / half)))
}

// pulled returns by how much what lies far half diagonals from the middle of the
// straightened picture is nearer to it in the picture.
func (l Lens) pulled(far float64) float64 {
	if far == 0 {
		return 1
	}
	r := far
	for range 8 {
		slope := 1 + 3*l.Bend*r*r
		if slope < .2 {
			break // beyond where the bend can be undone
		}
		r -= (r*(1+l.Bend*r*r) - far) / slope
	}
	return r / far
}

// pulledSteps is the number of steps in which Straighten tabulates pulled over the square of
// the distance: between them it runs straight to better than 1e-7.
const pulledSteps = 1000

// Straighten returns the picture as a lens without any bend would have shown it, of the same
// size; r stays as it is. It refuses bends that no lens has.
func Straighten(ctx context.Context, r *Raster, bend float64) (*Raster, error) {
	if !r.whole() {
		return nil, errNoPicture
	}
	if !(math.Abs(bend) <= mostBend) {
		return nil, errors.New("no lens bends a picture so much")
	}
	l := Lens{r.W, r.H, bend}
	table := make([]float64, pulledSteps+2)
	for i := range table {
		table[i] = l.pulled(math.Sqrt(float64(i) / pulledSteps))
	}
	mid, half := l.middle()
	out := &Raster{W: r.W, H: r.H, Pix: make([]uint8, r.W*r.H)}
	err := bands(ctx, r.H, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			row := out.Pix[y*r.W : (y+1)*r.W]
			for x := range row {
				d := geom.Pt(float64(x)+.5, float64(y)+.5).Sub(mid)
				at := min(d.Dot(d)/(half*half), 1) * pulledSteps
				i := int(at)
				pull := table[i] + (at-float64(i))*(table[i+1]-table[i])
				row[x] = uint8(clamp(r.cubic(mid.Add(d.Mul(pull)))+.5, 0, 255))
			}
		}
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// cubic returns the value at p by cubic interpolation; near the border in straight
// proportion.
func (r *Raster) cubic(p geom.Point) float64 {
	x, y := p.X-.5, p.Y-.5
	if !(x >= 1 && y >= 1 && x < float64(r.W-2) && y < float64(r.H-2)) {
		return r.sample(p)
	}
	i, j := int(x), int(y)
	wx, wy := cubicWeights(x-float64(i)), cubicWeights(y-float64(j))
	var sum float64
	for b := range 4 {
		row := r.Pix[(j+b-1)*r.W+i-1:][:4]
		sum += wy[b] * (wx[0]*float64(row[0]) + wx[1]*float64(row[1]) + wx[2]*float64(row[2]) + wx[3]*float64(row[3]))
	}
	return sum
}

// bendOf returns the bend that makes the points of the four edges lie best on straight lines,
// if it explains how they bow.
func bendOf(w, h int, edges [4][]geom.Point) (float64, bool) {
	left := func(bend float64) float64 {
		l := Lens{w, h, bend}
		var sum, n float64
		for _, pts := range edges {
			s, ok := straightness(l, pts)
			if !ok {
				return math.Inf(1)
			}
			sum, n = sum+s, n+float64(len(pts))
		}
		return math.Sqrt(sum / n)
	}
	// What is left of the bows falls and rises about evenly to both sides of the best.
	low, high := -mostBend, mostBend
	for range 60 {
		a, b := low+(high-low)*.382, low+(high-low)*.618
		if left(a) < left(b) {
			high = b
		} else {
			low = a
		}
	}
	bend := (low + high) / 2
	was, is := left(0), left(bend)
	return bend, math.Abs(bend) < .95*mostBend && was > leastBow && is < (1-leastGain)*was
}

// straightness returns the sum of squared distances of straightened points from their best
// line (total least squares).
func straightness(l Lens, pts []geom.Point) (float64, bool) {
	if len(pts) < 4 {
		return 0, false
	}
	moved := make([]geom.Point, len(pts))
	for i, p := range pts {
		moved[i] = l.Straight(p)
	}
	_, xx, xy, yy := moments(moved)
	// The smaller principal moment.
	return math.Max((xx+yy)/2-math.Hypot((xx-yy)/2, xy), 0), true
}

// moments returns the middle of points and their moments about it.
func moments(pts []geom.Point) (mid geom.Point, xx, xy, yy float64) {
	for _, p := range pts {
		mid = mid.Add(p.Mul(1 / float64(len(pts))))
	}
	for _, p := range pts {
		d := p.Sub(mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	return mid, xx, xy, yy
}

// bestLine returns the line with the least squares of distances from points, which go from
// its start to its end.
func bestLine(pts []geom.Point) edgeLine {
	mid, xx, xy, yy := moments(pts)
	s, c := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	l := edgeLine{mid, geom.Pt(c, s)}
	if l.dir.Dot(pts[len(pts)-1].Sub(pts[0])) < 0 {
		l.dir = l.dir.Mul(-1)
	}
	return l
}

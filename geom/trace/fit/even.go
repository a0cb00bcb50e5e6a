package fit

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"hemlet/geom"
)

const (
	// coordLimit is the largest coordinate in mm that is taken for a place; beyond
	// it squares lose the micrometres that are fitted here.
	coordLimit = 1e6
	// evenMost is the largest number of steps in which a line is walked: at 3 m
	// round, 0.18 mm each, still two to a blur of 300 dpi.
	evenMost = 16384
	// evenLeast is the least number of steps in which a whole line is walked, so
	// that small outlines keep their shape.
	evenLeast = 160
	// evenBare is the number of steps for points that lie far apart, as the bare
	// vertices of a polygon do, where no blur is told.
	evenBare = 2000
	// evenPerBlur is the step as a share of the blur. Points closer than the blur
	// tell the same thing twice.
	evenPerBlur = 1.0
)

// even is a line walked at equal steps: point k is the mean of the polyline from k
// to k+1 steps. A mean over a step of h mm bends inward by curvature h²/24, 0.1 µm
// at 5 mm radius and 0.1 mm; it keeps what all the points say, however many.
type even struct {
	pts    []geom.Point
	step   float64 // mm
	closed bool
	blur   float64 // sigma in mm
	noise  float64 // sigma in mm of one point of pts, across the line
}

// distinct returns the points without repetitions, or why they cannot be a line.
func distinct(pts []geom.Point, closed bool) ([]geom.Point, error) {
	out := make([]geom.Point, 0, len(pts))
	for i, p := range pts {
		if !p.Finite() || math.Abs(p.X) > coordLimit || math.Abs(p.Y) > coordLimit {
			return nil, fmt.Errorf("point %d of the line is not a place", i)
		}
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	for closed && len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	switch {
	case closed && len(out) < 3:
		return nil, errors.New("a closed line needs three different points")
	case len(out) < 2:
		return nil, errors.New("a line needs two different points")
	}
	return out, nil
}

// lengthOf returns the length of the polyline in mm.
func lengthOf(pts []geom.Point, closed bool) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += pts[i].Dist(pts[i-1])
	}
	if closed {
		sum += pts[0].Dist(pts[len(pts)-1])
	}
	return sum
}

// spacing returns the median distance between neighbours in mm.
func spacing(pts []geom.Point) float64 {
	d := make([]float64, len(pts)-1)
	for i := range d {
		d[i] = pts[i].Dist(pts[i+1])
	}
	sort.Float64s(d)
	return d[len(d)/2]
}

// walk evens out the points; blur 0 stands for the spacing of the points.
func walk(pts []geom.Point, closed bool, blur float64) even {
	total := lengthOf(pts, closed)
	if !(blur > 0) {
		blur = math.Min(spacing(pts), total/evenBare)
	}
	n := int(math.Ceil(total / (evenPerBlur * blur)))
	n = max(evenLeast, min(n, evenMost))
	e := even{pts: make([]geom.Point, n), step: total / float64(n), closed: closed, blur: blur}
	edges := len(pts) - 1
	if closed {
		edges++
	}
	// Position integrated over each step, edge by edge.
	k, left := 0, e.step
	for i := range edges {
		a, b := pts[i], pts[(i+1)%len(pts)]
		length := a.Dist(b)
		for done := 0.0; done < length; {
			take := math.Min(left, length-done)
			mid := a.Lerp(b, (done+take/2)/length)
			e.pts[k] = e.pts[k].Add(mid.Mul(take / e.step))
			done += take
			if left -= take; left <= 1e-9*e.step {
				if k == n-1 {
					left = e.step
					break
				}
				k, left = k+1, e.step
			}
		}
	}
	if left < e.step {
		// What rounding left of the last step.
		e.pts[k] = e.pts[k].Mul(e.step / (e.step - left))
	}
	e.noise = e.measureNoise()
	return e
}

// at returns point i, round and round on a closed line and the ends beyond an open
// one.
func (e *even) at(i int) geom.Point {
	n := len(e.pts)
	if e.closed {
		if i %= n; i < 0 {
			i += n
		}
		return e.pts[i]
	}
	return e.pts[max(0, min(i, n-1))]
}

const (
	// noiseReach is half the window in steps in which the noise is measured against
	// a local cubic: what repeats within some millimetres is noise, what bends over
	// a longer way is shape.
	noiseReach = 14
	// noiseEvery is the distance in steps between two windows.
	noiseEvery = 9
)

// measureNoise returns the standard deviation in mm of the points across the line:
// the median over windows of what a cubic leaves, so that corners and specks do
// not count.
func (e *even) measureNoise() float64 {
	n := len(e.pts)
	size := 2*noiseReach + 1
	if n < size {
		return 0
	}
	p1, p2, p3 := orthogonalPolynomials(noiseReach)
	var found []float64
	lo, hi := 0, n
	if !e.closed {
		lo, hi = noiseReach, n-noiseReach
	}
	for i := lo; i < hi; i += noiseEvery {
		dir := e.at(i + noiseReach).Sub(e.at(i - noiseReach)).Unit().Left()
		o := e.at(i)
		var s, s0, s1, s2, s3 float64
		for k := -noiseReach; k <= noiseReach; k++ {
			y := dir.Dot(e.at(i + k).Sub(o))
			a := k + noiseReach
			s += y * y
			s0 += y
			s1 += y * p1[a]
			s2 += y * p2[a]
			s3 += y * p3[a]
		}
		s -= s0*s0/float64(size) + s1*s1 + s2*s2 + s3*s3
		found = append(found, math.Sqrt(math.Max(0, s)/float64(size-4)))
	}
	if len(found) == 0 {
		return 0
	}
	sort.Float64s(found)
	return found[len(found)/2]
}

// orthogonalPolynomials returns the discrete orthonormal polynomials of degree 1 to
// 3 on -m..m (Gram polynomials).
func orthogonalPolynomials(m int) (p1, p2, p3 []float64) {
	size := 2*m + 1
	base := make([][]float64, 4)
	for d := range base {
		base[d] = make([]float64, size)
		for a := range size {
			base[d][a] = math.Pow(float64(a-m)/float64(m), float64(d))
		}
		for range 2 {
			for b := range d {
				dot := 0.0
				for a := range size {
					dot += base[d][a] * base[b][a]
				}
				for a := range size {
					base[d][a] -= dot * base[b][a]
				}
			}
		}
		norm := 0.0
		for _, v := range base[d] {
			norm += v * v
		}
		for a := range base[d] {
			base[d][a] /= math.Sqrt(norm)
		}
	}
	return base[1], base[2], base[3]
}

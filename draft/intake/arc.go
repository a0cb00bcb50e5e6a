package intake

import (
	"math"

	"hemlet/geom"
)

// arcTolerance is how far, in mm, the cubics that stand for a circular or
// elliptical arc may lie from it: a tenth of the micrometre that a cut line is
// ever asked for, and a hundredth of what it is allowed.
const arcTolerance = 1e-4

// arcErrorRate is the distance from the unit circle of a cubic with handles of
// 4/3 tan(θ/4), divided by θ⁶: 2.73e-4 at a quarter turn, falling with the sixth
// power of the angle (Goldapp 1991, "Approximation of circular arcs by cubic
// polynomials"). The rate is a little larger than measured at any θ up to π/2.
const arcErrorRate = 1.85e-5

// ellipse is the set of points c + u cos t + v sin t.
type ellipse struct{ c, u, v geom.Point }

func (e ellipse) at(t float64) geom.Point {
	s, k := math.Sincos(t)
	return geom.Pt(e.c.X+e.u.X*k+e.v.X*s, e.c.Y+e.u.Y*k+e.v.Y*s)
}

func (e ellipse) deriv(t float64) geom.Point {
	s, k := math.Sincos(t)
	return geom.Pt(e.v.X*k-e.u.X*s, e.v.Y*k-e.u.Y*s)
}

// reach returns the larger half axis.
func (e ellipse) reach() float64 {
	return stretch(geom.Affine{A: e.u.X, B: e.u.Y, C: e.v.X, D: e.v.Y})
}

// arc returns cubics from parameter t0 to t1 (either may be the larger), within
// tol of the ellipse. A stretch is never longer than a quarter turn, and a full
// turn is cut at a multiple of four places.
func (e ellipse) arc(t0, t1, tol float64) geom.Path {
	turn := t1 - t0
	n := max(1, int(math.Ceil(math.Abs(turn)/(math.Pi/2)-1e-9)))
	if longest := math.Pow(tol/(arcErrorRate*e.reach()), 1./6); longest > 0 && longest < math.Pi/2 {
		// 1024 stretches of a full turn would serve a radius of a million km.
		n = min(n*int(math.Ceil(math.Abs(turn)/longest/float64(n))), 1024)
	}
	n = max(n, 1)
	step := turn / float64(n)
	k := 4. / 3 * math.Tan(step/4)
	path := make(geom.Path, n)
	p, d := e.at(t0), e.deriv(t0)
	for i := range path {
		t := t0 + turn*float64(i+1)/float64(n)
		q, f := e.at(t), e.deriv(t)
		path[i] = geom.Cubic(p, p.Add(d.Mul(k)), q.Sub(f.Mul(k)), q)
		p, d = q, f
	}
	return path
}

// full returns the closed ellipse, starting at parameter t0.
func (e ellipse) full(t0, tol float64) geom.Path {
	path := e.arc(t0, t0+2*math.Pi, tol)
	path[len(path)-1].P3 = path[0].P0
	return path
}

// stretch returns the largest factor by which m lengthens a vector: its larger
// singular value.
func stretch(m geom.Affine) float64 {
	p := math.Hypot(m.A+m.D, m.B-m.C)
	q := math.Hypot(m.A-m.D, m.B+m.C)
	return (p + q) / 2
}

// between moves the ends of an open path onto a and b exactly, after rounding
// has left them a hair away.
func between(path geom.Path, a, b geom.Point) geom.Path {
	if len(path) > 0 {
		path[0].P0, path[len(path)-1].P3 = a, b
	}
	return path
}

// raised returns the cubic that is the quadratic with the given points, exactly.
func raised(a, b, c geom.Point) geom.Segment {
	return geom.Cubic(a, a.Lerp(b, 2./3), c.Lerp(b, 2./3), c)
}

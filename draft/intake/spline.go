package intake

import (
	"errors"
	"fmt"

	"hemlet/geom"
)

// splineTolerance is how far, in mm, the cubics that stand for a spline of high
// degree, or a rational one, may lie from it. Polynomial splines up to the third
// degree are kept exactly.
const splineTolerance = 0.0005

// maxDegree bounds the degree of a spline that is read.
const maxDegree = 10

// homogeneous is a control point times its weight, and the weight.
type homogeneous struct{ x, y, w float64 }

func (h homogeneous) lerp(g homogeneous, t float64) homogeneous {
	return homogeneous{h.x + (g.x-h.x)*t, h.y + (g.y-h.y)*t, h.w + (g.w-h.w)*t}
}

func (h homogeneous) point() geom.Point { return geom.Pt(h.x/h.w, h.y/h.w) }

// bspline is a B-spline curve, rational where its weights differ.
type bspline struct {
	degree   int
	knots    []float64
	control  []homogeneous
	rational bool
}

func (e *dxfEntity) spline(tol float64, room int) (geom.Path, bool, error) {
	control, err := e.points(10)
	if err != nil {
		return nil, false, err
	}
	if len(control) == 0 {
		return e.fitted(room)
	}
	if len(control) > room {
		return nil, false, errTooManyNodes
	}
	b := bspline{degree: e.flags(71)}
	if b.knots, err = e.numbers(40); err != nil {
		return nil, false, err
	}
	weights, err := e.numbers(41)
	if err != nil {
		return nil, false, err
	}
	if len(weights) > 0 && len(weights) != len(control) {
		return nil, false, fmt.Errorf("%d weights for %d control points", len(weights), len(control))
	}
	for i, p := range control {
		w := 1.0
		if len(weights) > 0 {
			w = weights[i]
			b.rational = b.rational || w != weights[0]
		}
		if !(w > 0) {
			return nil, false, fmt.Errorf("the weight %g is not above 0", w)
		}
		b.control = append(b.control, homogeneous{p.X * w, p.Y * w, w})
	}
	if err := b.check(); err != nil {
		return nil, false, err
	}
	path, err := b.cubics(tol, room)
	closed := len(path) > 1 && path.Start().Near(path.End(), tol)
	return path, closed, err
}

// check refuses what is no spline.
func (b *bspline) check() error {
	n, p := len(b.control), b.degree
	switch {
	case p < 1 || p > maxDegree:
		return fmt.Errorf("a spline of degree %d is not read, only 1 to %d", p, maxDegree)
	case n < p+1:
		return fmt.Errorf("%d control points are too few for degree %d", n, p)
	case len(b.knots) != n+p+1:
		return fmt.Errorf("%d knots for %d control points of degree %d, not %d", len(b.knots), n, p, n+p+1)
	}
	for i := 1; i < len(b.knots); i++ {
		if b.knots[i] < b.knots[i-1] {
			return errors.New("the knots do not rise")
		}
	}
	if !(b.knots[p] < b.knots[n]) {
		return errors.New("the knots leave the spline no length")
	}
	return nil
}

// span returns the Bézier control points of the span from knot k to knot k+1: the
// values of the polar form there, which is knot insertion to the full (Ramshaw
// 1989, "Blossoms are polar forms").
func (b *bspline) span(k int) []homogeneous {
	p := b.degree
	from, to := b.knots[k], b.knots[k+1]
	out := make([]homogeneous, p+1)
	d := make([]homogeneous, p+1)
	for i := range out {
		copy(d, b.control[k-p:k+1])
		for r := 1; r <= p; r++ {
			u := from
			if r > p-i {
				u = to
			}
			for j := p; j >= r; j-- {
				lo, hi := b.knots[k-p+j], b.knots[k+1+j-r]
				d[j] = d[j-1].lerp(d[j], (u-lo)/(hi-lo))
			}
		}
		out[i] = d[p]
	}
	return out
}

// cubics returns the spline as cubics and lines.
func (b *bspline) cubics(tol float64, room int) (geom.Path, error) {
	var path geom.Path
	for k := b.degree; k < len(b.control); k++ {
		if b.knots[k] == b.knots[k+1] {
			continue
		}
		bez := bezier(b.span(k))
		if b.degree <= 3 && !b.rational {
			path = append(path, bez.exact())
		} else {
			path = bez.fit(path, tol, 0)
		}
		if len(path) > room {
			return nil, errTooManyNodes
		}
	}
	for i := 1; i < len(path); i++ {
		path[i] = movedEnds(path[i], path[i-1].P3, path[i].P3)
	}
	return path, nil
}

// bezier is a Bézier curve of any degree, rational or not.
type bezier []homogeneous

// exact returns a curve of degree 1 to 3 as a segment, raised where need be.
func (b bezier) exact() geom.Segment {
	switch len(b) {
	case 2:
		return geom.Line(b[0].point(), b[1].point())
	case 3:
		return raised(b[0].point(), b[1].point(), b[2].point())
	}
	return geom.Cubic(b[0].point(), b[1].point(), b[2].point(), b[3].point())
}

// at returns point and derivative.
func (b bezier) at(t float64) (geom.Point, geom.Point) {
	d := append(bezier(nil), b...)
	n := len(d) - 1
	for r := 1; r < n; r++ {
		for i := 0; i <= n-r; i++ {
			d[i] = d[i].lerp(d[i+1], t)
		}
	}
	h := d[0].lerp(d[1], t)
	p := h.point()
	k := float64(n) / h.w
	dw := d[1].w - d[0].w
	return p, geom.Pt(k*(d[1].x-d[0].x-p.X*dw), k*(d[1].y-d[0].y-p.Y*dw))
}

// halves splits the curve in its middle.
func (b bezier) halves() (bezier, bezier) {
	n := len(b)
	d := append(bezier(nil), b...)
	left, right := make(bezier, n), make(bezier, n)
	for r := range n {
		left[r], right[n-1-r] = d[0], d[n-1-r]
		for i := 0; i < n-1-r; i++ {
			d[i] = d[i].lerp(d[i+1], 0.5)
		}
	}
	return left, right
}

// maxHalvings bounds the splitting of one span: a cubic through the ends and end
// tangents comes 16 times closer with each, so that twelve take 10 m to 0.1 pm.
const maxHalvings = 12

// fitSamples is at how many parameters a cubic is compared with the curve. The
// difference has no more than a few waves, and half the tolerance is asked for.
const fitSamples = 16

// fit appends cubics that meet the curve and its derivative at their ends.
func (b bezier) fit(path geom.Path, tol float64, depth int) geom.Path {
	p, dp := b.at(0)
	q, dq := b.at(1)
	c := geom.Cubic(p, p.Add(dp.Mul(1./3)), q.Sub(dq.Mul(1./3)), q)
	if depth >= maxHalvings || b.near(c, tol/2) {
		return append(path, c)
	}
	l, r := b.halves()
	return r.fit(l.fit(path, tol, depth+1), tol, depth+1)
}

func (b bezier) near(c geom.Segment, tol float64) bool {
	for i := 1; i < fitSamples; i++ {
		t := float64(i) / fitSamples
		p, _ := b.at(t)
		if !(p.Dist(c.At(t)) <= tol) {
			return false
		}
	}
	return true
}

// fitted returns the curve through points where a file gives no more than these:
// a cubic spline with continuous curvature, its parameter the length of the
// chords, with the end tangents that the file gives or without curvature there.
func (e *dxfEntity) fitted(room int) (geom.Path, bool, error) {
	all, err := e.points(11)
	if err != nil {
		return nil, false, err
	}
	var pts []geom.Point
	for _, p := range all {
		if len(pts) == 0 || p != pts[len(pts)-1] {
			pts = append(pts, p)
		}
	}
	if len(pts) < 2 {
		return nil, false, errors.New("a spline without control points needs two points or more")
	}
	if len(pts) > room {
		return nil, false, errTooManyNodes
	}
	from, err := e.point(12)
	if err != nil {
		return nil, false, err
	}
	to, err := e.point(13)
	if err != nil {
		return nil, false, err
	}
	closed := e.flags(70)&1 != 0
	if closed && pts[0] != pts[len(pts)-1] {
		pts = append(pts, pts[0])
	}
	path := through(pts, from.Unit(), to.Unit())
	return path, path.Closed() && len(pts) > 2, nil
}

// through solves for the derivatives d at the points by the equations of
// continuous curvature (de Boor 1978, "A Practical Guide to Splines", chapter
// IV), a tridiagonal system.
func through(pts []geom.Point, from, to geom.Point) geom.Path {
	n := len(pts)
	h := make([]float64, n-1)
	slope := make([]geom.Point, n-1)
	for i := range h {
		h[i] = pts[i+1].Dist(pts[i])
		slope[i] = pts[i+1].Sub(pts[i]).Mul(1 / h[i])
	}
	diag, up, d := make([]float64, n), make([]float64, n), make([]geom.Point, n)
	for i := range pts {
		low := 0.0
		switch {
		case i == 0 && from != (geom.Point{}):
			diag[i], d[i] = 1, from
		case i == n-1 && to != (geom.Point{}):
			diag[i], d[i] = 1, to
		case i == 0:
			diag[i], up[i], d[i] = 2, 1, slope[0].Mul(3)
		case i == n-1:
			low, diag[i], d[i] = 1, 2, slope[n-2].Mul(3)
		default:
			low, diag[i], up[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
			d[i] = slope[i-1].Mul(3 * h[i]).Add(slope[i].Mul(3 * h[i-1]))
		}
		if low != 0 {
			k := low / diag[i-1]
			diag[i] -= k * up[i-1]
			d[i] = d[i].Sub(d[i-1].Mul(k))
		}
	}
	for i := n - 1; i >= 0; i-- {
		if i < n-1 {
			d[i] = d[i].Sub(d[i+1].Mul(up[i]))
		}
		d[i] = d[i].Mul(1 / diag[i])
	}
	path := make(geom.Path, n-1)
	for i := range path {
		path[i] = geom.Cubic(pts[i], pts[i].Add(d[i].Mul(h[i]/3)), pts[i+1].Sub(d[i+1].Mul(h[i]/3)), pts[i+1])
	}
	return path
}

package geom

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Homography is the projective map x' = (A x + C y + E)/w, y' = (B x + D y + F)/w with
// w = G x + H y + 1: what a camera makes of a plane. With G and H 0 it is the affine map
// of A to F. It maps straight lines to straight lines, and is meant for places at which w
// is above 0: those before the camera.
type Homography struct{ A, B, C, D, E, F, G, H float64 }

// Plane is the homography that changes nothing.
var Plane = Identity.Projective()

// Projective returns the map as a homography.
func (m Affine) Projective() Homography {
	return Homography{A: m.A, B: m.B, C: m.C, D: m.D, E: m.E, F: m.F}
}

// Affine returns the map as an affine one, or false where it is not one.
func (h Homography) Affine() (Affine, bool) {
	return Affine{h.A, h.B, h.C, h.D, h.E, h.F}, h.G == 0 && h.H == 0
}

// Depth returns w at p: above 0 where p lies before the camera.
func (h Homography) Depth(p Point) float64 { return h.G*p.X + h.H*p.Y + 1 }

// Source returns the place before the camera whose image under h is q, where back is the
// inverse of h; false where there is none: q lies beyond the horizon. (The depth of back
// itself tells that only of images that lie on the same side of the horizon as the origin.)
func (h Homography) Source(back Homography, q Point) (Point, bool) {
	p := back.Apply(q)
	return p, p.Finite() && h.Depth(p) > 0
}

// Apply returns the image of p; where its depth is 0 it is not finite.
func (h Homography) Apply(p Point) Point {
	w := h.Depth(p)
	return Point{(h.A*p.X + h.C*p.Y + h.E) / w, (h.B*p.X + h.D*p.Y + h.F) / w}
}

// Near returns the affine map that is closest to h near p: its first derivative there.
func (h Homography) Near(p Point) Affine {
	w, q := h.Depth(p), h.Apply(p)
	m := Affine{
		A: (h.A - q.X*h.G) / w, B: (h.B - q.Y*h.G) / w,
		C: (h.C - q.X*h.H) / w, D: (h.D - q.Y*h.H) / w,
	}
	back := m.ApplyVector(p)
	m.E, m.F = q.X-back.X, q.Y-back.Y
	return m
}

// ScaleAt returns by how much h enlarges lengths near p, as the root of areas.
func (h Homography) ScaleAt(p Point) float64 { return math.Sqrt(math.Abs(h.Near(p).Det())) }

// Then returns the map that applies h first and m after it.
func (h Homography) Then(m Affine) Homography {
	x := m.ApplyVector(Point{h.A, h.B}).Add(Point{m.E * h.G, m.F * h.G})
	y := m.ApplyVector(Point{h.C, h.D}).Add(Point{m.E * h.H, m.F * h.H})
	o := m.Apply(Point{h.E, h.F})
	return Homography{A: x.X, B: x.Y, C: y.X, D: y.Y, E: o.X, F: o.Y, G: h.G, H: h.H}
}

// After returns the map that applies m first and h after it, or false where the image of
// the origin under m has no image.
func (h Homography) After(m Affine) (Homography, bool) { return h.Compose(m.Projective()) }

// Compose returns the map that applies g first and h after it, or false where the origin
// has no image.
func (h Homography) Compose(g Homography) (Homography, bool) {
	w := h.G*g.E + h.H*g.F + 1
	r := Homography{
		A: (h.A*g.A + h.C*g.B + h.E*g.G) / w, C: (h.A*g.C + h.C*g.D + h.E*g.H) / w, E: (h.A*g.E + h.C*g.F + h.E) / w,
		B: (h.B*g.A + h.D*g.B + h.F*g.G) / w, D: (h.B*g.C + h.D*g.D + h.F*g.H) / w, F: (h.B*g.E + h.D*g.F + h.F) / w,
		G: (h.G*g.A + h.H*g.B + g.G) / w, H: (h.G*g.C + h.H*g.D + g.H) / w,
	}
	return r, w != 0 && r.Finite()
}

// Finite reports whether no number of h is NaN or infinite.
func (h Homography) Finite() bool {
	for _, x := range [...]float64{h.A, h.B, h.C, h.D, h.E, h.F, h.G, h.H} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// Invert returns the map that undoes h, or false if h collapses the plane or sends
// something infinitely far to the origin.
func (h Homography) Invert() (Homography, bool) {
	// The adjugate of the matrix, divided by its last number.
	last := h.A*h.D - h.C*h.B
	r := Homography{
		A: (h.D - h.F*h.H) / last, C: (h.E*h.H - h.C) / last, E: (h.C*h.F - h.D*h.E) / last,
		B: (h.F*h.G - h.B) / last, D: (h.A - h.E*h.G) / last, F: (h.B*h.E - h.A*h.F) / last,
		G: (h.B*h.H - h.D*h.G) / last, H: (h.C*h.G - h.A*h.H) / last,
	}
	det := h.A*(h.D-h.F*h.H) - h.C*(h.B-h.F*h.G) + h.E*(h.B*h.H-h.D*h.G)
	return r, last != 0 && det != 0 && r.Finite()
}

// Errors of FitHomography.
var (
	errFewPoints = errors.New("a plane seen in perspective needs four points")
	errInLine    = errors.New("of four points that fix a plane no three may lie in one line")
	errCrossed   = errors.New("no camera sees these points so: their lines cross each other, or three of four lie in one line")
)

// FitHomography returns the map that brings the points from, with the least squares of
// distances, to the points to, and the root of their mean square. Of four pairs it is
// exact. It needs four pairs or more, no three of four in one line, and all points before
// the camera.
//
// Method: the linear system of the eight numbers on points moved and scaled to their
// middle (Hartley 1997, "In defense of the eight-point algorithm"), then Gauss-Newton on
// the distances.
func FitHomography(from, to []Point) (h Homography, rms float64, err error) {
	n := min(len(from), len(to))
	if n < 4 {
		return Homography{}, 0, errFewPoints
	}
	inner, ok1 := centring(from[:n])
	outer, ok2 := centring(to[:n])
	back, ok3 := outer.Invert()
	if !ok1 || !ok2 || !ok3 {
		return Homography{}, 0, errInLine
	}
	ps, qs := make([]Point, n), make([]Point, n)
	for i := range n {
		ps[i], qs[i] = inner.Apply(from[i]), outer.Apply(to[i])
	}
	unit, err := solveHomography(ps, qs)
	if err != nil {
		return Homography{}, 0, err
	}
	unit = refineHomography(unit, ps, qs)
	for _, p := range ps {
		// Centred points lie about 1 from the origin, whose depth is 1.
		if !(unit.Depth(p) > leastDepth) {
			return Homography{}, 0, errCrossed
		}
	}
	h, ok := unit.Then(back).After(inner)
	if !ok {
		return Homography{}, 0, errInLine
	}
	var sum float64
	for i := range n {
		d := h.Apply(from[i]).Dist(to[i])
		sum += d * d
	}
	rms = math.Sqrt(sum / float64(n))
	if math.IsNaN(rms) || math.IsInf(rms, 0) {
		return Homography{}, 0, errInLine
	}
	return h, rms, nil
}

// centring returns the map that brings the points round the origin at a mean distance of
// the root of 2.
func centring(pts []Point) (Affine, bool) {
	var mid Point
	for _, p := range pts {
		mid = mid.Add(p)
	}
	mid = mid.Mul(1 / float64(len(pts)))
	var far float64
	for _, p := range pts {
		far += p.Dist(mid)
	}
	k := math.Sqrt2 * float64(len(pts)) / far
	return Translation(mid.Mul(-1)).Then(Scaling(k, k)), far > 0 && !math.IsInf(far, 0)
}

// leastDepth is the least depth of a point, that of their middle being 1: nearer to the
// lens than a thousandth of that distance nothing is in focus.
const leastDepth = 1e-3

// leastCondition is the share of the largest of the singular values below which the
// smallest says that the points lie in a line.
const leastCondition = 1e-9

// solveHomography solves the linear system of the map from ps to qs.
func solveHomography(ps, qs []Point) (Homography, error) {
	a, b := mat.NewDense(2*len(ps), 8, nil), mat.NewVecDense(2*len(ps), nil)
	for i, p := range ps {
		q := qs[i]
		a.SetRow(2*i, []float64{p.X, 0, p.Y, 0, 1, 0, -q.X * p.X, -q.X * p.Y})
		a.SetRow(2*i+1, []float64{0, p.X, 0, p.Y, 0, 1, -q.Y * p.X, -q.Y * p.Y})
		b.SetVec(2*i, q.X)
		b.SetVec(2*i+1, q.Y)
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) {
		return Homography{}, errInLine
	}
	if s := svd.Values(nil); s[7] < leastCondition*s[0] {
		return Homography{}, errInLine
	}
	var x mat.VecDense
	svd.SolveVecTo(&x, b, 8)
	return Homography{x.AtVec(0), x.AtVec(1), x.AtVec(2), x.AtVec(3), x.AtVec(4), x.AtVec(5), x.AtVec(6), x.AtVec(7)}, nil
}

// refineRounds bounds the steps of refineHomography, which converges in three or four.
const refineRounds = 10

// refineHomography lessens the distances from the images of ps to qs.
func refineHomography(h Homography, ps, qs []Point) Homography {
	if len(ps) == 4 {
		return h // which is exact
	}
	best := misses(h, ps, qs)
	for range refineRounds {
		a, b := mat.NewDense(2*len(ps), 8, nil), mat.NewVecDense(2*len(ps), nil)
		for i, p := range ps {
			w, r := h.Depth(p), h.Apply(p)
			a.SetRow(2*i, []float64{p.X / w, 0, p.Y / w, 0, 1 / w, 0, -r.X * p.X / w, -r.X * p.Y / w})
			a.SetRow(2*i+1, []float64{0, p.X / w, 0, p.Y / w, 0, 1 / w, -r.Y * p.X / w, -r.Y * p.Y / w})
			b.SetVec(2*i, qs[i].X-r.X)
			b.SetVec(2*i+1, qs[i].Y-r.Y)
		}
		var x mat.VecDense
		if x.SolveVec(a, b) != nil {
			return h
		}
		next := Homography{
			h.A + x.AtVec(0), h.B + x.AtVec(1), h.C + x.AtVec(2), h.D + x.AtVec(3),
			h.E + x.AtVec(4), h.F + x.AtVec(5), h.G + x.AtVec(6), h.H + x.AtVec(7),
		}
		sum := misses(next, ps, qs)
		if !(sum < best) {
			return h
		}
		h, best = next, sum
	}
	return h
}

// misses returns the sum of squared distances from the images of ps to qs.
func misses(h Homography, ps, qs []Point) float64 {
	var sum float64
	for i, p := range ps {
		d := h.Apply(p).Sub(qs[i])
		sum += d.Dot(d)
	}
	return sum
}

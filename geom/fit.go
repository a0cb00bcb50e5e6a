package geom

import (
	"fmt"
	"math"
)

// Fit says how points or a curve are to be replaced by cubics.
type Fit struct {
	// Tol is the largest distance in mm of a point from the result.
	Tol float64
	// Noise is the standard deviation in mm of the points across the curve, 0
	// where they lie on it. With noise Tol is for the mean of so many points in a
	// row that their noise falls to an eighth of it (or of a quarter of all
	// points, if that is fewer), and single points may be off by six standard
	// deviations more.
	Noise float64
	// Start and End are the directions of travel at the ends; their length does
	// not matter. The zero vector leaves the direction free.
	Start, End Point
	// Most is the largest number of cubics, 0 for 64.
	Most int
}

// fitMost is the number of cubics at which a fit gives up unless told otherwise:
// many times what an edge without corners needs.
const fitMost = 64

// window returns of how many points in a row, out of n, the mean is held to Tol,
// and what one point may be off besides.
func (f Fit) window(n int) (window int, slack float64) {
	if !(f.Noise > 0) {
		return 1, 0
	}
	r := 8 * f.Noise / f.Tol
	window = n / 4
	if r*r < float64(window) {
		window = int(math.Ceil(r * r))
	}
	return max(window, 1), 6 * f.Noise
}

// FitError says why no fit was found.
type FitError struct {
	Reason    string
	Pieces    int     // cubics of the best fit that was tried, 0 if none was
	Deviation float64 // its largest distance from a point in mm
}

func (e *FitError) Error() string {
	if e.Pieces == 0 {
		return "no fit: " + e.Reason
	}
	return fmt.Sprintf("no fit: %s: %d cubics are still %.4g mm off", e.Reason, e.Pieces, e.Deviation)
}

// Points returns a chain of cubics from the first to the last point, with as few
// as a search finds to come within Tol of every point, joined without
// corners. The points follow a smooth curve in order, closely enough that
// half a gap between them does not matter; corners must have been found before,
// and each run between two of them fitted by itself. Points within 1e-9 of the
// run's length of the one before are passed over. It fails with a *FitError if a
// coordinate is not finite, all points are one, Tol is not positive, or Most
// cubics do not suffice.
//
// The sum of squared distances is minimised over the joints, the directions there
// and the lengths of the handles at once by Gauss-Newton steps, each point being
// measured at the foot of its perpendicular (orthogonal distance regression;
// Ahn 2004, "Least Squares Orthogonal Distance Fitting"). A weak pull of the
// handles towards a third of their piece decides what the points leave open.
func (f Fit) Points(pts []Point) (Path, error) {
	if !(f.Tol > 0) {
		return nil, &FitError{Reason: "the tolerance is not a positive length"}
	}
	run, err := fitRun(pts)
	if err != nil {
		return nil, err
	}
	most := f.Most
	if most <= 0 {
		most = fitMost
	}
	best := &FitError{Reason: fmt.Sprintf("%.4g mm cannot be kept", f.Tol)}
	one := newFitState(run, f, []int{0, len(run.pts) - 1})
	one.solve()
	if best.Pieces, best.Deviation = 1, one.deviation(); best.Deviation <= f.Tol {
		return one.path(), nil
	}
	plan := newFitPlan(run, f)
	for k := max(2, plan.fewest(most)); k <= most && k < len(run.pts); k++ {
		s := newFitState(run, f, plan.breaks(k))
		s.solve()
		if d := s.deviation(); d <= f.Tol {
			return s.path(), nil
		} else if d < best.Deviation {
			best.Pieces, best.Deviation = k, d
		}
	}
	return nil, best
}

// Curve returns cubics within Tol of the curve that at describes for parameters 0
// to 1, as Points does. The curve is sampled more and more densely until the
// result also holds between the samples.
func (f Fit) Curve(at func(t float64) Point) (Path, error) {
	const first, last, between = 64, 4096, 16
	for n := first; ; n *= 4 {
		pts := make([]Point, n+1)
		for i := range pts {
			pts[i] = at(float64(i) / float64(n))
		}
		p, err := f.Points(pts)
		if err != nil {
			return nil, err
		}
		worst := 0.0
		for i := range between * n {
			_, d := p.Nearest(at((float64(i) + 0.5) / float64(between*n)))
			worst = math.Max(worst, d)
		}
		if worst <= f.Tol*(1+1e-9) {
			return p, nil
		}
		if n >= last {
			return nil, &FitError{"the curve turns between the samples", len(p), worst}
		}
	}
}

// pointRun is a sequence of distinct points with the length of the chain to each.
type pointRun struct {
	pts []Point
	at  []float64
}

func fitRun(pts []Point) (pointRun, error) {
	total := 0.0
	for i, p := range pts {
		if !p.Finite() || p.reach() > meetLimit {
			return pointRun{}, &FitError{Reason: fmt.Sprintf("point %d is not a place", i)}
		}
		if i > 0 {
			total += p.Dist(pts[i-1])
		}
	}
	if len(pts) < 2 || total == 0 {
		return pointRun{}, &FitError{Reason: "there are fewer than two different points"}
	}
	r := pointRun{pts: []Point{pts[0]}, at: []float64{0}}
	for _, p := range pts[1:] {
		last := len(r.pts) - 1
		if d := p.Dist(r.pts[last]); d > 1e-9*total {
			r.pts = append(r.pts, p)
			r.at = append(r.at, r.at[last]+d)
		}
	}
	if n := len(r.pts) - 1; n > 0 && r.pts[n] != pts[len(pts)-1] {
		r.pts[n] = pts[len(pts)-1]
	}
	if len(r.pts) < 2 {
		return pointRun{}, &FitError{Reason: "there are fewer than two different points"}
	}
	return r, nil
}

// frame returns the smoothed place and direction of the run at point i: by a
// quadratic fitted to the points within reach mm along the run on both sides, at
// least two on each side where there are so many. At the ends the place is the
// point itself.
func (r pointRun) frame(i int, reach float64) (place, dir Point) {
	lo, hi := i, i
	for lo > 0 && (i-lo < 2 || r.at[i]-r.at[lo-1] <= reach) {
		lo--
	}
	for hi < len(r.pts)-1 && (hi-i < 2 || r.at[hi+1]-r.at[i] <= reach) {
		hi++
	}
	// Least squares of p = c0 + c1 s + c2 s² in s = at - at[i], scaled to 1.
	scale := math.Max(r.at[hi]-r.at[i], r.at[i]-r.at[lo])
	var m [3][5]float64
	for k := lo; k <= hi; k++ {
		s := (r.at[k] - r.at[i]) / scale
		w := [3]float64{1, s, s * s}
		q := r.pts[k].Sub(r.pts[i])
		for a := range 3 {
			for b := range 3 {
				m[a][b] += w[a] * w[b]
			}
			m[a][3] += w[a] * q.X
			m[a][4] += w[a] * q.Y
		}
	}
	if i == 0 || i == len(r.pts)-1 {
		// The end stays: c0 = 0.
		m[0] = [5]float64{0: 1}
		m[1][0], m[2][0] = 0, 0
	}
	if hi-lo < 3 {
		m[2] = [5]float64{2: 1} // too few for a curve
		m[0][2], m[1][2] = 0, 0
	}
	c0, c1, ok := solveQuadraticFit(m)
	if !ok || c1 == (Point{}) {
		return r.pts[i], r.pts[hi].Sub(r.pts[lo]).Unit()
	}
	return r.pts[i].Add(c0), c1.Unit()
}

// solveQuadraticFit solves the 3×3 system for two right-hand sides by elimination
// and returns the first two unknowns.
func solveQuadraticFit(m [3][5]float64) (c0, c1 Point, ok bool) {
	for i := range 3 {
		p := i
		for k := i + 1; k < 3; k++ {
			if math.Abs(m[k][i]) > math.Abs(m[p][i]) {
				p = k
			}
		}
		m[i], m[p] = m[p], m[i]
		if math.Abs(m[i][i]) < 1e-12 {
			return c0, c1, false
		}
		for k := range 3 {
			if k == i {
				continue
			}
			f := m[k][i] / m[i][i]
			for j := i; j < 5; j++ {
				m[k][j] -= f * m[i][j]
			}
		}
	}
	return Point{m[0][3] / m[0][0], m[0][4] / m[0][0]}, Point{m[1][3] / m[1][1], m[1][4] / m[1][1]}, true
}

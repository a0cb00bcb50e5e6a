package fit

import (
	"context"
	"math"

	"hemlet/geom"
)

// Options says how a line is fitted. All lengths are mm.
type Options struct {
	// Tol is the largest distance of the path from the line, the line's noise
	// averaged out; 0 stands for DefaultTol. What is drawn cleanly is met far
	// closer.
	Tol float64
	// Blur is the standard deviation of the blur that the line was followed in. It
	// says how far beside a corner the line is not to be believed. 0 stands for the
	// spacing of the points.
	Blur float64
	// Pen is the width of the pen where the line is the middle of a stroke, 0 where
	// it is an edge.
	Pen float64
	// Noise is the standard deviation of the points across the line, 0 if they are
	// to tell it themselves.
	Noise float64
	// Corners are indices of points that are corners whatever they look like.
	Corners []int
	// Tips are corners whose place is known.
	Tips []Tip
}

// Tip is a corner whose place is known better than the line beside it tells: the tip of
// a dart, where a pen's two strokes run into one.
type Tip struct {
	At int        // index of the point of the line that is nearest
	P  geom.Point // mm
}

// DefaultTol is the tolerance in mm unless told otherwise: the width of a sharp
// pencil line.
const DefaultTol = 0.2

// Curve is what a line was fitted by.
type Curve struct {
	Path geom.Path
	// Corner says of each segment whether it starts at a corner; where it does not,
	// it goes on smoothly from the one before. The first segment of an open path
	// starts at a corner.
	Corner []bool
}

const (
	// floorNoise is how well a run is fitted at best, in standard deviations of its
	// samples; floorTol the same as a share of the tolerance, 1 µm of 0.2 mm.
	floorNoise, floorTol = 1.3, 1. / 200
	// unitPerBlur is the distance in sigmas from which samples count as independent.
	unitPerBlur = 10
	// unitsMost is the largest number of independent samples in a run.
	unitsMost = 200
)

// Closed returns the closed path of few lines and cubics along a closed line,
// counter-clockwise whichever way the points run; it starts at a corner where there
// is one. It fails if the points are too few, not finite, or enclose nothing, if
// the context ends, or if no path was found that does not cross itself.
func Closed(ctx context.Context, pts []geom.Point, o Options) (Curve, error) {
	return fitLine(ctx, pts, true, o)
}

// Open returns the path of few lines and cubics along an open line, from its first
// to its last point. It fails as Closed does.
func Open(ctx context.Context, pts []geom.Point, o Options) (Curve, error) {
	return fitLine(ctx, pts, false, o)
}

func fitLine(ctx context.Context, raw []geom.Point, closed bool, o Options) (Curve, error) {
	pts, err := distinct(raw, closed)
	if err != nil {
		return Curve{}, err
	}
	if !(o.Tol > 0) {
		o.Tol = DefaultTol
	}
	e := walk(pts, closed, o.Blur)
	corners, left := e.corners(o.Pen, e.given(raw, o))
	f := fitter{e: &e, o: o, left: left}
	runs := f.runs(corners, runSamples)
	chains := make([]*chain, len(runs))
	for i := range runs {
		if chains[i], err = runs[i].choose(ctx); err != nil {
			return Curve{}, err
		}
	}
	c := f.together(corners, chains)
	f.refine(c)
	c.solve(solveSteps)
	path, corner := c.path()
	return Curve{path, corner}, nil
}

// given returns the corners that are known before any is looked for.
func (e *even) given(pts []geom.Point, o Options) []corner {
	var out []corner
	for _, i := range o.Corners {
		if i >= 0 && i < len(pts) {
			out = append(out, corner{at: e.nearest(pts[i]), given: true})
		}
	}
	for _, t := range o.Tips {
		if t.At >= 0 && t.At < len(pts) && t.P.Finite() {
			out = append(out, corner{at: e.nearest(pts[t.At]), p: t.P, given: true, tip: true})
		}
	}
	return out
}

// nearest returns the point of the evened line that is nearest to p.
func (e *even) nearest(p geom.Point) int {
	best := 0
	for i, q := range e.pts {
		if q.Dist(p) < e.pts[best].Dist(p) {
			best = i
		}
	}
	return best
}

// holdOf returns the weight of the pull of a corner to where it was found.
func holdOf(o joint) float64 {
	if o.tip {
		return windowHold
	}
	return endHold
}

// floorOf returns how well n samples of the weight sum are fitted at best, root mean
// square in mm.
func floorOf(noise, tol float64, n int, sum float64) float64 {
	if sum == 0 {
		return floorTol * tol
	}
	return math.Max(floorNoise*noise*math.Sqrt(float64(n)/sum), floorTol*tol)
}

// fitter holds a line on its way to a path.
type fitter struct {
	e    *even
	o    Options
	left []bool
}

// runs divides the line by its corners, with about count samples to each.
func (f *fitter) runs(corners []corner, count int) []run {
	e := f.e
	n := len(e.pts)
	var out []run
	switch {
	case e.closed && len(corners) == 0:
		out = []run{e.around(f.calm(), f.left, max(1, n/count))}
	case e.closed:
		for i := range corners {
			a, b := corners[i], corners[(i+1)%len(corners)]
			steps := b.at - a.at
			if steps <= 0 {
				steps += n
			}
			out = append(out, e.between(a, b, f.left, f.o.Pen, max(1, steps/count)))
		}
	default:
		ends := f.ends()
		all := append(append([]corner{ends[0]}, corners...), ends[1])
		for i := 1; i < len(all); i++ {
			out = append(out, e.between(all[i-1], all[i], f.left, f.o.Pen, max(1, (all[i].at-all[i-1].at)/count)))
		}
	}
	for i := range out {
		r := &out[i]
		r.tol = f.o.Tol
		r.noise = math.Max(e.noise, floorTol*r.tol)
		sum := 0.0
		for _, s := range r.samples {
			sum += s.w
		}
		r.floor = floorOf(e.noise, r.tol, len(r.samples), sum)
		r.unit = math.Max(unitPerBlur*e.blur, r.length/unitsMost)
	}
	return out
}

// ends returns the two ends of an open line as corners that leave nothing out.
func (f *fitter) ends() [2]corner {
	n := len(f.e.pts)
	k := armKernels{}.get(0, min(n, 2*armLeast))
	a, b := f.e.arm(k, 0, 1), f.e.arm(k, n-1, -1)
	return [2]corner{
		{at: 0, p: f.e.pts[0], out: a.b.Angle()},
		{at: n - 1, p: f.e.pts[n-1], in: b.b.Mul(-1).Angle()},
	}
}

// calm returns the point of a closed line where it turns least over a sixteenth of
// its length.
func (f *fitter) calm() int {
	n := len(f.e.pts)
	reach := max(2, n/32)
	best, least := 0, math.Inf(1)
	for i := 0; i < n; i += max(1, reach/8) {
		u, v := f.e.at(i).Sub(f.e.at(i-reach)), f.e.at(i+reach).Sub(f.e.at(i))
		if t := math.Abs(math.Atan2(u.Cross(v), u.Dot(v))); t < least {
			best, least = i, t
		}
	}
	return best
}

// together puts the chains of all runs into one and fits it to all samples.
func (f *fitter) together(corners []corner, chains []*chain) *chain {
	e := f.e
	c := &chain{closed: e.closed, noise: math.Max(e.noise, floorTol*f.o.Tol), huber: math.Max(huberNoise*e.noise, huberFloor*f.o.Tol)}
	if e.closed && len(corners) == 0 {
		*c = *chains[0]
		return c
	}
	for i, r := range chains {
		at := len(c.spans)
		for j, o := range r.joints[:len(r.spans)] {
			if j == 0 {
				o.hold = holdOf(o)
				if i > 0 || e.closed {
					prev := chains[(i+len(chains)-1)%len(chains)]
					last := prev.joints[len(prev.spans)]
					o.in, o.homeIn = last.in, last.homeIn
				}
			}
			c.joints = append(c.joints, o)
		}
		c.spans = append(c.spans, r.spans...)
		for _, s := range r.samples {
			s.span += at
			c.samples = append(c.samples, s)
		}
	}
	if !e.closed {
		last := chains[len(chains)-1]
		c.joints = append(c.joints, last.joints[len(last.spans)])
	}
	c.solve(solveSteps)
	return c
}

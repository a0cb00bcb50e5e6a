package fit

import (
	"context"
	"errors"
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
	// noiseShare is how much of a noise that was told counts: what the points show
	// by themselves is believed first.
	noiseShare = 0.5
	// nothing is the area, as a share of the squared length round it, below which a
	// line encloses nothing: a strip a thousand times as long as wide has 2.5e-4.
	nothing = 1e-7
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
	o.Pen = math.Max(0, o.Pen)
	places, total := alongOf(raw, closed)
	if closed {
		switch a := areaOf(pts); {
		case math.Abs(a) <= nothing*total*total:
			return Curve{}, errors.New("the line encloses nothing")
		case a < 0:
			reverse(pts)
			// The round begins with what is now the first point, which was the last.
			last := places[len(raw)-1]
			for i := range places {
				places[i] = math.Mod(last-places[i]+total, total)
			}
		}
	}
	e := walk(pts, closed, o.Blur)
	if o.Noise > 0 {
		e.noise = math.Max(e.noise, noiseShare*o.Noise)
	}
	corners, left := e.corners(o.Pen, e.given(places, o))
	f := fitter{e: &e, o: o, left: left, first: pts[0], last: pts[len(pts)-1]}
	runs := f.runs(corners, runSamples)
	chains := make([]*chain, len(runs))
	for i := range runs {
		if chains[i], err = runs[i].choose(ctx); err != nil {
			return Curve{}, err
		}
	}
	c, err := f.uncrossed(ctx, f.together(corners, chains))
	if err != nil {
		return Curve{}, err
	}
	c.begin(pts[0])
	path, corner := c.path()
	return Curve{path, corner}, nil
}

// alongOf returns the length of the line up to each of its points, and round it all.
func alongOf(pts []geom.Point, closed bool) ([]float64, float64) {
	at := make([]float64, len(pts))
	for i := 1; i < len(pts); i++ {
		at[i] = at[i-1] + pts[i].Dist(pts[i-1])
	}
	total := at[len(at)-1]
	if closed {
		total += pts[0].Dist(pts[len(pts)-1])
	}
	return at, total
}

// areaOf returns the area in mm² that closed points enclose, counter-clockwise
// positive.
func areaOf(pts []geom.Point) float64 {
	sum, o := 0.0, pts[0]
	for i := 2; i < len(pts); i++ {
		sum += pts[i-1].Sub(o).Cross(pts[i].Sub(o))
	}
	return sum / 2
}

// begin lets a closed chain start at the corner nearest to p, or else at the joint
// nearest to it.
func (c *chain) begin(p geom.Point) {
	best, least := 0, math.Inf(1)
	for j := range c.joints {
		d := c.joints[j].p.Dist(p)
		if !c.joints[j].corner {
			d += 2 * coordLimit
		}
		if d < least {
			best, least = j, d
		}
	}
	c.rotate(best)
}

// given returns the corners that are known before any is looked for. Places are the
// lengths of the line up to each of the points that Options counts.
func (e *even) given(places []float64, o Options) []corner {
	var out []corner
	at := func(i int) (int, bool) {
		if i < 0 || i >= len(places) {
			return 0, false
		}
		k := int(places[i] / e.step)
		if e.closed {
			return k % len(e.pts), true
		}
		// The ends of an open line are no corners to be told.
		return k, k > 0 && k < len(e.pts)-1
	}
	for _, i := range o.Corners {
		if k, ok := at(i); ok {
			out = append(out, corner{at: k, given: true})
		}
	}
	for _, t := range o.Tips {
		if k, ok := at(t.At); ok && t.P.Finite() {
			out = append(out, corner{at: k, p: t.P, given: true, tip: true})
		}
	}
	return out
}

// acuteHold is the weight of the pull at an acute corner, whose place along itself the
// legs know only through their angle.
const acuteHold = 1e-3 * endHold

// settle lets the pulls at corners rest where the fit has brought them, and fits once
// more: where the legs of a dart meet at some degrees, what the arms read is
// millimetres off, and a weak pull there would still be felt.
func (c *chain) settle() {
	for j := range c.joints {
		o := &c.joints[j]
		if !o.corner || o.given {
			continue
		}
		if c.before(j) >= 0 && c.after(j) >= 0 {
			o.home = o.p
			if math.Abs(c.turnAt(j)) > acuteTurn {
				o.hold = acuteHold
			}
		}
		o.homeIn, o.homeOut = o.in, o.out
	}
	c.solve(solveSteps)
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
	// first and last are the ends of an open line.
	first, last geom.Point
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
		{at: 0, p: f.first, out: a.b.Angle()},
		{at: n - 1, p: f.last, in: b.b.Mul(-1).Angle()},
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
	c.settle()
	f.trim(c)
	return c
}

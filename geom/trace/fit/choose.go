package fit

import (
	"context"
	"math"
)

const (
	// chooseGain is the factor by which a further cubic must lower what a run is
	// off, root mean square: a node that was drawn takes it down to the noise at
	// once, while the wobble of a hand gives way little by little.
	chooseGain = 2.2
	// lineBow is the largest bow of a line as a share of the tolerance: 0.024 mm
	// of 0.2.
	lineBow = 0.12
	// chooseLadder is the step from one misfit that is aimed at to the next.
	chooseLadder = 2
	// windowUnits is the number of independent samples over which the distance is
	// averaged before it is held against the tolerance.
	windowUnits = 2
)

// choose returns the chain that a run is worth.
func (r *run) choose(ctx context.Context) (*chain, error) {
	n := len(r.samples)
	whole := []int{-1, n}
	weight := 0.0
	for _, s := range r.samples {
		weight += s.w
	}
	if !r.loop {
		if n < 5 || weight == 0 || r.isLine() {
			c := r.chain(cut{whole, []bool{true}})
			c.solve(solveSteps)
			return c, nil
		}
		one := r.chain(cut{whole, []bool{false}})
		one.solve(solveSteps)
		if one.rms() <= r.floor && one.worst(r.window()) <= r.tol {
			return one, nil
		}
	}
	best, err := r.search(ctx)
	if err != nil {
		return nil, err
	}
	return best, nil
}

// window returns the number of samples whose mean distance is held against the
// tolerance.
func (r *run) window() int {
	n := len(r.samples)
	return max(1, min(n/4, int(windowUnits*r.unit*float64(n)/r.length)))
}

// isLine tells whether the samples of the run lie on a line.
func (r *run) isLine() bool {
	mid, dir, _ := regression(r.samples)
	w := r.window()
	off := make([]float64, 0, len(r.samples))
	for _, s := range r.samples {
		if s.w > 0 {
			off = append(off, dir[0]*(s.p.Y-mid[1])-dir[1]*(s.p.X-mid[0]))
		}
	}
	return worstMean(off, w) <= lineBow*r.tol
}

// worstMean returns the largest mean of w values in a row, without its sign.
func worstMean(off []float64, w int) float64 {
	w = max(1, min(w, len(off)))
	sum, worst := 0.0, 0.0
	for q, v := range off {
		sum += v
		if q >= w {
			sum -= off[q-w]
		}
		if q >= w-1 {
			worst = math.Max(worst, math.Abs(sum)/float64(w))
		}
	}
	return worst
}

// rms returns the root of the mean loss in mm.
func (c *chain) rms() float64 {
	w := c.weight()
	if w == 0 {
		return 0
	}
	return math.Sqrt(c.loss() / w)
}

// worst returns the largest mean distance of w samples in a row in mm.
func (c *chain) worst(w int) float64 {
	off := make([]float64, 0, len(c.samples))
	for q := range c.samples {
		if s := &c.samples[q]; s.w > 0 {
			off = append(off, s.off)
		}
	}
	return worstMean(off, w)
}

// choice is a chain with what it costs.
type choice struct {
	d     cut
	c     *chain
	rms   float64
	worst float64
	score float64
}

// search fits the divisions that are best for a ladder of misfits, and returns the
// one in which every span earns its place.
func (r *run) search(ctx context.Context) (*chain, error) {
	p, err := newPlan(ctx, r, r.stations())
	if err != nil {
		return nil, err
	}
	var found []choice
	try := func(d cut) {
		for _, f := range found {
			if f.d.same(d) {
				return
			}
		}
		c := r.chain(d)
		c.solve(solveSteps)
		f := choice{d: d, c: c, rms: c.rms(), worst: c.worst(r.window())}
		f.score = math.Log(math.Max(f.rms, r.floor)) + d.size()*math.Log(chooseGain)
		if f.worst > r.tol {
			f.score += math.Log(f.worst/r.tol) + overTolerance
		}
		found = append(found, f)
	}
	least := func() choice {
		b := found[0]
		for _, f := range found {
			if f.score < b.score {
				b = f
			}
		}
		return b
	}
	for sigma := r.floor; ; sigma *= chooseLadder {
		d, _ := p.best(sigma)
		try(d)
		if len(d.straight) == 1 || sigma > r.tol {
			break
		}
	}
	b := least()
	for range 2 {
		if b.rms <= r.floor {
			break
		}
		if p, err = newPlan(ctx, r, r.finer(b.d)); err != nil {
			return nil, err
		}
		for sigma := r.floor; sigma <= r.tol; sigma *= chooseLadder {
			d, _ := p.best(sigma)
			try(d)
		}
		n := least()
		if n.score >= b.score {
			break
		}
		b = n
	}
	return b.c, nil
}

// overTolerance is what a chain beyond the tolerance loses against one within it:
// more than any saving of spans.
const overTolerance = 100

package fit

import "math"

const (
	// bumpLong is the length in sigmas of blur of the longest span that may be a
	// speck's: 3 mm at 300 dpi.
	bumpLong = 30
	// bumpHigh is how far in sigmas a speck's span may be off the line without it.
	// What stands out farther is a part of the shape, or was seen to be a speck when
	// the corners were found.
	bumpHigh = 5
	// bumpBeside is how many samples on either side of the span a speck has moved.
	bumpBeside = 2
)

// dropSpeck tries the chain without the short span after joint j and without its
// samples: a speck that touches the line beside a corner, where there is no room to
// see that the line goes on behind it.
func (f *fitter) dropSpeck(c *chain, j int) bool {
	if c.after(j) < 0 || lengthNear(&c.segs[j]) > bumpLong*f.e.blur {
		return false
	}
	e := c.end(j)
	at := j
	if !c.inner(j) {
		at = e
	}
	if !c.inner(at) {
		return false
	}
	w := c.windowTo(at, func(o *joint) bool { return !o.passed })
	i := c.inWindow(w, j)
	if len(w.spans) < 2 || i >= len(w.spans) || w.all && len(w.spans) < 4 {
		return false
	}
	masked := w.mask(i)
	before := f.score(w.chain)
	best, least := window{}, before
	for _, ends := range [3][2]bool{{true, true}, {true, false}, {false, true}} {
		d := window{w.clone(), w.from, w.n, w.all}
		if !d.without(i, ends) {
			continue
		}
		d.solve(refineSteps)
		if s := f.score(d.chain); s < least && d.near(masked, bumpHigh*f.e.blur) {
			best, least = d, s
		}
	}
	if best.chain == nil {
		return false
	}
	c.replace(best)
	return true
}

// inner tells whether joint j lies inside the chain and is no sharp corner.
func (c *chain) inner(j int) bool {
	return c.joints[j].passed && c.before(j) >= 0 && c.after(j) >= 0
}

// mask leaves out the samples of span i and a few beside it, and returns which.
func (c *chain) mask(i int) []int {
	var masked []int
	n := len(c.samples)
	on := make([]bool, n)
	for q := range c.samples {
		if c.samples[q].span != i {
			continue
		}
		for k := max(0, q-bumpBeside); k <= min(n-1, q+bumpBeside); k++ {
			on[k] = true
		}
	}
	for q := range on {
		if on[q] {
			c.samples[q].w = 0
			masked = append(masked, q)
		}
	}
	return masked
}

// without merges span i with the spans beyond its two ends, as ends says; false if
// there is none or a sharp corner between.
func (c *chain) without(i int, ends [2]bool) bool {
	start, end := i, c.end(i)
	if ends[1] {
		if end == 0 || !c.inner(end) {
			return false
		}
		c.merge(end)
	}
	if ends[0] {
		if start == 0 || !c.inner(start) {
			return false
		}
		c.update()
		c.measure()
		c.merge(start)
	}
	return true
}

// near tells whether the samples lie within most mm of the chain.
func (c *chain) near(list []int, most float64) bool {
	for _, q := range list {
		s := c.samples[q]
		c.projectOne(&s)
		if math.Abs(s.off) > most {
			return false
		}
	}
	return true
}

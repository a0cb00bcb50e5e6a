package fit

import (
	"context"
	"math"
)

const (
	// weakTurn is the turn below which a corner has to prove itself against a
	// smooth join.
	weakTurn = 30 * degree
	// hiddenTurn is the least turn for which a smooth join becomes a corner.
	hiddenTurn = 2.5 * degree
	// cornerCost is what a corner costs more than a smooth join, where a cubic
	// costs 1: it has one number more of six.
	cornerCost = 0.35
	// hiddenCost is what a corner that only shows in the fit costs on top.
	hiddenCost = 0.4
	// promising is how far the samples must come nearer for a corner to be worth
	// more steps.
	promising = 0.95
	// pinch is the share of a span below which the handle at a smooth joint is
	// taken for a corner in disguise, and pinchGain what unmasking it is worth, where
	// a cubic costs 1.
	pinch, pinchGain = 0.05, 0.2
	// pinchTurn is the least turn of a corner so unmasked.
	pinchTurn = 8 * degree
	// straightRms is by how much the samples may be off a line more than off the
	// cubic in its stead, if the line is within its bow.
	straightRms = 2
	// turnProof is by how much a corner must lower the sum of squares, in variances
	// of the samples: five standard deviations.
	turnProof = 25
	// smoothBend is the largest share of a corner's turn that a smooth join may
	// take within what was left out beside the corner: a tight bend there would
	// be the corner by another name.
	smoothBend = 0.6
	// refineRounds bounds the rounds over all joints; each accepted change makes
	// the chain better or shorter, so that two or three do.
	refineRounds = 4
	// refineSteps bounds the steps on one window.
	refineSteps = 20
)

// size returns what the spans and corners of a chain cost.
func (c *chain) size() float64 {
	sum := 0.0
	for i, s := range c.spans {
		sum++
		if s.straight {
			sum -= 1 - costLine
		}
		if i > 0 && c.joints[i].corner {
			sum += cornerCost
		}
	}
	return sum
}

// score returns what a window is off and costs; the lower the better.
func (f *fitter) score(c *chain) float64 {
	weight := c.weight()
	if weight == 0 {
		return 0
	}
	live := 0
	for q := range c.samples {
		if c.samples[q].w > 0 {
			live++
		}
	}
	floor := floorOf(f.e.noise, f.o.Tol, live, weight)
	v := math.Log(math.Max(c.rms(), floor)) + c.size()*math.Log(chooseGain)
	if w := c.worst(max(1, live/unitsMost)); w > f.o.Tol {
		v += overTolerance + math.Log(w/f.o.Tol)
	}
	return v
}

// refine changes the chain joint by joint as long as that makes it shorter or
// better.
func (f *fitter) refine(ctx context.Context, c *chain) error {
	for range refineRounds {
		changed := false
		for _, act := range []func(*chain, int) bool{f.dropShort, f.dropJoint, f.straighten, f.sharpenJoint, f.smoothCorner, f.dropCorner, f.dropSpeck} {
			for j := 0; j < len(c.joints); j++ {
				if err := ctx.Err(); err != nil {
					return err
				}
				if act(c, j) {
					changed = true
				}
			}
		}
		if !changed {
			return nil
		}
	}
	return nil
}

// smoothJoint tells whether joint j is a smooth one inside the chain.
func (c *chain) smoothJoint(j int) bool {
	return !c.joints[j].corner && c.before(j) >= 0 && c.after(j) >= 0
}

// inWindow returns the joint of the window that is joint j of the chain.
func (c *chain) inWindow(w window, j int) int {
	if w.all {
		return j
	}
	n := j - w.from
	if n < 0 {
		n += len(c.spans)
	}
	return n
}

// drop takes span i out of the chain, its two joints becoming one in the middle of
// it.
func (c *chain) drop(i int) (j int) {
	a, b := i, c.end(i)
	o := c.joints[a]
	o.p = c.joints[a].p.Lerp(c.joints[b].p, 0.5)
	o.out = c.joints[b].out
	c.joints[a] = o
	c.joints = append(c.joints[:b], c.joints[b+1:]...)
	c.spans = append(c.spans[:i], c.spans[i+1:]...)
	k := len(c.spans)
	for q := range c.samples {
		s := &c.samples[q]
		switch {
		case s.span == i:
			if s.t < 0.5 {
				s.span, s.t = (i-1+k)%k, 1
			} else {
				s.span, s.t = i%k, 0
			}
		case s.span > i:
			s.span--
		}
	}
	c.segs = nil
	if b < a {
		return len(c.joints) - 1
	}
	return a
}

// dropShort tries a corner in the stead of the span after joint j, where both its
// ends are smooth: a short span is often a corner that was not seen.
func (f *fitter) dropShort(c *chain, j int) bool {
	if !c.smoothJoint(j) || len(c.spans) < 3 {
		return false
	}
	e := c.end(j)
	if e == 0 || !c.smoothJoint(e) || c.spans[j].straight {
		return false
	}
	w := c.windowAt(j)
	if len(w.spans) < 3 {
		return false
	}
	before := f.score(w.chain)
	i := c.inWindow(w, j)
	d := window{w.clone(), w.from, w.n, w.all}
	k := d.drop(i)
	d.joints[k].corner = true
	d.solve(refineSteps)
	if f.score(d.chain) >= before {
		return false
	}
	c.replace(d)
	return true
}

// dropJoint tries one cubic in the stead of the two spans about smooth joint j.
func (f *fitter) dropJoint(c *chain, j int) bool {
	if !c.smoothJoint(j) || len(c.spans) < 3 && c.closed {
		return false
	}
	w := c.windowAt(j)
	i := c.inWindow(w, j)
	if len(w.spans) < 2 || i == 0 {
		return false
	}
	before := f.score(w.chain)
	d := window{w.clone(), w.from, w.n, w.all}
	d.merge(i)
	d.solve(refineSteps)
	if f.score(d.chain) >= before {
		return false
	}
	c.replace(d)
	return true
}

// merge makes one cubic of the spans about joint j, which is not the first.
func (c *chain) merge(j int) {
	a, b := j-1, j
	la, lb := 3*c.spans[a].third, 3*c.spans[b].third
	s := span{out: c.spans[a].out * (la + lb) / la, in: c.spans[b].in * (la + lb) / lb, third: (la + lb) / 3}
	if c.spans[a].straight {
		s.out = s.third
	}
	if c.spans[b].straight {
		s.in = s.third
	}
	c.spans[a] = s
	c.spans = append(c.spans[:b], c.spans[b+1:]...)
	c.joints = append(c.joints[:j], c.joints[j+1:]...)
	for q := range c.samples {
		x := &c.samples[q]
		switch {
		case x.span == a:
			x.t *= la / (la + lb)
		case x.span == b:
			x.span, x.t = a, (la+x.t*lb)/(la+lb)
		case x.span > b:
			x.span--
		}
	}
	c.segs = nil
}

// sharpenJoint tries a corner at smooth joint j, or within the spans beside it.
func (f *fitter) sharpenJoint(c *chain, j int) bool {
	if !c.smoothJoint(j) {
		return false
	}
	w := c.windowAt(j)
	i := c.inWindow(w, j)
	if i == 0 || i >= len(w.spans) {
		return false
	}
	before := f.score(w.chain)
	best, least := window{}, before
	pinched := w.pinched(i)
	for _, shift := range [...]float64{0, -0.15, 0.15, -0.4, 0.4} {
		d := window{w.clone(), w.from, w.n, w.all}
		if shift != 0 {
			d.shift(i, shift)
		}
		d.joints[i].corner = true
		d.solve(refineSteps)
		if d.rms() < promising*w.rms() {
			// A blunt corner slides slowly to its place.
			d.solve(solveSteps)
		}
		s := f.score(d.chain) + hiddenCost*math.Log(chooseGain)
		within := before > overTolerance/2 && s < overTolerance/2
		switch turn := math.Abs(d.turnAt(i)); {
		case within:
			// The line is not met without it.
		case pinched && turn >= pinchTurn && !d.pinched(i):
			s -= (hiddenCost + cornerCost + pinchGain) * math.Log(chooseGain)
		case turn < hiddenTurn || !f.proven(w.chain, d.chain):
			continue
		}
		if s < least {
			best, least = d, s
		}
	}
	if best.chain == nil {
		return false
	}
	c.replace(best)
	return true
}

// pinched tells whether a smooth joint has a handle so short that the chain turns
// there as at a corner.
func (c *chain) pinched(j int) bool {
	b, a := c.before(j), c.after(j)
	short := func(handle float64, i int) bool {
		return !c.spans[i].straight && handle < pinch*3*c.spans[i].third
	}
	return b >= 0 && a >= 0 && (short(c.spans[b].in, b) || short(c.spans[a].out, a))
}

// shift moves joint j, which is not the first, along the chain by the share of the
// span after it, or before it if the share is negative.
func (c *chain) shift(j int, share float64) {
	a, b := j-1, j
	la, lb := 3*c.spans[a].third, 3*c.spans[b].third
	from, t := b, share
	if share < 0 {
		from, t = a, 1+share
	}
	seg := &c.segs[from]
	dir := seg.Tangent(t).Angle()
	c.joints[j].p, c.joints[j].in, c.joints[j].out = seg.At(t), dir, dir
	// Lengths along the two spans, from the start of the first.
	na := la + lb*t
	if share < 0 {
		na = la * t
	}
	nb := la + lb - na
	c.spans[a].out, c.spans[a].in = c.spans[a].out*na/la, na/3
	c.spans[b].out, c.spans[b].in = nb/3, c.spans[b].in*nb/lb
	c.spans[a].straight, c.spans[b].straight = false, false
	for q := range c.samples {
		x := &c.samples[q]
		if x.span != a && x.span != b {
			continue
		}
		s := x.t * la
		if x.span == b {
			s = la + x.t*lb
		}
		if s < na {
			x.span, x.t = a, s/na
		} else {
			x.span, x.t = b, (s-na)/nb
		}
	}
	c.update()
}

// straighten tries a line in the stead of the span after joint j, with the joins at
// its ends smooth where they are blunt.
func (f *fitter) straighten(c *chain, j int) bool {
	if c.after(j) < 0 || c.spans[j].straight {
		return false
	}
	s := &c.segs[j]
	d := s.P3.Sub(s.P0).Unit()
	if most := 2 * lineBow * f.o.Tol; math.Abs(d.Cross(s.P1.Sub(s.P0))) > most || math.Abs(d.Cross(s.P2.Sub(s.P0))) > most {
		return false
	}
	blunt := func(k int) bool { return math.Abs(c.turnAt(k)) < cornerTurn && !c.joints[k].given }
	lined := func(i int) bool { return i >= 0 && c.spans[i].straight }
	e := c.end(j)
	if blunt(j) && lined(c.before(j)) || blunt(e) && lined(c.after(e)) {
		return false
	}
	w := c.windowAt(j)
	i := c.inWindow(w, j)
	if i >= len(w.spans) {
		return false
	}
	t := window{w.clone(), w.from, w.n, w.all}
	t.spans[i].straight = true
	for _, k := range [2]int{i, t.end(i)} {
		if t.before(k) >= 0 && t.after(k) >= 0 && math.Abs(t.turnAt(k)) < cornerTurn && !t.joints[k].given {
			t.joints[k].corner = false
		}
	}
	t.solve(refineSteps)
	if !f.straightEnough(&t, i) && f.score(t.chain) >= f.score(w.chain) {
		return false
	}
	if t.rms() > straightRms*math.Max(w.rms(), f.floor(w.chain)) {
		return false
	}
	c.replace(t)
	return true
}

// straightEnough tells whether the samples of span i keep within the bow of a line.
func (f *fitter) straightEnough(w *window, i int) bool {
	var off []float64
	for q := range w.samples {
		if s := &w.samples[q]; s.span == i && s.w > 0 {
			off = append(off, s.off)
		}
	}
	return worstMean(off, max(1, len(off)/unitsMost)) <= lineBow*f.o.Tol
}

// floor returns how well the samples of a chain are fitted at best.
func (f *fitter) floor(c *chain) float64 {
	live := 0
	for q := range c.samples {
		if c.samples[q].w > 0 {
			live++
		}
	}
	return floorOf(f.e.noise, f.o.Tol, live, c.weight())
}

// smoothCorner tries a smooth join at weak corner j.
func (f *fitter) smoothCorner(c *chain, j int) bool {
	turn := c.turnAt(j)
	if !c.joints[j].corner || c.joints[j].given || c.before(j) < 0 || c.after(j) < 0 || math.Abs(turn) > weakTurn || len(c.spans) < 2 {
		return false
	}
	if c.spans[c.before(j)].straight && c.spans[c.after(j)].straight {
		return false
	}
	w := c.windowAt(j)
	i := c.inWindow(w, j)
	if i == 0 && !w.all || i == len(w.spans) {
		return false
	}
	d := window{w.clone(), w.from, w.n, w.all}
	o := &d.joints[i]
	o.corner = false
	o.in += turn / 2
	o.out = o.in
	d.solve(refineSteps)
	if math.Abs(turn) >= hiddenTurn && f.proven(d.chain, w.chain) && f.score(w.chain) < f.score(d.chain) {
		return false
	}
	if d.pinched(i) && math.Abs(turn) >= hiddenTurn {
		return false
	}
	// What bends more than the two sides do by themselves.
	reach := LeaveOut(turn, f.e.blur, f.o.Pen)
	if more := d.bend(i, reach) - w.bend(i, reach) + turn; math.Abs(more) > smoothBend*math.Max(math.Abs(turn), hiddenTurn) {
		return false
	}
	c.replace(d)
	return true
}

// dropCorner tries one span in the stead of the two about a corner that hardly turns.
func (f *fitter) dropCorner(c *chain, j int) bool {
	if !c.joints[j].corner || c.joints[j].given || c.before(j) < 0 || c.after(j) < 0 || math.Abs(c.turnAt(j)) > cornerTurn || len(c.spans) < 3 {
		return false
	}
	lines := c.spans[c.before(j)].straight && c.spans[c.after(j)].straight
	w := c.windowAt(j)
	i := c.inWindow(w, j)
	if i == 0 || i >= len(w.spans) {
		return false
	}
	d := window{w.clone(), w.from, w.n, w.all}
	d.merge(i)
	d.spans[i-1].straight = lines
	d.solve(refineSteps)
	if f.proven(d.chain, w.chain) && f.score(w.chain) < f.score(d.chain) {
		return false
	}
	c.replace(d)
	return true
}

// proven tells whether the samples bear out the corner of chain b against chain a
// without it.
func (f *fitter) proven(a, b *chain) bool {
	live, weight := 0, b.weight()
	for q := range b.samples {
		if b.samples[q].w > 0 {
			live++
		}
	}
	if live == 0 {
		return false
	}
	floor := floorOf(f.e.noise, f.o.Tol, live, weight)
	variance := math.Max(b.loss()/weight, floor*floor) * weight / float64(live)
	return a.loss()-b.loss() > turnProof*variance
}

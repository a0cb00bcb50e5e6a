package fit

import (
	"math"

	"hemlet/geom"
)

const (
	// runSamples is the number of samples of a run; each is the mean of as many
	// points as that takes, so that none is lost.
	runSamples = 200
	// finePerBlur is the distance of samples in sigmas beside a corner.
	finePerBlur = 2
	// runKeep is the share of a run that is kept however much corners would have
	// left out.
	runKeep = 0.4
	// endHold is the weight of the pull on the ends of a run against that of one
	// point: it matters along the run, where no point holds them.
	endHold = 1e-3
)

// run is the stretch of a line between two corners, or a whole line without any.
type run struct {
	samples []sample
	length  float64
	// start and end are the corners as they were found.
	start, end joint
	loop       bool
	noise      float64 // mm, of weight 1
	floor      float64 // mm: how well a run is fitted at best
	unit       float64 // mm: what lies closer together says the same thing
	tol        float64
}

// between returns the run from corner a to corner b of an evened line, with a
// sample to every m points.
func (e *even) between(a, b corner, left []bool, pen float64, m int) run {
	n := len(e.pts)
	to := b.at
	if e.closed && to <= a.at {
		to += n
	}
	r := run{
		length: float64(to-a.at) * e.step,
		start:  joint{p: a.p, home: a.p, corner: true, given: a.given, tip: a.tip, out: a.out, homeOut: a.out},
		end:    joint{p: b.p, home: b.p, corner: true, given: b.given, tip: b.tip, in: b.in, homeIn: b.in},
	}
	r.start.hold, r.end.hold = holdOf(r.start), holdOf(r.end)
	skip := func(c corner) int {
		if c.turn == 0 {
			return 0
		}
		away := LeaveOut(c.turn, e.blur, pen)
		if c.tip {
			// From a known tip the line may end far away.
			away = math.Max(away-c.p.Dist(e.at(c.at)), leaveBlur*e.blur+pen/2)
		}
		return int(math.Ceil(away / e.step))
	}
	lo, hi := a.at+skip(a), to-skip(b)
	if keep := int(math.Ceil(runKeep * float64(to-a.at))); hi-lo < keep {
		// Share what is short between the two ends.
		short := float64(keep - (hi - lo))
		sa, sb := float64(skip(a)), float64(skip(b))
		lo -= int(short * sa / (sa + sb))
		hi = lo + keep
	}
	r.samples = e.samples(lo, hi, a.at, left, m)
	return r
}

// around returns the whole of a closed line as a run that starts at point at.
func (e *even) around(at int, left []bool, m int) run {
	n := len(e.pts)
	return run{
		length: float64(n) * e.step, loop: true,
		samples: e.samples(at, at+n, at, left, m),
	}
}

// blocks divides n points into blocks of at most m, small ones towards the ends: what
// lies beside a corner says most about it.
func blocks(n, least, m int) []int {
	var head []int
	taken := 0
	for k := 0; ; k++ {
		size := min(m, least*max(1, k/blockGrowth))
		if 2*(taken+size) > n || size == m {
			break
		}
		head = append(head, size)
		taken += size
	}
	out := append([]int(nil), head...)
	if inner := n - 2*taken; inner > 0 {
		k := (inner + m - 1) / m
		for i := range k {
			out = append(out, (i+1)*inner/k-i*inner/k)
		}
	}
	for i := len(head) - 1; i >= 0; i-- {
		out = append(out, head[i])
	}
	return out
}

// blockGrowth is the number of blocks of each size at the ends of a run.
const blockGrowth = 6

// samples returns the means of blocks of up to m points from lo up to hi. A mean
// lies inside the bend; the second difference of the means puts it back (to fourth
// order).
func (e *even) samples(lo, hi, zero int, left []bool, m int) []sample {
	if hi <= lo {
		return nil
	}
	n := len(e.pts)
	m = max(1, min(m, (hi-lo)/4))
	least := max(1, min(m, int(finePerBlur*e.blur/e.step)))
	sizes := blocks(hi-lo, least, m)
	if e.closed && hi-lo == n {
		sizes = blocks(hi-lo, m, m)
	}
	out := make([]sample, len(sizes))
	at := lo
	for q, size := range sizes {
		w := float64(size)
		var sum geom.Point
		for k := range size {
			i := ((at+k)%n + n) % n
			sum = sum.Add(e.pts[i])
			if left != nil && left[i] {
				w = 0
			}
		}
		out[q] = sample{p: sum.Mul(1 / float64(size)), w: w, s: (float64(at-zero) + float64(size)/2) * e.step}
		at += size
	}
	if len(out) < 3 {
		return out
	}
	bend := make([]geom.Point, len(out))
	for q := range out {
		k := max(1, min(q, len(out)-2))
		p, o, r := &out[k-1], &out[k], &out[k+1]
		u := o.p.Sub(p.p).Mul(1 / (o.s - p.s))
		v := r.p.Sub(o.p).Mul(1 / (r.s - o.s))
		h := float64(sizes[q]) * e.step
		bend[q] = v.Sub(u).Mul(2 / (r.s - p.s) * h * h / 24)
	}
	for q := range out {
		if sizes[q] > 1 {
			out[q].p = out[q].p.Sub(bend[q])
		}
	}
	return out
}

// frame returns place and direction of the run at sample i, the ends for -1 and the
// number of samples.
func (r *run) frame(i int) (geom.Point, float64) {
	n := len(r.samples)
	if !r.loop {
		switch i {
		case -1:
			return r.start.p, r.start.out
		case n:
			return r.end.p, r.end.in
		}
	}
	const reach = 2
	at := func(k int) geom.Point {
		if r.loop {
			return r.samples[(k%n+n)%n].p
		}
		return r.samples[max(0, min(k, n-1))].p
	}
	return at(i), at(i + reach).Sub(at(i - reach)).Angle()
}

// place returns the length along the run at sample i.
func (r *run) place(i int) float64 {
	switch {
	case i < 0:
		return 0
	case i >= len(r.samples):
		return r.length
	case r.loop && i == 0:
		return 0
	}
	return r.samples[i].s
}

// cut is a division of a run: breaks are samples, -1 for its start and the number
// of samples for its end; straight says of each span whether it is a line.
type cut struct {
	breaks   []int
	straight []bool
}

func (c cut) same(o cut) bool {
	if len(c.breaks) != len(o.breaks) {
		return false
	}
	for i := range c.breaks {
		if c.breaks[i] != o.breaks[i] {
			return false
		}
	}
	for i := range c.straight {
		if c.straight[i] != o.straight[i] {
			return false
		}
	}
	return true
}

// size returns how much a division costs: a cubic 1, a line costLine.
func (c cut) size() float64 {
	sum := 0.0
	for _, s := range c.straight {
		sum++
		if s {
			sum -= 1 - costLine
		}
	}
	return sum
}

// chain returns the chain of a division, as the samples let guess, smooth inside.
func (r *run) chain(d cut) *chain {
	k := len(d.straight)
	c := &chain{closed: r.loop, noise: r.noise, huber: r.huber()}
	c.spans = make([]span, k)
	joints := k + 1
	if r.loop {
		joints = k
	}
	c.joints = make([]joint, joints)
	for j := range c.joints {
		b := d.breaks[j]
		p, a := r.frame(b)
		c.joints[j] = joint{p: p, in: a, out: a}
	}
	if !r.loop {
		c.joints[0], c.joints[k] = r.start, r.end
	}
	c.samples = append([]sample(nil), r.samples...)
	q := 0
	for i := range c.spans {
		s0, s1 := r.place(d.breaks[i]), r.place(d.breaks[i+1])
		length := math.Max(s1-s0, leastLength)
		c.spans[i] = span{straight: d.straight[i], out: length / 3, in: length / 3, third: length / 3}
		for ; q < len(c.samples) && (c.samples[q].s <= s1 || i == k-1); q++ {
			c.samples[q].span = i
			c.samples[q].t = math.Max(0, math.Min(1, (c.samples[q].s-s0)/length))
		}
	}
	c.update()
	return c
}

const (
	// huberNoise and huberFloor are the distance in standard deviations of one
	// sample, and the least one as a share of the tolerance, from which a sample
	// pulls no harder.
	huberNoise, huberFloor = 4, 0.15
)

func (r *run) huber() float64 { return math.Max(huberNoise*r.noise, huberFloor*r.tol) }

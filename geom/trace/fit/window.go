package fit

import (
	"math"

	"hemlet/geom"
)

// window is a part of a chain that is fitted anew by itself, with the ends of the
// part held where they are.
type window struct {
	*chain
	from int // joint of the whole chain where it starts
	n    int // spans that it covers
	all  bool
}

// windowHold is the weight of the pull on the ends of a window against that of one
// point: its ends are corners, and stay.
const windowHold = 1e3

// windowAt returns the part of the chain from the corner before joint j to the
// corner after it; the whole of a closed chain that has no other corner.
func (c *chain) windowAt(j int) window {
	return c.windowTo(j, func(o *joint) bool { return o.corner })
}

// windowTo returns the part of the chain about joint j that reaches on both sides
// to a joint where it must end.
func (c *chain) windowTo(j int, ends func(*joint) bool) window {
	k := len(c.spans)
	lo, hi := j, j
	for n := 0; n < k; n++ {
		if c.before(lo) < 0 {
			break
		}
		lo = c.before(lo)
		if ends(&c.joints[lo]) {
			break
		}
	}
	for n := 0; n < k; n++ {
		if c.after(hi) < 0 {
			break
		}
		hi = c.end(hi)
		if ends(&c.joints[hi]) {
			break
		}
	}
	if c.closed && (lo == hi || c.length(lo, hi) == 0) {
		if !ends(&c.joints[lo]) || lo == j {
			return window{c.clone(), 0, k, true}
		}
		return c.part(lo, k)
	}
	return c.part(lo, c.length(lo, hi))
}

// length returns the number of spans from joint lo on to joint hi.
func (c *chain) length(lo, hi int) int {
	n := hi - lo
	if n < 0 || n == 0 && c.closed {
		n += len(c.spans)
	}
	return n
}

// part returns n spans from joint lo on as a window.
func (c *chain) part(lo, n int) window {
	k := len(c.spans)
	d := &chain{noise: c.noise, huber: c.huber}
	order := make([]int, k)
	for i := range order {
		order[i] = -1
	}
	for i := range n {
		s := (lo + i) % k
		order[s] = i
		d.joints = append(d.joints, c.joints[s])
		d.spans = append(d.spans, c.spans[s])
	}
	d.joints = append(d.joints, c.joints[c.end((lo+n-1)%k)])
	for _, e := range [2]int{0, n} {
		o := &d.joints[e]
		o.corner, o.hold, o.home, o.homeIn, o.homeOut = true, windowHold, o.p, o.in, o.out
	}
	// The samples of each span in turn, so that they stay in order.
	first := 0
	for q := range c.samples {
		if order[c.samples[q].span] == 0 {
			first = q
			break
		}
	}
	for q := range c.samples {
		s := c.samples[(first+q)%len(c.samples)]
		if o := order[s.span]; o >= 0 {
			s.span = o
			d.samples = append(d.samples, s)
		}
	}
	d.update()
	return window{d, lo, n, false}
}

// rotate lets a closed chain start at joint k.
func (c *chain) rotate(k int) {
	n := len(c.spans)
	if !c.closed || k == 0 {
		return
	}
	c.joints = append(append([]joint(nil), c.joints[k:]...), c.joints[:k]...)
	c.spans = append(append([]span(nil), c.spans[k:]...), c.spans[:k]...)
	first := 0
	for q := range c.samples {
		if c.samples[q].span = (c.samples[q].span - k + n) % n; c.samples[q].span == 0 && c.samples[(q+len(c.samples)-1)%len(c.samples)].span != 0 {
			first = q
		}
	}
	c.samples = append(append([]sample(nil), c.samples[first:]...), c.samples[:first]...)
	c.update()
}

// replace puts a window that was changed back into the chain. A closed chain starts
// with it afterwards.
func (c *chain) replace(w window) {
	if w.all {
		*c = *w.chain
		return
	}
	from := w.from
	if c.closed {
		c.rotate(from)
		from = 0
	}
	m, to := len(w.spans), from+w.n
	joints := append([]joint(nil), c.joints[:from]...)
	joints = append(append(joints, w.joints[:m]...), c.joints[to:]...)
	start := c.joints[from]
	start.out = w.joints[0].out
	joints[from] = start
	joints[(from+m)%len(joints)].in = w.joints[m].in
	spans := append([]span(nil), c.spans[:from]...)
	spans = append(append(spans, w.spans...), c.spans[to:]...)
	var samples, tail []sample
	for _, s := range c.samples {
		switch {
		case s.span < from:
			samples = append(samples, s)
		case s.span >= to:
			s.span += m - w.n
			tail = append(tail, s)
		}
	}
	for _, s := range w.samples {
		s.span += from
		samples = append(samples, s)
	}
	c.joints, c.spans, c.samples, c.segs = joints, spans, append(samples, tail...), nil
	c.update()
}

// bend returns how much the chain turns in radians within reach mm on either side
// of joint j.
func (c *chain) bend(j int, reach float64) float64 {
	b, a := c.before(j), c.after(j)
	if b < 0 || a < 0 {
		return 0
	}
	dir := func(i int, fromEnd bool) geom.Point {
		s := &c.segs[i]
		t := math.Min(1, reach/math.Max(lengthNear(s), 1e-9))
		if fromEnd {
			t = 1 - t
		}
		return s.Tangent(t)
	}
	u, v := dir(b, true), dir(a, false)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

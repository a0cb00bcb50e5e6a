package fit

import (
	"math"

	"hemlet/geom"
)

// joint is where two spans of a chain meet, or an end of it.
type joint struct {
	p       geom.Point
	corner  bool    // the directions on its two sides are free of each other
	given   bool    // a corner whatever it looks like
	tip     bool    // its place is known
	passed  bool    // a corner so blunt that feet pass it
	in, out float64 // angles of travel arriving and leaving
	// hold is the weight of a pull towards home; it settles what no point says,
	// the end of a chain along itself above all.
	hold float64
	home geom.Point
	// homeIn and homeOut are the directions that the pull at a corner goes to.
	homeIn, homeOut float64
}

// span is one line or cubic of a chain. Out and in are the lengths of its handles.
type span struct {
	straight bool
	out, in  float64
	third    float64 // a third of its length: where handles lie if nothing else is known
}

// sample is one point to be fitted, with its foot on the chain.
type sample struct {
	p    geom.Point
	s    float64 // length along the line in mm
	w    float64 // weight, in steps of the evened line; 0 if left out
	span int
	t    float64
	n    geom.Point // normal of the chain at the foot
	off  float64    // distance of the foot from the sample along it, in mm
}

// chain is a row of spans on its way to its samples: span i runs from joint i to
// the next one. A closed chain has as many joints as spans.
type chain struct {
	closed  bool
	joints  []joint
	spans   []span
	samples []sample
	segs    []geom.Segment
	noise   float64 // mm, of a sample of weight 1
	huber   float64 // mm, distance from which a sample pulls no harder
	enough  float64 // mm², loss at which the steps may end
}

// end returns the joint at the end of span i.
func (c *chain) end(i int) int {
	if i+1 == len(c.joints) {
		return 0
	}
	return i + 1
}

// before and after return the spans about joint j, -1 at the ends of an open chain.
func (c *chain) before(j int) int {
	if j > 0 {
		return j - 1
	}
	if c.closed {
		return len(c.spans) - 1
	}
	return -1
}

func (c *chain) after(j int) int {
	if j < len(c.spans) {
		return j
	}
	return -1
}

// clone returns a chain that can be moved without moving this one.
func (c *chain) clone() *chain {
	d := *c
	d.joints = append([]joint(nil), c.joints...)
	d.spans = append([]span(nil), c.spans...)
	d.samples = append([]sample(nil), c.samples...)
	d.segs = append([]geom.Segment(nil), c.segs...)
	return &d
}

// guide returns the straight span that gives joint j its direction, -1 if it has an
// angle of its own.
func (c *chain) guide(j int) int {
	if c.joints[j].corner {
		return -1
	}
	if b := c.before(j); b >= 0 && c.spans[b].straight {
		return b
	}
	if a := c.after(j); a >= 0 && c.spans[a].straight {
		return a
	}
	return -1
}

// direct returns the unit vector at the angle.
func direct(angle float64) geom.Point {
	sin, cos := math.Sincos(angle)
	return geom.Pt(cos, sin)
}

// update makes the segments of the unknowns.
func (c *chain) update() {
	if len(c.segs) != len(c.spans) {
		c.segs = make([]geom.Segment, len(c.spans))
	}
	for j := range c.joints {
		if b, a := c.before(j), c.after(j); b >= 0 && a >= 0 && c.spans[b].straight && c.spans[a].straight {
			c.joints[j].corner = true // two lines have no other join
		}
		if g := c.guide(j); g >= 0 {
			a := c.joints[c.end(g)].p.Sub(c.joints[g].p).Angle()
			c.joints[j].in, c.joints[j].out = a, a
		}
	}
	for i, s := range c.spans {
		a, b := &c.joints[i], &c.joints[c.end(i)]
		if s.straight {
			c.segs[i] = geom.Line(a.p, b.p)
			continue
		}
		c.segs[i] = geom.Cubic(a.p, a.p.Add(direct(a.out).Mul(s.out)), b.p.Sub(direct(b.in).Mul(s.in)), b.p)
	}
	for j := range c.joints {
		o := &c.joints[j]
		o.passed = !o.corner || !o.given && math.Abs(c.turnAt(j)) < weakTurn
	}
}

// path returns the segments, and whether each starts at a corner.
func (c *chain) path() (geom.Path, []bool) {
	corner := make([]bool, len(c.spans))
	for i := range corner {
		corner[i] = c.joints[i].corner
	}
	return append(geom.Path(nil), c.segs...), corner
}

// measure sets the thirds by the length of each span as it is.
func (c *chain) measure() {
	for i := range c.spans {
		c.spans[i].third = math.Max(lengthNear(&c.segs[i]), leastLength) / 3
	}
}

// leastLength is the least length in mm that a span is counted with: joints that fall
// together would else divide by nothing.
const leastLength = 1e-9

// lengthNear returns the length of a segment to some per cent: chord and control
// polygon averaged (Gravesen 1997).
func lengthNear(s *geom.Segment) float64 {
	chord := s.P0.Dist(s.P3)
	if s.Straight {
		return chord
	}
	poly := s.P0.Dist(s.P1) + s.P1.Dist(s.P2) + s.P2.Dist(s.P3)
	return (chord + poly) / 2
}

// turnAt returns the turn at joint j in radians, counter-clockwise positive.
func (c *chain) turnAt(j int) float64 {
	b, a := c.before(j), c.after(j)
	if b < 0 || a < 0 {
		return 0
	}
	u, v := c.segs[b].Tangent(1), c.segs[a].Tangent(0)
	return math.Atan2(u.Cross(v), u.Dot(v))
}

package fit

import (
	"math"

	"hemlet/geom"
)

const (
	// solveSteps bounds the Gauss-Newton steps; they converge in about ten.
	solveSteps = 40
	// solveSettled is the relative fall of the sum that ends the steps.
	solveSettled = 1e-5
	// handleSpread is how far a handle may be expected from a third of its span, as
	// a share of that third. The pull weighs as much as one sample that is off by
	// the noise: it settles straight stretches, where the points leave the handles
	// open and a free one would flip, and is not felt elsewhere.
	handleSpread = 0.5
	// A handle is kept between these shares of the length of its span.
	handleShortest, handleLongest = 0.02, 0.9
	// angleSpread is how far in radians the directions at a corner may be expected
	// from those that were read there; the pull weighs as much as one sample. What
	// is left out beside the corner lets a cubic end in a hook unless this holds it.
	angleSpread = 0.1
	// angleStep is the largest step of a direction in radians.
	angleStep = 0.25
	// feltNoise is the least noise in mm that pulls are weighed by, as a share of
	// the length of a span: below it all is rounding.
	feltNoise = 1e-9
)

// columns says where the unknowns of a chain stand: for each joint its place and
// its angles, for each cubic span its handles; -1 for what is none.
type columns struct {
	place, in, out []int // by joint; place is x, y follows
	handle         []int // by span; out, in follows
	n              int
}

func (c *chain) columns() columns {
	k := columns{
		place: make([]int, len(c.joints)), in: make([]int, len(c.joints)), out: make([]int, len(c.joints)),
		handle: make([]int, len(c.spans)),
	}
	curved := func(i int) bool { return i >= 0 && !c.spans[i].straight }
	for j := range c.joints {
		k.place[j] = k.n
		k.n += 2
		k.in[j], k.out[j] = -1, -1
		b, a := c.before(j), c.after(j)
		switch {
		case c.joints[j].corner:
			if curved(b) {
				k.in[j] = k.n
				k.n++
			}
			if curved(a) {
				k.out[j] = k.n
				k.n++
			}
		case c.guide(j) < 0:
			k.in[j], k.out[j] = k.n, k.n
			k.n++
		}
		if j < len(c.spans) {
			k.handle[j] = -1
			if curved(j) {
				k.handle[j] = k.n
				k.n += 2
			}
		}
	}
	return k
}

// system makes room for the normal equations.
func (c *chain) system(k columns) *envelope {
	first := make([]int, k.n)
	for i := range first {
		first[i] = i
	}
	for i := range c.spans {
		var r row
		c.fill(&r, k, i, 0.5, geom.Pt(1, 1))
		least := k.n
		for a := range r.n {
			least = min(least, r.col[a])
		}
		for a := range r.n {
			first[r.col[a]] = min(first[r.col[a]], least)
		}
	}
	for j := range c.joints {
		first[k.place[j]+1] = min(first[k.place[j]+1], k.place[j])
	}
	return newEnvelope(first)
}

// fill sets the row of the place of parameter t on span i, seen along n.
func (c *chain) fill(r *row, k columns, i int, t float64, n geom.Point) {
	r.n = 0
	j, e := i, c.end(i)
	u := 1 - t
	if c.spans[i].straight {
		c.addPlace(r, k, j, n, u)
		c.addPlace(r, k, e, n, t)
		return
	}
	b0, b1, b2, b3 := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	out, in := direct(c.joints[j].out), direct(c.joints[e].in)
	c.addPlace(r, k, j, n, b0+b1)
	c.addPlace(r, k, e, n, b2+b3)
	r.add(k.handle[i], b1*n.Dot(out))
	r.add(k.handle[i]+1, -b2*n.Dot(in))
	c.addAngle(r, k, j, k.out[j], b1*c.spans[i].out*n.Dot(out.Left()))
	c.addAngle(r, k, e, k.in[e], -b2*c.spans[i].in*n.Dot(in.Left()))
}

func (c *chain) addPlace(r *row, k columns, j int, n geom.Point, v float64) {
	r.add(k.place[j], v*n.X)
	r.add(k.place[j]+1, v*n.Y)
}

// addAngle adds v times the change of the direction at joint j: that of its own
// angle, or of the straight span that guides it.
func (c *chain) addAngle(r *row, k columns, j, col int, v float64) {
	if col >= 0 {
		r.add(col, v)
		return
	}
	g := c.guide(j)
	a, b := g, c.end(g)
	d := c.joints[b].p.Sub(c.joints[a].p)
	n := d.Left().Mul(1 / math.Max(d.Dot(d), leastLength*leastLength))
	c.addPlace(r, k, b, n, v)
	c.addPlace(r, k, a, n, -v)
}

// loss returns the weighed sum in mm² by Huber: squares up to a distance, from
// there on in a straight line.
func (c *chain) loss() float64 {
	sum := 0.0
	for q := range c.samples {
		if s := &c.samples[q]; s.w > 0 {
			r := math.Abs(s.off)
			if r > c.huber {
				sum += s.w * c.huber * (2*r - c.huber)
				continue
			}
			sum += s.w * r * r
		}
	}
	return sum
}

// weight returns the sum of the weights.
func (c *chain) weight() float64 {
	sum := 0.0
	for q := range c.samples {
		sum += c.samples[q].w
	}
	return sum
}

// pull returns the weight of the pull on the handles of a span.
func (c *chain) pull(i int) float64 {
	third := c.spans[i].third
	w := math.Max(c.noise, feltNoise*third) / (handleSpread * third)
	return w * w
}

// anglePull returns the weight of the pull on the directions at corners.
func (c *chain) anglePull() float64 { return c.noise * c.noise / (angleSpread * angleSpread) }

// turned returns an angle reduced to within half a turn.
func turned(a float64) float64 { return math.Remainder(a, 2*math.Pi) }

// value returns what the steps lower: the loss and the pulls.
func (c *chain) value() float64 {
	sum := c.loss()
	for i, s := range c.spans {
		if !s.straight {
			a, b := s.out-s.third, s.in-s.third
			sum += c.pull(i) * (a*a + b*b)
		}
	}
	w := c.anglePull()
	for _, j := range c.joints {
		if j.hold > 0 {
			d := j.p.Sub(j.home)
			a, b := turned(j.in-j.homeIn), turned(j.out-j.homeOut)
			sum += j.hold*d.Dot(d) + w*(a*a+b*b)
		}
	}
	return sum
}

// normal sums up the normal equations.
func (c *chain) normal(m *envelope, k columns) {
	m.reset()
	var r row
	for q := range c.samples {
		s := &c.samples[q]
		if s.w == 0 {
			continue
		}
		w := s.w
		if a := math.Abs(s.off); a > c.huber {
			w *= c.huber / a
		}
		c.fill(&r, k, s.span, s.t, s.n)
		m.add(&r, s.off, w)
	}
	for i, s := range c.spans {
		if s.straight {
			continue
		}
		w := c.pull(i)
		for h, d := range [2]float64{s.out - s.third, s.in - s.third} {
			r.n = 0
			r.add(k.handle[i]+h, 1)
			m.add(&r, d, w)
		}
	}
	for j := range c.joints {
		if o := &c.joints[j]; o.hold > 0 {
			for h, d := range [2]float64{o.p.X - o.home.X, o.p.Y - o.home.Y} {
				r.n = 0
				r.add(k.place[j]+h, 1)
				m.add(&r, d, o.hold)
			}
			for h, col := range [2]int{k.in[j], k.out[j]} {
				if col < 0 {
					continue
				}
				d := turned(o.in - o.homeIn)
				if h == 1 {
					d = turned(o.out - o.homeOut)
				}
				r.n = 0
				r.add(col, 1)
				m.add(&r, d, c.anglePull())
			}
		}
	}
}

// move adds a step, with the handles kept to their range.
func (c *chain) move(k columns, step []float64) {
	for j := range c.joints {
		o := &c.joints[j]
		o.p = o.p.Add(geom.Pt(step[k.place[j]], step[k.place[j]+1]))
		if k.in[j] >= 0 {
			o.in += math.Max(-angleStep, math.Min(angleStep, step[k.in[j]]))
		}
		if k.out[j] >= 0 {
			o.out += math.Max(-angleStep, math.Min(angleStep, step[k.out[j]]))
		}
	}
	for i := range c.spans {
		if s := &c.spans[i]; !s.straight {
			length := 3 * s.third
			s.out = math.Max(handleShortest*length, math.Min(handleLongest*length, s.out+step[k.handle[i]]))
			s.in = math.Max(handleShortest*length, math.Min(handleLongest*length, s.in+step[k.handle[i]+1]))
		}
	}
	c.update()
}

// sane tells whether a step may be taken: where no sample says anything about an unknown,
// rounding alone would fling it away.
func sane(step []float64) bool {
	for _, v := range step {
		if !(math.Abs(v) <= coordLimit) {
			return false
		}
	}
	return true
}

// feet is what a step changes besides the unknowns.
type feet struct {
	joints []joint
	spans  []span
	feet   []foot
}

// foot is where a sample is measured.
type foot struct {
	span int
	t    float64
	n    geom.Point
	off  float64
}

func (f *feet) save(c *chain) {
	f.joints = append(f.joints[:0], c.joints...)
	f.spans = append(f.spans[:0], c.spans...)
	f.feet = f.feet[:0]
	for q := range c.samples {
		s := &c.samples[q]
		f.feet = append(f.feet, foot{s.span, s.t, s.n, s.off})
	}
}

func (f *feet) restore(c *chain) {
	copy(c.joints, f.joints)
	copy(c.spans, f.spans)
	for q := range c.samples {
		s, o := &c.samples[q], &f.feet[q]
		s.span, s.t, s.n, s.off = o.span, o.t, o.n, o.off
	}
	c.update()
}

// solve runs Gauss-Newton steps on the distances along the normals (orthogonal
// distance regression; Ahn 2004, "Least Squares Orthogonal Distance Fitting"),
// damped as Levenberg and Marquardt do where the plain step does not lower the sum.
func (c *chain) solve(steps int) {
	c.update()
	c.measure()
	c.project()
	k := c.columns()
	m := c.system(k)
	damp := 1e-6
	var old feet
	for range steps {
		c.measure()
		c.normal(m, k)
		before := c.value()
		value := before
		for range 7 {
			old.save(c)
			if step, ok := m.solve(damp); ok && sane(step) {
				c.move(k, step)
				c.project()
				value = c.value()
			}
			if value < before {
				damp = math.Max(damp/9, 1e-10)
				break
			}
			old.restore(c)
			value = before
			damp = math.Max(damp*20, 1e-7)
		}
		if !(value < before*(1-solveSettled)) || value <= c.enough {
			return
		}
	}
}

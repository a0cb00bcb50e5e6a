package fit

import (
	"math"

	"hemlet/geom"
)

const (
	// footSteps bounds the Newton steps for one foot; the start is the foot before
	// the chain moved, so that two or three do.
	footSteps = 5
	// footSettled is the step of the parameter at which a foot has been found. Its
	// square is the relative error of the distance.
	footSettled = 1e-7
)

// project moves the foot of every sample by Newton steps along the chain, across
// smooth joints and blunt corners if need be, never round a sharp one.
func (c *chain) project() {
	for q := range c.samples {
		if c.samples[q].w > 0 {
			c.projectOne(&c.samples[q])
		}
	}
}

func (c *chain) projectOne(q *sample) {
	i, t := q.span, q.t
	for range footSteps {
		seg := &c.segs[i]
		g, d := seg.At(t).Sub(q.p), seg.Deriv(t)
		dd := d.Dot(d)
		den := dd + g.Dot(seg.Second(t))
		if !(den > 0.1*dd) {
			den = dd // beyond the centre of curvature: a plain step
		}
		step := -g.Dot(d) / den
		if !(step > footSettled || step < -footSettled) {
			break
		}
		t += max(-0.5, min(0.5, step))
		if t < 0 {
			if b := c.before(i); b >= 0 && c.joints[i].passed {
				i, t = b, 1
				continue
			}
			t = 0
		} else if t > 1 {
			if e := c.end(i); c.joints[e].passed && c.after(e) >= 0 {
				i, t = e, 0
				continue
			}
			t = 1
		}
	}
	q.span, q.t = i, t
	seg := &c.segs[i]
	d := seg.Deriv(t)
	l := math.Sqrt(d.Dot(d))
	if l == 0 {
		d, l = seg.Tangent(t), 1
	}
	q.n = geom.Pt(-d.Y/l, d.X/l)
	q.off = q.n.Dot(seg.At(t).Sub(q.p))
}

package paint

import (
	"image"
	"math"

	"hemlet/geom"
)

// Join is the shape of the outer side of a corner of a line.
type Join uint8

// The joins. A mitre longer than four half widths becomes a bevel.
const (
	Mitre Join = iota
	Round
)

// Cap is the shape of the ends of a line and of its dashes.
type Cap uint8

// The caps: cut off square at the end, or rounded beyond it.
const (
	Butt Cap = iota
	RoundCap
)

// Dash is a pattern of lengths in screen units: on, off, on, off, measured along
// the line whatever its width. The zero Dash is a solid line.
type Dash [4]float64

// period returns the length after which the pattern repeats, 0 for a solid line.
func (d Dash) period() float64 {
	n := 0.0
	for _, x := range d {
		if !(x >= 0) {
			return 0
		}
		n += x
	}
	if d[1]+d[3] == 0 || math.IsInf(n, 0) {
		return 0
	}
	return n
}

// smoothJoint is the cosine of the turn up to which two chords share one edge at
// their joint (25 degrees): on a curve there is no corner to fill, and at the
// widths of the bench the shared edge is less than 3 % longer than the width.
const smoothJoint = 0.9

// mitreLimit is the longest mitre in half widths, as for cut lines.
const mitreLimit = 4

// arcTolerance is how far in pixels the chords of a round join or cap may stray
// from the circle.
const arcTolerance = 0.05

// pen is a line style in device pixels.
type pen struct {
	half   float64 // half the width
	join   Join
	cap    Cap
	dash   Dash // in device pixels
	period float64
}

// reach returns how far from its middle line, in pixels, the pen may lay colour.
func (p pen) reach() float64 {
	if p.join == Mitre {
		return p.half*mitreLimit + 1
	}
	return p.half + 1
}

// stroker adds the outline of a thick line to a raster. Every chord gives a quad
// and every corner a wedge, each a closed loop that turns the same way: the
// winding is nowhere 0 inside the line, and a loop that is left out because it
// is out of sight changes nothing in sight.
type stroker struct {
	r      *raster
	pen    pen
	pts    []geom.Point
	closed bool
	lo, hi geom.Point // what is seen, grown by the pen's reach
}

// stroke adds the line through pts; cum holds the arc length in pixels at each
// point and is needed for dashes only. A closed line repeats its first point at
// the end.
func (r *raster) stroke(pts []geom.Point, cum []float64, scale float64, closed bool, p pen, seen image.Rectangle) {
	if len(pts) < 2 {
		return
	}
	m := p.reach()
	s := stroker{r: r, pen: p, pts: pts, closed: closed,
		lo: geom.Point{X: float64(seen.Min.X) - m, Y: float64(seen.Min.Y) - m},
		hi: geom.Point{X: float64(seen.Max.X) + m, Y: float64(seen.Max.Y) + m},
	}
	if p.period > 0 {
		s.dashed(cum, scale)
		return
	}
	s.solid()
}

// solid adds a line without dashes. Where two chords share one side at their joint, the
// end of the first and the start of the second are the same edge there and back, which
// encloses nothing: both are left out.
func (s *stroker) solid() {
	n := len(s.pts) - 1
	before, here := geom.Point{}, s.dir(0)
	if s.closed {
		before = s.dir(n - 1)
	}
	first := here
	in, shared := geom.Point{}, false
	if s.closed {
		in, shared = s.side(before, here)
	}
	seen := false // that the chord before is drawn
	for i := range n {
		a, b := s.pts[i], s.pts[i+1]
		jointed, after := true, first
		if i+1 < n {
			after = s.dir(i + 1)
		} else {
			jointed = s.closed
		}
		out, on := geom.Point{}, false
		if jointed {
			out, on = s.side(here, after)
		}
		if s.hidden(a, b) {
			seen = false
		} else {
			s.chord(a, in, b, out, !(shared && seen), !(on && i+1 < n && !s.hidden(b, s.pts[i+2])))
			if jointed && !on {
				s.wedgeAt(b, here, after)
			}
			seen = true
		}
		in, shared, here = out, on, after
	}
	if s.closed {
		return
	}
	s.end(s.pts[0], first.Mul(-1))
	s.end(s.pts[n], s.dir(n-1))
}

// hidden reports whether the chord from a to b is too far off to be seen.
func (s *stroker) hidden(a, b geom.Point) bool {
	return a.X < s.lo.X && b.X < s.lo.X || a.X > s.hi.X && b.X > s.hi.X ||
		a.Y < s.lo.Y && b.Y < s.lo.Y || a.Y > s.hi.Y && b.Y > s.hi.Y
}

// dir returns the direction of chord i, counted round on a closed line.
func (s *stroker) dir(i int) geom.Point {
	a, b := s.pts[i], s.pts[i+1]
	dx, dy := b.X-a.X, b.Y-a.Y
	k := 1 / math.Sqrt(dx*dx+dy*dy)
	return geom.Point{X: dx * k, Y: dy * k}
}

// around returns the directions of the chords before and after point i, or false
// at the end of an open line.
func (s *stroker) around(i int) (before, after geom.Point, ok bool) {
	n := len(s.pts) - 1
	if i == 0 || i == n {
		if !s.closed {
			return before, after, false
		}
		return s.dir(n - 1), s.dir(0), true
	}
	return s.dir(i - 1), s.dir(i), true
}

// joint returns the vector from point i to the left side of the line and whether
// the chords on both sides share it. Where they do not, the caller of a chord
// takes its own normal.
func (s *stroker) joint(i int) (geom.Point, bool) {
	before, after, ok := s.around(i)
	if !ok {
		return geom.Point{}, false
	}
	return s.side(before, after)
}

// side is joint by the directions of the chords before and after the point.
func (s *stroker) side(before, after geom.Point) (geom.Point, bool) {
	c := before.Dot(after)
	if c < smoothJoint {
		return geom.Point{}, false
	}
	return before.Add(after).Left().Mul(s.pen.half / (1 + c)), true
}

// normal returns the left half width of the chord from a to b.
func (s *stroker) normal(a, b geom.Point) geom.Point {
	d := b.Sub(a)
	return d.Left().Mul(s.pen.half / math.Sqrt(d.Dot(d)))
}

// quad adds the chord from a to b with the given left sides; a zero vector
// stands for the normal of the chord.
func (s *stroker) quad(a, in, b, out geom.Point) { s.chord(a, in, b, out, true, true) }

// chord is quad, with or without the edges across the line at its start and at its end.
func (s *stroker) chord(a, in, b, out geom.Point, start, end bool) {
	if in == (geom.Point{}) {
		in = s.normal(a, b)
	}
	if out == (geom.Point{}) {
		out = s.normal(a, b)
	}
	x0, y0 := fix(a.X-in.X), fix(a.Y-in.Y)
	x1, y1 := fix(a.X+in.X), fix(a.Y+in.Y)
	x2, y2 := fix(b.X+out.X), fix(b.Y+out.Y)
	x3, y3 := fix(b.X-out.X), fix(b.Y-out.Y)
	if start {
		s.r.line(x0, y0, x1, y1)
	}
	s.r.line(x1, y1, x2, y2)
	if end {
		s.r.line(x2, y2, x3, y3)
	}
	s.r.line(x3, y3, x0, y0)
}

// wedge fills the outer side of the corner at point i.
func (s *stroker) wedge(i int) {
	if d0, d1, ok := s.around(i); ok && d0.Dot(d1) < smoothJoint {
		s.wedgeAt(s.pts[i], d0, d1)
	}
}

// wedgeAt fills the outer side of the corner at p, from one direction to another.
func (s *stroker) wedgeAt(p, d0, d1 geom.Point) {
	c := d0.Dot(d1)
	n0, n1 := d0.Left().Mul(s.pen.half), d1.Left().Mul(s.pen.half)
	if d0.Cross(d1) > 0 {
		n0, n1 = n1.Mul(-1), n0.Mul(-1)
	}
	switch {
	case s.pen.join == Round:
		s.fan(p, n0, n1)
	case 1+c >= 2./(mitreLimit*mitreLimit):
		// The length of a mitre in half widths is sqrt(2/(1+c)).
		s.loop(p, p.Add(n0), p.Add(n0.Add(n1).Mul(1/(1+c))), p.Add(n1))
	default:
		s.loop(p, p.Add(n0), p.Add(n1))
	}
}

// loop adds a closed polygon of up to four corners.
func (s *stroker) loop(pts ...geom.Point) { s.r.polygon(pts) }

// fan adds the sector about p from the arm n0 to the arm n1, clockwise as the
// axes of the screen have it (from +y towards +x).
func (s *stroker) fan(p, n0, n1 geom.Point) {
	turn := math.Acos(min(max(n0.Dot(n1)/(s.pen.half*s.pen.half), -1), 1))
	s.sector(p, n0, n1, turn)
}

// sector is fan with the angle of the sector in radians.
func (s *stroker) sector(p, n0, n1 geom.Point, turn float64) {
	step := 2 * math.Acos(1-min(arcTolerance/s.pen.half, 1))
	n := int(turn/step) + 1
	sin, cos := math.Sincos(-turn / float64(n))
	from := p.Add(n0)
	s.r.edge(p, from)
	for i := 1; i <= n; i++ {
		n0 = geom.Point{X: n0.X*cos - n0.Y*sin, Y: n0.X*sin + n0.Y*cos}
		to := p.Add(n0)
		if i == n {
			to = p.Add(n1)
		}
		s.r.edge(from, to)
		from = to
	}
	s.r.edge(from, p)
}

// end adds the cap at p, where the line stops in the direction d.
func (s *stroker) end(p, d geom.Point) {
	if s.pen.cap != RoundCap || s.hidden(p, p) {
		return
	}
	n := d.Left().Mul(s.pen.half)
	s.sector(p, n, n.Mul(-1), math.Pi)
}

// dashed adds the dashes of the line. Where a dash begins and ends follows from
// the arc length alone, so that leaving out what is hidden moves none.
func (s *stroker) dashed(cum []float64, scale float64) {
	n := len(s.pts) - 1
	for i := 0; i < n; i++ {
		a, b := s.pts[i], s.pts[i+1]
		t0, t1, ok := s.seenPart(a, b)
		if !ok {
			continue
		}
		from, to := cum[i]*scale, cum[i+1]*scale
		for k := math.Floor((from + (to-from)*t0) / s.pen.period); k*s.pen.period <= from+(to-from)*t1; k++ {
			on := k * s.pen.period
			s.dashPart(i, from, to, on, on+s.pen.dash[0])
			if s.pen.dash[2] > 0 {
				on += s.pen.dash[0] + s.pen.dash[1]
				s.dashPart(i, from, to, on, on+s.pen.dash[2])
			}
		}
	}
}

// dashPart adds what lies on chord i, which runs from arc length from to to, of
// the dash from arc length on to off.
func (s *stroker) dashPart(i int, from, to, on, off float64) {
	starts, ends := on >= from, off <= to
	if off <= from || on >= to || off == on {
		return
	}
	a, b := s.pts[i], s.pts[i+1]
	var in, out geom.Point
	p, q := a, b
	if starts {
		p = a.Lerp(b, (on-from)/(to-from))
	} else {
		in, _ = s.joint(i)
	}
	if ends {
		q = a.Lerp(b, (off-from)/(to-from))
	} else {
		out, _ = s.joint(i + 1)
	}
	if p == q {
		return
	}
	s.quadAlong(p, in, q, out, a, b)
	last := i+1 == len(s.pts)-1
	if !ends && !last {
		s.wedge(i + 1)
	}
	d := b.Sub(a).Unit()
	if starts || i == 0 && !s.closed {
		s.end(p, d.Mul(-1))
	}
	if ends || last {
		s.end(q, d)
	}
}

// quadAlong is quad for a part of the chord from a to b, whose normal it takes.
func (s *stroker) quadAlong(p, in, q, out, a, b geom.Point) {
	n := s.normal(a, b)
	if in == (geom.Point{}) {
		in = n
	}
	if out == (geom.Point{}) {
		out = n
	}
	s.quad(p, in, q, out)
}

// seenPart returns the range of the parameter in which the chord from a to b runs
// through what is seen, or false where it does not (Liang and Barsky 1984).
func (s *stroker) seenPart(a, b geom.Point) (t0, t1 float64, ok bool) {
	return clipped(a, b, s.lo, s.hi)
}

// clipped returns the range of the parameter in which the chord from a to b runs
// through the box.
func clipped(a, b, low, high geom.Point) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	clip := func(p, d, lo, hi float64) bool {
		if d == 0 {
			return lo <= p && p <= hi
		}
		u, v := (lo-p)/d, (hi-p)/d
		if u > v {
			u, v = v, u
		}
		t0, t1 = math.Max(t0, u), math.Min(t1, v)
		return t0 <= t1
	}
	ok = clip(a.X, b.X-a.X, low.X, high.X) && clip(a.Y, b.Y-a.Y, low.Y, high.Y)
	return t0, t1, ok
}

package geom

import "math"

// meetTolerance is the distance in mm within which two curves have a point in
// common: the grid to which coordinates are rounded when an edit is committed,
// below which touching and not touching cannot be told apart.
const meetTolerance = 1e-6

// meetLimit is the largest coordinate in mm for which intersections are looked
// for: far outside any cloth, and small enough that rounding stays well below
// meetTolerance's relative floor.
const meetLimit = 1e9

// meetTol is meetTolerance, or the rounding at the size of the coordinates if
// that is more.
func meetTol(a, b Segment) float64 {
	reach := 0.0
	for _, p := range [8]Point{a.P0, a.P1, a.P2, a.P3, b.P0, b.P1, b.P2, b.P3} {
		reach = max(reach, p.reach())
	}
	return max(meetTolerance, 1e-13*reach)
}

// meetable reports whether the control points are finite and within meetLimit.
func (s Segment) meetable() bool {
	return s.P0.reach() <= meetLimit && s.P1.reach() <= meetLimit && s.P2.reach() <= meetLimit && s.P3.reach() <= meetLimit
}

// graphPair is two arcs turned so that both are graphs over x: their difference
// in y is a function of one variable, whose zeros are the common points.
type graphPair struct {
	a, b   Segment // turned, x rising
	flip   bool    // b runs against its own direction
	tol    float64
	budget int
	found  []contact
}

// contact is a stretch of both arcs on which they are within tolerance, from
// (t0, u0) to (t1, u1) in the parameters of the arcs; a point where these agree.
type contact struct{ t0, t1, u0, u1 float64 }

// meetArcs appends the contacts of two arcs to dst, in the parameters of their
// segments.
func meetArcs(dst []contact, a, b *arc, tol float64, budget *int) []contact {
	if !a.box.Grow(tol).Overlaps(b.box) {
		return dst
	}
	e := a.mid
	if e == (Point{}) {
		e = b.mid
	}
	flip := a.mid.Dot(b.mid) < 0
	if flip {
		e = e.Sub(b.mid)
	} else {
		e = e.Add(b.mid)
	}
	e = e.Unit()
	if e == (Point{}) {
		e = Point{1, 0} // two points
	}
	g := graphPair{flip: flip, tol: tol, budget: *budget}
	turn := Affine{e.X, -e.Y, e.Y, e.X, 0, 0}.about(a.s.P0)
	g.a = a.s.Transform(turn)
	g.b = b.s.Transform(turn)
	if flip {
		g.b = g.b.Reverse()
	}
	g.search()
	*budget = g.budget
	for _, c := range g.found {
		if flip {
			c.u0, c.u1 = 1-c.u0, 1-c.u1
		}
		dst = append(dst, contact{a.global(c.t0), a.global(c.t1), b.global(c.u0), b.global(c.u1)})
	}
	return dst
}

// about returns the linear map m made to fix o's image at the origin.
func (m Affine) about(o Point) Affine {
	q := m.ApplyVector(o)
	m.E, m.F = -q.X, -q.Y
	return m
}

// stretch is a range of x with the parameters on both graphs and the difference
// a - b of their heights at both ends.
type stretch struct {
	x0, x1         float64
	t0, t1, u0, u1 float64
	d0, d1         float64
}

// search finds the contacts over the common range of x.
func (g *graphPair) search() {
	x0, x1 := max(g.a.P0.X, g.b.P0.X), min(g.a.P3.X, g.b.P3.X)
	if x0 >= x1 {
		g.endToEnd(x0, x1)
		return
	}
	w := stretch{x0: x0, x1: x1}
	w.t0, w.u0, w.d0 = g.at(x0, 0, 1, 0, 1)
	w.t1, w.u1, w.d1 = g.at(x1, w.t0, 1, w.u0, 1)
	g.divide(w, 0)
}

// endToEnd handles graphs one of which ends where or before the other starts, or
// has no width.
func (g *graphPair) endToEnd(x0, x1 float64) {
	if x0-x1 > g.tol {
		return
	}
	t, u, _ := g.at(0.5*(x0+x1), 0, 1, 0, 1)
	g.near(t, u)
}

// at returns the parameters at x, which lie in the given ranges, and the
// difference in height.
func (g *graphPair) at(x, t0, t1, u0, u1 float64) (t, u, d float64) {
	t, u = abscissa(&g.a, x, t0, t1), abscissa(&g.b, x, u0, u1)
	return t, u, g.a.At(t).Y - g.b.At(u).Y
}

// abscissa returns the parameter in t0 to t1 at which the segment, monotone in x,
// is at x, by Newton's method kept in a bracket.
func abscissa(s *Segment, x, t0, t1 float64) float64 {
	switch {
	case x <= s.P0.X:
		return 0
	case x >= s.P3.X:
		return 1
	case s.Straight:
		return (x - s.P0.X) / (s.P3.X - s.P0.X)
	}
	a, b, c := s.P1.X-s.P0.X, s.P2.X-s.P1.X, s.P3.X-s.P2.X
	p := poly{deg: 3, c: [maxDegree + 1]float64{s.P0.X - x, 3 * a, 3 * (b - a), c - 2*b + a}}
	return p.bracketed(t0, t1, true)
}

const (
	// stretchDepth bounds the halvings of a range of x.
	stretchDepth = 48
	// meetBudget bounds the ranges looked at for two segments. Crossings take
	// some tens; only curves that run within tolerance of each other for long
	// without being the same come near it.
	meetBudget = 1 << 14
)

// divide looks for contacts in one range of x. It drops the range if the graphs
// keep apart, takes it whole if they are within tolerance all along, solves it
// if their difference is monotone, and halves it otherwise.
func (g *graphPair) divide(w stretch, depth int) {
	g.budget--
	a, b := g.a.Between(w.t0, w.t1), g.b.Between(w.u0, w.u1)
	alo, ahi := a.sag()
	blo, bhi := b.sag()
	lo, hi := min(w.d0, w.d1)+alo-bhi, max(w.d0, w.d1)+ahi-blo
	if lo > slopeReach*g.tol || hi < -slopeReach*g.tol {
		return
	}
	as0, as1 := a.slopes()
	bs0, bs1 := b.slopes()
	gap := g.tol * math.Min(slopeReach, math.Hypot(1, max(-as0, as1, -bs0, bs1)))
	switch {
	case lo > gap || hi < -gap:
		return
	case lo >= -gap && hi <= gap || a.alike(b, g.tol):
		g.found = append(g.found, contact{w.t0, w.t1, w.u0, w.u1})
		return
	case as0 > bs1 || as1 < bs0:
		g.monotone(w)
		return
	}
	x := 0.5 * (w.x0 + w.x1)
	if depth == stretchDepth || g.budget <= 0 || x <= w.x0 || x >= w.x1 {
		g.monotone(w) // as small as it gets, or given up
		return
	}
	t, u, d := g.at(x, w.t0, w.t1, w.u0, w.u1)
	g.divide(stretch{w.x0, x, w.t0, t, w.u0, u, w.d0, d}, depth+1)
	g.divide(stretch{x, w.x1, t, w.t1, u, w.u1, d, w.d1}, depth+1)
}

// slopeReach is the secant of the steepest slope: a gap measured straight up is
// at most that many times the distance.
const slopeReach = 3.8637 // 1 / cos 75°

// alike reports whether the control points agree within tol. Parts of one cubic
// over the same range do, since a cubic can only be reparametrised linearly.
func (s Segment) alike(o Segment, tol float64) bool {
	return s.P1.Near(o.P1, tol) && s.P2.Near(o.P2, tol) && s.P0.Near(o.P0, tol) && s.P3.Near(o.P3, tol)
}

// sag returns bounds on how far the segment lies above its chord, straight up.
func (s Segment) sag() (lo, hi float64) {
	if s.Straight {
		return 0, 0
	}
	dx, dy := s.P3.X-s.P0.X, s.P3.Y-s.P0.Y
	if !(dx > 0) {
		return math.Min(dy, 0) - math.Abs(dy), math.Max(dy, 0) + math.Abs(dy)
	}
	k := dy / dx
	h1 := s.P1.Y - s.P0.Y - k*(s.P1.X-s.P0.X)
	h2 := s.P2.Y - s.P0.Y - k*(s.P2.X-s.P0.X)
	return min(h1, h2, 0), max(h1, h2, 0)
}

// slopes returns bounds on dy/dx of a segment that is monotone in x: the extremes
// over the sides of its control polygon.
func (s Segment) slopes() (lo, hi float64) {
	if s.Straight {
		k := (s.P3.Y - s.P0.Y) / (s.P3.X - s.P0.X)
		return k, k
	}
	lo, hi = math.Inf(1), math.Inf(-1)
	d, n := s.sides(s.size())
	for _, v := range d[:n] {
		if !(v.X > 0) {
			return math.Inf(-1), math.Inf(1)
		}
		k := v.Y / v.X
		lo, hi = min(lo, k), max(hi, k)
	}
	return lo, hi
}

// monotone finds the contact in a range on which the difference is monotone: its
// zero, or an end that is within tolerance.
func (g *graphPair) monotone(w stretch) {
	switch {
	case w.d0 == 0 || w.d1 == 0 || (w.d0 < 0) != (w.d1 < 0):
		t, u := g.zero(w)
		g.found = append(g.found, contact{t, t, u, u})
	case math.Abs(w.d0) <= slopeReach*g.tol && math.Abs(w.d0) <= math.Abs(w.d1):
		g.near(w.t0, w.u0)
	case math.Abs(w.d1) <= slopeReach*g.tol:
		g.near(w.t1, w.u1)
	}
}

// near takes the end of a range as a contact if one curve comes within tolerance
// of the other there.
func (g *graphPair) near(t, u float64) {
	p, q := g.a.At(t), g.b.At(u)
	if p.Near(q, g.tol) {
		g.found = append(g.found, contact{t, t, u, u})
		return
	}
	if v, d := g.b.Nearest(p); d <= g.tol {
		g.found = append(g.found, contact{t, t, v, v})
		return
	}
	if v, d := g.a.Nearest(q); d <= g.tol {
		g.found = append(g.found, contact{v, v, u, u})
	}
}

// zeroSteps bounds the search for a zero; the secant steps converge in about
// five, and every third halves the bracket at least.
const zeroSteps = 160

// zero returns the parameters at which the difference changes sign in the range,
// by secant steps kept in the bracket (the Illinois variant of regula falsi).
func (g *graphPair) zero(w stretch) (t, u float64) {
	f0, f1 := w.d0, w.d1
	switch {
	case f0 == 0:
		return w.t0, w.u0
	case f1 == 0:
		return w.t1, w.u1
	}
	side := 0
	for i := range zeroSteps {
		x := w.x1 - f1*(w.x1-w.x0)/(f1-f0)
		if i%3 == 2 || !(x > w.x0 && x < w.x1) {
			x = 0.5 * (w.x0 + w.x1)
		}
		if x <= w.x0 || x >= w.x1 {
			break
		}
		var d float64
		t, u, d = g.at(x, w.t0, w.t1, w.u0, w.u1)
		switch {
		case math.Abs(d) <= 1e-9*g.tol:
			return t, u
		case (d < 0) == (w.d0 < 0):
			w.x0, w.t0, w.u0, f0 = x, t, u, d
			if side < 0 {
				f1 /= 2
			}
			side = -1
		default:
			w.x1, w.t1, w.u1, f1 = x, t, u, d
			if side > 0 {
				f0 /= 2
			}
			side = 1
		}
	}
	if math.Abs(f0) < math.Abs(f1) {
		return w.t0, w.u0
	}
	return w.t1, w.u1
}

package geom

import (
	"math"
	"sort"
)

// MeetingKind says how two curves meet.
type MeetingKind int

const (
	// Crosses: each curve changes sides of the other.
	Crosses MeetingKind = iota
	// Touches: the curves have a point in common without changing sides, or
	// one ends there, so that it has no other side.
	Touches
	// Overlaps: the curves run on one another for a stretch.
	Overlaps
)

// String names the kind for messages.
func (k MeetingKind) String() string {
	switch k {
	case Crosses:
		return "crosses"
	case Touches:
		return "touches"
	case Overlaps:
		return "overlaps"
	}
	return "unknown"
}

// Meeting is what two segments have in common at one place: the point P at
// parameter T of the first and U of the second. Where they overlap the stretch
// goes on to T2 > T and U2 (smaller than U if they run against each other);
// otherwise T2 = T and U2 = U.
type Meeting struct {
	P            Point
	T, U, T2, U2 float64
	Kind         MeetingKind
}

// Intersections returns all points and stretches that s and o have in common,
// in the order of s. Curves have a point in common where they come within
// 1e-6 mm of each other (1e-13 of the coordinates, if that is more), so an end
// that lies on the other curve to the rounding of stored coordinates counts; a
// meeting within that of an end is at the end, with T or U exactly 0 or 1. The
// parameters of a crossing are accurate to rounding.
//
// Both segments are cut into arcs that turn by less than 30°. Two such arcs are
// graphs over one axis, and the zeros of their difference are isolated by bounds
// on its value and slope from the control polygons: none is missed, tangent or
// not. Control points that are not finite or beyond 1e9 mm give nothing.
func (s Segment) Intersections(o Segment) []Meeting {
	if !s.meetable() || !o.meetable() {
		return nil
	}
	tol := meetTol(s, o)
	if !s.HandleBounds().Grow(tol).Overlaps(o.HandleBounds()) {
		return nil
	}
	var bufA, bufB [16]arc
	return meetings(s, o, s.appendArcs(bufA[:0]), o.appendArcs(bufB[:0]), tol)
}

// meetings is Intersections where the arcs are known.
func meetings(s, o Segment, as, bs []arc, tol float64) []Meeting {
	var buf [16]contact
	found := buf[:0]
	budget := meetBudget
	for i := range as {
		for j := range bs {
			found = meetArcs(found, &as[i], &bs[j], tol, &budget)
		}
	}
	if len(found) == 0 {
		return nil
	}
	pair := meetingPair{s, o, tol}
	ms := pair.list(pair.merged(found))
	sort.Slice(ms, func(i, j int) bool { return ms[i].T < ms[j].T })
	return ms
}

// meetingPair makes meetings out of contacts.
type meetingPair struct {
	a, b Segment
	tol  float64
}

// list makes meetings of merged contacts. What goes on from the end of the contact
// before, but turned back on one curve, is part of the same touch, unless it is an
// overlap.
func (m meetingPair) list(cs []contact) []Meeting {
	var ms []Meeting
	for i, c := range cs {
		q := m.meeting(c)
		if q.Kind != Overlaps && !c.point() && i > 0 && m.turnsBack(cs[:i], c) {
			continue
		}
		ms = m.add(ms, q)
	}
	return ms
}

// turnsBack reports whether c starts where a stretch before it ends.
func (m meetingPair) turnsBack(before []contact, c contact) bool {
	for _, b := range before {
		if !b.point() && m.beside(b.t1, b.u1, c.t0, c.u0) {
			return true
		}
	}
	return false
}

// mergeReach is how many tolerances apart, along both curves, two contacts are
// one: each may be off by one, and slopes stretch that.
const mergeReach = 8

// merged joins contacts that follow each other on both curves.
func (m meetingPair) merged(cs []contact) []contact {
	sort.Slice(cs, func(i, j int) bool {
		return cs[i].t0 < cs[j].t0 || cs[i].t0 == cs[j].t0 && cs[i].t1 < cs[j].t1
	})
	out := cs[:0:0]
next:
	for _, c := range cs {
		for k := len(out) - 1; k >= 0; k-- {
			if joint, ok := m.joined(out[k], c); ok {
				out[k] = joint
				continue next
			}
		}
		out = append(out, c)
	}
	return out
}

// joined returns c and d, which starts no earlier on the first curve, as one
// contact: the second stretch goes on where the first ends, in the same direction
// on both curves, or a point lies at an end of the other.
func (m meetingPair) joined(c, d contact) (contact, bool) {
	switch {
	case d.point():
		return c, m.beside(c.t0, c.u0, d.t0, d.u0) || m.beside(c.t1, c.u1, d.t0, d.u0)
	case c.point():
		return d, m.beside(c.t0, c.u0, d.t0, d.u0) || m.beside(c.t0, c.u0, d.t1, d.u1)
	}
	on := (c.u1 < c.u0) == (d.u1 < d.u0)
	return contact{c.t0, d.t1, c.u0, d.u1}, on && m.beside(c.t1, c.u1, d.t0, d.u0)
}

func (c contact) point() bool { return c.t0 == c.t1 }

// beside reports whether (t, u) and (v, w) are within mergeReach on both curves.
func (m meetingPair) beside(t, u, v, w float64) bool {
	reach := mergeReach * m.tol
	return nearAlong(m.a, min(t, v), max(t, v), reach) && nearAlong(m.b, min(u, w), max(u, w), reach)
}

// nearAlong reports whether parameter v is at most reach mm beyond u along the
// segment, or not beyond it at all.
func nearAlong(s Segment, u, v, reach float64) bool {
	if v <= u {
		return true
	}
	if !s.At(u).Near(s.At(v), reach) {
		return false
	}
	return s.lengthBetween(u, v) <= reach
}

// meeting makes a meeting out of a merged contact.
func (m meetingPair) meeting(c contact) Meeting {
	start, end := m.snapped(c.t0, c.u0), m.snapped(c.t1, c.u1)
	if start.T < end.T && start.atEnd() && end.atEnd() && m.a.lengthBetween(start.T, end.T) > mergeReach*m.tol {
		start.T2, start.U2, start.Kind = end.T, end.U, Overlaps
		return start
	}
	if end.atEnd() && !start.atEnd() {
		start = end
	}
	if !start.atEnd() && c.t0 < c.t1 {
		t, u := m.closest(c)
		start = m.snapped(t, u)
	}
	start.T2, start.U2 = start.T, start.U
	start.Kind = m.kind(start, c.point())
	return start
}

// atEnd reports whether one of the segments ends at the meeting.
func (q Meeting) atEnd() bool { return q.T == 0 || q.T == 1 || q.U == 0 || q.U == 1 }

// snapped returns the meeting at (t, u), moved to ends within tolerance, and
// otherwise sharpened by Newton's method.
func (m meetingPair) snapped(t, u float64) Meeting {
	p, q := m.a.At(t), m.b.At(u)
	te, ae := snapEnd(m.a, t, p, q, m.tol)
	ue, be := snapEnd(m.b, u, q, p, m.tol)
	switch {
	case ae && be && m.a.At(te).Near(m.b.At(ue), 2*m.tol):
		return Meeting{P: m.a.At(te), T: te, U: ue}
	case ae:
		p = m.a.At(te)
		u = m.b.nearer(u, p)
		return Meeting{P: p, T: te, U: u}
	case be:
		q = m.b.At(ue)
		t = m.a.nearer(t, q)
		return Meeting{P: q, T: t, U: ue}
	}
	t, u = m.sharpened(t, u)
	return Meeting{P: m.a.At(t), T: t, U: u}
}

// nearer returns the parameter after Newton steps from t towards the foot of the
// perpendicular from q, as long as they bring the curve nearer to q. Unlike Nearest
// it stays on the same pass where a curve comes by twice.
func (s Segment) nearer(t float64, q Point) float64 {
	gap := s.At(t).Dist(q)
	for range 4 {
		d := s.Deriv(t)
		u := t + q.Sub(s.At(t)).Dot(d)/d.Dot(d)
		if !(u >= 0 && u <= 1) {
			break
		}
		g := s.At(u).Dist(q)
		if !(g < gap) {
			break
		}
		t, gap = u, g
	}
	return t
}

// snapEnd returns the end of s that p, at parameter t, or q lies at.
func snapEnd(s Segment, t float64, p, q Point, tol float64) (float64, bool) {
	start, end := min(p.Dist(s.P0), q.Dist(s.P0)), min(p.Dist(s.P3), q.Dist(s.P3))
	switch {
	case t == 0 || start <= tol && start <= end && nearAlong(s, 0, t, mergeReach*tol):
		return 0, true
	case t == 1 || end <= tol && nearAlong(s, t, 1, mergeReach*tol):
		return 1, true
	}
	return t, false
}

// sharpened returns t and u after Newton steps on A(t) = B(u), as long as they
// bring the curves nearer.
func (m meetingPair) sharpened(t, u float64) (float64, float64) {
	gap := m.a.At(t).Sub(m.b.At(u))
	for range 4 {
		da, db := m.a.Deriv(t), m.b.Deriv(u)
		det := da.Cross(db)
		dt, du := -gap.Cross(db)/det, -gap.Cross(da)/det
		t1, u1 := t+dt, u+du
		if !(t1 > 0 && t1 < 1 && u1 > 0 && u1 < 1) {
			break
		}
		g := m.a.At(t1).Sub(m.b.At(u1))
		if !(g.Dot(g) < gap.Dot(gap)) {
			break
		}
		t, u, gap = t1, u1, g
	}
	return t, u
}

// closest returns where in a contact the curves are nearest to each other: at the
// crossing of a flat contact, at the point of tangency of a touching one.
func (m meetingPair) closest(c contact) (t, u float64) {
	dist := func(t float64) float64 {
		_, d := m.b.Nearest(m.a.At(t))
		return d
	}
	lo, hi := c.t0, c.t1
	for range 40 {
		third := (hi - lo) / 3
		if dist(lo+third) <= dist(hi-third) {
			hi -= third
		} else {
			lo += third
		}
	}
	t = 0.5 * (lo + hi)
	u, _ = m.b.Nearest(m.a.At(t))
	return t, u
}

const (
	// flatAngle is the sine of the angle above which two curves surely change
	// sides where they meet.
	flatAngle = 1e-3
	// cuspSpeed is the share of a segment's size below which its derivative
	// may be that of a cusp, where it has no say in that.
	cuspSpeed = 1e-5
)

// kind returns whether the curves cross at the meeting; clean says that it is a
// point, not a stretch within tolerance.
func (m meetingPair) kind(q Meeting, clean bool) MeetingKind {
	if q.atEnd() {
		return Touches
	}
	da, db := m.a.Deriv(q.T), m.b.Deriv(q.U)
	regular := da.Len() > cuspSpeed*m.a.size() && db.Len() > cuspSpeed*m.b.size()
	if clean && regular && math.Abs(da.Unit().Cross(db.Unit())) > flatAngle {
		return Crosses
	}
	// Compare sides a little before and after, farther off as long as it
	// cannot be told.
	reach := math.Min(q.T, 1-q.T)
	for step := 1e-6; step < 1; step *= 4 {
		before, ok0 := m.side(q.T - step*reach)
		after, ok1 := m.side(q.T + step*reach)
		if ok0 && ok1 {
			if before != after {
				return Crosses
			}
			return Touches
		}
	}
	return Touches
}

// side reports whether the first curve at t lies left of the second, if it is
// clear of it.
func (m meetingPair) side(t float64) (left, ok bool) {
	p := m.a.At(t)
	u, d := m.b.Nearest(p)
	if d <= 2*m.tol {
		return false, false
	}
	return m.b.Tangent(u).Cross(p.Sub(m.b.At(u))) > 0, true
}

// add appends the meeting unless it is there already.
func (m meetingPair) add(ms []Meeting, q Meeting) []Meeting {
	for _, o := range ms {
		if o.Kind == Overlaps || q.Kind == Overlaps {
			continue
		}
		if m.beside(o.T, o.U, q.T, q.U) {
			return ms
		}
	}
	return append(ms, q)
}

// SelfIntersection returns the two parameters t < u in 0 to 1 at which a cubic
// runs through one point twice, if it does so; a cubic has at most one loop. A
// cusp is not a self-intersection, and neither are handles on one line, which
// make the segment run back over itself: see Folded.
//
// B(t) = B(u) divided by t - u is linear in t + u and in t u.
func (s Segment) SelfIntersection() (t, u float64, ok bool) {
	if s.Straight || !s.meetable() {
		return 0, 0, false
	}
	_, c1, c2, c3 := s.power(s.P0)
	den := c2.Cross(c3)
	size := s.size()
	if math.Abs(den) <= 1e-14*size*size || c3 == (Point{}) {
		return 0, 0, false
	}
	sum := -c1.Cross(c3) / den
	rest := c1.Add(c2.Mul(sum)).Dot(c3) / c3.Dot(c3) // t u - (t + u)²
	r, n := quadraticRoots(1, -sum, rest+sum*sum)
	// Far more than tolerance moves a parameter beyond an end.
	const beyond = 1e-6
	if n != 2 || r[0] < -beyond || r[1] > 1+beyond {
		return 0, 0, false
	}
	return s.loop(math.Max(r[0], 0), math.Min(r[1], 1))
}

// loop moves the parameters of a loop to ends within tolerance and refuses what
// is none: a gap that was not there before, or a loop as short as tolerance.
func (s Segment) loop(t, u float64) (float64, float64, bool) {
	tol := meetTol(s, s)
	if !(t < u) || !s.At(t).Near(s.At(u), tol) || s.lengthBetween(t, u) <= mergeReach*tol {
		return 0, 0, false
	}
	if s.At(t).Near(s.P0, tol) && s.lengthBetween(0, t) <= mergeReach*tol {
		t = 0
	}
	if s.At(u).Near(s.P3, tol) && s.lengthBetween(u, 1) <= mergeReach*tol {
		u = 1
	}
	return t, u, true
}

// Folded returns the parameter at which the segment turns back on its own track,
// if it does: all control points lie on one line within 1e-6 mm and the
// direction reverses.
func (s Segment) Folded() (t float64, ok bool) {
	if s.Straight || !s.meetable() {
		return 0, false
	}
	tol := meetTol(s, s)
	far := s.P3
	for _, q := range [2]Point{s.P1, s.P2} {
		if q.Dist(s.P0) > far.Dist(s.P0) {
			far = q
		}
	}
	e := far.Sub(s.P0).Unit()
	for _, q := range [3]Point{s.P1, s.P2, s.P3} {
		if math.Abs(e.Cross(q.Sub(s.P0))) > tol {
			return 0, false
		}
	}
	along := func(q Point) Point { return Point{q.Sub(s.P0).Dot(e), 0} }
	line := Cubic(Point{}, along(s.P1), along(s.P2), along(s.P3))
	return line.fold(mergeReach * tol)
}

// fold returns the first turn of a segment on the x axis that leads back by more
// than reach.
func (s Segment) fold(reach float64) (t float64, ok bool) {
	ts, n := s.turns(true)
	from := 0.0
	for i, t := range ts[:n] {
		to := 1.0
		if i+1 < n {
			to = ts[i+1]
		}
		there, back := s.At(t).X-s.At(from).X, s.At(to).X-s.At(t).X
		if there*back < 0 && math.Min(math.Abs(there), math.Abs(back)) > reach {
			return t, true
		}
		from = t
	}
	return 0, false
}

package geom

import (
	"math"
	"sort"
)

// PathMeeting is what two paths, or two parts of one, have in common: the point
// P at place A of the first and B of the second. Where they overlap, the stretch
// goes on to A2 and B2; otherwise A2 = A and B2 = B. A node that both segments
// share is named as the start of the later segment, except at the end of an open
// path.
type PathMeeting struct {
	P            Point
	A, B, A2, B2 Place
	Kind         MeetingKind
}

// Intersections returns what p and q have in common, in the order of p, by the
// rules of Segment.Intersections. At a node it is the paths that cross or touch:
// q crosses p if it comes in on one side and leaves on the other. A meeting at a
// loose end of either path touches. Overlaps are reported segment by segment.
func (p Path) Intersections(q Path) []PathMeeting {
	m := pathMeeter{p: p, q: q, ps: p.traced(), qs: q.traced()}
	all := append(append([]traced{}, m.ps...), m.qs...)
	sweepPairs(all, func(i, j int) {
		i, j = min(i, j), max(i, j)
		if i < len(m.ps) && j >= len(m.ps) {
			m.meet(&m.ps[i], &m.qs[j-len(m.ps)], nil)
		}
	})
	return m.result()
}

// SelfIntersections returns where the path meets itself, in the order of the
// first visit: A lies before B. That neighbours share their node is no meeting,
// nor is it that a closed path's end is its start. A segment with a loop crosses
// itself; one whose handles make it run back over itself overlaps itself and is
// reported with A = B at the turn.
func (p Path) SelfIntersections() []PathMeeting {
	m := pathMeeter{p: p, q: p, ps: p.traced()}
	m.qs = m.ps
	for i := range m.ps {
		m.meetSelf(&m.ps[i])
	}
	sweepPairs(m.ps, func(i, j int) {
		i, j = min(i, j), max(i, j)
		m.meetParts(i, j)
	})
	return m.result()
}

// traced is a segment of a path, cut into arcs.
type traced struct {
	s    Segment
	seg  int
	box  Rect
	arcs []arc
}

// traced returns the segments that are more than a point, cut into arcs.
func (p Path) traced() []traced {
	out := make([]traced, 0, len(p))
	arcs := make([]arc, 0, 4*len(p))
	for i, s := range p {
		if !s.meetable() || s.size() <= meetTolerance {
			continue
		}
		from := len(arcs)
		arcs = s.appendArcs(arcs)
		out = append(out, traced{s, i, s.HandleBounds(), arcs[from:len(arcs):len(arcs)]})
	}
	return out
}

// sweepPairs calls visit for all pairs whose boxes come within tolerance, by a
// sweep along x.
func sweepPairs(all []traced, visit func(i, j int)) {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return all[order[a]].box.Min.X < all[order[b]].box.Min.X })
	for a, i := range order {
		box := all[i].box
		box = box.Grow(max(meetTolerance, 1e-13*max(box.Min.reach(), box.Max.reach())))
		for _, j := range order[a+1:] {
			if all[j].box.Min.X > box.Max.X {
				break
			}
			if box.Overlaps(all[j].box) {
				visit(i, j)
			}
		}
	}
}

// pathMeeter gathers the meetings of the paths p and q.
type pathMeeter struct {
	p, q   Path
	ps, qs []traced
	found  []PathMeeting
}

// meet adds the meetings of two segments, but for those that skip names.
func (m *pathMeeter) meet(a, b *traced, skip func(Meeting) bool) {
	for _, q := range meetings(a.s, b.s, a.arcs, b.arcs, meetTol(a.s, b.s)) {
		if skip != nil && skip(q) {
			continue
		}
		m.found = append(m.found, PathMeeting{
			P: q.P, Kind: q.Kind,
			A: m.p.canonical(Place{a.seg, q.T}), B: m.q.canonical(Place{b.seg, q.U}),
			A2: m.p.canonical(Place{a.seg, q.T2}), B2: m.q.canonical(Place{b.seg, q.U2}),
		})
	}
}

// canonical names a node as the start of the segment after it, past segments that
// are a point.
func (p Path) canonical(at Place) Place {
	for range p {
		if at.T != 1 && !(at.T == 0 && p[at.Seg].size() <= meetTolerance) {
			return at
		}
		next := at.Seg + 1
		if next == len(p) {
			if !p.Closed() {
				return Place{at.Seg, 1}
			}
			next = 0
		}
		at = Place{next, 0}
	}
	return at
}

// meetSelf adds where one segment meets itself.
func (m *pathMeeter) meetSelf(a *traced) {
	if t, ok := a.s.Folded(); ok {
		at := Place{a.seg, t}
		m.found = append(m.found, PathMeeting{P: a.s.At(t), A: at, B: at, A2: at, B2: at, Kind: Overlaps})
		return
	}
	t, u, ok := a.s.SelfIntersection()
	if !ok || t == 0 && u == 1 && len(m.ps) == 1 && m.p.Closed() {
		return
	}
	x, y := m.p.canonical(Place{a.seg, t}), m.p.canonical(Place{a.seg, u})
	kind := Crosses
	if t == 0 || u == 1 {
		kind = Touches // unless the path goes on there; result decides
	}
	m.found = append(m.found, PathMeeting{P: a.s.At(t), A: x, B: y, A2: x, B2: y, Kind: kind})
}

// meetParts adds the meetings of parts i < j of one path, without the nodes that
// they share.
func (m *pathMeeter) meetParts(i, j int) {
	a, b := &m.ps[i], &m.ps[j]
	after := j == i+1
	before := i == 0 && j == len(m.ps)-1 && m.p.Closed()
	if !after && !before {
		m.meet(a, b, nil)
		return
	}
	if after && !before && goOn(a.s, b.s) || before && !after && goOn(b.s, a.s) {
		return
	}
	m.meet(a, b, func(q Meeting) bool {
		return q.Kind != Overlaps && (after && staysNear(a.s, b.s, q.T, 1, q.U, 0) || before && staysNear(a.s, b.s, q.T, 0, q.U, 1))
	})
}

// goOn reports whether all sides of both control polygons point into one half
// plane, so that b, which starts where a ends, cannot come back to it.
func goOn(a, b Segment) bool {
	e := b.P3.Sub(a.P0)
	for _, v := range [6]Point{
		a.P1.Sub(a.P0), a.P2.Sub(a.P1), a.P3.Sub(a.P2),
		b.P1.Sub(b.P0), b.P2.Sub(b.P1), b.P3.Sub(b.P2),
	} {
		if v != (Point{}) && v.Dot(e) <= 0 {
			return false
		}
	}
	return true
}

// staysNear reports whether the curves are within tolerance of each other all the
// way from their meeting at (t, u) to the node that they share at (t1, u1): so
// that the meeting is part of the node.
func staysNear(a, b Segment, t, t1, u, u1 float64) bool {
	tol := 2 * meetTol(a, b)
	const samples = 8
	for i := range samples {
		k := float64(i) / samples
		p := a.At(t + (t1-t)*k)
		if _, d := b.Between(u, u1).Nearest(p); d > tol {
			return false
		}
	}
	return true
}

// result returns the meetings, each once, in order, with the kinds at nodes.
func (m *pathMeeter) result() []PathMeeting {
	self := len(m.p) > 0 && len(m.q) == len(m.p) && &m.p[0] == &m.q[0]
	for i := range m.found {
		f := &m.found[i]
		if self && f.Kind != Overlaps && f.B.before(f.A) {
			f.A, f.B, f.A2, f.B2 = f.B, f.A, f.B2, f.A2
		}
		if f.Kind != Overlaps && (f.A.T == 0 || f.A.T == 1 || f.B.T == 0 || f.B.T == 1) {
			f.Kind = m.kindAtNode(*f)
		}
	}
	sort.SliceStable(m.found, func(i, j int) bool {
		x, y := m.found[i], m.found[j]
		if x.A != y.A {
			return x.A.before(y.A)
		}
		if x.B != y.B {
			return x.B.before(y.B)
		}
		return x.Kind > y.Kind // an overlap before the touch at its start
	})
	out := m.found[:0:0]
	for _, f := range m.found {
		if !m.known(out, f) {
			out = append(out, f)
		}
	}
	return out
}

// before orders places along a path.
func (a Place) before(b Place) bool { return a.Seg < b.Seg || a.Seg == b.Seg && a.T < b.T }

// known reports whether a meeting is in the list, or is the end of an overlap in
// it.
func (m *pathMeeter) known(list []PathMeeting, f PathMeeting) bool {
	for _, o := range list {
		same := m.p.beside(o.A, f.A) && m.q.beside(o.B, f.B)
		if same && (f.Kind != Overlaps || o.Kind == Overlaps && o.A2 == f.A2) {
			return true
		}
		if f.Kind != Overlaps && o.Kind == Overlaps && m.p.beside(o.A2, f.A) && m.q.beside(o.B2, f.B) {
			return true
		}
	}
	return false
}

// beside reports whether two places are within mergeReach along the path, on one
// segment or across one node.
func (p Path) beside(a, b Place) bool {
	if a == b {
		return true
	}
	if b.before(a) {
		a, b = b, a
	}
	reach := mergeReach * meetTol(p[a.Seg], p[b.Seg])
	if a.Seg == b.Seg && nearAlong(p[a.Seg], a.T, b.T, reach) {
		return true
	}
	across := func(x, y Place) bool {
		return nearAlong(p[x.Seg], x.T, 1, reach) && nearAlong(p[y.Seg], 0, y.T, reach)
	}
	return a.Seg+1 == b.Seg && across(a, b) || p.Closed() && a.Seg == 0 && b.Seg == len(p)-1 && across(b, a)
}

// kindAtNode says whether the paths cross at a meeting that is a node of one: by
// the cyclic order of the four arms that lead away from it.
func (m *pathMeeter) kindAtNode(f PathMeeting) MeetingKind {
	a, okA := m.p.around(f.A)
	b, okB := m.q.around(f.B)
	if !okA || !okB {
		return Touches
	}
	arms := [4]Segment{a[0], a[1], b[0], b[1]}
	// The directions at the node decide where they differ, else points a little
	// farther off, farther as long as it cannot be told.
	var angle [4]float64
	for i, s := range arms {
		angle[i] = s.Tangent(0).Angle()
	}
	if crosses, ok := interleaved(angle, armsDiffer); ok {
		return kindOf(crosses)
	}
	reach := min(a[0].Length(), a[1].Length(), b[0].Length(), b[1].Length())
	for _, share := range [...]float64{1e-3, 1e-2, 0.1, 0.4} {
		r := share * reach
		for i, s := range arms {
			angle[i] = s.At(s.AtLength(r)).Sub(f.P).Angle()
		}
		if crosses, ok := interleaved(angle, 4*meetTolerance/r); ok {
			return kindOf(crosses)
		}
	}
	return Touches
}

// armsDiffer is the angle in radians by which the directions at a node must differ
// to decide how paths pass there; less is within the rounding of short handles.
const armsDiffer = 1e-4

func kindOf(crosses bool) MeetingKind {
	if crosses {
		return Crosses
	}
	return Touches
}

// interleaved reports whether exactly one of the angles 2 and 3 lies in the turn
// from angle 0 to angle 1; not ok if one is within tol of those.
func interleaved(angle [4]float64, tol float64) (crosses, ok bool) {
	out := turnFrom(angle[0], angle[1])
	var in [2]bool
	for i := range in {
		v := turnFrom(angle[0], angle[2+i])
		if min(v, 2*math.Pi-v, math.Abs(v-out)) <= tol {
			return false, false
		}
		in[i] = v < out
	}
	return in[0] != in[1], true
}

// turnFrom returns the angle from base to angle in [0, 2π).
func turnFrom(base, angle float64) float64 { return positiveMod(angle-base, 2*math.Pi) }

// around returns the stretches of the path that lead away from the place, back
// and on, each within one segment; false at a loose end.
func (p Path) around(at Place) (arms [2]Segment, ok bool) {
	s := p[at.Seg]
	if at.T > 0 && at.T < 1 {
		back, on := s.Split(at.T)
		return [2]Segment{back.Reverse(), on}, true
	}
	prev, next := at.Seg-1, at.Seg
	if at.T == 1 {
		prev, next = at.Seg, at.Seg+1
	}
	n := len(p)
	for range p {
		if prev < 0 && p.Closed() {
			prev = n - 1
		}
		if prev < 0 || p[prev].size() > meetTolerance {
			break
		}
		prev--
	}
	if prev < 0 || next >= n {
		return arms, false
	}
	return [2]Segment{p[prev].Reverse(), p[next]}, true
}

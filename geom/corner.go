package geom

import (
	"math"
	"slices"
)

// smoothGap is the distance in mm between the ends of two parallel curves up to
// which they are drawn together instead of joined: it costs a tenth of
// ParallelTolerance and keeps joins too small to see out of the cut line.
const smoothGap = 0.002

// sameDirection is the sine of the angle under which two directions count as
// parallel, so that their lines have no useful intersection.
const sameDirection = 1e-9

// meet joins the parallel curves of neighbouring segments.
func (ws *allowanceWork) meet() {
	ws.joins = slices.Grow(ws.joins[:0], len(ws.stitch))
	n := len(ws.stitch)
	for i := range ws.stitch {
		j := corner{ws: ws, a: &ws.stitch[(i+n-1)%n], b: &ws.stitch[i]}
		j.b.join0 = len(ws.joins)
		j.join()
		j.b.join1 = len(ws.joins)
	}
}

// corner is the place where segment b follows segment a.
type corner struct {
	ws   *allowanceWork
	a, b *stitchSegment
}

// vertex returns the corner of the stitching line.
func (c *corner) vertex() Point { return c.b.src.P0 }

func (c *corner) join() {
	a, b := c.a, c.b
	back := a.back1 || b.back0
	if !back && a.p1.Dist(b.p0) <= smoothGap {
		c.drawTogether()
		return
	}
	if back {
		c.joinBackward()
		return
	}
	if b.corner != InnerCorner && b.rule != Mitre && c.outward() {
		if c.byRule() {
			return
		}
	}
	c.mitre()
}

// outward reports whether the outline turns left here with room outside.
func (c *corner) outward() bool {
	return c.a.w1 >= 0 && c.b.w0 >= 0 && c.a.t1.Cross(c.b.t0) > sameDirection
}

// drawTogether moves the two ends to their middle.
func (c *corner) drawTogether() {
	last, first := c.lastPiece(), c.firstPiece()
	m := last.seg.P3.Lerp(first.seg.P0, 0.5)
	if c.a.w1 == 0 && c.b.w0 == 0 {
		m = c.vertex()
	}
	last.seg = last.seg.withEnd(m)
	first.seg = first.seg.withStart(m)
	c.a.p1, c.b.p0 = m, m
}

func (c *corner) lastPiece() *loopPiece  { return &c.ws.pieces[c.a.last-1] }
func (c *corner) firstPiece() *loopPiece { return &c.ws.pieces[c.b.first] }

// joinBackward joins where a parallel ends on its centres of curvature: along
// the normal to its true end, and from there as ever.
func (c *corner) joinBackward() {
	if c.a.p1.Dist(c.b.p0) <= smoothGap && c.closeFold() {
		return
	}
	from, to := c.lastPiece().seg.P3, c.firstPiece().seg.P0
	x := c.crossTangents()
	if !x.ok || x.a <= 0 || x.b <= 0 {
		c.lines(from, c.vertex(), to)
		return
	}
	tip, tip2 := c.tips(x)
	c.lines(from, c.a.p1, tip, tip2, c.b.p0, to)
}

// closeFold draws a fold over a smooth corner smooth if it is too narrow to see.
func (c *corner) closeFold() bool {
	last, first := c.a.last-1, c.b.first
	for last >= c.a.first && c.ws.pieces[last].hidden {
		last--
	}
	for first < c.b.last && c.ws.pieces[first].hidden {
		first++
	}
	if last < c.a.first || first >= c.b.last || last == first || !c.ws.narrowFold(last, first) {
		return false
	}
	c.a.last, c.b.first = last+1, first
	m := c.ws.drawTogether(last, first)
	c.a.p1, c.b.p0 = m, m
	return true
}

// lines adds straight joins along the points. The first half belongs to edge a,
// the rest to edge b.
func (c *corner) lines(pts ...Point) {
	half := (len(pts) - 1) / 2
	c.linesOf(c.a.edge, pts[:half+1]...)
	c.linesOf(c.b.edge, pts[half:]...)
}

// linesOf adds straight joins that belong to one edge; those of no length are
// left out.
func (c *corner) linesOf(edge int, pts ...Point) {
	for i := 1; i < len(pts); i++ {
		if pts[i] != pts[i-1] {
			c.add(Line(pts[i-1], pts[i]), edge)
		}
	}
}

func (c *corner) add(s Segment, edge int) {
	c.ws.joins = push(c.ws.joins, loopPiece{s, int32(edge), int32(c.b.corner), false})
}

// crossing of the two end tangents: they meet at p, which lies a mm past the end
// of a's parallel and b mm before the start of b's (negative: inside them).
type crossing struct {
	p    Point
	a, b float64
	ok   bool
}

func (c *corner) crossTangents() crossing {
	cr := c.a.d1.Cross(c.b.d0)
	if math.Abs(cr) < sameDirection {
		return crossing{}
	}
	v := c.b.p0.Sub(c.a.p1)
	x := crossing{a: v.Cross(c.b.d0) / cr, b: c.a.d1.Cross(v) / cr, ok: true}
	x.p = c.a.p1.Add(c.a.d1.Mul(x.a))
	return x
}

// reach returns the greatest distance from the corner that a mitre may have.
func (c *corner) reach() float64 { return MitreLimit * c.wider() }

func (c *corner) wider() float64 { return math.Max(math.Abs(c.a.w1), math.Abs(c.b.w0)) }

// mitre joins the two parallels along their tangents.
func (c *corner) mitre() {
	x := c.crossTangents()
	far := !x.ok || x.p.Dist(c.vertex()) > c.reach()
	sharp := c.a.d1.Dot(c.b.d0) < 0
	switch {
	case x.ok && x.a <= smoothGap/2 && x.b <= smoothGap/2:
		if !c.trimBoth(x) {
			c.throughVertex()
		}
	case far && !sharp:
		c.step()
	case !x.ok || x.a >= -smoothGap/2 && x.b >= -smoothGap/2:
		tip, tip2 := c.tips(x)
		c.extendA(tip)
		c.extendB(tip2)
		c.lines(c.a.p1, tip, tip2, c.b.p0)
	case x.a > 0:
		c.trimB(x)
	default:
		c.trimA(x)
	}
}

// tips returns the point of the mitre twice, or the two ends of the bevel that
// cuts it off.
func (c *corner) tips(x crossing) (Point, Point) {
	v := c.vertex()
	if x.ok && x.p.Dist(v) <= c.reach() {
		return x.p, x.p
	}
	// The bevel stands square to the line from the corner to the point.
	u := c.a.d1
	if x.ok {
		u = x.p.Sub(v).Unit()
	} else {
		x.a, x.b = math.Inf(1), math.Inf(1)
	}
	r := c.wider()
	da, db := c.a.d1.Dot(u), -c.b.d0.Dot(u)
	if da <= 0 || db <= 0 {
		return c.a.p1, c.b.p0
	}
	la := (r - c.a.p1.Sub(v).Dot(u)) / da
	lb := (r - c.b.p0.Sub(v).Dot(u)) / db
	la = math.Max(0, math.Min(la, x.a))
	lb = math.Max(0, math.Min(lb, x.b))
	return c.a.p1.Add(c.a.d1.Mul(la)), c.b.p0.Sub(c.b.d0.Mul(lb))
}

// throughVertex joins where the parallels overlap: over the corner itself, which
// lets the winding number tell what is left of both.
func (c *corner) throughVertex() { c.lines(c.a.p1, c.vertex(), c.b.p0) }

// overlapShare is the largest share of the curve beside a corner that is trimmed
// off there directly.
const overlapShare = 0.4

// trimBoth ends both parallels where they cross, if that lies well within the
// curves beside the corner. Their strips then overlap between the corner and the
// crossing only, and taking that overlap once instead of twice changes nothing
// else; false if the corner is not as simple as that.
func (c *corner) trimBoth(x crossing) bool {
	last, first := c.lastPiece(), c.firstPiece()
	if last == first || last.hidden || first.hidden || c.a.w1*c.b.w0 <= 0 || c.a.t1.Dot(c.b.t0) < -0.5 {
		return false
	}
	ta := 1 + x.a/last.seg.P0.Dist(last.seg.P3)
	tb := -x.b / first.seg.P0.Dist(first.seg.P3)
	if !(ta > 0.5 && tb < 0.5) {
		return false
	}
	ta, tb, ok := solveCrossing(last.seg, first.seg, ta, tb)
	if !ok || ta < 1-overlapShare || ta > 1 || tb > overlapShare || tb < 0 {
		return false
	}
	p := last.seg.At(ta).Lerp(first.seg.At(tb), 0.5)
	c.a.to, c.a.cutTo = pieceHit{c.a.last - 1, ta, p}, true
	c.b.from, c.b.cutFrom = pieceHit{c.b.first, tb, p}, true
	c.a.p1, c.b.p0 = p, p
	return true
}

// step goes across from one width to another.
func (c *corner) step() {
	turn := c.a.t1.Cross(c.b.t0) * (c.a.w1 + c.b.w0)
	if turn >= 0 || math.Abs(c.a.t1.Cross(c.b.t0)) < 1e-6 {
		c.lines(c.a.p1, c.b.p0)
		return
	}
	c.throughVertex()
}

// extendA runs a's parallel on to p, which lies on its end tangent. A straight
// parallel just becomes longer; a curved one is left for a join.
func (c *corner) extendA(p Point) {
	if last := c.lastPiece(); last.seg.Straight && !last.hidden {
		c.a.to, c.a.cutTo = last.hitAt(c.a.last-1, p), true
		c.a.p1 = p
	}
}

// extendB runs b's parallel back to p, which lies on its start tangent.
func (c *corner) extendB(p Point) {
	if first := c.firstPiece(); first.seg.Straight && !first.hidden {
		c.b.from, c.b.cutFrom = first.hitAt(c.b.first, p), true
		c.b.p0 = p
	}
}

// hitAt returns the place of p on the line of a straight piece, which may lie
// before its start or past its end.
func (l *loopPiece) hitAt(piece int, p Point) pieceHit {
	v := l.seg.P3.Sub(l.seg.P0)
	return pieceHit{piece, p.Sub(l.seg.P0).Dot(v) / v.Dot(v), p}
}

// trimB runs a's parallel on along its tangent until it meets b's, and starts b
// there. If b is too short for that, it steps across at the corner.
func (c *corner) trimB(x crossing) {
	ray := Line(c.a.p1, c.a.p1.Add(c.a.d1.Mul(2*x.a+c.wider())))
	hit, ok := c.ws.firstHit(c.b, ray)
	if !ok {
		c.step()
		return
	}
	c.startAt(hit)
	c.extendA(hit.p)
	c.linesOf(c.a.edge, c.a.p1, c.b.p0)
}

// trimA is trimB with the parts exchanged.
func (c *corner) trimA(x crossing) {
	ray := Line(c.b.p0, c.b.p0.Sub(c.b.d0.Mul(2*x.b+c.wider())))
	hit, ok := c.ws.lastHit(c.a, ray)
	if !ok {
		c.step()
		return
	}
	c.endAt(hit)
	c.extendB(hit.p)
	c.lines(c.a.p1, c.b.p0)
}

// startAt lets b's parallel begin at the hit. The curve itself is cut when the
// loop is made, for the hit at its other end may lie before this one.
func (c *corner) startAt(h pieceHit) {
	c.b.from, c.b.cutFrom = h, true
	c.b.p0, c.b.d0 = h.p, c.ws.pieces[h.piece].seg.Tangent(clamp01(h.t))
}

// endAt lets a's parallel end at the hit.
func (c *corner) endAt(h pieceHit) {
	c.a.to, c.a.cutTo = h, true
	c.a.p1, c.a.d1 = h.p, c.ws.pieces[h.piece].seg.Tangent(clamp01(h.t))
}

// pieceHit is a point on piece number piece at parameter t, which on a straight
// piece may lie outside 0 to 1.
type pieceHit struct {
	piece int
	t     float64
	p     Point
}

// firstHit returns where the pieces of s first meet the straight ray.
func (ws *allowanceWork) firstHit(s *stitchSegment, ray Segment) (pieceHit, bool) {
	for i := s.first; i < s.last; i++ {
		if ws.pieces[i].hidden {
			continue
		}
		if ts := meetLine(ws.pieces[i].seg, ray); len(ts) > 0 {
			return pieceHit{i, ts[0], ws.pieces[i].seg.At(ts[0])}, true
		}
	}
	return pieceHit{}, false
}

// lastHit returns where the pieces of s last meet the straight ray.
func (ws *allowanceWork) lastHit(s *stitchSegment, ray Segment) (pieceHit, bool) {
	for i := s.last - 1; i >= s.first; i-- {
		if ws.pieces[i].hidden {
			continue
		}
		if ts := meetLine(ws.pieces[i].seg, ray); len(ts) > 0 {
			t := ts[len(ts)-1]
			return pieceHit{i, t, ws.pieces[i].seg.At(t)}, true
		}
	}
	return pieceHit{}, false
}

// meetSlack is how far, in mm, a curve may stop short of a line that still
// counts as met: rounding, far below any tolerance that is seen.
const meetSlack = 1e-7

// meetLine returns the parameters on s, ascending, where it meets the straight
// segment l.
func meetLine(s, l Segment) []float64 {
	v := l.P3.Sub(l.P0)
	n := v.Len()
	if n == 0 {
		return nil
	}
	v = v.Mul(1 / n)
	var ts []float64
	keep := func(t float64) {
		if along := v.Dot(s.At(t).Sub(l.P0)); along >= -meetSlack && along <= n+meetSlack {
			ts = append(ts, t)
		}
	}
	if s.Straight {
		d0, d1 := v.Cross(s.P0.Sub(l.P0)), v.Cross(s.P3.Sub(l.P0))
		switch {
		case math.Abs(d0) <= meetSlack:
			keep(0)
		case math.Abs(d1) <= meetSlack:
			keep(1)
		case (d0 < 0) != (d1 < 0):
			keep(d0 / (d0 - d1))
		}
		return ts
	}
	c0, c1, c2, c3 := s.power(l.P0)
	p := poly{deg: 3}
	for i, c := range [...]Point{c0, c1, c2, c3} {
		p.c[i] = v.Cross(c)
	}
	r := p.roots(1, meetSlack)
	for _, t := range r.t[:r.n] {
		keep(t)
	}
	return ts
}

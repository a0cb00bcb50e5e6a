package follow

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// walker makes lines of the branches of a drawing.
type walker struct {
	f           *scan.Field
	d           *drawing
	step, level float64
	all         []tip // the loose ends, once asked for
}

const (
	// jointCut is the way from a crossing, in pens, on which another stroke disturbs the
	// edges of this one whatever their distance.
	jointCut = 1.0
	// endCut is the way from a loose end, in pens, on which its cap does.
	endCut = 0.6
	// mostCut is the most that is left out beside a joint, in pens.
	mostCut = 12.0
	// fullRun is how many places in a row must be as wide as the pen to trust them again.
	fullRun = 3
	// tailPens and leastTail are the way, in pens and in points, over which the direction of
	// a line at a joint is taken.
	tailPens, leastTail = 3.0, 6
	// bendMost is the largest angle in radians between a line and the way across a gap over
	// which it goes on smoothly: 15 degrees.
	bendMost = math.Pi / 12
	// sideShare is the share of the pen by which an edge may be nearer or farther than half
	// a pen from where the line is expected, and still be its edge.
	sideShare = 0.15
	// meetReach is how far beyond a gap, in pens and in widths of the gap, two lines may meet
	// at a corner.
	meetReach = 1.5
)

// along returns the places along half branch h from its node on.
func (w *walker) along(h int) []stroke {
	pts := append([]stroke(nil), w.d.branches[h/2].pts...)
	if h%2 == 1 {
		for i, j := 0, len(pts)-1; i <= j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j].turned(), pts[i].turned()
		}
	}
	return pts
}

// turned returns the same place seen along the line the other way round.
func (s stroke) turned() stroke {
	s.left, s.right = s.right, s.left
	return s
}

// cut leaves out the places at the start of pts that a joint or an end disturbs: those
// within a way of least px, and all until the stroke is as wide as the pen again.
func (w *walker) cut(pts []stroke, pen, least float64) []stroke {
	run := 0
	for i := range pts {
		gone := float64(i) * w.step
		if gone > mostCut*pen {
			break
		}
		if gone < least || !pts[i].full(pen) {
			run = 0
			continue
		}
		if run++; run == fullRun {
			return pts[i+1-fullRun:]
		}
	}
	return pts[min(len(pts), int(math.Ceil(least/w.step))):]
}

// cutBack is cut from the end of pts.
func (w *walker) cutBack(pts []stroke, pen, least float64) []stroke {
	back := make([]stroke, len(pts))
	for i, s := range pts {
		back[len(pts)-1-i] = s
	}
	return pts[:len(w.cut(back, pen, least))]
}

// leastCut returns what is left out in any case beside node n, in px.
func (w *walker) leastCut(n int, pen float64) float64 {
	switch d := w.d.degree(n); {
	case d >= 3:
		return jointCut * pen
	case d == 1:
		return endCut * pen
	}
	return 0
}

// piece returns the trustworthy places of half branch h.
func (w *walker) piece(h int) []stroke {
	pen := w.d.pen(h)
	pts := w.cut(w.along(h), pen, w.leastCut(w.d.nodeOf(h), pen))
	return w.cutBack(pts, pen, w.leastCut(w.d.nodeOf(h^1), pen))
}

// line joins half branches, one going on from the other, to a line.
func (w *walker) line(halves []int, closed bool) Line {
	pen := w.d.pen(halves[0])
	var parts [][]stroke
	for _, h := range halves {
		parts = append(parts, w.parts(w.piece(h), w.d.pen(h))...)
	}
	return w.finish(w.joined(parts, closed, pen), closed, pen)
}

// loop returns the line of a branch that is a loop of its own.
func (w *walker) loop(k int) Line {
	pts, pen := w.d.branches[k].pts, w.d.pens[w.d.branches[k].patch]
	// It starts where the stroke is plain, so that no corner is parted.
	for i := range pts {
		if pts[i].full(pen) {
			pts = append(append([]stroke(nil), pts[i:]...), pts[:i]...)
			break
		}
	}
	return w.finish(w.joined(w.parts(pts, pen), true, pen), true, pen)
}

const (
	// besideOdd is how many places beside one that is not as wide as the pen are left out
	// with it: they begin to feel the same corner or speck.
	besideOdd = 2
	// leastPart is the number of places of the shortest stretch of a stroke that is trusted.
	leastPart = 4
)

// parts parts a stroke where it is not as wide as the pen, over at most mostCut pens: at
// corners, where the way across is none, and where a speck touches it. Longer odd
// stretches are as they are: the pen was held differently.
func (w *walker) parts(pts []stroke, pen float64) [][]stroke {
	var out [][]stroke
	start := 0
	for i := 0; i < len(pts); i++ {
		if pts[i].full(pen) {
			continue
		}
		odd := i
		for i < len(pts) && !pts[i].full(pen) {
			i++
		}
		if float64(i-odd)*w.step > mostCut*pen {
			continue
		}
		if to := odd - besideOdd; to-start >= leastPart {
			out = append(out, pts[start:to])
		}
		start = i + besideOdd
	}
	if start < len(pts) && (len(pts)-start >= leastPart || len(out) == 0) {
		out = append(out, pts[start:])
	}
	if len(out) == 0 && len(pts) > 0 {
		out = append(out, pts)
	}
	return out
}

// joined puts the parts of a line together, with what lies between them.
func (w *walker) joined(parts [][]stroke, closed bool, pen float64) []stroke {
	var all []stroke
	for i, p := range parts {
		all = append(all, p...)
		switch {
		case i+1 < len(parts):
			all = append(all, w.fill(p, parts[i+1], pen)...)
		case closed:
			all = append(all, w.fill(p, parts[0], pen)...)
		}
	}
	return all
}

// finish makes a line of the places along it.
func (w *walker) finish(all []stroke, closed bool, pen float64) Line {
	pts := make([]geom.Point, 0, len(all))
	for _, s := range all {
		pts = append(pts, s.at)
	}
	pts = onward(pts, closed)
	l := Line{Pts: pts, Closed: closed, Width: pen, Noise: noiseOf(pts, closed)}
	var edge []geom.Point
	every := max(1, len(all)/mostSlopes)
	for i := every; i+every < len(all); i += every {
		if s := all[i]; s.full(pen) {
			t := all[i+every].at.Sub(all[i-every].at).Unit()
			edge = append(edge, s.at.Add(t.Left().Mul(s.left)))
		}
	}
	l.Blur = blurOf(w.f, edge, false)
	return l
}

// onward leaves out points at which a line goes back on itself for less than its own step.
func onward(pts []geom.Point, closed bool) []geom.Point {
	out := pts[:0:0]
	for i, p := range pts {
		n := len(out)
		if n >= 2 && p.Sub(out[n-1]).Dot(out[n-1].Sub(out[n-2])) < 0 && p.Dist(out[n-1]) < out[n-1].Dist(out[n-2]) && i+1 < len(pts) {
			continue
		}
		if n >= 1 && p == out[n-1] {
			continue
		}
		out = append(out, p)
	}
	if n := len(out); closed && n > 1 && out[n-1] == out[0] {
		out = out[:n-1]
	}
	return out
}

// tail fits a straight line to the last places of a part, and returns its last point
// moved onto it, with the direction onward.
func (w *walker) tail(part []stroke, pen float64) (at, dir geom.Point) {
	n := min(len(part), max(leastTail, int(tailPens*pen/w.step)))
	part = part[len(part)-n:]
	last := part[n-1].at
	if n < 2 {
		return last, geom.Point{}
	}
	var mid geom.Point
	for _, s := range part {
		mid = mid.Add(s.at.Mul(1 / float64(n)))
	}
	var xx, xy, yy float64
	for _, s := range part {
		d := s.at.Sub(mid)
		xx, xy, yy = xx+d.X*d.X, xy+d.X*d.Y, yy+d.Y*d.Y
	}
	// The main axis of the points.
	a := math.Atan2(2*xy, xx-yy) / 2
	dir = geom.Pt(math.Cos(a), math.Sin(a))
	if dir.Dot(last.Sub(part[0].at)) < 0 {
		dir = dir.Mul(-1)
	}
	return mid.Add(dir.Mul(last.Sub(mid).Dot(dir))), dir
}

// head is tail of the start of a part; the direction is that of the line, into the part.
func (w *walker) head(part []stroke, pen float64) (at, dir geom.Point) {
	back := make([]stroke, len(part))
	for i, s := range part {
		back[len(part)-1-i] = s
	}
	at, dir = w.tail(back, pen)
	return at, dir.Mul(-1)
}

// fill returns what lies between two parts of a line: where it goes on smoothly, the places
// at which one edge at least shows where its middle is; at a corner, where both meet.
func (w *walker) fill(a, b []stroke, pen float64) []stroke {
	pa, ta := w.tail(a, pen)
	pb, tb := w.head(b, pen)
	gap := pb.Sub(pa)
	if ta == (geom.Point{}) || tb == (geom.Point{}) {
		return nil
	}
	if u := gap.Unit(); angle(ta, u) <= bendMost && angle(tb, u) <= bendMost {
		return w.bridged(a[len(a)-1], b[0], ta, tb, pen)
	}
	turn := ta.Cross(tb)
	if angle(ta, tb) <= bendMost {
		return nil
	}
	// pa + s ta = pb - t tb.
	s, t := gap.Cross(tb)/turn, ta.Cross(gap)/turn
	limit := meetReach * (pen + gap.Len())
	if sharp := math.Abs(turn); sharp < 1 {
		limit /= max(sharp, sharpest)
	}
	if !(s >= -pen && t >= -pen && s <= limit && t <= limit) {
		return nil
	}
	return []stroke{{at: pa.Add(ta.Mul(s)), left: math.Inf(1), right: math.Inf(1)}}
}

// angle returns the angle between two unit vectors.
func angle(a, b geom.Point) float64 { return math.Abs(math.Atan2(a.Cross(b), a.Dot(b))) }

// bridged returns the places between two at which an edge of the stroke shows its middle,
// round the smooth curve from one to the other (Hermite's cubic).
func (w *walker) bridged(a, b stroke, ta, tb geom.Point, pen float64) []stroke {
	long := a.at.Dist(b.at)
	n := int(long / w.step)
	ta, tb = ta.Mul(long), tb.Mul(long)
	var out []stroke
	half := (a.width() + b.width()) / 4
	if math.IsInf(half, 0) {
		half = pen / 2
	}
	for i := 1; i < n; i++ {
		u := float64(i) / float64(n)
		v := 1 - u
		p := a.at.Mul(v * v * (1 + 2*u)).Add(b.at.Mul(u * u * (1 + 2*v))).Add(ta.Mul(u * v * v)).Sub(tb.Mul(u * u * v))
		t := a.at.Sub(b.at).Mul(-6 * u * v).Add(ta.Mul(v * (v - 2*u))).Add(tb.Mul(u * (u - 2*v))).Unit()
		s := across(w.f, p, t, w.level, penReach*pen)
		left, right := math.Abs(s.left-half) <= sideShare*pen, math.Abs(s.right-half) <= sideShare*pen
		switch {
		case left && right:
			s = s.centred(t)
		case left:
			s.at = p.Add(t.Left().Mul(s.left - half))
		case right:
			s.at = p.Sub(t.Left().Mul(s.right - half))
		default:
			continue
		}
		out = append(out, s)
	}
	return out
}

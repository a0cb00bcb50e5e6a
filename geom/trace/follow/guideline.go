package follow

import (
	"context"
	"errors"
	"math"

	"hemlet/geom"
)

// Stop is a place that a guided line passes, in pixels.
type Stop struct {
	At     geom.Point
	Corner bool // the line may turn sharply here; else it goes smoothly through
	// Straight: the way to this stop runs straight, whatever ink there is.
	Straight bool
	// Loose: the stop stays where it is, whatever ink is near; ways to and from it run
	// straight.
	Loose bool
}

// Guided is a line along ink through stops.
type Guided struct {
	Pts     []geom.Point // in pixels; a closed line does not repeat its first point
	Closed  bool
	Stops   []int   // for each stop its index in Pts
	Corners []int   // indices in Pts that are corners, ascending
	Bare    []bool  // for each way, to the stop after the i-th: it runs straight over paper
	Width   float64 // px, of the pen; 0 along edges
}

// Errors of Line.
var (
	errFewStops  = errors.New("a line needs two stops, a closed one three or two with ink between")
	errStopPlace = errors.New("a stop has no place")
)

// Line returns the whole line through the stops in their order, back to the first one if
// closed. At a corner the line is cut short on both sides by what the turn of the stroke
// blurs, and both sides are led on until they meet. It returns the error of ctx if
// cancelled, ErrNoPicture, or says what is wrong with the stops.
func (g *Guide) Line(ctx context.Context, closed bool, stops ...Stop) (Guided, error) {
	if len(stops) < 2 {
		return Guided{}, errFewStops
	}
	for _, s := range stops {
		if !s.At.Finite() {
			return Guided{}, errStopPlace
		}
	}
	w, err := g.prepared(ctx)
	if err != nil {
		return Guided{}, err
	}
	ways, err := g.roughWays(ctx, w, closed, stops)
	if err != nil {
		return Guided{}, err
	}
	parts := g.refineWays(w, closed, stops, ways)
	for i := range parts {
		next := i + 1
		if next == len(parts) {
			if !closed {
				break
			}
			next = 0
		}
		if stops[next%len(stops)].Corner {
			g.meetAt(w, parts, ways, i, next)
		}
	}
	out := Guided{Closed: closed, Width: w.ink.pen}
	if g.mode == AlongEdges {
		out.Width = 0
	}
	out.gather(stops, parts, ways)
	if closed && len(out.Pts) < 3 {
		return Guided{}, errFewStops
	}
	return out, ctx.Err()
}

// roughWays finds the ways between stops.
func (g *Guide) roughWays(ctx context.Context, w *web, closed bool, stops []Stop) ([]roughWay, error) {
	n := len(stops) - 1
	if closed {
		n++
	}
	ways := make([]roughWay, n)
	for i := range n {
		var heading geom.Point
		if i > 0 && !stops[i].Corner && !ways[i-1].straight {
			heading = headingOf(ways[i-1].pts, headingArm*w.ink.pen)
		}
		var err error
		if ways[i], err = g.rough(ctx, w, stops[i], stops[(i+1)%len(stops)], heading); err != nil {
			return nil, err
		}
	}
	return ways, nil
}

// refineWays moves the ways onto the ink: those that go smoothly into each other together,
// so that no kink is left where one ends. The result has the points of each way.
func (g *Guide) refineWays(w *web, closed bool, stops []Stop, ways []roughWay) [][]geom.Point {
	n := len(ways)
	parts := make([][]geom.Point, n)
	goesOn := func(i int) bool { // from way i-1 into way i
		before := i - 1
		if i == 0 {
			if !closed {
				return false
			}
			before = n - 1
		}
		return !stops[i].Corner && !ways[before].straight && !ways[i].straight
	}
	first := 0
	for first < n && goesOn(first) {
		first++
	}
	if first == n {
		g.refineRing(w, stops, ways, parts)
		return parts
	}
	for done := 0; done < n; {
		i := (first + done) % n
		run := []int{i}
		for len(run)+done < n && goesOn((i+len(run))%n) {
			run = append(run, (i+len(run))%n)
		}
		done += len(run)
		if ways[i].straight {
			parts[i] = ways[i].pts
			continue
		}
		var base []geom.Point
		anchors := []geom.Point{stops[i].At}
		for _, j := range run {
			base = append(base, ways[j].pts...)
			anchors = append(anchors, stops[(j+1)%len(stops)].At)
		}
		fine := refineWay(g.field, w.ink, base, anchors)
		shareOut(fine, run, ways, parts)
	}
	return parts
}

// refineRing does so for a ring without a corner: it is run a little more than once round,
// and the overlap dropped.
func (g *Guide) refineRing(w *web, stops []Stop, ways []roughWay, parts [][]geom.Point) {
	var base []geom.Point
	run := make([]int, len(ways))
	for i := range ways {
		base = append(base, ways[i].pts...)
		run[i] = i
	}
	over := min(len(base)/4, int(ringOverlap*w.ink.pen)+20)
	long := append(append(append([]geom.Point{}, base[len(base)-over:]...), base...), base[:over]...)
	var anchors []geom.Point
	for _, s := range stops {
		anchors = append(anchors, s.At)
	}
	fine := refineWay(g.field, w.ink, long, anchors)
	start := base[0]
	i := nearestOf(fine[:min(len(fine), 3*over)], start)
	j := len(fine) - min(len(fine), 3*over)
	j += nearestOf(fine[j:], start)
	if j <= i+2 {
		i, j = 0, len(fine)-1
	}
	fine = fine[i : j+1]
	fine[len(fine)-1] = fine[0]
	shareOut(fine, run, ways, parts)
}

// ringOverlap is the overlap of a ring, in widths of the pen: beyond what smoothing
// reaches.
const ringOverlap = 6

// nearestOf returns the index of the point nearest to p.
func nearestOf(pts []geom.Point, p geom.Point) int {
	best := 0
	for i, q := range pts {
		if q.Dist(p) < pts[best].Dist(p) {
			best = i
		}
	}
	return best
}

// shareOut cuts a refined line at the stops between the ways of a run.
func shareOut(fine []geom.Point, run []int, ways []roughWay, parts [][]geom.Point) {
	total, sum := 0.0, 0.0
	for _, j := range run {
		total += lengthOf(ways[j].pts)
	}
	from := 0
	for n, j := range run {
		sum += lengthOf(ways[j].pts)
		to := len(fine) - 1
		if n+1 < len(run) {
			// The stop lies near its share of the length; the rest is settled by distance.
			at := int(float64(len(fine)-1) * sum / max(total, 1))
			reach := len(fine)/10 + 20
			lo, hi := max(from, at-reach), min(len(fine), at+reach+1)
			if lo < hi {
				to = lo + nearestOf(fine[lo:hi], ways[j].pts[len(ways[j].pts)-1])
			}
		}
		parts[j] = fine[from : to+1 : to+1]
		from = to
	}
}

// lengthOf returns the length of a line of points.
func lengthOf(pts []geom.Point) float64 {
	sum := 0.0
	for i := 1; i < len(pts); i++ {
		sum += pts[i].Dist(pts[i-1])
	}
	return sum
}

const (
	// cornerArm is the length in mm of a side that tells how it leads on to a corner.
	cornerArm = 4.0
	// cornerReach is how far a corner may lie from its stop, in mm, apart from
	// cornerWidths widths of the pen: the tip of a dart is far out.
	cornerReach, cornerWidths = 1.5, 3.0
	// leastCorner is the turn in radians below which two sides hardly meet in a point.
	leastCorner = 0.12
	// cornerGapMost bounds the part of a side that is not believed, in widths of the pen.
	cornerGapMost = 5.0
)

// meetAt leads the ends of two parts on until they meet.
func (g *Guide) meetAt(w *web, parts [][]geom.Point, ways []roughWay, i, j int) {
	a, b := parts[i], parts[j]
	stop := a[len(a)-1]
	in := reversedPoints(a)
	turn := math.Pi / 2
	var sa, sb side
	for range 2 {
		gap := min(w.ink.pen*(0.6+0.5*math.Tan(min(turn, 2.9)/2)), cornerGapMost*w.ink.pen) + 2
		sa = g.sideOf(in, ways[i].straight, gap)
		sb = g.sideOf(b, ways[j].straight, gap)
		turn = turnBetween(sa.dir.Mul(-1), sb.dir)
	}
	at, ok := meetingOf(sa, sb)
	if turn < leastCorner || !ok || at.Dist(stop) > cornerReach*g.scale+cornerWidths*w.ink.pen {
		at = stop.Lerp(b[0], 0.5)
		sa.skip, sb.skip = 1, 1
	}
	in = append([]geom.Point{at}, in[min(sa.skip, len(in)-1):]...)
	parts[i] = resampledEnd(reversedPoints(in), sa)
	parts[j] = reversedPoints(resampledEnd(reversedPoints(append([]geom.Point{at}, b[min(sb.skip, len(b)-1):]...)), sb))
}

// reversedPoints returns the points in the opposite order.
func reversedPoints(pts []geom.Point) []geom.Point {
	out := make([]geom.Point, len(pts))
	for i, p := range pts {
		out[len(pts)-1-i] = p
	}
	return out
}

// side is how a line leads away from a corner: a parabola by the distance from the first
// point that is believed.
type side struct {
	c0, c1, c2 geom.Point
	dir        geom.Point // unit, away from the corner
	skip       int        // points that are not believed
}

func (s side) at(t float64) geom.Point { return s.c0.Add(s.c1.Mul(t)).Add(s.c2.Mul(t * t)) }

// sideOf fits a side to the points that lead away from a corner.
func (g *Guide) sideOf(pts []geom.Point, straight bool, gap float64) side {
	if straight || len(pts) < 4 {
		d := pts[len(pts)-1].Sub(pts[0]).Unit()
		return side{c0: pts[0], c1: d, dir: d, skip: 1}
	}
	total := lengthOf(pts)
	gap = min(gap, total/3)
	reach := min(cornerArm*g.scale, total-2*gap)
	var ts []float64
	var ps []geom.Point
	run, skip := 0.0, 1
	for i := 1; i < len(pts); i++ {
		run += pts[i].Dist(pts[i-1])
		if run < gap {
			skip = i + 1
			continue
		}
		if run > gap+reach && len(ts) >= 3 {
			break
		}
		ts, ps = append(ts, run-gap), append(ps, pts[i])
	}
	if len(ts) < 3 {
		d := pts[len(pts)-1].Sub(pts[0]).Unit()
		return side{c0: pts[0], c1: d, dir: d, skip: 1}
	}
	c0, c1, c2 := parabola(ts, ps, reach > bendReach*g.scale/2)
	return side{c0, c1, c2, c1.Unit(), skip}
}

// meetingOf returns where two sides meet that are led on beyond their first points, or
// false where they do not.
func meetingOf(a, b side) (geom.Point, bool) {
	t, u := 0.0, 0.0
	for range 20 {
		p, q := a.at(t), b.at(u)
		dp, dq := a.c1.Add(a.c2.Mul(2*t)), b.c1.Add(b.c2.Mul(2*u))
		det := dp.Cross(dq)
		if math.Abs(det) < 1e-9 {
			return geom.Point{}, false
		}
		d := q.Sub(p)
		dt, du := d.Cross(dq)/det, d.Cross(dp)/det
		t, u = t+dt, u+du
		if math.Abs(dt)+math.Abs(du) < 1e-9 {
			break
		}
	}
	p := a.at(t)
	return p, p.Finite() && p.Dist(b.at(u)) < 1e-3
}

// resampledEnd fills the gap before the last point with points a pixel apart along its
// side.
func resampledEnd(pts []geom.Point, s side) []geom.Point {
	n := len(pts)
	if n < 2 || s.skip <= 1 {
		return pts
	}
	end, before := pts[n-1], pts[n-2]
	out := append([]geom.Point{}, pts[:n-1]...)
	steps := int(before.Dist(end))
	// The parabola does not pass the last believed point exactly: the rest is shared out.
	t1 := end.Sub(s.c0).Dot(s.dir) / max(s.c1.Len(), 1e-9)
	t0 := before.Sub(s.c0).Dot(s.dir) / max(s.c1.Len(), 1e-9)
	for i := 1; i < steps; i++ {
		v := float64(i) / float64(steps)
		on := s.at(t0 + (t1-t0)*v)
		fix := before.Sub(s.at(t0)).Mul(1 - v).Add(end.Sub(s.at(t1)).Mul(v))
		out = append(out, on.Add(fix))
	}
	return append(out, end)
}

// gather puts the parts together.
func (o *Guided) gather(stops []Stop, parts [][]geom.Point, ways []roughWay) {
	add := func(i int, p geom.Point) {
		if n := len(o.Pts); n == 0 || o.Pts[n-1] != p {
			o.Pts = append(o.Pts, p)
		}
		if i >= 0 {
			o.Stops = append(o.Stops, len(o.Pts)-1)
			if stops[i].Corner {
				o.Corners = append(o.Corners, len(o.Pts)-1)
			}
		}
	}
	for i, p := range parts {
		o.Bare = append(o.Bare, ways[i].straight)
		for j, q := range p {
			switch {
			case j == 0:
				add(i, q)
			case j < len(p)-1:
				add(-1, q)
			case i == len(parts)-1 && !o.Closed:
				add(i+1, q)
			}
		}
	}
}

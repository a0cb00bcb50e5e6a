package follow

import (
	"context"
	"math"
	"slices"
	"sync"

	"hemlet/geom"
)

// web is the graph of the lines in a picture: chains of points between knots, which are
// free ends and the places where lines meet.
type web struct {
	mu     sync.Mutex // of what is made when it is asked for
	ink    *inkMap
	chains []chain
	knots  []knot
	near   spotIndex
	arms   [][2]*arm   // of each chain, at its start and its end; nil until asked
	onward [][]passage // from the end of each directed chain; nil until asked
	ends   endIndex
}

// chain is a line of ink between two knots, or a ring with one knot.
type chain struct {
	pts   []geom.Point
	cum   []float64 // length up to each point, in pixels
	knot  [2]int32  // at its start and its end
	cost  float64   // of a pixel of its length
	gone  bool
	kinks []kink
}

func (c *chain) length() float64 { return c.cum[len(c.cum)-1] }

// kink is a corner within a chain: turning costs there as it does at a crossing.
type kink struct{ at, turn float64 }

const (
	// kinkGap and kinkArm are how many widths of the pen from a corner the directions of
	// its sides begin to be taken, and over how many.
	kinkGap, kinkArm = 0.7, 1.6
	// leastKink is the turn in radians from which on a bend is a corner.
	leastKink = 0.8
)

// findKinks sets the corners of the chain.
func (c *chain) findKinks(pen float64) {
	gap, arm := kinkGap*pen, kinkArm*pen
	last := kink{at: math.Inf(-1)}
	for s := gap + arm; s <= c.length()-gap-arm; s += pen / 4 {
		in := c.pointAt(s - gap).Sub(c.pointAt(s - gap - arm))
		out := c.pointAt(s + gap + arm).Sub(c.pointAt(s + gap))
		t := turnBetween(in, out)
		switch {
		case t < leastKink:
		case s-last.at > 2*gap+arm:
			last = kink{s, t}
			c.kinks = append(c.kinks, last)
		case t > last.turn:
			last = kink{s, t}
			c.kinks[len(c.kinks)-1] = last
		}
	}
}

// price returns the cost of running from one length along the chain to another, in pixels
// where turn is what a turn of a radian costs. Corners nearer than free to a place in the
// list cost nothing.
func (c *chain) price(from, to, turn, free float64, stops ...float64) float64 {
	cost := math.Abs(to-from) * c.cost
next:
	for _, k := range c.kinks {
		if k.at < min(from, to) || k.at > max(from, to) {
			continue
		}
		for _, s := range stops {
			if math.Abs(k.at-s) <= free {
				continue next
			}
		}
		cost += k.turn * turn
	}
	return cost
}

// knot is where chains end.
type knot struct {
	at   geom.Point
	ends []chainEnd
}

// chainEnd names the start (0) or the end (1) of a chain.
type chainEnd struct {
	chain int32
	end   int8
}

// spot is a place on a chain, by its length from the start.
type spot struct {
	chain int32
	at    float64
}

// pointAt returns the point at a length along the chain.
func (c *chain) pointAt(s float64) geom.Point {
	i, _ := slices.BinarySearch(c.cum, s)
	if i <= 0 {
		return c.pts[0]
	}
	if i >= len(c.pts) {
		return c.pts[len(c.pts)-1]
	}
	return c.pts[i-1].Lerp(c.pts[i], (s-c.cum[i-1])/(c.cum[i]-c.cum[i-1]))
}

// part returns the points from one length to another, backwards if from is larger.
func (c *chain) part(from, to float64) []geom.Point {
	lo, hi := max(0, min(from, to)), min(c.length(), max(from, to))
	out := []geom.Point{c.pointAt(lo)}
	i, _ := slices.BinarySearch(c.cum, lo)
	for ; i < len(c.pts) && c.cum[i] < hi; i++ {
		if c.cum[i] > lo {
			out = append(out, c.pts[i])
		}
	}
	if hi > lo {
		out = append(out, c.pointAt(hi))
	}
	if from > to {
		slices.Reverse(out)
	}
	return out
}

// measure sets the lengths along the chain.
func (c *chain) measure() {
	c.cum = make([]float64, len(c.pts))
	for i := 1; i < len(c.pts); i++ {
		c.cum[i] = c.cum[i-1] + c.pts[i].Dist(c.pts[i-1])
	}
}

const (
	// spurWidths is the length in widths of the pen up to which a chain with a free end
	// is a bristle of the thinning.
	spurWidths = 1.2
	// rungWidths is the length in widths of the pen up to which a chain between two knots
	// is one place with them.
	rungWidths = 1.2
	// crumb is the length in mm up to which a chain on its own is a speck.
	crumb = 0.7
	// faintCost is by how much more a pixel of barely seen ink costs than one of full ink.
	faintCost = 0.6
)

// newWeb makes the graph of an ink map.
func newWeb(ctx context.Context, ink *inkMap) (*web, error) {
	if err := thin(ctx, ink.on, ink.w, ink.h); err != nil {
		return nil, err
	}
	w := &web{ink: ink}
	w.trace()
	w.prune()
	w.contract()
	w.join()
	w.index()
	ink.on = nil
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for i := range w.chains {
		w.chains[i].findKinks(ink.pen)
	}
	w.arms = make([][2]*arm, len(w.chains))
	w.onward = make([][]passage, 2*len(w.chains))
	return w, nil
}

// middle returns the middle of a cell in pixels.
func (ink *inkMap) middle(i int32) geom.Point {
	k := float64(ink.k)
	return geom.Pt((float64(int(i)%ink.w)+.5)*k, (float64(int(i)/ink.w)+.5)*k)
}

// webMaker walks the thinned cells.
type webMaker struct {
	w     *web
	on    []uint8
	steps [8]int
	knot  map[int32]int32 // of the cells that are not simply passed
	room  []int32
}

// trace cuts the thinned cells into chains.
func (w *web) trace() {
	ink := w.ink
	t := &webMaker{w: w, on: ink.on, steps: around(ink.w), knot: map[int32]int32{}}
	var special []int32
	for i, v := range t.on {
		if v == 0 {
			continue
		}
		t.room = linked(t.on, i, &t.steps, t.room[:0])
		if n := len(t.room); n != 2 && n != 0 {
			special = append(special, int32(i))
			t.knot[int32(i)] = -1
		}
	}
	for _, i := range special {
		t.gather(i)
	}
	passed := make([]bool, len(t.on))
	for _, i := range special {
		for _, j := range linked(t.on, int(i), &t.steps, nil) {
			if k, is := t.knot[j]; is {
				if k != t.knot[i] && i < j {
					t.add([]int32{i, j})
				}
				continue
			}
			if !passed[j] {
				t.add(t.walk(i, j, passed))
			}
		}
	}
	for i, v := range t.on {
		if v == 0 || passed[i] {
			continue
		}
		if _, is := t.knot[int32(i)]; is {
			continue
		}
		if n := linked(t.on, i, &t.steps, nil); len(n) == 2 { // a ring
			t.knot[int32(i)] = int32(len(w.knots))
			w.knots = append(w.knots, knot{at: ink.middle(int32(i))})
			t.add(t.walk(int32(i), n[0], passed))
		}
	}
}

// gather makes one knot of the cells that meet around cell i.
func (t *webMaker) gather(i int32) {
	if t.knot[i] >= 0 {
		return
	}
	id := int32(len(t.w.knots))
	var sum geom.Point
	stack, n := []int32{i}, 0.0
	t.knot[i] = id
	for len(stack) > 0 {
		j := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		sum, n = sum.Add(t.w.ink.middle(j)), n+1
		for _, d := range t.steps {
			if k, is := t.knot[j+int32(d)]; is && k < 0 {
				t.knot[j+int32(d)] = id
				stack = append(stack, j+int32(d))
			}
		}
	}
	t.w.knots = append(t.w.knots, knot{at: sum.Mul(1 / n)})
}

// walk follows the cells from a knot's cell over next to the next knot.
func (t *webMaker) walk(from, next int32, passed []bool) []int32 {
	cells := []int32{from}
	last, at := from, next
	for {
		cells = append(cells, at)
		if _, is := t.knot[at]; is {
			return cells
		}
		passed[at] = true
		t.room = linked(t.on, int(at), &t.steps, t.room[:0])
		to := t.room[0]
		if to == last {
			to = t.room[1]
		}
		last, at = at, to
	}
}

// add makes a chain of cells.
func (t *webMaker) add(cells []int32) {
	w := t.w
	c := chain{knot: [2]int32{t.knot[cells[0]], t.knot[cells[len(cells)-1]]}, cost: 1}
	sum := 0.0
	for _, i := range cells {
		c.pts = append(c.pts, w.ink.middle(i))
		sum += float64(min(1, w.ink.strong[i]))
	}
	c.cost = 1 + faintCost*(1-sum/float64(len(cells)))
	c.measure()
	w.hang(c)
}

// hang adds a chain to the graph.
func (w *web) hang(c chain) {
	id := int32(len(w.chains))
	w.chains = append(w.chains, c)
	for e, k := range c.knot {
		w.knots[k].ends = append(w.knots[k].ends, chainEnd{id, int8(e)})
	}
}

// cut takes a chain out of the graph.
func (w *web) cut(id int32) {
	c := &w.chains[id]
	c.gone = true
	for _, k := range c.knot {
		w.knots[k].ends = slices.DeleteFunc(w.knots[k].ends, func(e chainEnd) bool { return e.chain == id })
	}
}

// prune takes out bristles and specks.
func (w *web) prune() {
	for i := range w.chains {
		c := &w.chains[i]
		free0, free1 := len(w.knots[c.knot[0]].ends) == 1, len(w.knots[c.knot[1]].ends) == 1
		n := c.length()
		if free0 && free1 && n < crumb*w.ink.scale || free0 != free1 && n < spurWidths*w.ink.pen {
			w.cut(int32(i))
		}
	}
}

// contract makes one knot of two that hardly anything lies between: where strokes run
// together the thinning leaves small rings and ladders.
func (w *web) contract() {
	for i := range w.chains {
		c := &w.chains[i]
		if c.gone || c.length() >= rungWidths*w.ink.pen {
			continue
		}
		a, b := c.knot[0], c.knot[1]
		if len(w.knots[a].ends) < 3 || len(w.knots[b].ends) < 3 {
			continue
		}
		w.cut(int32(i))
		if a == b {
			continue
		}
		w.knots[a].at = w.knots[a].at.Lerp(w.knots[b].at, 0.5)
		for _, e := range w.knots[b].ends {
			w.chains[e.chain].knot[e.end] = a
		}
		w.knots[a].ends = append(w.knots[a].ends, w.knots[b].ends...)
		w.knots[b].ends = nil
	}
}

// join makes one chain of two that meet alone.
func (w *web) join() {
	for k := range w.knots {
		ends := w.knots[k].ends
		if len(ends) != 2 || ends[0].chain == ends[1].chain {
			continue
		}
		a, b := w.chains[ends[0].chain], w.chains[ends[1].chain]
		if ends[0].end == 0 {
			a = a.reversed()
		}
		if ends[1].end == 1 {
			b = b.reversed()
		}
		na, nb := a.length(), b.length()
		c := chain{
			pts:  slices.Concat(a.pts, b.pts[1:]),
			knot: [2]int32{a.knot[0], b.knot[1]},
			cost: (a.cost*na + b.cost*nb) / max(na+nb, 1),
		}
		if a.pts[len(a.pts)-1] != b.pts[0] { // they met in a knot of several cells
			c.pts = slices.Concat(a.pts, b.pts)
		}
		c.measure()
		first, second := ends[0].chain, ends[1].chain
		w.cut(first)
		w.cut(second)
		w.hang(c)
	}
}

// reversed returns the chain run the other way.
func (c chain) reversed() chain {
	c.pts = slices.Clone(c.pts)
	slices.Reverse(c.pts)
	c.knot[0], c.knot[1] = c.knot[1], c.knot[0]
	c.measure()
	return c
}

// spotIndex finds the chain nearest to a place by squares of a fixed width.
type spotIndex struct {
	side  float64 // px
	w, h  int
	boxes [][]spotRef
}

// spotRef is a point of a chain.
type spotRef struct{ chain, point int32 }

// indexSide is the side of a square in mm: the usual reach of a click is one square.
const indexSide = 3.0

// index makes the tables that find chains and free ends near a place.
func (w *web) index() {
	side := indexSide * w.ink.scale
	x := spotIndex{side: side, w: int(float64(w.ink.field.W)/side) + 1, h: int(float64(w.ink.field.H)/side) + 1}
	x.boxes = make([][]spotRef, x.w*x.h)
	w.ends = endIndex{}
	for i := range w.chains {
		c := &w.chains[i]
		if c.gone {
			continue
		}
		for j, p := range c.pts {
			b := x.box(p)
			x.boxes[b] = append(x.boxes[b], spotRef{int32(i), int32(j)})
		}
		for e, k := range c.knot {
			if len(w.knots[k].ends) == 1 {
				b := x.box(w.knots[k].at)
				w.ends[b] = append(w.ends[b], chainEnd{int32(i), int8(e)})
			}
		}
	}
	w.near = x
}

// endIndex holds the free ends by the squares of the spotIndex.
type endIndex map[int][]chainEnd

func (x *spotIndex) cell(p geom.Point) (i, j int) {
	return min(max(int(p.X/x.side), 0), x.w-1), min(max(int(p.Y/x.side), 0), x.h-1)
}

func (x *spotIndex) box(p geom.Point) int {
	i, j := x.cell(p)
	return j*x.w + i
}

// around calls visit for the squares that hold everything within reach of p.
func (x *spotIndex) around(p geom.Point, reach float64, visit func(box int)) {
	i0, j0 := x.cell(geom.Pt(p.X-reach, p.Y-reach))
	i1, j1 := x.cell(geom.Pt(p.X+reach, p.Y+reach))
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			visit(j*x.w + i)
		}
	}
}

// spotNear returns the place on a chain that is nearest to p, if one is within reach.
func (w *web) spotNear(p geom.Point, reach float64) (spot, bool) {
	best, at := reach, spot{chain: -1}
	if !p.Finite() || !(reach >= 0) {
		return at, false
	}
	w.near.around(p, reach+float64(2*w.ink.k), func(box int) {
		for _, r := range w.near.boxes[box] {
			c := &w.chains[r.chain]
			i := int(r.point)
			if i+1 >= len(c.pts) {
				continue
			}
			q := nearestOnChord(c.pts[i], c.pts[i+1], p)
			if d := q.Dist(p); d < best || d == best && at.chain < 0 {
				best, at = d, spot{r.chain, c.cum[i] + q.Dist(c.pts[i])}
			}
		}
	})
	return at, at.chain >= 0
}

// arm is how a chain leaves through one of its ends.
type arm struct {
	at   geom.Point // where the direction was taken, before the knot
	dir  geom.Point // unit, out of the chain; zero where the chain is too short to tell
	bend float64    // 1/px, positive to the left, as it runs out
}

const (
	// armGap is how many widths of the pen before a knot a line is not its own middle.
	armGap = 1.1
	// armReach is the length in mm of the line that tells its direction, and fineArm that
	// from which on it is worth looking closely.
	armReach, fineArm = 10.0, 3.0
	// bendReach is the least length in mm of line that tells how it bends.
	bendReach = 4.0
	// armLoose is how far, in widths of the pen, a point of an arm lies beside it at most,
	// apart from half a cell: beyond it there is a corner within.
	armLoose = 0.2
	// leastArm is the least length in widths of the pen that tells a direction.
	leastArm = 1.5
)

// armAt returns how a chain leaves through an end, by its last n pixels: a parabola fitted
// to as much of them as one parabola passes.
func (w *web) armAt(e chainEnd, n float64) arm {
	c := &w.chains[e.chain]
	pen := w.ink.pen
	gap := min(armGap*pen, n/3)
	a := arm{at: c.fromEnd(e.end, gap)}
	// The far end may lie at a crossing as well.
	most := min(armReach*w.ink.scale, n-2*gap)
	if most < leastArm*pen {
		most = n - gap
	}
	loose := armLoose*pen + float64(w.ink.k)/2
	var pts []geom.Point
	if most >= leastArm*pen {
		pts = w.armLine(c, e.end, gap, most)
	}
	for reach := most; reach >= leastArm*pen; reach *= 0.7 {
		c0, c1, c2, off := w.armOf(pts, reach)
		if off > loose && reach*0.7 >= leastArm*pen {
			continue
		}
		a.at, a.dir = c0, c1.Mul(-1).Unit()
		if n := c1.Len(); n > 0 {
			// Run out of the chain, the parameter decreases: the turn changes its sign.
			a.bend = -2 * c1.Cross(c2) / (n * n * n)
		}
		break
	}
	return a
}

// armLine returns the last points of a chain, outermost first, from gap to gap+reach before
// its end; moved to the middle of the stroke where they are enough to tell it.
func (w *web) armLine(c *chain, end int8, gap, reach float64) []geom.Point {
	n := c.length()
	lo, hi := gap, min(gap+reach, n)
	if end == 1 {
		lo, hi = n-lo, n-hi
	}
	part := evened(c.part(lo, hi), baseSoft*w.ink.pen, 1)
	if reach < fineArm*w.ink.scale {
		return part
	}
	return refineWay(w.ink.field, w.ink, part, nil)
}

// armOf fits the first reach pixels of the points of an arm; off is the largest distance of
// a point from the parabola.
func (w *web) armOf(pts []geom.Point, reach float64) (c0, c1, c2 geom.Point, off float64) {
	n := min(len(pts), max(2, int(reach)+1))
	ts := make([]float64, n)
	for i := 1; i < n; i++ {
		ts[i] = ts[i-1] + pts[i].Dist(pts[i-1])
	}
	c0, c1, c2 = parabola(ts, pts[:n], reach >= bendReach*w.ink.scale)
	for i, t := range ts {
		off = max(off, pts[i].Dist(c0.Add(c1.Mul(t)).Add(c2.Mul(t*t))))
	}
	return c0, c1, c2, off
}

// fromEnd returns the point at a length from an end of the chain.
func (c *chain) fromEnd(end int8, s float64) geom.Point {
	if end == 1 {
		s = c.length() - s
	}
	return c.pointAt(s)
}

// parabola returns the least squares of c0 + c1 t + c2 t² through points; c2 is 0 unless
// bent.
func parabola(ts []float64, ps []geom.Point, bent bool) (c0, c1, c2 geom.Point) {
	n := float64(len(ts))
	var mid, sq float64
	for _, t := range ts {
		mid += t / n
	}
	for _, t := range ts {
		sq += (t - mid) * (t - mid) / n
	}
	// The polynomials 1, u and u²-sq are orthogonal about the middle of evenly spaced
	// places.
	var a0, a1, a2 geom.Point
	var n1, n2 float64
	for i, t := range ts {
		u := t - mid
		v := u*u - sq
		a0, a1, a2 = a0.Add(ps[i].Mul(1/n)), a1.Add(ps[i].Mul(u)), a2.Add(ps[i].Mul(v))
		n1, n2 = n1+u*u, n2+v*v
	}
	if n1 > 0 {
		c1 = a1.Mul(1 / n1)
	}
	if bent && n2 > 0 {
		c2 = a2.Mul(1 / n2)
	}
	// Back from u = t - mid to t.
	c0 = a0.Sub(c1.Mul(mid)).Add(c2.Mul(mid*mid - sq))
	c1 = c1.Sub(c2.Mul(2 * mid))
	return c0, c1, c2
}

// turnBetween returns the angle in [0, π] between two directions.
func turnBetween(a, b geom.Point) float64 { return math.Abs(math.Atan2(a.Cross(b), a.Dot(b))) }

package follow

import (
	"container/heap"
	"context"
	"math"
	"slices"

	"hemlet/geom"
)

// Costs of a way, in pixels of full ink.
const (
	// slipCost is the cost in mm of turning by a radian at a crossing, up to slipTurn: two
	// sizes that cross twice at a few degrees differ in length by less than what going
	// over to the other one and back turns.
	slipCost, slipTurn = 160.0, 0.3
	// turnCost is that of the turn beyond, and of corners between crossings.
	turnCost = 15.0
	// sharpTurn is the turn in radians above which sharpCost is added for the rest: a
	// line that stops at another one is hardly ever meant to go on along it.
	sharpTurn, sharpCost = 0.6, 60.0
	// backTurn is the turn in radians from which on a way goes back where it came from.
	backTurn = 2.8
	// unknownTurn is the turn in radians that a piece too short to have a direction
	// counts for.
	unknownTurn = 0.2
	// bareCost is the cost of a length over bare paper, and dashCost of one between two
	// ends that look at each other, as dashes do.
	bareCost, dashCost = 14.0, 4.0
	// gapReach is the widest gap between two ends that is bridged, in mm, and gapTurn
	// the largest turn in radians at either side.
	gapReach, gapTurn = 10.0, 1.0
	// gapsKept is how many of the best bridges from one end are kept.
	gapsKept = 4
	// throughChain is the length up to which a chain between two knots may be where two
	// lines run together, in widths of the pen: they do over 40 if they cross at 1½
	// degrees. Up to shortChain it tells no direction of its own.
	throughChain, shortChain = 40.0, 9.0
	// throughReach is the longest run of such chains, in mm, and throughDeep their number.
	throughReach, throughDeep = 40.0, 7
	// throughSpread is how far such chains may lie beside the straight continuation, as a
	// share of the distance, apart from throughWidths widths of the pen.
	throughSpread, throughWidths = 0.3, 1.6
	// knotReach is how near to a knot, in widths of the pen, a click stands for all lines
	// that meet there, apart from what the hand is off by, in mm.
	knotReach, knotHand = 0.8, 0.3
	// besideCost is the cost of a length between such a click and the knot.
	besideCost = 12.0
)

// passage is a way on from the end of a chain: into another chain through its end into.
type passage struct {
	into chainEnd
	cost float64
	bare float64 // px over paper
	// last: the chain is too short to tell a direction, so that the way may end in it but
	// not go on from it: going on is told by what lies before and after.
	last bool
}

// exit is the index of the state of having run a chain up to its end.
func (e chainEnd) exit() int32 { return 2*e.chain + int32(e.end) }

// other is the other end of the same chain.
func (e chainEnd) other() chainEnd { return chainEnd{e.chain, 1 - e.end} }

// short reports whether a chain tells no direction because it is hardly longer than what
// two lines have in common that cross.
func (w *web) short(id int32) bool { return w.between(id, shortChain) }

// between reports whether a chain runs between two knots and is shorter than a number of
// widths of the pen.
func (w *web) between(id int32, widths float64) bool {
	c := &w.chains[id]
	return c.length() < widths*w.ink.pen &&
		len(w.knots[c.knot[0]].ends) > 1 && len(w.knots[c.knot[1]].ends) > 1
}

// passages returns the ways on from having run a chain up to its end e.
func (w *web) passages(e chainEnd) []passage {
	i := e.exit()
	if w.onward[i] == nil {
		o := outlook{w: w, from: e, arm: w.armOfEnd(e), armOf: w.armOfEnd}
		w.onward[i] = o.passages()
	}
	return w.onward[i]
}

// armOfEnd returns how a whole chain leaves through an end.
func (w *web) armOfEnd(e chainEnd) arm {
	at := &w.arms[e.chain][e.end]
	if *at == nil {
		a := w.armAt(e, w.chains[e.chain].length())
		*at = &a
	}
	return **at
}

// outlook looks for the ways on from an end of a chain.
type outlook struct {
	w     *web
	from  chainEnd
	arm   arm                // of from
	armOf func(chainEnd) arm // of the others
	found []passage
}

func (o *outlook) passages() []passage {
	w := o.w
	o.found = []passage{}
	k := w.chains[o.from.chain].knot[o.from.end]
	for _, to := range w.knots[k].ends {
		if to == o.from {
			continue
		}
		if t, ok := w.turn(o.arm, o.armOf(to)); ok {
			o.found = append(o.found, passage{into: to, cost: w.turnPrice(t), last: w.short(to.chain)})
		}
	}
	o.through(o.from, 0, 0)
	if len(w.knots[k].ends) == 1 {
		o.bridges()
	}
	return o.found
}

// through adds the passages over short chains, of which the last one leaves through at.
func (o *outlook) through(at chainEnd, run float64, deep int) {
	if deep == throughDeep {
		return
	}
	w := o.w
	k := w.chains[at.chain].knot[at.end]
	for _, to := range w.knots[k].ends {
		if to == at || to.chain == o.from.chain {
			continue
		}
		short, slim := w.short(to.chain), w.between(to.chain, throughChain)
		if deep > 0 {
			if t, ok := w.turn(o.arm, o.armOf(to)); ok {
				o.found = append(o.found, passage{into: to, cost: w.turnPrice(t) + run, last: short})
			}
		}
		if !slim {
			continue
		}
		c := &w.chains[to.chain]
		n := run + w.price(to.chain)
		if n < throughReach*w.ink.scale && w.ahead(o.arm, w.knots[c.knot[1-to.end]].at) {
			o.through(to.other(), n, deep+1)
		}
	}
}

// price returns the cost of running a whole chain.
func (w *web) price(id int32) float64 {
	c := &w.chains[id]
	return c.price(0, c.length(), turnCost*w.ink.scale, 0)
}

// priceFrom returns the cost of the run between a spot and an end of its chain; corners at
// the spot cost nothing.
func (w *web) priceFrom(s spot, end int8) float64 {
	c := &w.chains[s.chain]
	return c.price(s.at, float64(end)*c.length(), turnCost*w.ink.scale, w.kinkFree(), s.at)
}

// ahead reports whether p lies where a line would go on.
func (w *web) ahead(a arm, p geom.Point) bool {
	if a.dir == (geom.Point{}) {
		return true
	}
	d := p.Sub(a.at)
	along, beside := d.Dot(a.dir), math.Abs(a.dir.Cross(d))
	return along > 0 && beside < throughSpread*along+throughWidths*w.ink.pen
}

// turnPrice returns the cost in pixels of a turn.
func (w *web) turnPrice(t float64) float64 {
	return w.ink.scale * (slipCost*min(t, slipTurn) + turnCost*max(0, t-slipTurn) + sharpCost*max(0, t-sharpTurn))
}

// turn returns by how much a way turns in all that leaves one chain as a says and enters
// another that would leave there as b says: against the chord between them, as seen from
// both sides, less what lines that go on bending as they do would turn. It returns false
// where that would be going back.
func (w *web) turn(a, b arm) (float64, bool) {
	switch {
	case a.dir == (geom.Point{}) || b.dir == (geom.Point{}):
		return unknownTurn, true
	case turnBetween(a.dir, b.dir.Mul(-1)) > backTurn:
		return 0, false
	}
	chord := b.at.Sub(a.at)
	n := chord.Len()
	if n < w.ink.pen || chord.Dot(a.dir) < 0 || chord.Dot(b.dir) > 0 {
		return turnBetween(a.dir, b.dir.Mul(-1)), true
	}
	in := b.dir.Mul(-1)
	// What leaves b outwards, run inwards, bends the other way.
	alpha := math.Atan2(a.dir.Cross(chord), a.dir.Dot(chord)) - swing(a.bend, n)
	beta := math.Atan2(chord.Cross(in), chord.Dot(in)) - swing(-b.bend, n)
	// Beside a crossing a line is known to a part of its width: over a short chord the
	// directions say more.
	slack := 2 * (armSide*w.ink.pen + float64(w.ink.k)/2) / n
	return max(math.Abs(alpha+beta), math.Abs(alpha)+math.Abs(beta)-slack), true
}

// armSide is how far to the side, in widths of the pen, a line is off beside a crossing.
const armSide = 0.2

// swing returns the angle between a line of constant bend and its chord of length n, at
// most mostSwing.
func swing(bend, n float64) float64 { return min(mostSwing, max(-mostSwing, bend*n/2)) }

// mostSwing bounds what is made of a bend: a short arm tells it badly.
const mostSwing = 0.25

// bridges adds the passages over paper from a free end to others.
func (o *outlook) bridges() {
	w, a := o.w, o.arm
	e := o.from
	end := w.knots[w.chains[e.chain].knot[e.end]].at
	reach := gapReach * w.ink.scale
	var found []passage
	w.near.around(end, reach, func(box int) {
		for _, to := range w.ends[box] {
			at := w.knots[w.chains[to.chain].knot[to.end]].at
			d := at.Sub(end)
			n := d.Len()
			if to == e || n > reach || to.chain == e.chain && w.chains[e.chain].length() < n {
				continue
			}
			b := o.armOf(to)
			t := 0.0
			for _, s := range [2]float64{outTurn(a.dir, d), outTurn(b.dir, d.Mul(-1))} {
				if s > gapTurn && n > w.ink.pen {
					t = math.Inf(1)
				}
				t += s
			}
			if math.IsInf(t, 1) {
				continue
			}
			each := min(bareCost, dashCost+(bareCost-dashCost)*t)
			found = append(found, passage{into: to, cost: n*each + w.ink.scale*turnCost*t/2, bare: n})
		}
	})
	for range gapsKept {
		best := -1
		for i := range found {
			if best < 0 || found[i].cost < found[best].cost {
				best = i
			}
		}
		if best < 0 {
			break
		}
		o.found = append(o.found, found[best])
		found[best] = found[len(found)-1]
		found = found[:len(found)-1]
	}
}

// outTurn is the turn from the direction in which a line ends to where it would go on.
func outTurn(dir, on geom.Point) float64 {
	if dir == (geom.Point{}) || on == (geom.Point{}) {
		return unknownTurn / 2
	}
	return turnBetween(dir, on)
}

// tree is the cheapest ways from one spot to the end of every chain.
type tree struct {
	w       *web
	from    spot
	heading geom.Point
	arms    [2]arm // of the first chain, from the spot to its ends
	cost    []float64
	back    []step
}

// step says how a state was reached: from another state, or from the start (before < 0).
type step struct {
	before int32
	enter  int8    // the end through which the chain was entered; -1 for starting in it
	bare   float64 // px
}

type queued struct {
	cost  float64
	state int32
}

type queue []queued

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].cost < q[j].cost || q[i].cost == q[j].cost && q[i].state < q[j].state
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(queued)) }
func (q *queue) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	*q = (*q)[:last]
	return x
}

// grow finds the cheapest ways from a spot to everywhere. With a heading, starting
// against it costs as a turn does.
func (w *web) grow(ctx context.Context, from spot, heading geom.Point) (*tree, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	t := &tree{w: w, from: from, heading: heading, cost: make([]float64, 2*len(w.chains)), back: make([]step, 2*len(w.chains))}
	for i := range t.cost {
		t.cost[i] = math.Inf(1)
	}
	var q queue
	reach := func(state int32, cost float64, s step) {
		if cost < t.cost[state] {
			t.cost[state], t.back[state] = cost, s
			heap.Push(&q, queued{cost, state})
		}
	}
	c := &w.chains[from.chain]
	start := c.pointAt(from.at)
	for e := range t.arms {
		end := chainEnd{from.chain, int8(e)}
		t.arms[e] = w.armAt(end, w.toEnd(from, end.end))
	}
	for e := range int8(2) {
		end := chainEnd{from.chain, e}
		run := w.toEnd(from, e)
		reach(end.exit(), w.priceFrom(from, e)+t.against(c, from.at, e), step{before: -1, enter: -1})
		if k := w.knots[c.knot[e]]; run <= w.knotReach() {
			for _, to := range k.ends {
				if to.chain == from.chain {
					continue
				}
				o := &w.chains[to.chain]
				turn := 0.0
				if heading != (geom.Point{}) {
					far := o.fromEnd(to.end, min(o.length(), headingArm*w.ink.pen))
					turn = w.turnPrice(turnBetween(heading, far.Sub(start)))
				}
				reach(to.other().exit(), besideCost*run+w.price(to.chain)+turn, step{before: -1, enter: to.end})
			}
		}
	}
	for n := 0; len(q) > 0; n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		at := heap.Pop(&q).(queued)
		if at.cost > t.cost[at.state] {
			continue
		}
		if t.back[at.state].before >= 0 && t.stopsHere(at.state) {
			continue
		}
		e := chainEnd{at.state / 2, int8(at.state % 2)}
		for _, p := range t.passages(e) {
			reach(p.into.other().exit(), at.cost+p.cost+w.price(p.into.chain), step{before: at.state, enter: p.into.end, bare: p.bare})
		}
	}
	return t, nil
}

// passages returns the ways on from a state: from the first chain, by what lies between
// the spot and the knot.
func (t *tree) passages(e chainEnd) []passage {
	if !t.startsIn(e) {
		return t.w.passages(e)
	}
	o := outlook{w: t.w, from: e, arm: t.arms[e.end], armOf: t.w.armOfEnd}
	return o.passages()
}

// startsIn reports whether the way to the end e of a chain starts within that chain.
func (t *tree) startsIn(e chainEnd) bool {
	s := t.back[e.exit()]
	return e.chain == t.from.chain && s.before < 0 && s.enter < 0
}

// armOf returns how the way so far leaves through an end.
func (t *tree) armOf(e chainEnd) arm {
	if t.startsIn(e) {
		return t.arms[e.end]
	}
	return t.w.armOfEnd(e)
}

// stopsHere reports whether a way may end but not go on in the chain of a state.
func (t *tree) stopsHere(state int32) bool { return t.w.short(state / 2) }

// knotReach returns how near to a knot a click stands for the knot, in pixels.
func (w *web) knotReach() float64 { return knotReach*w.ink.pen + knotHand*w.ink.scale }

// kinkFree returns how near to a click a corner is the one that is meant, in pixels.
func (w *web) kinkFree() float64 { return w.knotReach() + (kinkGap+kinkArm)*w.ink.pen }

// toEnd returns the length from a spot to an end of its chain.
func (w *web) toEnd(s spot, end int8) float64 {
	if end == 0 {
		return s.at
	}
	return w.chains[s.chain].length() - s.at
}

// against returns the cost of starting from a place of a chain towards an end, against
// the heading.
func (t *tree) against(c *chain, at float64, end int8) float64 {
	if t.heading == (geom.Point{}) {
		return 0
	}
	n := headingArm * t.w.ink.pen
	if end == 0 {
		n = -n
	}
	d := c.pointAt(at + n).Sub(c.pointAt(at))
	if d == (geom.Point{}) {
		return 0
	}
	return t.w.turnPrice(turnBetween(t.heading, d))
}

// leg is a stretch of a chain on a way.
type leg struct {
	chain    int32
	from, to float64 // lengths along the chain
	bare     float64 // px of paper before it
}

// arrival is a way to reach a spot: from a state into its chain through an end, or at the
// knot there.
type arrival struct {
	cost  float64
	state int32 // -1 for starting in the same chain
	enter int8
	bare  float64
}

// to returns the cheapest way to a spot, or false where none is cheaper than the straight
// line over paper.
func (t *tree) to(goal spot) ([]leg, bool) {
	w := t.w
	w.mu.Lock()
	defer w.mu.Unlock()
	best := arrival{cost: math.Inf(1), state: -1}
	c := &w.chains[goal.chain]
	if goal.chain == t.from.chain {
		end := int8(0)
		if goal.at > t.from.at {
			end = 1
		}
		best.cost = c.price(t.from.at, goal.at, turnCost*w.ink.scale, w.kinkFree(), t.from.at, goal.at) +
			t.against(c, t.from.at, end)
	}
	for e := range int8(2) {
		best = t.arriveBy(chainEnd{goal.chain, e}, goal, best)
	}
	start := w.chains[t.from.chain].pointAt(t.from.at)
	// The straight line leaves the ink and comes back to it.
	if straight := bareCost*start.Dist(c.pointAt(goal.at)) + w.ink.scale*turnCost*math.Pi; !(best.cost <= straight) {
		return nil, false
	}
	if best.state < 0 {
		return []leg{{chain: goal.chain, from: t.from.at, to: goal.at}}, true
	}
	return t.legs(best, goal), true
}

// arriveBy returns the cheaper of best and the ways that reach a spot through the end e of
// its chain.
func (t *tree) arriveBy(e chainEnd, goal spot, best arrival) arrival {
	w := t.w
	rest, price := w.toEnd(goal, e.end), w.priceFrom(goal, e.end)
	c := &w.chains[e.chain]
	// A passage looks the same from both sides.
	o := outlook{w: w, from: e, arm: w.armAt(e, rest), armOf: t.armOf}
	for _, p := range o.passages() {
		s := p.into.exit()
		if p.last && t.back[s].before >= 0 {
			continue
		}
		if cost := t.cost[s] + p.cost + price; cost < best.cost {
			best = arrival{cost, s, e.end, p.bare}
		}
	}
	if rest > w.knotReach() {
		return best
	}
	for _, o := range w.knots[c.knot[e.end]].ends {
		if s := o.exit(); o != e && t.cost[s]+besideCost*rest < best.cost {
			best = arrival{cost: t.cost[s] + besideCost*rest, state: s, enter: e.end}
		}
	}
	return best
}

// legs returns the stretches of chains of a way to a spot.
func (t *tree) legs(by arrival, goal spot) []leg {
	w := t.w
	end := float64(by.enter) * w.chains[goal.chain].length()
	back := []leg{{chain: goal.chain, from: end, to: goal.at, bare: by.bare}}
	state := by.state
	for {
		id, s := state/2, t.back[state]
		c := &w.chains[id]
		l := leg{chain: id, from: t.from.at, to: float64(state%2) * c.length(), bare: s.bare}
		if s.enter >= 0 {
			l.from = float64(s.enter) * c.length()
		}
		back = append(back, l)
		if s.before < 0 {
			if s.enter >= 0 { // started beside the knot, in another chain
				o := &w.chains[t.from.chain]
				to := 0.0
				if k := c.knot[s.enter]; o.knot[1] == k && (o.knot[0] != k || t.from.at > o.length()/2) {
					to = o.length()
				}
				back = append(back, leg{chain: t.from.chain, from: t.from.at, to: to})
			}
			slices.Reverse(back)
			return back
		}
		state = s.before
	}
}

// base returns the line of points of a way: its chains up to shortly before each knot, and
// between them the curve that goes on as they do. bare is its length over paper.
func (w *web) base(legs []leg) (pts []geom.Point, bare float64) {
	gap := armGap * w.ink.pen
	for i, l := range legs {
		n := math.Abs(l.to - l.from)
		cutA, cutB := 0.0, 0.0
		if i > 0 {
			cutA = min(gap, n/3)
		}
		if i+1 < len(legs) {
			cutB = min(gap, n/3)
		}
		sign := 1.0
		if l.to < l.from {
			sign = -1
		}
		part := w.chains[l.chain].part(l.from+sign*cutA, l.to-sign*cutB)
		if i > 0 {
			pts = w.across(pts, part)
		}
		bare += l.bare
		pts = append(pts, part...)
	}
	return evened(pts, baseSoft*w.ink.pen, 1), bare
}

// baseSoft is over how many widths of the pen the steps of the cells are smoothed.
const baseSoft = 0.8

// across adds the curve from the end of pts to the start of the next part, which goes on
// as both do, or the straight line where they do not look at each other.
func (w *web) across(pts, next []geom.Point) []geom.Point {
	if len(pts) == 0 || len(next) == 0 {
		return pts
	}
	from, to := pts[len(pts)-1], next[0]
	d := to.Sub(from)
	n := d.Len()
	if n <= 1 {
		return pts
	}
	arm := acrossArm * w.ink.pen
	out, in := headingOf(pts, arm), headingFrom(next, arm)
	if turnBetween(out, d) > acrossTurn {
		out = d.Unit()
	}
	if turnBetween(in, d) > acrossTurn {
		in = d.Unit()
	}
	s := geom.Cubic(from, from.Add(out.Mul(n/3)), to.Sub(in.Mul(n/3)), to)
	for i, steps := 1, int(math.Ceil(n)); i < steps; i++ {
		pts = append(pts, s.At(float64(i)/float64(steps)))
	}
	return pts
}

const (
	// acrossArm is the length in widths of the pen that tells how a line goes on over a
	// knot, and acrossTurn the turn in radians up to which it is taken to.
	acrossArm, acrossTurn = 4.0, 0.5
)

// headingFrom returns the direction in which a line of points begins, looked at over
// length pixels; zero for none.
func headingFrom(pts []geom.Point, length float64) geom.Point {
	for i := 1; i < len(pts); i++ {
		if d := pts[i].Sub(pts[0]); d.Len() >= length || i == len(pts)-1 {
			return d.Unit()
		}
	}
	return geom.Point{}
}

package fit

import (
	"math"
	"sort"

	"hemlet/geom"
)

const (
	degree = math.Pi / 180
	// cornerTurn is the least turn that is taken for a corner at first sight.
	// Smooth joins with a sudden change of curvature show up to 5 degrees to
	// one-sided tangents; whether a weak corner stays one is decided later, by what
	// a smooth join in its stead would cost.
	cornerTurn = 6 * degree
	// cornerSure is the number of standard deviations of the turn that noise may
	// not explain.
	cornerSure = 5
	// cornerGap is the number of sigmas of blur on either side of a corner that are
	// passed over when the tangents are read, besides half the pen.
	cornerGap = 2.5
	// armPerBlur is the length of the short arms in sigmas: 2 mm at 300 dpi. The
	// long ones are twice as long.
	armPerBlur = 20
	// armSlope is how well the short arms shall know their direction; noise makes
	// them longer.
	armSlope = 1.5 * degree
	// armShare is the largest share of a whole line that a short arm takes.
	armShare = 1. / 24
	// armLeast is the least number of points of an arm; armLess the least share of a
	// short arm where a corner is near. What is shorter reads the blur of that
	// corner for a turn.
	armLeast, armLess = 6, 0.4
	// armFit is what an arm may leave across itself, in sigmas of blur, before it
	// is taken to go round a corner itself; the noise comes on top.
	armFit = 0.2
	// speckReach are the ways in sigmas of blur to restart the arms farther out, to
	// see whether a turn is only a speck that lies on the line.
	speckNear, speckFar = 8, 16
	// speckTurn is the turn that may remain past a speck, as a share of the turn at
	// it, or speckLeast.
	speckTurn, speckLeast = 0.2, 3 * degree
	// speckJump is how far apart in sigmas of blur the arms about a speck may be.
	speckJump = 0.5
	// speckHigh is the height of the highest speck in sigmas of blur; what stands
	// out farther is a part of the shape.
	speckHigh = 10
	// cornersMost bounds the corners; a line with more is no outline of a pattern.
	cornersMost = 1000
)

// corner is a place where a line turns at once.
type corner struct {
	at      int        // point of the evened line nearest to it
	p       geom.Point // where the arms meet
	turn    float64    // radians, counter-clockwise positive
	in, out float64    // angles of travel arriving and leaving
	given   bool
	tip     bool // p is known, and stays
}

// cornerer finds the corners of a line.
type cornerer struct {
	e           *even
	pen         float64
	gap         int // steps
	short, long int // points
	least       int // points of the shortest arm
	kernels     armKernels
	score, rank []float64
	found       []corner // by place
	left        []bool   // points that a speck has moved
	done        []bool   // points that were taken once, whatever came of it
}

// corners returns the corners in the order of the line, and the points that specks
// have moved; the evened line is mended there. Given are points that are corners
// whatever they look like.
func (e *even) corners(pen float64, given []corner) ([]corner, []bool) {
	c := &cornerer{e: e, pen: pen, kernels: armKernels{}, left: make([]bool, len(e.pts)), done: make([]bool, len(e.pts))}
	c.sizes(pen)
	n := len(e.pts)
	c.score, c.rank = make([]float64, n), make([]float64, n)
	for _, g := range given {
		c.accept(g)
	}
	c.test(0, n)
	for len(c.found) < cornersMost {
		best := -1
		for i, r := range c.rank {
			if r > 0 && (best < 0 || r > c.rank[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		c.take(best)
	}
	for i := range c.found {
		c.sharpen(&c.found[i])
	}
	return c.found, c.left
}

// sizes sets gap and arms.
func (c *cornerer) sizes(pen float64) {
	e := c.e
	c.gap = 1 + int(math.Ceil((cornerGap*e.blur+pen/2)/e.step))
	// The direction of a one-sided quadratic of n points scatters by about
	// 14/n^1.5 of noise over step.
	quiet := math.Pow(14*e.noise/e.step/armSlope, 2./3)
	n := math.Max(armPerBlur*e.blur/e.step, quiet)
	n = math.Min(n, armShare*float64(len(e.pts)))
	c.short = max(armLeast, int(math.Round(n)))
	c.long = 2 * c.short
	c.gap = min(c.gap, c.short)
	c.least = max(armLeast, int(armLess*float64(c.short)))
}

// room returns how many points lie between point i and the nearest corner, or the
// end of an open line, on that side, up to most.
func (c *cornerer) room(i, side, most int) int {
	n := len(c.e.pts)
	if !c.e.closed {
		end := n - 1 - i
		if side < 0 {
			end = i
		}
		most = min(most, end)
	}
	if len(c.found) == 0 {
		return most
	}
	k := sort.Search(len(c.found), func(k int) bool { return c.found[k].at >= i })
	if side > 0 {
		if k < len(c.found) && c.found[k].at == i {
			k++
		}
	} else {
		k--
	}
	if (k < 0 || k == len(c.found)) && !c.e.closed {
		return most
	}
	near := &c.found[(k+len(c.found))%len(c.found)]
	d := side * (near.at - i)
	if d < 0 || d == 0 && len(c.found) == 1 {
		d += n
	}
	return min(most, d-c.clear(near))
}

// clear returns how many points beside a corner are no part of its legs.
func (c *cornerer) clear(k *corner) int {
	return max(c.gap, int(LeaveOut(k.turn, c.e.blur, c.pen)/c.e.step))
}

// arms returns the arms about point i with the gap and up to n points each, and the
// least turn between them that is a corner; false if there is no room.
func (c *cornerer) arms(i, gap, n int) (behind, ahead arm, least float64, ok bool) {
	back := min(n, c.room(i, -1, gap+n)-gap)
	fore := min(n, c.room(i, 1, gap+n)-gap)
	if back < c.least || fore < c.least {
		return behind, ahead, 0, false
	}
	kb, kf := c.kernels.get(gap, back), c.kernels.get(gap, fore)
	noise := cornerSure * math.Hypot(kb.slopeNoise(c.e.noise, c.e.step), kf.slopeNoise(c.e.noise, c.e.step))
	return c.e.arm(kb, i, -1), c.e.arm(kf, i, 1), math.Max(cornerTurn, noise), true
}

// test scores the points from lo up to hi, round and round on a closed line.
func (c *cornerer) test(lo, hi int) {
	n := len(c.e.pts)
	if hi-lo > n {
		lo, hi = 0, n
	}
	for k := lo; k < hi; k++ {
		i := k
		if c.e.closed {
			i = (k%n + n) % n
		} else if i < 0 || i >= n {
			continue
		}
		c.score[i], c.rank[i] = c.scoreAt(i)
		if c.done[i] {
			c.rank[i] = 0
		}
	}
}

// scoreAt returns the smaller turn of short and long arms where they agree in sign,
// and its rank: the less, the worse the arms fit.
func (c *cornerer) scoreAt(i int) (score, rank float64) {
	b, a, least, ok := c.arms(i, c.gap, c.short)
	if !ok {
		return 0, 0
	}
	near := turn(&b, &a)
	if math.Abs(near) < least {
		return near, 0
	}
	b2, a2, least2, _ := c.arms(i, c.gap, c.long)
	far := turn(&b2, &a2)
	if near*far < 0 && math.Abs(near) < math.Pi/2 || math.Abs(far) < least2 {
		return 0, 0
	}
	score = near
	if math.Abs(far) < math.Abs(near) {
		score = far
	}
	may := armFit*c.e.blur + 3*c.e.noise
	return score, math.Abs(score) / (1 + (b.rms*b.rms+a.rms*a.rms)/(may*may))
}

// take makes a corner of point i, or mends the speck there, and scores anew what
// that touches.
func (c *cornerer) take(i int) {
	c.done[i], c.rank[i] = true, 0
	k := corner{at: i, turn: c.score[i]}
	c.sharpen(&k)
	if _, _, _, ok := c.arms(k.at, c.gap, c.short); !ok {
		k.at = i
	}
	reach := 2 * (c.gap + c.long)
	if lo, hi, ok := c.speck(k.at, k.turn); ok {
		c.mend(lo, hi)
		c.test(lo-reach, hi+reach)
		return
	}
	c.accept(k)
	c.test(k.at-reach, k.at+reach)
}

// accept puts a corner in its place.
func (c *cornerer) accept(k corner) {
	n := sort.Search(len(c.found), func(q int) bool { return c.found[q].at >= k.at })
	if n < len(c.found) && c.found[n].at == k.at {
		return
	}
	c.found = append(c.found, corner{})
	copy(c.found[n+1:], c.found[n:])
	c.found[n] = k
}

// sharpen moves a corner to where its arms meet, and reads the directions there.
func (c *cornerer) sharpen(k *corner) {
	if k.tip {
		c.aim(k)
		return
	}
	n := len(c.e.pts)
	k.p = c.e.at(k.at)
	for range 4 {
		b, a, _, ok := c.arms(k.at, c.gap, c.short)
		if !ok {
			break
		}
		k.turn = turn(&b, &a)
		k.in, k.out = b.b.Mul(-1).Angle(), a.b.Angle()
		k.p = b.a.Lerp(a.a, 0.5)
		p, x, y, ok := meet(&b, &a, float64(c.gap+c.short))
		if !ok || k.given {
			break
		}
		k.in, k.out = b.slope(x).Mul(-1).Angle(), a.slope(y).Angle()
		k.p = p
		// The corner is as far ahead of the place as it is on the arm ahead.
		shift := int(math.Round((y - x) / 2))
		if shift == 0 {
			break
		}
		at := k.at + max(-c.gap, min(c.gap, shift))
		if c.e.closed {
			at = (at%n + n) % n
		} else {
			at = max(0, min(at, n-1))
		}
		k.at = at
	}
}

// aim reads the directions at a corner whose place is known: those from the arms' far
// ends to it.
func (c *cornerer) aim(k *corner) {
	b, a, _, ok := c.arms(k.at, c.gap, c.short)
	if !ok {
		b, a, _, ok = c.arms(k.at, 0, c.short)
	}
	if !ok {
		return
	}
	far := float64(c.gap + c.short)
	u, v := k.p.Sub(b.at(far)), a.at(far).Sub(k.p)
	k.in, k.out, k.turn = u.Angle(), v.Angle(), math.Atan2(u.Cross(v), u.Dot(v))
}

// speck tells whether the turn at point i is a speck on the line: with the arms
// restarted farther out the line goes on as if nothing were there. It returns the
// points that it covers.
func (c *cornerer) speck(i int, turned float64) (lo, hi int, ok bool) {
	for _, far := range [2]float64{speckNear, speckFar} {
		gap := c.gap + int(math.Round(far*c.e.blur/c.e.step))
		b, a, _, ok := c.arms(i, gap, c.long)
		if !ok {
			return 0, 0, false
		}
		may := speckJump*c.e.blur + 3*c.e.noise
		if math.Abs(turn(&b, &a)) > math.Max(speckLeast, speckTurn*math.Abs(turned)) || b.rms > may || a.rms > may {
			continue
		}
		dir := a.b.Sub(b.b).Unit()
		jump := dir.Cross(a.a.Sub(b.a))
		if math.Abs(jump) > may || dir.Dot(a.a.Sub(b.a)) > 2*float64(gap)*c.e.step {
			continue
		}
		high := 0.0
		for k := -gap; k <= gap; k++ {
			high = math.Max(high, math.Abs(dir.Cross(c.e.at(i+k).Sub(a.a))))
		}
		if high < speckHigh*c.e.blur {
			return i - gap, i + gap, true
		}
	}
	return 0, 0, false
}

// mend lets the line go on past a speck that covers the points lo to hi, by the
// cubic of Hermite between what lies on its two sides.
func (c *cornerer) mend(lo, hi int) {
	n := len(c.e.pts)
	span := float64(hi - lo)
	k := c.kernels.get(1, c.short)
	b, a := c.e.arm(k, lo, -1), c.e.arm(k, hi, 1)
	u, v := b.b.Mul(-span/3), a.b.Mul(-span/3)
	seg := geom.Cubic(b.a, b.a.Add(u), a.a.Add(v), a.a)
	for q := lo; q <= hi; q++ {
		i := q
		if c.e.closed {
			i = (q%n + n) % n
		} else if i < 0 || i >= n {
			continue
		}
		c.e.pts[i] = seg.At(float64(q-lo) / span)
		c.left[i] = true
	}
}

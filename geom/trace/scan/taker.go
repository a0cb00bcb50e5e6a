package scan

import (
	"math"

	"hemlet/geom"
)

// Parameters of taking lines out.
const (
	// besideShare is where the paper beside a line is looked at, in squares, between
	// leastBeside and mostBeside px.
	besideShare             = .35
	leastBeside, mostBeside = 2.5, 14.0
	// profileStep is the step in px at which a line's profile is kept.
	profileStep = .5
	// profileParts is the number of parts that a profile is taken from, and partRows the
	// number of rows of each.
	profileParts, partRows = 20, 40
	// leastDepth is the depth below which a part of a profile is paper, in shares of paper,
	// and leastDepthShare in shares of the deepest.
	leastDepth, leastDepthShare = .015, .08
	// opaqueBelow and clearAbove are the shares of light that a line lets through below which what
	// lies under it is unknown and is made from both sides, and above which it is known.
	opaqueBelow, clearAbove = .3, .5
	// likeUsual is by what factor the depth of a part may differ from what is usual: else
	// something lies on the line.
	likeUsual = .6
	// mostAstray is how far in px a line may lie off the lattice, and mostAstrayShare in
	// shares of where the paper beside is looked at.
	mostAstray, mostAstrayShare = 1.5, .15
	// steepest is how far along a line, per px across it, what crosses it is followed:
	// to 60 degrees.
	steepest = 1.75
	// likeReach is the number of rows by which both sides of a line are compared.
	likeReach = 4
	// mostMass is by what factor the depth times the width of a part may pass what is usual:
	// else something is drawn along the line.
	mostMass = 1.6
	// leanCost is what following a slant costs, in shares of paper.
	leanCost = .03
	// brightest is the lightest level of a picture.
	brightest = 255
)

// taker takes one line out. It goes along it row by row, a row being a row of the picture
// where the line runs rather up, and else a column.
type taker struct {
	src          []uint8
	rows, cols   int     // of the picture as it is gone through
	from, to     int     // rows between which the line is printed
	rowStep      int     // in src, from row to row
	colStep      int     // in src, from column to column
	first, slope float64 // the column of the line in row 0, and how it moves a row
	normal       float64 // px across the line for one column
	light        bool
	black        float64
	beside       float64 // px off the line where the paper is looked at
	half         float64 // px, half of the line's width
	profile      []float64
	rough        []float64 // px off the lattice, of each part along the line
	masses       []float64 // depth times width, px
	offs, depths []float64 // the offsets and the depths, smoothed
	usual        float64   // depth
	paper        float64   // level of the paper beside
	opaque       bool      // hardly anything shows through
	plain        []int     // parts that look as usual
	part         int       // rows of a part
	number       int       // of the line
}

func newTaker(w, h int, src []uint8, l gridLine, light bool, black float64) *taker {
	t := &taker{src: src, rows: h, cols: w, rowStep: w, colStep: 1, light: light, black: black, number: l.number}
	at, dir := l.at, l.dir
	from, to := l.from.Y, l.to.Y
	if math.Abs(dir.X) > math.Abs(dir.Y) {
		t.rows, t.cols, t.rowStep, t.colStep = w, h, 1, w
		at, dir = geom.Pt(at.Y, at.X), geom.Pt(dir.Y, dir.X)
		from, to = l.from.X, l.to.X
	}
	t.from = int(clamp(math.Min(from, to), 0, float64(t.rows)))
	t.to = int(clamp(math.Max(from, to)+1, 0, float64(t.rows)))
	t.slope = dir.X / dir.Y
	t.first = at.X + (.5-at.Y)*t.slope
	t.normal = math.Abs(dir.Y)
	t.beside = clamp(besideShare*l.apart, leastBeside, mostBeside)
	t.part = max(int(l.apart*t.normal), 12)
	t.paper = t.usualPaper()
	return t
}

// usualPaper returns the median level beside the line.
func (t *taker) usualPaper() float64 {
	var vs []float64
	for row := t.from; row < t.to; row += max(t.part/8, 1) {
		if c := t.centre(row); c > 0 && c < float64(t.cols) {
			vs = append(vs, t.value(row, c-t.beside/t.normal), t.value(row, c+t.beside/t.normal))
		}
	}
	return middleOf(vs)
}

// value returns the level at a row and between the middles of columns.
func (t *taker) value(row int, col float64) float64 {
	c := clamp(col-.5, 0, float64(t.cols-1))
	i := int(c)
	f := c - float64(i)
	at := row*t.rowStep + i*t.colStep
	v := float64(t.src[at])
	if f > 0 {
		v += f * (float64(t.src[at+t.colStep]) - v)
	}
	return v
}

// centre returns the column of the line in a row.
func (t *taker) centre(row int) float64 {
	c := t.first + t.slope*float64(row)
	if len(t.offs) > 0 {
		c += along(t.offs, (float64(row)+.5)/float64(t.part)-.5) / t.normal
	}
	return c
}

// along returns the value between those of parts.
func along(parts []float64, at float64) float64 {
	at = clamp(at, 0, float64(len(parts)-1))
	i := int(at)
	if i+1 == len(parts) {
		return parts[i]
	}
	return parts[i] + (at-float64(i))*(parts[i+1]-parts[i])
}

// shares calls do for each px near the line in every stepth row from and below to, with its
// distance from the line and its level as a share of the paper beside.
func (t *taker) shares(from, to, step int, do func(off, share float64)) {
	reach := t.beside / t.normal
	for row := from; row < to; row += step {
		c := t.centre(row)
		if c < 0 || c > float64(t.cols) {
			continue
		}
		paper := math.Max(t.value(row, c-reach), t.value(row, c+reach)) - t.black
		if t.light {
			paper = math.Min(t.value(row, c-reach), t.value(row, c+reach)) - t.black
		}
		if paper < brightest/16 {
			continue // ink on both sides
		}
		for col := max(int(c-reach), 0); col < min(int(c+reach)+1, t.cols); col++ {
			v := float64(t.src[row*t.rowStep+col*t.colStep])
			do((float64(col)+.5-c)*t.normal, (v-t.black)/paper)
		}
	}
}

// gather returns the medians of shares by distance from the line over some of its parts,
// one every profileStep px, with NaN where there are hardly any.
func (t *taker) gather(parts ...int) []float64 {
	n := int(t.beside / profileStep)
	bins := make([][]float64, 2*n+1)
	room := make([]float64, len(bins)*len(parts)*partRows)
	for i := range bins {
		bins[i] = room[i*len(parts)*partRows:][: 0 : len(parts)*partRows]
	}
	step := (t.part + partRows - 1) / partRows
	for _, i := range parts {
		t.shares(i*t.part, min((i+1)*t.part, t.rows), step, func(off, share float64) {
			if i := int(math.Round(off/profileStep)) + n; i >= 0 && i < len(bins) {
				bins[i] = append(bins[i], share)
			}
		})
	}
	r := make([]float64, len(bins))
	for i, b := range bins {
		r[i] = math.NaN()
		if len(b) >= 3 {
			r[i] = middleOf(b)
		}
	}
	return r
}

// depth returns by how much a share stands out.
func (t *taker) depth(share float64) float64 {
	if t.light {
		return share - 1
	}
	return 1 - share
}

// findOffsets finds how far off the lattice the line lies and how deep it is, part by part.
func (t *taker) findOffsets() {
	n := max(t.rows/t.part, 1)
	t.rough, t.depths, t.masses = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		if i*t.part+t.part/2 < t.from || i*t.part+t.part/2 > t.to {
			t.rough[i], t.depths[i] = math.NaN(), math.NaN()
			continue
		}
		p := t.gather(i)
		t.rough[i], t.depths[i] = t.deepest(p)
		for _, share := range p {
			if d := t.depth(share); d > 0 {
				t.masses[i] += d * profileStep
			}
		}
	}
}

// keepPlain keeps the parts that are about as deep as is usual, and lets the others be
// like their neighbours.
func (t *taker) keepPlain(usual, mass float64) {
	for i, d := range t.depths {
		if d >= likeUsual*usual && d*likeUsual <= usual && t.masses[i] <= mostMass*mass {
			t.plain = append(t.plain, i)
		} else {
			t.rough[i], t.depths[i] = math.NaN(), math.NaN()
		}
	}
	t.offs, t.depths = smoothed(t.rough), smoothed(t.depths)
}

// deepest returns where the line lies in a profile and how deep it is, or NaN.
func (t *taker) deepest(p []float64) (off, depth float64) {
	best, at := 2*leastDepth, -1
	mid := len(p) / 2
	near := int(math.Max(mostAstray, mostAstrayShare*t.beside) / profileStep)
	for k := max(mid-near, 0); k <= min(mid+near, len(p)-1); k++ {
		if d := t.depth(p[k]); d > best {
			best, at = d, k
		}
	}
	if at < 0 {
		return math.NaN(), math.NaN()
	}
	// The middle of gravity of what is at least a third as deep.
	var sum, all float64
	for k := max(at-6, 0); k < min(at+7, len(p)); k++ {
		if d := t.depth(p[k]) - best/3; d > 0 {
			sum, all = sum+d*float64(k-mid)*profileStep, all+d
		}
	}
	return sum / all, best
}

// smoothed replaces what is missing, NaN, by its neighbours and each value by the median
// and mean of those about it.
func smoothed(xs []float64) []float64 {
	var known []float64
	for _, x := range xs {
		if !math.IsNaN(x) {
			known = append(known, x)
		}
	}
	usual := middleOf(known)
	mids := make([]float64, len(xs))
	for i := range xs {
		var near []float64
		for k := max(i-2, 0); k < min(i+3, len(xs)); k++ {
			if !math.IsNaN(xs[k]) {
				near = append(near, xs[k])
			}
		}
		mids[i] = usual
		if len(near) > 0 {
			mids[i] = middleOf(near)
		}
	}
	out := make([]float64, len(xs))
	for i := range mids {
		from, to := max(i-1, 0), min(i+2, len(mids))
		for _, m := range mids[from:to] {
			out[i] += m / float64(to-from)
		}
	}
	return out
}

// findProfile finds how much light the line lets through, and how wide it is, where it
// shows.
func (t *taker) findProfile() {
	if len(t.plain) == 0 {
		return
	}
	some := t.plain
	if n := len(some); n > profileParts {
		some = make([]int, profileParts)
		for i := range some {
			some[i] = t.plain[i*n/profileParts]
		}
	}
	p := t.gather(some...)
	mid := len(p) / 2
	t.usual = 0
	for k := max(mid-2, 0); k <= min(mid+2, len(p)-1); k++ {
		if d := t.depth(p[k]); d > t.usual {
			t.usual = d
		}
	}
	if t.usual < 2*leastDepth {
		return
	}
	limit := math.Max(leastDepth, leastDepthShare*t.usual)
	ends := func(k, way int) bool {
		return !(t.depth(p[k]) >= limit) && !(t.depth(p[k+way]) >= limit)
	}
	left, right := mid, mid
	for left > 1 && !ends(left, -1) {
		left--
	}
	for right < len(p)-2 && !ends(right, 1) {
		right++
	}
	most := t.beside - 1 // so that the paper beside is off the line
	t.opaque = !t.light && 1-t.usual < clearAbove
	t.half = math.Min(float64(max(mid-left, right-mid))*profileStep+.5, most)
	t.profile = p
	for k := range p {
		if !(t.depth(p[k]) > 0) {
			p[k] = 1
		}
	}
}

// through returns the share of light that the line lets through off px from its middle.
func (t *taker) through(off float64) float64 {
	return along(t.profile, off/profileStep+float64(len(t.profile)/2))
}

// write writes what lies under the line.
func (t *taker) write(dst []uint8) {
	if t.profile == nil {
		return
	}
	reach := (t.half + 1) / t.normal
	left, right := make([]float64, t.rows), make([]float64, t.rows)
	for row := range t.rows {
		c := t.centre(row)
		left[row], right[row] = t.value(row, c-reach), t.value(row, c+reach)
	}
	for row := t.from; row < t.to; row++ {
		c := t.centre(row)
		if t.opaque && t.inked(row, c) {
			continue
		}
		depth := along(t.depths, (float64(row)+.5)/float64(t.part)-.5) / t.usual
		if c < -reach || c > float64(t.cols)+reach {
			continue
		}
		for col := max(int(c-reach), 0); col < min(int(c+reach)+1, t.cols); col++ {
			off := (float64(col) + .5 - c) * t.normal
			if math.Abs(off) > t.half {
				continue
			}
			through := math.Max(1-(1-t.through(off))*depth, .02)
			at := row*t.rowStep + col*t.colStep
			v := t.under(float64(t.src[at]), through, left[row], right[row])
			if known := clamp((through-opaqueBelow)/(clearAbove-opaqueBelow), 0, 1); known < 1 {
				v = known*v + (1-known)*math.Max(float64(t.src[at]), t.joined(left, right, row, off))
			}
			dst[at] = uint8(clamp(math.Round(v), 0, brightest))
		}
	}
}

// inked reports whether ink lies at both edges of the line in a row: what lies between
// is drawn.
func (t *taker) inked(row int, c float64) bool {
	far, edge := t.beside/t.normal, t.half/t.normal
	half := t.black + (math.Max(t.paper, math.Max(t.value(row, c-far), t.value(row, c+far)))-t.black)/2
	return t.value(row, c-edge) < half && t.value(row, c+edge) < half
}

// under returns what lies under a line that lets through a share of the light, no lighter
// than the lighter of the two sides, unless it was.
func (t *taker) under(v, through, left, right float64) float64 {
	u := t.black + (v-t.black)/through
	if t.light {
		return math.Max(u, min(v, left, right))
	}
	return math.Min(u, max(v, left, right))
}

// joined returns the level off px from the middle of a line, in a row, from the levels on
// both sides: along the slant on which they are most alike.
func (t *taker) joined(left, right []float64, row int, off float64) float64 {
	wide := t.half + 1
	span := 2 * wide / t.normal
	share := (off + wide) / (2 * wide)
	best, value := math.Inf(1), 0.0
	n := 2 * int(math.Ceil(steepest*span/2))
	for k := -n; k <= n; k++ {
		lean := float64(k) / float64(max(n, 1)) * steepest * span
		a, b := float64(row)-lean*share, float64(row)+lean*(1-share)
		var cost float64
		for d := -likeReach; d <= likeReach; d++ {
			cost += math.Abs(along(left, a+float64(d)) - along(right, b+float64(d)))
		}
		cost = cost/(2*likeReach+1) + leanCost*brightest*math.Abs(lean)/span/4
		if cost < best {
			best, value = cost, along(left, a)*(1-share)+along(right, b)*share
		}
	}
	return value
}

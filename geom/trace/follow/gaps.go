package follow

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom"
)

const (
	// gapBend is the largest angle in radians between a line and the way across a gap for
	// both sides to be one line: 35 degrees, for a line drawn by hand.
	gapBend = 35 * math.Pi / 180
	// mostEnds bounds the loose ends among which gaps are looked for.
	mostEnds = 4000
)

// tip is a loose end: where its ink ends, and its direction outward.
type tip struct {
	half    int // the half branch that leaves from it
	at, dir geom.Point
}

// tips returns the loose ends of the drawing.
func (w *walker) tips() []tip {
	var out []tip
	for n := range w.d.nodes {
		if w.d.degree(n) == 1 && len(out) < mostEnds {
			out = append(out, w.tip(w.d.nodes[n].ends[0]))
		}
	}
	return out
}

// tip returns the loose end that half branch h leaves from.
func (w *walker) tip(h int) tip {
	pen, node := w.d.pen(h), w.d.nodes[w.d.nodeOf(h)].at
	t := tip{half: h, at: node, dir: w.d.heading(h, tailPens*pen).Mul(-1)}
	part := w.piece(h ^ 1)
	if len(part) < 2 {
		return t
	}
	at, dir := w.tail(part, pen)
	t.dir = dir
	if d := edgeFrom(w.f, at, dir, w.level, at.Dist(node)+2*pen); !math.IsInf(d, 0) {
		t.at = at.Add(dir.Mul(d))
	}
	return t
}

// fits reports whether two loose ends belong to one line, over a gap of at most gap px, and
// how ill.
func (a tip) fits(b tip, gap, pen float64) (float64, bool) {
	way := b.at.Sub(a.at)
	d := way.Len()
	if d > gap {
		return 0, false
	}
	across := angle(a.dir, b.dir.Mul(-1))
	if d <= pen && across <= gapBend {
		return d * (1 + across), true
	}
	u := way.Unit()
	x, y := angle(a.dir, u), angle(b.dir, u.Mul(-1))
	if x <= gapBend && y <= gapBend {
		return d * (1 + x + y), true
	}
	// Two sides of a corner whose tip is missing meet ahead of both.
	turn := a.dir.Cross(b.dir)
	if math.Abs(turn) < math.Sin(bendMost) {
		return 0, false
	}
	s, t := way.Cross(b.dir)/turn, way.Cross(a.dir)/turn
	limit := meetReach*d + pen
	ok := s >= -pen && t >= -pen && s <= limit && t <= limit
	return d * (1 + math.Pi), ok
}

// bridgeGaps joins loose ends over gaps of at most gap px, those that fit best first.
func (w *walker) bridgeGaps(gap float64) {
	if !(gap > 0) || math.IsInf(gap, 0) {
		return
	}
	tips := w.tips()
	type cell struct{ x, y int }
	of := func(p geom.Point) cell { return cell{int(math.Floor(p.X / gap)), int(math.Floor(p.Y / gap))} }
	in := map[cell][]int{}
	for i, t := range tips {
		in[of(t.at)] = append(in[of(t.at)], i)
	}
	type pair struct {
		a, b int
		ill  float64
	}
	var pairs []pair
	for i, t := range tips {
		c := of(t.at)
		for _, x := range [3]int{c.x - 1, c.x, c.x + 1} {
			for _, y := range [3]int{c.y - 1, c.y, c.y + 1} {
				for _, k := range in[cell{x, y}] {
					if k <= i {
						continue
					}
					if ill, ok := t.fits(tips[k], gap, w.d.pen(t.half)); ok {
						pairs = append(pairs, pair{i, k, ill})
					}
				}
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.ill, b.ill) })
	used := make([]bool, len(tips))
	for _, p := range pairs {
		if !used[p.a] && !used[p.b] {
			used[p.a], used[p.b] = true, true
			w.d.bridge(tips[p.a], tips[p.b])
		}
	}
}

// bridge joins two loose ends by a branch of its own.
func (d *drawing) bridge(a, b tip) {
	d.add(branch{
		from: d.nodeOf(a.half), to: d.nodeOf(b.half), bridge: true,
		raw: []geom.Point{a.at, a.at.Lerp(b.at, 1.0/3), a.at.Lerp(b.at, 2.0/3), b.at}, patch: d.branches[a.half/2].patch,
	})
}

package follow

import (
	"context"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

const (
	// speckMM is the extent below which a mark is a dot of dirt, and not even a letter.
	speckMM = 1.2
	// letterMM is the extent below which a mark that touches nothing else is taken for a
	// letter or a figure.
	letterMM = 8.0
	// widestPenMM is the widest pen that patterns are drawn with at true size, usualPenMM the
	// one that drawings which are printed smaller are taken to have.
	widestPenMM, usualPenMM = 1.2, 0.6
	// spurPens is the length, in pens, below which a loose end comes of the shape of a
	// crossing or of the end of a stroke.
	spurPens = 1.0
	// jointPens is the length, in pens, below which two crossings are one.
	jointPens = 1.0
	// mergedPens is the same where the strokes between them are nowhere apart.
	mergedPens = 6.0
	// fullShare is the share of the pen by which a stroke may be wider or narrower and still
	// be a stroke of its own.
	fullShare = 0.15
)

// length returns the length of the raw line of a branch in px, from node to node.
func (d *drawing) length(k int) float64 {
	r := &d.branches[k]
	sum := 0.0
	for i := 1; i < len(r.raw); i++ {
		sum += r.raw[i].Dist(r.raw[i-1])
	}
	if r.from >= 0 && len(r.raw) > 0 {
		sum += d.nodes[r.from].at.Dist(r.raw[0]) + d.nodes[r.to].at.Dist(r.raw[len(r.raw)-1])
	}
	return sum
}

// lone returns how many nodes have no branch: dots of ink.
func (d *drawing) lone() int {
	n := 0
	for i := range d.nodes {
		if d.degree(i) == 0 {
			n++
		}
	}
	return n
}

// dropSmall takes out the patches of small extent, and returns how many of them were specks
// and how many letters.
func (d *drawing) dropSmall(o Options) (specks, letters int) {
	box := make([]geom.Rect, d.patches())
	for i := range box {
		box[i] = geom.EmptyRect()
	}
	for i := range d.branches {
		r := &d.branches[i]
		if r.gone {
			continue
		}
		for _, p := range r.raw {
			box[r.patch] = box[r.patch].Include(p)
		}
	}
	by := d.reduced(o) * o.S
	least := speckMM * by
	if !o.KeepSmall {
		least = letterMM * by
	}
	small := make([]bool, len(box))
	for i, b := range box {
		extent := max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y)
		small[i] = extent < least
		switch {
		case extent < speckMM*by:
			specks++
		case small[i]:
			letters++
		}
	}
	for k := range d.branches {
		if r := d.branches[k]; !r.gone && small[r.patch] {
			d.remove(k)
		}
	}
	return specks, letters
}

// reduced returns how many times as large what is drawn truly is, at a guess by its pen: 1
// for a drawing at true size.
func (d *drawing) reduced(o Options) float64 {
	var widths []float64
	for k := range d.branches {
		r := &d.branches[k]
		if r.gone {
			continue
		}
		// Long strokes count for more than short ones, and letters for little.
		for range int(d.length(k) / (letterMM * o.S)) {
			widths = append(widths, d.pens[r.patch])
		}
	}
	if len(widths) == 0 {
		return 1
	}
	pen := median(widths) / o.S
	if pen <= widestPenMM {
		return 1
	}
	return pen / usualPenMM
}

// measurePens measures the pen of each patch.
func (d *drawing) measurePens(ctx context.Context, f *scan.Field, o Options, level float64) error {
	n := d.patches()
	widths := make([][]float64, n)
	for i := range d.branches {
		r := &d.branches[i]
		if r.gone {
			continue
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		widths[r.patch] = append(widths[r.patch], penOf(f, r.raw, r.from < 0, level, penReachPx(f, o))...)
	}
	d.pens = make([]float64, n)
	for i, w := range widths {
		d.pens[i] = max(median(w), 1)
	}
	return nil
}

// penReachPx returns how wide a stroke may be, and how far its edges are looked for, in px.
// A picture of a drawing that is smaller than what it shows, as books print them, has pens
// that are as many pixels wide as ever, and wide in mm.
func penReachPx(f *scan.Field, o Options) float64 {
	thin := penShare * float64(max(f.W, f.H))
	return max(mostPenMM*o.S, min(max(thin, leastReachPx), reducedReachPx))
}

// solidShare is the share of the places along a branch that must lie deep in ink for it to
// be no stroke.
const solidShare = 0.5

// dropSolid takes out the branches that run through ink wider than a pen, such as the table
// beside a sheet, and returns how many there were, but for those no longer than a pen may
// be wide, as in a blot.
func (d *drawing) dropSolid(f *scan.Field, o Options, level float64) int {
	n, reach := 0, penReachPx(f, o)
	for k := range d.branches {
		r := &d.branches[k]
		if r.gone || len(r.raw) == 0 {
			continue
		}
		deep, places := 0, 0
		for i := 0; i < len(r.raw); i += max(1, len(r.raw)/solidPlaces) {
			places++
			if deepInInk(f, r.raw[i], level, reach/2) {
				deep++
			}
		}
		if float64(deep) >= solidShare*float64(places) {
			if d.length(k) > reach {
				n++
			}
			d.remove(k)
		}
	}
	return n
}

// solidPlaces is about how many places along a branch are looked at.
const solidPlaces = 40

// deepInInk reports whether no edge lies within reach px of p in any of eight directions.
func deepInInk(f *scan.Field, p geom.Point, level, reach float64) bool {
	for k := range 8 {
		sin, cos := math.Sincos(float64(k) * math.Pi / 4)
		if edgeFrom(f, p, geom.Pt(cos, sin), level, reach) <= reach {
			return false
		}
	}
	return true
}

// How wide a stroke may be in px whatever the scale: at least leastReachPx, and up to
// reducedReachPx, a pen of 1.3 mm at 600 dpi, where that is no more than penShare of the
// longer side of the picture.
const (
	leastReachPx   = 8
	reducedReachPx = 32
	penShare       = 1. / 100
)

// pen returns the pen of half branch h.
func (d *drawing) pen(h int) float64 { return d.pens[d.branches[h/2].patch] }

// prune takes out spurs until there are none.
func (d *drawing) prune() {
	for changed := true; changed; {
		changed = false
		for n := range d.nodes {
			if d.degree(n) < 3 {
				continue
			}
			spurs := d.spurs(n)
			// A stroke's own end splits in two spurs: then both go. Else the shorter go first,
			// and two lines stay.
			keep := 2
			if d.degree(n)-len(spurs) < 2 {
				keep = 1
			}
			for _, h := range spurs[:min(len(spurs), max(d.degree(n)-keep, 0))] {
				d.remove(h / 2)
				changed = true
			}
		}
	}
}

// spurs returns the half branches from node n that are spurs, the shortest first.
func (d *drawing) spurs(n int) []int {
	var out []int
	for _, h := range d.nodes[n].ends {
		end := d.nodeOf(h ^ 1)
		if end != n && d.degree(end) == 1 && d.length(h/2) < d.spurLength(n, h) {
			out = append(out, h)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		return int(math.Copysign(1, d.length(a/2)-d.length(b/2)))
	})
	return out
}

// sharpest bounds how sharp a corner is that is told from a line with a tail, by its sine.
const sharpest = 0.06

// spurLength returns how long half branch h from node n may be as a spur: where two strokes
// meet at a sharp corner their ink runs together before it does, which leaves a tail as
// long as the ink is wide there.
func (d *drawing) spurLength(n, h int) float64 {
	pen := d.pen(h)
	if d.degree(n) != 3 {
		return spurPens * pen
	}
	var out []geom.Point
	for _, e := range d.nodes[n].ends {
		if e != h {
			out = append(out, d.heading(e, 3*pen))
		}
	}
	tail := d.heading(h, pen)
	mid := out[0].Add(out[1]).Unit()
	half := math.Acos(min(max(out[0].Dot(out[1]), -1), 1)) / 2
	if half > math.Pi/4 || tail.Dot(mid) > -math.Cos(math.Pi/6) {
		return spurPens * pen
	}
	return pen/2/max(math.Sin(half), sharpest) + spurPens*pen
}

// heading returns the direction in which half branch h leaves its node, taken at a way of
// reach px.
func (d *drawing) heading(h int, reach float64) geom.Point {
	at, raw := d.nodes[d.nodeOf(h)].at, d.branches[h/2].raw
	far := at
	for i := range raw {
		p := raw[i]
		if h%2 == 1 {
			p = raw[len(raw)-1-i]
		}
		if far = p; p.Dist(at) >= reach {
			break
		}
	}
	if len(raw) == 0 {
		far = d.nodes[d.nodeOf(h^1)].at
	}
	return far.Sub(at).Unit()
}

// full reports whether a stroke is as wide as the pen, which draws so wide all over unless
// it is known how wide it does thereabouts.
func (s stroke) full(pen float64) bool {
	if s.pen > 0 {
		pen = s.pen
	}
	return math.Abs(s.width()-pen) <= fullShare*pen
}

// fullness returns the share of the places along branch k that are as wide as the pen.
func (d *drawing) fullness(k int) float64 {
	r := &d.branches[k]
	n := 0
	for _, s := range r.pts {
		if s.full(d.pens[r.patch]) {
			n++
		}
	}
	return float64(n) / float64(max(len(r.pts), 1))
}

// leastFullness is the share of full places below which a line between two crossings is
// but the ink of both running together.
const leastFullness = 0.25

// contract makes one crossing of two that are too near each other to be told apart.
func (d *drawing) contract() {
	for k := range d.branches {
		r := &d.branches[k]
		if r.gone || r.bridge || r.from < 0 || d.degree(r.from) < 3 || d.degree(r.to) < 3 {
			continue
		}
		pen, long := d.pens[r.patch], d.length(k)
		if long >= mergedPens*pen || long >= jointPens*pen && d.fullness(k) > leastFullness {
			continue
		}
		from, to := r.from, r.to
		d.remove(k)
		if from == to {
			continue
		}
		d.nodes[from].at = d.nodes[from].at.Lerp(d.nodes[to].at, 0.5)
		for _, h := range d.nodes[to].ends {
			b := &d.branches[h/2]
			if h%2 == 0 {
				b.from = from
			} else {
				b.to = from
			}
			d.nodes[from].ends = append(d.nodes[from].ends, h)
		}
		d.nodes[to].ends = nil
	}
}

package follow

import (
	"context"
	"math"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// Strokes returns the outlines of a line drawing: the middle of its pen strokes, a point
// each max(0.1 mm, 1 px).
//
// The ink is thinned to a network of lines, and along each the middle between both edges of
// the stroke is found on the way across. Near crossings, where only one edge is to be seen,
// it is half a pen from that one; where none is, there are no points. Then:
//
//   - loose ends that lie at most o.Gap apart and point at each other, or meet ahead at a
//     corner, are joined;
//   - the outer ring of each connected drawing is an outline, if no other is round it: a
//     line that divides it from edge to edge is an inner line, as are rings inside. Only
//     where the ring turns inward by more than 25 degrees at both ends of such a line, and
//     has at least a fifth of its area on either side, are these two pieces that share it;
//   - lines inside an outline are inner lines, from the outline on where they touch it;
//   - lines that hang on an outline outside are left out and counted; lines that touch none
//     are in Open;
//   - marks smaller than 8 mm that touch nothing are lettering, left out and counted unless
//     o.KeepSmall; those under 1.2 mm are specks; ink wider than 3 mm is no line. Where the
//     pen is wider than any pen of a pattern, the drawing is a smaller one of what it shows,
//     and what counts as a letter or a speck is larger by as much.
//
// It fails without a field, for a picture with more crossings than a drawing has, and when
// ctx ends.
func Strokes(ctx context.Context, f *scan.Field, o Options) (Found, error) {
	if f == nil || f.W <= 0 || f.H <= 0 {
		return Found{}, errNoField
	}
	o = o.sound()
	found := Found{Specks: f.Specks}
	w, err := network(ctx, f, o, &found)
	if err != nil {
		return Found{}, err
	}
	w.bridgeGaps(o.Gap * o.S)
	if err := ctx.Err(); err != nil {
		return Found{}, err
	}
	w.assemble(o, &found)
	return found, nil
}

// network reads the lines of a field, and counts what is too small to be one.
func network(ctx context.Context, f *scan.Field, o Options, found *Found) (*walker, error) {
	ink, err := inkOf(ctx, f, o.level())
	if err != nil {
		return nil, err
	}
	if err := ink.thin(ctx); err != nil {
		return nil, err
	}
	d, err := ink.network()
	if err != nil {
		return nil, err
	}
	w := &walker{f: f, d: d, step: o.step(), level: float64(o.level()) / scan.Paper}
	found.Specks += d.lone()
	found.Solid = d.dropSolid(f, o, w.level)
	if err := d.measurePens(ctx, f, o, w.level); err != nil {
		return nil, err
	}
	specks, letters := d.dropSmall(o)
	found.Specks += specks
	found.Lettering = letters
	d.prune()
	for k := range d.branches {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if r := &d.branches[k]; !r.gone {
			r.refine(f, d, d.pens[r.patch], w.step, w.level)
		}
	}
	d.contract()
	return w, nil
}

// assemble sorts the lines of the drawing into shapes and what lies in them.
func (w *walker) assemble(o Options, found *Found) {
	rings, in := w.d.rings(o.leastPx())
	onRing := make([]bool, len(w.d.branches))
	var outlines []ring
	at := make([]int, len(w.d.nodes)) // the outline through a node, + 1
	for _, r := range rings {
		p := r.poly[len(r.poly)/2]
		home := innermost(outlines, p)
		line := w.ringLine(r)
		if len(line.Pts) < 3 {
			continue
		}
		w.claim(r, onRing)
		if home >= 0 {
			found.Shapes[home].Inner = append(found.Shapes[home].Inner, line)
			continue
		}
		outlines = append(outlines, r)
		found.Crossed += w.d.crossings(r, in)
		for _, h := range r.halves {
			at[w.d.nodeOf(h)] = len(outlines)
		}
		found.Shapes = append(found.Shapes, Shape{Outline: line})
	}
	for _, chain := range w.chains(onRing, at) {
		w.place(chain, outlines, at, found)
	}
}

// ringLine returns the line of a ring, counter-clockwise on screen.
func (w *walker) ringLine(r ring) Line {
	var l Line
	if len(r.halves) == 0 {
		l = w.loop(r.loop)
	} else {
		l = w.line(r.halves, true)
	}
	if signedArea(l.Pts) > 0 {
		for i, j := 0, len(l.Pts)-1; i < j; i, j = i+1, j-1 {
			l.Pts[i], l.Pts[j] = l.Pts[j], l.Pts[i]
		}
	}
	return l
}

// claim marks the branches of a ring as taken.
func (w *walker) claim(r ring, taken []bool) {
	if len(r.halves) == 0 {
		taken[r.loop] = true
	}
	for _, h := range r.halves {
		taken[h/2] = true
	}
}

// innermost returns the smallest of the rings, sorted by size, round a point; -1 for none.
func innermost(rings []ring, p geom.Point) int {
	for i := len(rings) - 1; i >= 0; i-- {
		if contains(rings[i].poly, p) {
			return i
		}
	}
	return -1
}

// straightOn is the largest angle in radians by which a line that is not an outline may
// bend at a crossing and still be one: 25 degrees.
const straightOn = 25 * math.Pi / 180

// chains joins the branches that lie on no ring to lines as long as they are one: through
// nodes that join but two, and straight on at crossings. They end at outlines.
func (w *walker) chains(taken []bool, outline []int) [][]int {
	next := map[int]int{} // from a half branch that arrives, to the one that goes on
	for n := range w.d.nodes {
		if outline[n] > 0 {
			continue
		}
		var ends []int
		for _, h := range w.d.nodes[n].ends {
			if !taken[h/2] {
				ends = append(ends, h)
			}
		}
		for _, p := range w.pairs(ends) {
			next[p[0]^1], next[p[1]^1] = p[1], p[0]
		}
	}
	var out [][]int
	done := make([]bool, len(w.d.branches))
	walk := func(h int) {
		chain := []int{h}
		done[h/2] = true
		for {
			n, ok := next[chain[len(chain)-1]]
			if !ok || done[n/2] {
				break
			}
			done[n/2] = true
			chain = append(chain, n)
		}
		out = append(out, chain)
	}
	for k := range w.d.branches {
		if r := &w.d.branches[k]; r.gone || taken[k] || done[k] {
			continue
		}
		// A line starts where none leads to it: go back to there.
		h := 2 * k
		for range w.d.branches {
			back, ok := next[h^1]
			if !ok || back/2 == k {
				break
			}
			h = back ^ 1
		}
		walk(h)
	}
	return out
}

// pairs returns which of the half branches that leave a node are one line.
func (w *walker) pairs(ends []int) [][2]int {
	if len(ends) == 2 {
		return [][2]int{{ends[0], ends[1]}}
	}
	var out [][2]int
	used := map[int]bool{}
	for {
		best, pair := straightOn, [2]int{-1, -1}
		for i, a := range ends {
			for _, b := range ends[i+1:] {
				if used[a] || used[b] {
					continue
				}
				reach := headingPens * w.d.pen(a)
				if x := angle(w.d.heading(a, reach), w.d.heading(b, reach).Mul(-1)); x < best {
					best, pair = x, [2]int{a, b}
				}
			}
		}
		if pair[0] < 0 {
			return out
		}
		used[pair[0]], used[pair[1]] = true, true
		out = append(out, pair)
	}
}

// place puts a line that lies on no ring where it belongs.
func (w *walker) place(chain []int, outlines []ring, outline []int, found *Found) {
	long := chain[0]
	for _, h := range chain {
		if len(w.d.branches[h/2].raw) > len(w.d.branches[long/2].raw) {
			long = h
		}
	}
	first, last := w.d.nodeOf(chain[0]), w.d.nodeOf(chain[len(chain)-1]^1)
	raw := w.d.branches[long/2].raw
	home := -1
	if len(raw) > 0 {
		home = innermost(outlines, raw[len(raw)/2])
	}
	hangs := first >= 0 && outline[first] > 0 || last >= 0 && outline[last] > 0
	if home < 0 && hangs {
		found.Outside++
		return
	}
	closed := first < 0 || first == last && outline[first] == 0 && len(w.d.nodes[first].ends) == 2
	line := w.openLine(chain, closed)
	if len(line.Pts) < 2 {
		return
	}
	if home < 0 && closed {
		found.Specks++ // it encloses less than a shape
		return
	}
	if home < 0 {
		gap, at := w.gapOf(chain, line.Pts[0])
		found.Open = append(found.Open, Loose{line, gap, at})
		return
	}
	for end, n := range [2]int{first, last} {
		if !closed && n >= 0 && outline[n] > 0 {
			line.attach(end, w.d.nodes[n].at, found.Shapes[outline[n]-1].Outline.Pts)
		}
	}
	found.Shapes[home].Inner = append(found.Shapes[home].Inner, line)
}

// openLine returns the line along a chain, with its loose ends drawn out to half a pen
// before the end of their ink.
func (w *walker) openLine(chain []int, closed bool) Line {
	if w.d.branches[chain[0]/2].from < 0 {
		return w.loop(chain[0] / 2)
	}
	line := w.line(chain, closed)
	if closed || len(line.Pts) < 2 {
		return line
	}
	pen := line.Width
	out := func(h int) (geom.Point, bool) {
		if w.d.degree(w.d.nodeOf(h)) != 1 {
			return geom.Point{}, false
		}
		t := w.tip(h)
		return t.at.Sub(t.dir.Mul(pen / 2)), true
	}
	pts := line.Pts
	if p, ok := out(chain[0]); ok && p.Sub(pts[0]).Dot(pts[0].Sub(pts[1])) > 0 {
		pts = append([]geom.Point{p}, pts...)
	}
	if p, ok := out(chain[len(chain)-1] ^ 1); ok && p.Sub(pts[len(pts)-1]).Dot(pts[len(pts)-1].Sub(pts[len(pts)-2])) > 0 {
		pts = append(pts, p)
	}
	line.Pts = pts
	return line
}

// gapOf returns how far the loose ends of a chain are from the nearest other loose end, the
// farther of the two, and where that end is: 0 at the given start where it has none.
func (w *walker) gapOf(chain []int, start geom.Point) (float64, geom.Point) {
	if w.all == nil {
		w.all = w.tips()
	}
	gap, at := 0.0, start
	for _, h := range [2]int{chain[0], chain[len(chain)-1] ^ 1} {
		if w.d.branches[h/2].from < 0 || w.d.degree(w.d.nodeOf(h)) != 1 {
			continue
		}
		own, best := w.tip(h), math.Inf(1)
		for _, t := range w.all {
			if t.half != h {
				best = min(best, t.at.Dist(own.at))
			}
		}
		if best >= gap && !math.IsInf(best, 0) {
			gap, at = best, own.at
		}
	}
	return gap, at
}

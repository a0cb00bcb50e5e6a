package geom

import (
	"math"
	"slices"
)

// loopTopology finds where a closed loop of curves crosses itself and which of
// its stretches border a region of winding 1 or more. It works on chords of the
// curves; the places found are refined on the curves by its user.
type loopTopology struct {
	pts    []Point // chord i runs from pts[i] to pts[i+1], cyclically
	chord  []chordOf
	block  []Rect // boxes around blockSize chords each
	cross  []loopCrossing
	event  []loopEvent
	left   []int32 // winding to the left of the stretch after each event
	place  []loopPlace
	placed []int32 // number of each event's place, -1 for none
	done   []bool
	unsure bool // chords touch, overlap or fold back, so that sides are a matter of rounding
	eps    float64
	group  []Rect // boxes around groupSize blocks each
	super  []Rect // and around groupSize of these
	want   search
	budget *int // comparisons that are left to all searches of a run
	spent  bool // the loop is beyond the limits, what was found is not all
	halted bool // the search is over before its end
}

// chordOf says which stretch of which curve a chord stands for.
type chordOf struct {
	piece  int32
	t0, t1 float64
}

// loopCrossing is a place where chord i crosses chord j (i < j) at the shares fi
// and fj of their lengths.
type loopCrossing struct {
	i, j   int32
	fi, fj float64
	rise   int32 // change of the winding along i
}

// loopEvent is one of the two passages of the loop through a crossing.
type loopEvent struct {
	pos   float64 // chord number plus share
	cross int32
	mate  int32 // the other passage
	rise  int32 // change of the winding to the left
}

// blockSize is the number of chords in a box: few enough that neighbours are
// told apart, many enough that there are few boxes.
const blockSize = 8

// touchShare is the distance, as a share of the loop's size, under which a point
// counts as lying on a chord for all that double precision can tell.
const touchShare = 1e-12

func (t *loopTopology) reset() {
	t.pts, t.chord = t.pts[:0], t.chord[:0]
	t.spent = false
}

// room makes room for n chords at once.
func (t *loopTopology) room(n int) {
	n = min(n, maxLoopChords)
	t.pts, t.chord = slices.Grow(t.pts, n), slices.Grow(t.chord, n)
}

// append adds the chords of a curve, within tol mm of it. The end point is left
// to the next curve. Beyond maxLoopChords it adds none and the loop counts as spent.
func (t *loopTopology) append(s *Segment, piece int32, tol float64) {
	if t.spent || len(t.pts) >= maxLoopChords {
		t.spent = true
		return
	}
	if s.Straight {
		if s.P0 != s.P3 {
			t.pts = append(t.pts, s.P0)
			t.chord = append(t.chord, chordOf{piece, 0, 1})
		}
		return
	}
	ax, ay := s.P0.X-2*s.P1.X+s.P2.X, s.P0.Y-2*s.P1.Y+s.P2.Y
	bx, by := s.P1.X-2*s.P2.X+s.P3.X, s.P1.Y-2*s.P2.Y+s.P3.Y
	m := 36 * math.Max(ax*ax+ay*ay, bx*bx+by*by)
	bent := math.Sqrt(math.Sqrt(m) / (8 * tol))
	if !(bent < float64(maxLoopChords-len(t.pts))) {
		t.spent = true
		return
	}
	n := int(bent) + 1
	c0, c1, c2, c3 := s.power(Point{})
	h := 1 / float64(n)
	u := 0.0
	for i := range n {
		p := Point{((c3.X*u+c2.X)*u+c1.X)*u + c0.X, ((c3.Y*u+c2.Y)*u+c1.Y)*u + c0.Y}
		v := float64(i+1) * h
		t.pts = append(t.pts, p)
		t.chord = append(t.chord, chordOf{piece, u, v})
		u = v
	}
	t.chord[len(t.chord)-1].t1 = 1
}

// search says when to stop looking for crossings before all are found.
type search struct {
	// judge is asked about each crossing, and the search ends with the first that
	// it confirms, the only one listed; nil lists them all.
	judge crossingJudge
	// sure ends the search where sides are a matter of rounding.
	sure bool
}

// crossingJudge tells whether a crossing of chords is one that is looked for.
type crossingJudge interface{ confirms(loopCrossing) bool }

// anyCrossing confirms every crossing.
type anyCrossing struct{}

func (anyCrossing) confirms(loopCrossing) bool { return true }

// find lists all crossings of chords that are no neighbours, or as many as the
// search wants; false if that is beyond the limits.
//
// Block by block along the loop it looks at those that follow, and passes over
// whole groups of them that lie apart. The order of the crossings is that of
// comparing every block with every later one.
func (t *loopTopology) find(want search) bool {
	t.cross, t.unsure, t.halted, t.want = t.cross[:0], false, false, want
	if t.spent {
		return false
	}
	t.box()
	n := len(t.pts)
	for a := range t.block {
		if *t.budget < 0 {
			t.spent = true
		}
		if t.spent || t.halted {
			break
		}
		t.findBeside(a, n)
	}
	return !t.spent
}

// findBeside compares the chords of block a with their own and those of all
// blocks after it.
func (t *loopTopology) findBeside(a, n int) {
	if len(t.block) <= ungrouped {
		t.findAmong(a, a, len(t.block), n)
		return
	}
	for b := a; b < len(t.block) && !t.halted; {
		if b%groupSize == 0 {
			if skip := t.apart(&t.block[a], b); skip > 0 {
				b += skip
				continue
			}
		}
		end := min(b-b%groupSize+groupSize, len(t.block))
		t.findAmong(a, b, end, n)
		b = end
	}
}

// findAmong compares the chords of block a with those of blocks b0 to b1.
func (t *loopTopology) findAmong(a, b0, b1, n int) {
	ra := t.block[a]
	work := b1 - b0
	for k := range t.block[b0:b1] {
		rb := &t.block[b0+k]
		if ra.Min.X > rb.Max.X || rb.Min.X > ra.Max.X || ra.Min.Y > rb.Max.Y || rb.Min.Y > ra.Max.Y {
			continue
		}
		b := b0 + k
		if a == b && t.runsOn(a, n) {
			continue
		}
		work += blockWork
		t.findIn(a*blockSize, min((a+1)*blockSize, n), b*blockSize, min((b+1)*blockSize, n), *rb)
	}
	*t.budget -= work
}

// apart returns how many blocks from b on, which starts a group, lie apart from
// the box as a whole.
func (t *loopTopology) apart(r *Rect, b int) int {
	g := b / groupSize
	if g%groupSize == 0 && r.apart(&t.super[g/groupSize]) {
		return groupSize * groupSize
	}
	if r.apart(&t.group[g]) {
		return groupSize
	}
	return 0
}

// apart reports whether two boxes have no point in common.
func (r *Rect) apart(o *Rect) bool {
	return r.Min.X > o.Max.X || o.Min.X > r.Max.X || r.Min.Y > o.Max.Y || o.Min.Y > r.Max.Y
}

// runsOn reports whether the chords of a block all head within a quarter turn of
// the first, so that none can cross another.
func (t *loopTopology) runsOn(block, n int) bool {
	i := block * blockSize
	end := min(i+blockSize, n-1)
	if i >= end {
		return true
	}
	u := t.pts[i+1].Sub(t.pts[i])
	for k := i + 1; k < end; k++ {
		if t.pts[k+1].Sub(t.pts[k]).Dot(u) <= 0 {
			return false
		}
	}
	return end == i+blockSize
}

// box makes the boxes.
func (t *loopTopology) box() {
	t.block = t.block[:0]
	n := len(t.pts)
	far := 0.0
	for i := 0; i < n; i += blockSize {
		p := t.pts[i]
		lx, hx, ly, hy := p.X, p.X, p.Y, p.Y
		for k := i + 1; k <= i+blockSize && k <= n; k++ {
			q := t.pts[0]
			if k < n {
				q = t.pts[k]
			}
			if q.X < lx {
				lx = q.X
			} else if q.X > hx {
				hx = q.X
			}
			if q.Y < ly {
				ly = q.Y
			} else if q.Y > hy {
				hy = q.Y
			}
		}
		t.block = append(t.block, Rect{Point{lx, ly}, Point{hx, hy}})
		far = max(far, -lx, hx, -ly, hy)
	}
	t.eps = touchShare * far
	if len(t.block) <= ungrouped {
		return
	}
	t.group = grouped(t.group[:0], t.block)
	t.super = grouped(t.super[:0], t.group)
}

// grouped appends a box around each groupSize of the boxes.
func grouped(dst, boxes []Rect) []Rect {
	for i, r := range boxes {
		if i%groupSize == 0 {
			dst = append(dst, r)
			continue
		}
		g := &dst[len(dst)-1]
		g.Min.X, g.Max.X = min(g.Min.X, r.Min.X), max(g.Max.X, r.Max.X)
		g.Min.Y, g.Max.Y = min(g.Min.Y, r.Min.Y), max(g.Max.Y, r.Max.Y)
	}
	return dst
}

// findIn compares chords i0..i1 with j0..j1, which lie in the box rj.
func (t *loopTopology) findIn(i0, i1, j0, j1 int, rj Rect) {
	n := len(t.pts)
	for i := i0; i < i1; i++ {
		a, b := t.pts[i], t.pts[0]
		if i+1 < n {
			b = t.pts[i+1]
		}
		lx, hx := a.X, b.X
		if lx > hx {
			lx, hx = hx, lx
		}
		ly, hy := a.Y, b.Y
		if ly > hy {
			ly, hy = hy, ly
		}
		if lx > rj.Max.X || hx < rj.Min.X || ly > rj.Max.Y || hy < rj.Min.Y {
			continue
		}
		for j := max(j0, i+2); j < j1; j++ {
			c, d := t.pts[j], t.pts[0]
			if j+1 < n {
				d = t.pts[j+1]
			} else if i == 0 {
				break // the last chord is the first one's neighbour
			}
			if c.X < lx && d.X < lx || c.X > hx && d.X > hx || c.Y < ly && d.Y < ly || c.Y > hy && d.Y > hy {
				continue
			}
			t.compare(i, j, a, b, c, d)
		}
	}
}

// compare notes whether chord a-b crosses chord c-d.
func (t *loopTopology) compare(i, j int, a, b, c, d Point) {
	u, v := b.Sub(a), d.Sub(c)
	c1, d1 := u.Cross(c.Sub(a)), u.Cross(d.Sub(a))
	a1, b1 := v.Cross(a.Sub(c)), v.Cross(b.Sub(c))
	eu, ev := t.eps*(math.Abs(u.X)+math.Abs(u.Y)), t.eps*(math.Abs(v.X)+math.Abs(v.Y))
	if c1 > eu && d1 > eu || c1 < -eu && d1 < -eu || a1 > ev && b1 > ev || a1 < -ev && b1 < -ev {
		return
	}
	if math.Abs(c1) <= eu || math.Abs(d1) <= eu || math.Abs(a1) <= ev || math.Abs(b1) <= ev {
		t.unsure = true
		t.halted = t.halted || t.want.sure
	}
	if (c1 > 0) == (d1 > 0) || (a1 > 0) == (b1 > 0) {
		return
	}
	rise := int32(1)
	if u.Cross(v) > 0 {
		rise = -1
	}
	t.take(loopCrossing{int32(i), int32(j), a1 / (a1 - b1), c1 / (c1 - d1), rise})
}

// take lists a crossing, or shows it to the search.
func (t *loopTopology) take(x loopCrossing) {
	*t.budget -= crossingWork
	switch {
	case t.halted:
	case t.want.judge != nil && !t.want.judge.confirms(x):
	case len(t.cross) == maxCrossings:
		t.spent, t.halted = true, true
	default:
		t.cross = push(t.cross, x)
		t.halted = t.want.judge != nil
	}
}

// order lists the passages through crossings along the loop, and the winding to
// the left after each; false if the windings contradict each other.
func (t *loopTopology) order() bool {
	t.event = slices.Grow(t.event[:0], 2*len(t.cross))
	for k, x := range t.cross {
		t.event = append(t.event,
			loopEvent{pos: float64(x.i) + x.fi, cross: int32(k), rise: x.rise},
			loopEvent{pos: float64(x.j) + x.fj, cross: int32(k), rise: -x.rise})
	}
	slices.SortFunc(t.event, func(a, b loopEvent) int {
		switch {
		case a.pos < b.pos:
			return -1
		case a.pos > b.pos:
			return 1
		}
		return int(a.cross - b.cross)
	})
	t.pair()
	return t.wind()
}

// pair finds the mate of every event.
func (t *loopTopology) pair() {
	t.left = slices.Grow(t.left[:0], 2*len(t.cross))
	for range t.cross {
		t.left = append(t.left, -1)
	}
	for k := range t.event {
		x := t.event[k].cross
		if m := t.left[x]; m >= 0 {
			t.event[k].mate, t.event[m].mate = m, int32(k)
		}
		t.left[x] = int32(k)
	}
}

// wind computes the winding to the left of the stretch after each event from
// that beside the leftmost point, whose one side is the open plane.
func (t *loopTopology) wind() bool {
	v, w, ok := t.outermost()
	if !ok {
		return false
	}
	m := len(t.event)
	t.left = slices.Grow(t.left[:0], max(m, 1))[:max(m, 1)]
	if m == 0 {
		t.left[0] = w
		return true
	}
	k := m - 1
	for i, e := range t.event {
		if e.pos > float64(v) {
			break
		}
		k = i
	}
	if t.event[0].pos > float64(v) {
		k = m - 1
	}
	start := w
	for range m {
		t.left[k] = w
		k = (k + 1) % m
		w += t.event[k].rise
	}
	return w == start
}

// outermost returns the leftmost (of these the lowest) point and the winding to
// the left of the loop there.
func (t *loopTopology) outermost() (v int, w int32, ok bool) {
	n := len(t.pts)
	if n == 0 {
		return 0, 0, false // a loop that is a point but for rounding
	}
	for i, p := range t.pts {
		if q := t.pts[v]; p.X < q.X || p.X == q.X && p.Y < q.Y {
			v = i
		}
	}
	p := t.pts[v]
	a, b := p.Sub(t.pts[(v+n-1)%n]), t.pts[(v+1)%n].Sub(p)
	switch turn := a.Cross(b); {
	case turn > 0:
		return v, 1, true
	case turn < 0:
		return v, 0, true
	}
	return v, 0, false
}

// loopStretch is a stretch of a border, from event a to event b of the loop;
// both are -1 for a loop without crossings.
type loopStretch struct{ a, b int32 }

// borders calls take with each closed border of the region of winding 1 or more,
// as a list of stretches; false if they do not close.
func (t *loopTopology) borders(take func([]loopStretch)) bool {
	m := int32(len(t.event))
	if m == 0 {
		if t.left[0] == 1 {
			take([]loopStretch{{-1, -1}})
		}
		return true
	}
	t.done = slices.Grow(t.done[:0], int(m))[:m]
	clear(t.done)
	var buf [16]loopStretch
	for k := range m {
		if t.left[k] != 1 || t.done[k] {
			continue
		}
		list := buf[:0]
		for at := k; ; {
			if t.left[at] != 1 || t.done[at] {
				return false
			}
			t.done[at] = true
			next := (at + 1) % m
			list = append(list, loopStretch{at, next})
			at = t.event[next].mate
			if at == k {
				break
			}
		}
		take(list)
	}
	return true
}

// area returns the area of a border on the chords.
func (t *loopTopology) area(list []loopStretch) float64 {
	if list[0].a < 0 {
		return t.shoelace(t.pts[0], 0, len(t.pts)-1)
	}
	o := t.at(list[0].a)
	sum := 0.0
	for _, s := range list {
		sum += t.stretchArea(o, s)
	}
	return sum
}

// at returns the place of an event on its own chord.
func (t *loopTopology) at(e int32) Point {
	pos := t.event[e].pos
	i := min(int(pos), len(t.pts)-1)
	return t.pts[i].Lerp(t.pts[(i+1)%len(t.pts)], pos-float64(i))
}

func (t *loopTopology) stretchArea(o Point, s loopStretch) float64 {
	pa, pb := t.at(s.a), t.at(s.b)
	i, j := int(t.event[s.a].pos), int(t.event[s.b].pos)
	if i == j && t.event[s.a].pos < t.event[s.b].pos {
		return pa.Sub(o).Cross(pb.Sub(o)) / 2
	}
	n := len(t.pts)
	first := (i + 1) % n
	sum := pa.Sub(o).Cross(t.pts[first].Sub(o)) / 2
	if first <= j {
		sum += t.shoelace(o, first, j)
	} else {
		sum += t.shoelace(o, first, n-1) + t.pts[n-1].Sub(o).Cross(t.pts[0].Sub(o))/2 + t.shoelace(o, 0, j)
	}
	return sum + t.pts[j].Sub(o).Cross(pb.Sub(o))/2
}

// shoelace sums the triangles from o to the chords between points i and j.
func (t *loopTopology) shoelace(o Point, i, j int) float64 {
	sum := 0.0
	for ; i < j; i++ {
		sum += t.pts[i].Sub(o).Cross(t.pts[i+1].Sub(o))
	}
	return sum / 2
}

package geom

import (
	"math"
	"slices"
)

const (
	// loopTolerance is how far, in mm, the chords on which crossings are sought
	// may lie from the curves. The crossings are refined on the curves
	// afterwards, so it only has to tell which curves cross.
	loopTolerance = 0.01
	// loopShare keeps the chords fine on small pieces: a share of the size.
	loopShare = 1e-4
	// cuspTolerance is the share of it used beside cusps and sharp corners.
	cuspTolerance = 0.1
	// sliver is the mean width in mm (area over half the outline) under which a
	// part is the trace of two lines that coincide up to rounding and tolerance.
	// It is held to a share of the size, for pieces as small as that.
	sliver      = ParallelTolerance
	sliverShare = 1e-3
	// nudgeShare is the distance, as a share of the loop's size, by which lines
	// that touch are moved apart when sides are a matter of rounding.
	nudgeShare = 1e-7
	// attempts is the number of different nudges that are tried.
	attempts = 6
	// tinySegment is the length in mm under which a segment of a cut line is
	// left out and its neighbours drawn together: a tenth of the tolerance.
	tinySegment = ParallelTolerance / 10
)

// chain lists the whole loop: before each segment its joins, then its pieces.
func (ws *allowanceWork) chain() {
	ws.raw = slices.Grow(ws.raw[:0], len(ws.pieces)+len(ws.joins))
	for i := range ws.stitch {
		s := &ws.stitch[i]
		for _, j := range ws.joins[s.join0:s.join1] {
			ws.link(j)
		}
		ws.linkPieces(s)
	}
	if n := len(ws.raw); n > 0 {
		ws.raw[n-1].seg = ws.raw[n-1].seg.withEnd(ws.raw[0].seg.P0)
	}
}

// linkPieces appends the parallel curve of a segment, from where the join at its
// start cuts it off to where that at its end does. Where its neighbours cut off more
// than all of it, it runs backwards, and the winding leaves it out.
func (ws *allowanceWork) linkPieces(s *stitchSegment) {
	from, to := pieceHit{piece: s.first}, pieceHit{piece: s.last - 1, t: 1}
	if s.cutFrom {
		from = s.from
	}
	if s.cutTo {
		to = s.to
	}
	step, t0, t1 := 1, 0.0, 1.0
	if from.piece > to.piece || from.piece == to.piece && from.t > to.t {
		step, t0, t1 = -1, 1, 0
	}
	for i := from.piece; ; i += step {
		p := ws.pieces[i]
		a, b := t0, t1
		if i == from.piece {
			a = from.t
		}
		if i == to.piece {
			b = to.t
		}
		if a != 0 || b != 1 {
			p.seg = p.seg.Between(a, b)
		}
		if i == from.piece && s.cutFrom {
			p.seg = p.seg.withStart(from.p)
		}
		if i == to.piece && s.cutTo {
			p.seg = p.seg.withEnd(to.p)
		}
		ws.link(p)
		if i == to.piece {
			return
		}
	}
}

// link appends a piece to the loop so that it starts exactly where the loop ends.
func (ws *allowanceWork) link(p loopPiece) {
	n := len(ws.raw)
	if n > 0 && ws.raw[n-1].seg.P3 != p.seg.P0 {
		end := ws.raw[n-1].seg.P3
		if end.Dist(p.seg.P0) > smoothGap {
			ws.raw = append(ws.raw, loopPiece{Line(end, p.seg.P0), p.edge, p.corner, p.hidden})
		} else {
			p.seg = p.seg.withStart(end)
		}
	}
	if p.seg.P0 != p.seg.P3 || !p.seg.Straight {
		ws.raw = append(ws.raw, p)
	}
}

// selfCrossing looks for the first place where the outline crosses itself; false
// too if that takes more work than the limits allow.
func (ws *allowanceWork) selfCrossing() (at Point, edge int, found, ok bool) {
	t := &ws.top
	t.reset()
	t.room(len(ws.stitch))
	for i := range ws.stitch {
		t.append(&ws.stitch[i].src, int32(i), ws.chordTolerance())
	}
	if ok = t.find(search{judge: ws}); !ok || len(t.cross) == 0 {
		return Point{}, 0, false, ok
	}
	seg, at, _ := ws.crossesAt(t.cross[0])
	return at, ws.stitch[seg].edge, true, true
}

// confirms tells whether the segments of the outline cross where their chords do:
// it makes ws the judge of the search for that.
func (ws *allowanceWork) confirms(x loopCrossing) bool {
	_, _, ok := ws.crossesAt(x)
	return ok
}

// crossesAt refines a crossing of chords of the outline on its segments.
func (ws *allowanceWork) crossesAt(x loopCrossing) (seg int32, at Point, ok bool) {
	a, b := ws.top.chord[x.i], ws.top.chord[x.j]
	s := &ws.stitch[a.piece].src
	ta, tb, ok := solveCrossing(*s, ws.stitch[b.piece].src, a.at(x.fi), b.at(x.fj))
	if !ok || !inside(ta) || !inside(tb) {
		return 0, Point{}, false
	}
	return a.piece, s.At(ta), true
}

// inside reports whether a parameter lies within the curve, ends excluded: two
// segments that meet there share the point without crossing.
func inside(t float64) bool { return t > 1e-9 && t < 1-1e-9 }

func (c chordOf) at(f float64) float64 { return c.t0 + (c.t1-c.t0)*f }

func (ws *allowanceWork) chordTolerance() float64 {
	return math.Min(loopTolerance, loopShare*ws.size)
}

// resolve cuts the loop down to the border of positive winding.
func (ws *allowanceWork) resolve() (CutLine, error) {
	tol := ws.chordTolerance()
	var spare CutLine
	spent := false
	for try := range attempts {
		last := try == attempts-1
		wound := ws.wind(try, tol)
		if spent = ws.top.spent; spent {
			break
		}
		if !wound {
			continue
		}
		parts, ok := ws.parts()
		if !ok {
			continue
		}
		crossed := len(ws.top.cross) > 0
		if crossed {
			ws.top.places(ws.raw, ws.wanted(parts))
			if !ws.inOrder(parts[:min(1, len(parts))]) && !last {
				tol /= finer
				continue
			}
		}
		cut, err := ws.finish(ws.wanted(parts))
		if err != nil && ws.narrow < 0 && (!ws.exposed || last) {
			return cut, err
		}
		if err == nil && (!crossed || ws.simple(cut.Path, tol)) {
			if !ws.exposed || last {
				return cut, nil
			}
			if spare.Path == nil {
				spare = cut
			}
		}
		tol /= finer
	}
	switch {
	case spare.Path != nil:
		return spare, nil
	case spent:
		return CutLine{}, &OutlineError{Edge: -1, Why: tooIntricate}
	}
	return CutLine{}, &OutlineError{Edge: -1, Why: "the lines of the allowance coincide in a way that cannot be told apart"}
}

// wanted returns the parts that count: the largest, and where something is taken
// off inside all of them, since it may cut the piece apart.
func (ws *allowanceWork) wanted(parts []part) []part {
	if ws.narrow >= 0 {
		return parts[:min(1, len(parts))]
	}
	return parts
}

// finer is the factor by which chords are made finer when they showed too little.
const finer = 8

// wind finds the crossings of the loop and the winding of its stretches; false
// where sides are a matter of rounding, or the loop is beyond the limits.
func (ws *allowanceWork) wind(try int, tol float64) bool {
	ws.flatten(tol)
	if try > 0 {
		ws.nudge(try)
	}
	last := try == attempts-1
	if !ws.top.find(search{sure: !last}) || ws.top.unsure && !last {
		return false
	}
	return ws.top.order()
}

// flatten makes the chords of the loop, finer where it folds back: there two
// branches part at a small angle, and coarse chords would miss that they cross.
func (ws *allowanceWork) flatten(tol float64) {
	t := &ws.top
	t.reset()
	n := len(ws.raw)
	t.room(n)
	for i := range ws.raw {
		p := &ws.raw[i]
		if p.seg.Straight {
			t.append(&p.seg, int32(i), tol)
			continue
		}
		prev, next := &ws.raw[(i+n-1)%n], &ws.raw[(i+1)%n]
		fine := tol
		if prev.hidden || next.hidden || foldsBack(&prev.seg, &p.seg) || foldsBack(&p.seg, &next.seg) {
			fine *= cuspTolerance
		}
		t.append(&p.seg, int32(i), fine)
	}
}

// foldsBack reports whether s is followed by a turn of more than a right angle.
func foldsBack(s, next *Segment) bool {
	return s.P3.Sub(s.P2).Dot(next.P1.Sub(next.P0)) < 0
}

// nudge moves the chords a hair farther from the outline, and each by a little
// of its own, so that lines that touched or coincided lie clearly apart: gaps in
// an allowance that just close are closed, strips that just vanish are gone.
func (ws *allowanceWork) nudge(seed int) {
	t := &ws.top
	out := 1.0
	if ws.narrow < 0 {
		out = -1
	}
	d := nudgeShare * ws.size * float64(seed)
	n := len(t.pts)
	rnd := uint64(seed)*0x9E3779B97F4A7C15 + 1
	noise := func() float64 {
		rnd ^= rnd << 13
		rnd ^= rnd >> 7
		rnd ^= rnd << 17
		return float64(rnd>>11)/(1<<53) - 0.5
	}
	moved := make([]Point, n)
	for i, p := range t.pts {
		u := p.Sub(t.pts[(i+n-1)%n]).Unit().Add(t.pts[(i+1)%n].Sub(p).Unit())
		right := u.Unit().Left().Mul(-out * d)
		moved[i] = p.Add(right).Add(Point{noise(), noise()}.Mul(d / 8))
	}
	copy(t.pts, moved)
}

// part is one closed border in the making.
type part struct {
	area float64
	list []loopStretch
}

// parts collects the counter-clockwise borders, largest first.
func (ws *allowanceWork) parts() (parts []part, ok bool) {
	t := &ws.top
	ok = t.borders(func(list []loopStretch) {
		if a := t.area(list); a > 0 {
			parts = append(parts, part{a, slices.Clone(list)})
		}
	})
	slices.SortFunc(parts, func(a, b part) int {
		switch {
		case a.area > b.area:
			return -1
		case a.area < b.area:
			return 1
		}
		return 0
	})
	return parts, ok
}

// finish makes the cut line of the part that is wanted; that there are more of
// them of any size is an error.
func (ws *allowanceWork) finish(parts []part) (CutLine, error) {
	var all []CutLine
	ws.exposed = false
	for _, p := range parts {
		cut := ws.draw(p.list)
		if thin := math.Min(sliver, sliverShare*ws.size); cut.Path.Area() <= thin*ws.around(cut.Path)/2 {
			continue
		}
		all = append(all, cut)
	}
	switch len(all) {
	case 0:
		return CutLine{}, &VanishedError{}
	case 1:
		return all[0], nil
	}
	e := &SplitError{}
	for _, c := range all {
		e.Parts = append(e.Parts, c.Path)
	}
	return CutLine{}, e
}

// around returns a lower bound of the length of a path.
func (ws *allowanceWork) around(p Path) float64 {
	sum := 0.0
	for i := range p {
		sum += p[i].P0.Dist(p[i].P3)
	}
	return sum
}

// loopPlace is a place on the loop.
type loopPlace struct {
	piece int32
	t     float64
	p     Point
}

// inOrder reports whether the refined crossings follow each other along the loop
// as those of the chords did. If not, the chords were too coarse to tell which
// curves cross.
func (ws *allowanceWork) inOrder(parts []part) bool {
	for _, p := range parts {
		for _, s := range p.list {
			if s.a < 0 {
				continue
			}
			if _, ok := ws.steps(s); !ok && ws.top.placeOf(s.a).p.Dist(ws.top.placeOf(s.b).p) > smoothGap {
				return false
			}
		}
	}
	return true
}

// steps returns how many curves of the loop a stretch goes on to between its
// refined ends: of the numbers that differ by whole rounds, the one nearest to
// what the chords showed. It is false if the ends have passed each other, so that
// nothing lies between.
func (ws *allowanceWork) steps(s loopStretch) (int, bool) {
	n := len(ws.raw)
	a, b := ws.top.placeOf(s.a), ws.top.placeOf(s.b)
	k := int(b.piece - a.piece)
	past := b.t - a.t
	rounds := math.Round((ws.top.span(s, n) - float64(k) - past) / float64(n))
	k += int(rounds) * n
	return k, float64(k)+past >= 0
}

// span returns how far, in curves of the n in the loop, a stretch goes on between
// the chords at its ends.
func (t *loopTopology) span(s loopStretch, n int) float64 {
	pa, pb := t.event[s.a].pos, t.event[s.b].pos
	i, j := min(int(pa), len(t.chord)-1), min(int(pb), len(t.chord)-1)
	a := float64(t.chord[i].piece) + t.chord[i].at(pa-float64(i))
	b := float64(t.chord[j].piece) + t.chord[j].at(pb-float64(j))
	if pb < pa {
		b += float64(n)
	}
	return b - a
}

// simple checks a result, whose crossings were found on chords and then moved,
// for any that are left.
func (ws *allowanceWork) simple(p Path, tol float64) bool {
	t := &ws.check
	t.reset()
	t.room(len(p))
	for i := range p {
		t.append(&p[i], int32(i), tol)
	}
	return t.find(search{judge: anyCrossing{}}) && len(t.cross) == 0
}

// places refines the crossings at which the parts turn from one stretch to the
// next.
func (t *loopTopology) places(raw []loopPiece, parts []part) {
	t.place = t.place[:0]
	t.placed = slices.Grow(t.placed[:0], len(t.event))[:len(t.event)]
	for k := range t.placed {
		t.placed[k] = -1
	}
	for _, p := range parts {
		for _, s := range p.list {
			if s.a < 0 {
				continue
			}
			t.settlePlace(raw, s.a)
			t.settlePlace(raw, s.b)
		}
	}
}

// settlePlace refines the crossing of an event, for it and its mate.
func (t *loopTopology) settlePlace(raw []loopPiece, k int32) {
	if t.placed[k] >= 0 {
		return
	}
	e := &t.event[k]
	x := t.cross[e.cross]
	a, b := t.refine(raw, x)
	if float64(x.i)+x.fi != e.pos {
		a, b = b, a
	}
	n := int32(len(t.place))
	t.placed[k], t.placed[e.mate] = n, n+1
	t.place = append(t.place, a, b)
}

// placeOf returns the refined place of an event.
func (t *loopTopology) placeOf(k int32) loopPlace { return t.place[t.placed[k]] }

// refine finds the crossing of the two curves whose chords cross. It may lie on
// the next curve where chords and curves differ near a join.
func (t *loopTopology) refine(raw []loopPiece, x loopCrossing) (loopPlace, loopPlace) {
	ca, cb := t.chord[x.i], t.chord[x.j]
	a := loopPlace{piece: ca.piece, t: ca.at(x.fi)}
	b := loopPlace{piece: cb.piece, t: cb.at(x.fj)}
	near := raw[a.piece].seg.At(a.t).Lerp(raw[b.piece].seg.At(b.t), 0.5)
	a0, b0 := a, b
	for range 3 {
		ta, tb, ok := solveCrossing(raw[a.piece].seg, raw[b.piece].seg, a.t, b.t)
		if !ok {
			break
		}
		a.t, b.t = ta, tb
		movedA, movedB := a.settle(len(raw)), b.settle(len(raw))
		if movedA || movedB {
			continue
		}
		p := raw[a.piece].seg.At(a.t).Lerp(raw[b.piece].seg.At(b.t), 0.5)
		if p.Dist(near) > 50*loopTolerance {
			break
		}
		a.p, b.p = p, p
		return a, b
	}
	a0.p, b0.p = near, near
	return a0, b0
}

// settle keeps the parameter within the curve, moving on to the neighbour where
// it lies beyond the end; it reports whether it did that.
func (l *loopPlace) settle(n int) bool {
	const slack = 1e-9
	switch {
	case l.t < -slack:
		l.piece, l.t = (l.piece+int32(n)-1)%int32(n), 1
		return true
	case l.t > 1+slack:
		l.piece, l.t = (l.piece+1)%int32(n), 0
		return true
	}
	l.t = math.Max(0, math.Min(1, l.t))
	return false
}

// solveCrossing finds by Newton's method where two curves cross, from near
// parameters. It may leave the range of a curve by a little; false if it does
// not settle or the curves run side by side.
func solveCrossing(a, b Segment, ta, tb float64) (float64, float64, bool) {
	if a.Straight && b.Straight {
		u, v, w := a.P3.Sub(a.P0), b.P3.Sub(b.P0), b.P0.Sub(a.P0)
		det := u.Cross(v)
		if math.Abs(det) <= 1e-9*u.Len()*v.Len() {
			return ta, tb, false
		}
		return w.Cross(v) / det, w.Cross(u) / det, true
	}
	for range 12 {
		d := b.At(tb).Sub(a.At(ta))
		u, v := a.Deriv(ta), b.Deriv(tb)
		det := u.Cross(v)
		if math.Abs(det) <= 1e-9*u.Len()*v.Len() {
			return ta, tb, false
		}
		sa, sb := d.Cross(v)/det, d.Cross(u)/det
		ta += sa
		tb += sb
		if !(ta > -0.1 && ta < 1.1 && tb > -0.1 && tb < 1.1) {
			// Beyond the end by much: let the caller look on the neighbour.
			return ta, tb, !math.IsNaN(ta) && !math.IsNaN(tb)
		}
		if math.Abs(sa) < 1e-13 && math.Abs(sb) < 1e-13 {
			return ta, tb, true
		}
	}
	return ta, tb, a.At(ta).Dist(b.At(tb)) < chainGap
}

// draw makes the path of a border.
func (ws *allowanceWork) draw(list []loopStretch) CutLine {
	ws.out = slices.Grow(ws.out[:0], len(ws.raw))
	for _, s := range list {
		if s.a < 0 {
			ws.out = append(ws.out, ws.raw...)
			break
		}
		ws.drawStretch(s)
	}
	ws.tidy()
	n := len(ws.out)
	cut := CutLine{make(Path, n), make([]int, n), make([]int, n)}
	for i, p := range ws.out {
		cut.Path[i], cut.Source[i], cut.Corner[i] = p.seg, int(p.edge), int(p.corner)
		if p.hidden {
			// Where the width changes abruptly beside a tight bend, the centres of
			// curvature may be all that joins the two sides; else one more look
			// shows a crossing that was missed.
			cut.Corner[i] = InnerCorner
			ws.exposed = true
		}
	}
	return cut
}

func (ws *allowanceWork) drawStretch(s loopStretch) {
	a, b := ws.top.placeOf(s.a), ws.top.placeOf(s.b)
	steps, ok := ws.steps(s)
	switch {
	case !ok:
		return
	case steps == 0:
		ws.drawPart(a.piece, a.t, b.t, a.p, b.p)
		return
	}
	n := len(ws.raw)
	ws.drawPart(a.piece, a.t, 1, a.p, ws.raw[a.piece].seg.P3)
	for k := 1; k < steps; k++ {
		ws.out = append(ws.out, ws.raw[(int(a.piece)+k)%n])
	}
	ws.drawPart(b.piece, 0, b.t, ws.raw[b.piece].seg.P0, b.p)
}

func (ws *allowanceWork) drawPart(piece int32, t0, t1 float64, p0, p1 Point) {
	p := ws.raw[piece]
	if t0 >= t1 {
		return
	}
	if p.seg.Straight {
		p.seg = Line(p0, p1)
	} else if t0 > 0 || t1 < 1 {
		p.seg = p.seg.Between(t0, t1).withStart(p0).withEnd(p1)
	}
	ws.out = append(ws.out, p)
}

// runsStraightOn reports whether two straight pieces of the same kind form one
// line.
func runsStraightOn(p, q *loopPiece) bool {
	if !p.seg.Straight || !q.seg.Straight || p.edge != q.edge || p.corner != q.corner {
		return false
	}
	u, v := p.seg.P3.Sub(p.seg.P0), q.seg.P3.Sub(p.seg.P0)
	return math.Abs(u.Cross(v)) < chainGap*v.Len() && u.Dot(q.seg.P3.Sub(q.seg.P0)) > 0
}

// doublesBack reports whether q runs back along the line of p.
func doublesBack(p, q *loopPiece) bool {
	if !p.seg.Straight || !q.seg.Straight {
		return false
	}
	u, v := p.seg.P3.Sub(p.seg.P0), q.seg.P3.Sub(q.seg.P0)
	return u.Dot(v) < 0 && math.Abs(u.Cross(v)) < chainGap*max(u.Len(), v.Len())
}

// takeBack lets p end where q, which doubles back on it, does.
func (p *loopPiece) takeBack(q *loopPiece) {
	if p.seg.P3.Dist(q.seg.P3) > p.seg.P3.Dist(p.seg.P0) {
		p.edge, p.corner, p.hidden = q.edge, q.corner, q.hidden
	}
	p.seg = Line(p.seg.P0, q.seg.P3)
}

// tidy leaves out what is too small, unites straight pieces of one line, and
// closes the path exactly.
func (ws *allowanceWork) tidy() {
	n := 0
	for _, p := range ws.out {
		if p.seg.P0.Dist(p.seg.P3) < tinySegment && (p.seg.Straight || manhattan(p.seg.P0, p.seg.P1)+manhattan(p.seg.P2, p.seg.P3) < tinySegment) {
			continue
		}
		if n > 0 && doublesBack(&ws.out[n-1], &p) {
			ws.out[n-1].takeBack(&p)
			continue
		}
		if n > 0 && runsStraightOn(&ws.out[n-1], &p) {
			ws.out[n-1].seg = Line(ws.out[n-1].seg.P0, p.seg.P3)
			continue
		}
		ws.out[n] = p
		n++
	}
	if n > 3 && runsStraightOn(&ws.out[n-1], &ws.out[0]) {
		ws.out[0].seg = Line(ws.out[n-1].seg.P0, ws.out[0].seg.P3)
		n--
	}
	ws.out = ws.out[:n]
	for i := range ws.out {
		end := ws.out[(i+n-1)%n].seg.P3
		if ws.out[i].seg.P0 != end {
			ws.out[i].seg = ws.out[i].seg.withStart(end)
		}
	}
}

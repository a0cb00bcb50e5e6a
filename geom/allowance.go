package geom

import (
	"math"
	"slices"
	"sync"
)

// CornerRule says how the cut lines of two neighbouring edges meet at their
// corner.
type CornerRule int

const (
	// Mitre extends both cut lines along their tangents until they meet. Where
	// they would meet farther than MitreLimit times the wider allowance from the
	// corner, the point is cut off by a bevel tangent to the circle of that
	// allowance about the corner; where the edges run on almost smoothly with
	// different widths, the cut line steps across at the corner instead.
	Mitre CornerRule = iota
	// Square runs the stitching line of the edge that starts at the corner (the
	// seam sewn first) on through its neighbour's allowance, and cuts its own
	// allowance off at right angles there. Seam ends then lie flush when the
	// neighbour is sewn over the opened seam. It applies to outward corners with
	// widths of 0 or more; elsewhere the corner is mitred.
	Square
	// SquareBefore is Square for the edge that ends at the corner.
	SquareBefore
	// TurnedBack shapes the allowance of a hem like the piece beside it: the
	// neighbour's cut line is mirrored about the hem's stitching line (its
	// tangent at the corner), to the depth of the hem, so that the hem lies flat
	// when turned. The hem is the edge marked Hem; if both or none are, the wider
	// one; at equal widths the one that starts at the corner. It applies as
	// Square does.
	TurnedBack
	// TurnedBackBefore is TurnedBack but that at equal widths the hem is the
	// edge that ends at the corner.
	TurnedBackBefore
)

// MitreLimit is the length of a mitre, from the corner to its point, as a
// multiple of the wider allowance, beyond which it is bevelled.
const MitreLimit = 4

// AllowanceEdge is one edge of an outline with its allowance.
type AllowanceEdge struct {
	// Path holds the stitching line of the edge, open unless it is the only
	// edge. It may be smooth or kinked inside; kinks (a dart's cap) are mitred.
	Path Path
	// Start and End are the widths in mm at the two ends; between them the width
	// runs in proportion to the arc length and is measured at right angles to
	// the stitching line. Positive is outside the outline, negative inside.
	Start, End float64
	// Corner is the rule at the start of this edge, where it meets the edge
	// before. Where they meet smoothly at equal widths it changes nothing.
	Corner CornerRule
	// Hem marks an edge that is turned up along its stitching line.
	Hem bool
}

// CutLine is the line to cut along.
type CutLine struct {
	// Path is closed, without self-crossing, and runs counter-clockwise.
	Path Path
	// Source holds, for each segment of Path, the index of the edge whose
	// allowance it bounds.
	Source []int
	// Corner holds, for each segment of Path, NoCorner if it runs beside its
	// edge's stitching line (or on in a straight line from there), the index of
	// the edge at whose start corner it lies if it only joins two cut lines, and
	// InnerCorner if it joins two stretches of the same edge at a kink.
	Corner []int
}

const (
	// NoCorner marks a segment of a CutLine that is no join.
	NoCorner = -1
	// InnerCorner marks a join at a kink inside an edge.
	InnerCorner = -2
)

// Join reports whether segment i of the cut line only joins two others.
func (c CutLine) Join(i int) bool { return c.Corner[i] != NoCorner }

// outlineGap is the distance in mm between the end of one segment and the start
// of the next up to which an outline counts as closed: ten times the step to
// which documents round.
const outlineGap = 1e-5

// widest is the largest allowance in mm that is taken: the limit of coordinates.
const widest = 1e5

// Allowance returns the cut line of an outline: every edge displaced by its own
// width, to within ParallelTolerance, joined by the corner rules, with whatever
// lies inside the allowance of another stretch removed.
//
// The edges follow each other and close the outline. A clockwise outline is
// taken as if it ran counter-clockwise, with positive widths still outside; the
// indices in the result are those of the edges as given. Holes that allowances
// leave between them are dropped.
//
// Errors: *OutlineError if the outline is open, crosses itself, encloses nothing,
// holds numbers that are not finite, or is so intricate that its cut line would
// take seconds and hundreds of megabytes; *SplitError if negative widths cut the
// piece into parts; *VanishedError if they leave nothing.
//
// Method: the loop of all parallel curves and joins is built so that its winding
// number tells which points are within the allowance, and the border of positive
// winding is kept (Chen and McMains, "Polygon offsetting by computing winding
// numbers", 2005). Where a parallel would run backwards the loop follows the
// centres of curvature instead, past which no allowance has its nearest point.
func Allowance(edges []AllowanceEdge) (CutLine, error) {
	ws := allowancePool.Get().(*allowanceWork)
	ws.budget = maxComparisons
	cut, err := ws.run(edges, 1)
	if cap(ws.top.cross) <= keptCrossings && cap(ws.raw) <= keptPieces {
		allowancePool.Put(ws)
	}
	return cut, err
}

var allowancePool = sync.Pool{New: func() any { return new(allowanceWork) }}

// allowanceWork holds the buffers of one run, kept between runs.
type allowanceWork struct {
	edges   []AllowanceEdge
	stitch  []stitchSegment
	pieces  []loopPiece // parallel curves, in order of stitch
	joins   []loopPiece
	raw     []loopPiece
	fitted  Path
	out     []loopPiece
	top     loopTopology
	check   loopTopology
	size    float64 // of the outline's box, mm
	widest  float64 // largest width by amount, mm
	narrow  float64 // smallest width, mm
	wide    float64 // and largest, mm
	slim    float64 // shorter side of the outline's box, mm
	reverse bool    // the outline was given clockwise
	exposed bool    // the result follows centres of curvature: a crossing was missed
	budget  int     // comparisons that are left
}

// stitchSegment is one segment of the outline with its parallel curve.
type stitchSegment struct {
	src         Segment
	edge        int
	w0, w1      float64  // widths at its ends
	first, last int      // its pieces
	from, to    pieceHit // where its joins cut them off, if cutFrom and cutTo
	cutFrom     bool     // (or lengthen them, where they are straight)
	cutTo       bool
	p0, p1      Point // ends of the parallel curve
	d0, d1      Point // and its directions there
	t0, t1      Point // directions of the stitching line
	back0       bool  // the parallel runs backwards at its start
	back1       bool  // and at its end
	corner      int   // edge whose start corner lies at its start, else InnerCorner
	rule        CornerRule
	join0       int // joins at its start
	join1       int
}

// loopPiece is a piece of the raw loop.
type loopPiece struct {
	seg    Segment
	edge   int32
	corner int32
	hidden bool // runs along centres of curvature, never part of a cut line
}

// run makes the cut line with all widths multiplied by scale.
func (ws *allowanceWork) run(edges []AllowanceEdge, scale float64) (CutLine, error) {
	ws.top.budget, ws.check.budget = &ws.budget, &ws.budget
	if err := ws.take(edges, scale); err != nil {
		return CutLine{}, err
	}
	if ws.widest == 0 {
		return ws.asDrawn(), nil
	}
	cut, err := ws.offset()
	if v, ok := err.(*VanishedError); ok && scale == 1 {
		v.Largest = largestWidth(edges, ws.widest, ws.budget)
	}
	return cut, err
}

// offset makes the cut line of an outline that has some allowance.
func (ws *allowanceWork) offset() (CutLine, error) {
	if ws.slim <= -2*ws.wide {
		return CutLine{}, &VanishedError{} // the loop would cross itself everywhere
	}
	if !ws.displace() {
		return CutLine{}, &OutlineError{Edge: -1, Why: tooIntricate}
	}
	ws.meet()
	ws.chain()
	return ws.resolve()
}

// asDrawn returns the outline itself, the cut line of an outline without
// allowance.
func (ws *allowanceWork) asDrawn() CutLine {
	n := len(ws.stitch)
	cut := CutLine{make(Path, n), make([]int, n), make([]int, n)}
	for i, s := range ws.stitch {
		cut.Path[i], cut.Source[i], cut.Corner[i] = s.src, s.edge, NoCorner
	}
	return cut
}

// take checks the outline and lists its segments counter-clockwise.
func (ws *allowanceWork) take(edges []AllowanceEdge, scale float64) error {
	ws.stitch = ws.stitch[:0]
	ws.edges = edges
	ws.widest, ws.narrow, ws.wide = 0, math.Inf(1), math.Inf(-1)
	box := EmptyRect()
	area := 0.0
	for i, e := range edges {
		if err := checkEdge(i, e); err != nil {
			return err
		}
		if i > 0 {
			if at := edges[i-1].Path.End(); at.Dist(e.Path.Start()) > outlineGap {
				return &OutlineError{Edge: i, At: e.Path.Start(), Why: "does not start where the edge before it ends"}
			}
		}
		for _, s := range e.Path {
			area += s.sweep(edges[0].Path.Start())
			box = box.hold(s.P0).hold(s.P1).hold(s.P2).hold(s.P3)
		}
		ws.widest = math.Max(ws.widest, math.Max(math.Abs(e.Start), math.Abs(e.End))*scale)
		ws.narrow = math.Min(ws.narrow, math.Min(e.Start, e.End)*scale)
		ws.wide = math.Max(ws.wide, math.Max(e.Start, e.End)*scale)
	}
	if len(edges) == 0 {
		return &OutlineError{Edge: -1, Why: "the outline has no edge"}
	}
	start, end := edges[0].Path.Start(), edges[len(edges)-1].Path.End()
	if start.Dist(end) > outlineGap {
		return &OutlineError{Edge: len(edges) - 1, At: end, Why: "does not end where the first edge starts: the outline is open"}
	}
	ws.size, ws.slim = math.Max(box.W(), box.H()), math.Min(box.W(), box.H())
	if math.Abs(area) <= 1e-9*ws.size*ws.size {
		return &OutlineError{Edge: -1, At: start, Why: "the outline encloses no area"}
	}
	ws.reverse = area < 0
	ws.list(scale)
	if len(ws.stitch) == 0 {
		return &OutlineError{Edge: -1, At: start, Why: "the outline encloses no area"}
	}
	switch at, edge, found, ok := ws.selfCrossing(); {
	case found:
		return &OutlineError{Edge: edge, At: at, Why: "the outline crosses itself"}
	case !ok:
		return &OutlineError{Edge: -1, Why: tooIntricate}
	}
	return nil
}

// hold is Include for points that are known to be finite, without its care for
// those that are not.
func (r Rect) hold(p Point) Rect {
	if p.X < r.Min.X {
		r.Min.X = p.X
	}
	if p.X > r.Max.X {
		r.Max.X = p.X
	}
	if p.Y < r.Min.Y {
		r.Min.Y = p.Y
	}
	if p.Y > r.Max.Y {
		r.Max.Y = p.Y
	}
	return r
}

func checkEdge(i int, e AllowanceEdge) error {
	if len(e.Path) == 0 {
		return &OutlineError{Edge: i, Why: "has no segment"}
	}
	for _, w := range [...]float64{e.Start, e.End} {
		if !(math.Abs(w) <= widest) {
			return &OutlineError{Edge: i, At: e.Path.Start(), Why: "has an allowance that is not a usable number"}
		}
	}
	for k, s := range e.Path {
		if !(s.P0.Finite() && s.P1.Finite() && s.P2.Finite() && s.P3.Finite()) {
			return &OutlineError{Edge: i, Why: "has a coordinate that is not a number"}
		}
		if k > 0 && e.Path[k-1].P3.Dist(s.P0) > outlineGap {
			return &OutlineError{Edge: i, At: s.P0, Why: "has a gap"}
		}
	}
	return nil
}

// list fills ws.stitch from the edges, counter-clockwise, without points.
func (ws *allowanceWork) list(scale float64) {
	n, segs := len(ws.edges), 0
	for _, e := range ws.edges {
		segs += len(e.Path)
	}
	ws.stitch = slices.Grow(ws.stitch, segs)
	var c parallelCurve
	for j := range n {
		i := j
		if ws.reverse {
			i = n - 1 - j
		}
		e := ws.edges[i]
		first := len(ws.stitch)
		corner, rule := i, e.Corner
		w0, w1 := e.Start*scale, e.End*scale
		if ws.reverse {
			next := (i + 1) % n
			corner, rule = next, ws.edges[next].Corner.Swapped()
			w0, w1 = w1, w0
		}
		for k := range e.Path {
			s := e.Path[k]
			if ws.reverse {
				s = e.Path[len(e.Path)-1-k].Reverse()
			}
			if c.init(s) {
				if c.straight && !s.Straight {
					s = Line(s.P0, s.P3)
				}
				ws.stitch = append(ws.stitch, stitchSegment{src: s, edge: i, corner: InnerCorner, w0: w0, w1: w0})
			}
		}
		if first == len(ws.stitch) {
			continue
		}
		ws.stitch[first].corner, ws.stitch[first].rule = corner, rule
		if w0 != w1 {
			ws.taper(ws.stitch[first:], w0, w1)
		}
	}
	for i := range ws.stitch {
		prev := &ws.stitch[(i+len(ws.stitch)-1)%len(ws.stitch)]
		if s := &ws.stitch[i]; s.src.P0 != prev.src.P3 {
			s.src = s.src.withStart(prev.src.P3)
		}
	}
}

// taper shares a width that changes along an edge among its segments.
func (ws *allowanceWork) taper(segs []stitchSegment, w0, w1 float64) {
	var c parallelCurve
	total := 0.0
	for i := range segs {
		c.init(segs[i].src)
		total += c.measure()
		segs[i].w1 = total
	}
	w := w0
	for i := range segs {
		segs[i].w0 = w
		w = w0 + (w1-w0)*(segs[i].w1/total)
		segs[i].w1 = w
	}
	segs[len(segs)-1].w1 = w1
}

// Swapped returns the rule for a corner whose two edges change places, as they do
// in the mirror image of an outline.
func (r CornerRule) Swapped() CornerRule {
	switch r {
	case Square:
		return SquareBefore
	case SquareBefore:
		return Square
	case TurnedBack:
		return TurnedBackBefore
	case TurnedBackBefore:
		return TurnedBack
	}
	return r
}

// displace makes the parallel curve of every segment; false if they have more
// pieces than the limits allow.
func (ws *allowanceWork) displace() bool {
	ws.pieces = slices.Grow(ws.pieces[:0], len(ws.stitch))
	var c parallelCurve
	for i := range ws.stitch {
		if len(ws.pieces) > maxPieces {
			return false
		}
		s := &ws.stitch[i]
		c.init(s.src)
		length := 0.0
		if s.w0 != s.w1 {
			length = c.measure()
		}
		c.setWidths(s.w0, s.w1, length)
		s.t0, s.t1 = c.start, c.end
		s.first = len(ws.pieces)
		if c.straight {
			a, b := c.at(0), c.at(1)
			s.p0, s.p1, s.back0, s.back1 = a.p, b.p, false, false
			s.d0, s.d1 = a.heading(1), b.heading(1)
			ws.add(Line(a.p, b.p), s.edge, s.first, false)
		} else if s.w0 == 0 && s.w1 == 0 {
			s.p0, s.p1, s.back0, s.back1 = s.src.P0, s.src.P3, false, false
			s.d0, s.d1 = s.t0, s.t1
			ws.add(s.src, s.edge, s.first, false)
		} else {
			ws.displaceCurve(&c, s)
		}
		s.last = len(ws.pieces)
	}
	return true
}

func (ws *allowanceWork) displaceCurve(c *parallelCurve, s *stitchSegment) {
	var buf [8]parallelRun
	sts := c.stretches(buf[:0])
	first, last := sts[0], sts[len(sts)-1]
	a, b := c.at(0), c.at(1)
	s.p0, s.p1 = a.p, b.p
	s.back0, s.back1 = first.sign < 0, last.sign < 0
	s.d0, s.d1 = a.ahead(c.slope), b.ahead(c.slope)
	for k, st := range sts {
		if st.sign < 0 {
			ws.addFocal(c, st, s)
			continue
		}
		tol := ParallelTolerance * parallelFitShare
		if k > 0 && c.slightFold(sts[k-1]) || k+1 < len(sts) && c.slightFold(sts[k+1]) {
			tol /= cuspFinesse
		}
		before := len(ws.pieces)
		ws.fitted = c.fit(ws.fitted[:0], st, tol)
		for _, f := range ws.fitted {
			ws.add(f, s.edge, s.first, false)
		}
		if k >= 2 {
			ws.closeFold(s.first, before)
		}
	}
}

const (
	// cuspFinesse is how much finer than elsewhere the parallel is fitted beside
	// a slight fold, whose branches part at a small angle: one that is less than
	// slightWidth mm wide.
	cuspFinesse = 8
	slightWidth = 0.1
	// foldWidth is the width in mm of a fold of the parallel (two cusps and the
	// stretch that runs backwards between them) under which it is drawn smooth:
	// less than the fit of its branches can show.
	foldWidth = 0.003
)

// slightFold reports whether the stretch that runs backwards is so short, or
// turns so little, that the branches beside it nearly coincide.
func (c *parallelCurve) slightFold(st parallelRun) bool {
	a, b := c.at(st.t0), c.at(st.t1)
	return a.p.Dist(b.p)*math.Abs(a.tangent.Cross(b.tangent)) < slightWidth
}

// closeFold takes out the hidden pieces before piece number next if they belong
// to a fold too narrow to see.
func (ws *allowanceWork) closeFold(first, next int) {
	last := next - 1
	for last >= first && ws.pieces[last].hidden {
		last--
	}
	if last < first || !ws.narrowFold(last, next) {
		return
	}
	ws.drawTogether(last, next)
	ws.pieces = append(ws.pieces[:last+1], ws.pieces[next:]...)
}

// narrowFold reports whether the end of piece a and the start of piece b are the
// two cusps of a fold too narrow to see.
func (ws *allowanceWork) narrowFold(a, b int) bool {
	s, t := ws.pieces[a].seg, ws.pieces[b].seg
	gap := s.P3.Dist(t.P0)
	turn := s.endDirection().Cross(t.startDirection())
	return gap*math.Abs(turn) < foldWidth && gap < s.P0.Dist(s.P3)/2 && gap < t.P0.Dist(t.P3)/2 &&
		s.endDirection().Dot(t.startDirection()) > 0
}

// drawTogether lets piece a end and piece b start half way between the two cusps
// of a fold, and returns that point. Both branches run past it, a before its
// cusp and b after.
func (ws *allowanceWork) drawTogether(a, b int) Point {
	s, t := ws.pieces[a].seg, ws.pieces[b].seg
	m := s.P3.Lerp(t.P0, 0.5)
	ts, _ := s.Nearest(m)
	tt, _ := t.Nearest(m)
	ws.pieces[a].seg = s.Between(0, ts).withEnd(m)
	ws.pieces[b].seg = t.Between(tt, 1).withStart(m)
	return m
}

// focalSteps is the number of chords by which the loop follows the centres of
// curvature. They lie inside the allowance, so that their exact course is of no
// matter.
const focalSteps = 12

func (ws *allowanceWork) addFocal(c *parallelCurve, st parallelRun, s *stitchSegment) {
	last := c.at(st.t0).p
	if st.t0 == 0 {
		last = c.focus(0)
	}
	for i := 1; i <= focalSteps; i++ {
		t := st.t0 + (st.t1-st.t0)*float64(i)/focalSteps
		p := c.focus(t)
		if i == focalSteps && st.t1 < 1 {
			p = c.at(t).p
		}
		if p != last || i == focalSteps {
			ws.add(Line(last, p), s.edge, s.first, true)
			last = p
		}
	}
}

// add appends a piece to the segment whose pieces begin at first.
func (ws *allowanceWork) add(s Segment, edge, first int, hidden bool) {
	if n := len(ws.pieces); n > first && ws.pieces[n-1].seg.P3 != s.P0 {
		s = s.withStart(ws.pieces[n-1].seg.P3)
	}
	ws.pieces = append(ws.pieces, loopPiece{s, int32(edge), NoCorner, hidden})
}

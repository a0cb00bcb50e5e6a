package snap

import (
	"math"
	"slices"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/geom"
)

// Guide is a straight line that the maker has laid over the bench.
type Guide struct {
	At geom.Point
	// Dir is its direction, of length 1.
	Dir geom.Point
}

// Line returns the guide as far as it runs through the box.
func (g Guide) Line(box geom.Rect) geom.Path { return through(g.At, g.Dir, box) }

// Field is all that lies on the bench.
type Field struct {
	// Things are those of the pieces, the ones on top last.
	Things []*Things
	Guides []Guide
	// Seen is the part of the bench that can be seen.
	Seen geom.Rect
	// Grid is the distance in mm of the lines of the squared paper, 0 for none.
	Grid float64
	// Alike are the pieces whose edges another line may be drawn as long as.
	Alike []*Things
}

// How near, in screen units, a place must come to be caught. Points may be a little
// farther off than lines, on which one often wants to stay; the paper catches only
// what comes close to a crossing, and not where its squares are so small that there
// would be no place left between them.
const (
	reachSpot  = 9
	reachLine  = 8
	reachHelp  = 6 // levels, guides, directions and lengths, which run everywhere
	reachGrid  = 4
	leastGrids = 12
)

// behind is by how many screen units a kind is passed over for one that is more
// likely meant: a middle next to a point, a level next to an edge.
var behind = map[tool.CatchKind]float64{
	tool.CaughtCrossing: 0.5, tool.CaughtSquare: 1, tool.CaughtTangent: 1, tool.CaughtMiddle: 1.5,
	tool.CaughtGuide: 0.5, tool.CaughtLevel: 1, tool.CaughtLength: 1.5,
}

// search is one question under way.
type search struct {
	*Field
	tool.Reach
	still exclusion
	near  []nearby // segments within reach, nearest first
	lines []straight
	best  tool.Catch
	score float64 // of best, in mm
}

// nearby is a segment within reach.
type nearby struct {
	*stretch
	t, off float64
}

// straight is a line through the whole bench.
type straight struct {
	at, dir geom.Point
	kind    tool.CatchKind
	ref     desk.Ref
	word    string
	off     float64
}

// Catch returns what catches the place, or the place itself.
func (f *Field) Catch(q tool.Reach) tool.Catch {
	s := &search{Field: f, Reach: q, still: excluded(q.Moving)}
	s.gather()
	for _, find := range []func(){s.spots, s.crossings, s.feet} {
		find()
	}
	if s.best.Caught() {
		return s.best
	}
	s.onEdges()
	s.onLines()
	s.onLength()
	if s.best.Caught() {
		return s.best
	}
	return s.onGrid()
}

// offer takes a catch that is better than the one so far.
func (s *search) offer(c tool.Catch, reach float64) {
	off := c.At.Dist(s.At)
	if !(off <= reach*s.MM) || s.leftBehind(c.At) {
		return
	}
	score := off + behind[c.Kind]*s.MM
	if s.best.Caught() && score >= s.score {
		return
	}
	s.best, s.score = c, score
}

// leftBehind reports whether a place is the one that what moves has left, by more than the
// hand trembles: lines that cross there would hold small moves back.
func (s *search) leftBehind(at geom.Point) bool {
	return len(s.Moving) > 0 && s.From != nil && at.Dist(*s.From) <= onCurve && s.From.Dist(s.At) >= leastWay*s.MM
}

// mostNear bounds the segments whose crossings are looked for: more than that at
// one place cannot be told apart by eye.
const mostNear = 10

// gather finds the segments and lines within reach.
func (s *search) gather() {
	reach := reachSpot * s.MM
	for _, t := range s.Things {
		for i := range t.levels {
			if l := &t.levels[i]; !s.still.part(t, l.ref) && !s.still.piece(t) {
				s.line(straight{at: l.at, dir: l.dir, kind: tool.CaughtLevel, ref: l.ref, word: "level: " + l.word})
			}
		}
		if !t.box.Grow(reach).Contains(s.At) || s.still.piece(t) {
			continue
		}
		for i := range t.pieces {
			p := &t.pieces[i]
			if !p.box.Grow(reach).Contains(s.At) || s.still.stretch(p) {
				continue
			}
			if at, off := p.seg.Nearest(s.At); off <= reach {
				s.near = append(s.near, nearby{p, at, off})
			}
		}
	}
	slices.SortStableFunc(s.near, func(a, b nearby) int {
		switch {
		case a.off < b.off:
			return -1
		case a.off > b.off:
			return 1
		}
		return 0
	})
	for _, g := range s.Guides {
		s.line(straight{at: g.At, dir: g.Dir, kind: tool.CaughtGuide, word: "guide"})
	}
	s.directions()
}

// line keeps a line that is within reach.
func (s *search) line(l straight) {
	if l.off = math.Abs(l.dir.Cross(s.At.Sub(l.at))); l.off <= reachSpot*s.MM {
		s.lines = append(s.lines, l)
	}
}

// foot returns the place on the line next to p.
func (l straight) foot(p geom.Point) geom.Point { return l.at.Add(l.dir.Mul(p.Sub(l.at).Dot(l.dir))) }

// spots offers points and middles.
func (s *search) spots() {
	reach := reachSpot * s.MM
	for _, t := range s.Things {
		if !t.box.Grow(reach).Contains(s.At) || s.still.piece(t) {
			continue
		}
		for i := range t.spots {
			p := &t.spots[i]
			if d := p.at.Sub(s.At); math.Abs(d.X) > reach || math.Abs(d.Y) > reach || s.still.spot(t, p) {
				continue
			}
			limit := float64(reachSpot)
			if p.kind != tool.CaughtPoint {
				limit = reachLine
			}
			s.offer(tool.Catch{Kind: p.kind, At: p.at, On: p.ref, Word: p.word}, limit)
		}
	}
}

// crossings offers the places where edges, lines, levels and guides cross.
func (s *search) crossings() {
	near := s.near[:min(len(s.near), mostNear)]
	for i, a := range near {
		for _, b := range near[:i] {
			for _, m := range a.seg.Intersections(b.seg) {
				if atEnds(m) || m.Kind == geom.Overlaps {
					continue // a point, or a line along a line
				}
				s.crossing(m.P, a.ref, a.word, b.word)
			}
		}
		for _, l := range s.lines {
			for _, m := range a.seg.Intersections(s.laid(l)) {
				s.crossing(m.P, a.ref, a.word, l.word, s.laidOut(l))
			}
		}
	}
	for i, a := range s.lines {
		for _, b := range s.lines[:i] {
			if p, ok := meet(a, b); ok {
				s.crossing(p, a.ref, a.word, b.word, s.laidOut(a), s.laidOut(b))
			}
		}
	}
}

func (s *search) crossing(at geom.Point, ref desk.Ref, a, b string, help ...geom.Path) {
	word := "crossing"
	if a != b {
		word = a + " × " + b
	}
	s.offer(tool.Catch{Kind: tool.CaughtCrossing, At: at, On: ref, Word: word, Help: help}, reachLine)
}

// atEnds reports whether segments meet where both end.
func atEnds(m geom.Meeting) bool { return (m.T == 0 || m.T == 1) && (m.U == 0 || m.U == 1) }

// parallelSine is the sine of the angle below which two lines count as parallel:
// their crossing would lie anywhere.
const parallelSine = 1e-6

// meet returns the crossing of two lines.
func meet(a, b straight) (geom.Point, bool) {
	sine := a.dir.Cross(b.dir)
	if math.Abs(sine) < parallelSine {
		return geom.Point{}, false
	}
	return a.at.Add(a.dir.Mul(b.at.Sub(a.at).Cross(b.dir) / sine)), true
}

// laid returns the line as a segment well beyond the reach of the place.
func (s *search) laid(l straight) geom.Segment {
	mid, half := l.foot(s.At), l.dir.Mul(4*reachSpot*s.MM)
	return geom.Line(mid.Sub(half), mid.Add(half))
}

// laidOut returns the line as it is shown.
func (s *search) laidOut(l straight) geom.Path {
	if l.kind == tool.CaughtSquare || l.kind == tool.CaughtTangent {
		return geom.Path{geom.Line(l.at, l.foot(s.At))}
	}
	return through(l.at, l.dir, s.Seen)
}

// onEdges offers the nearest place on an edge or line.
func (s *search) onEdges() {
	if len(s.near) > 0 {
		n := s.near[0]
		s.offer(tool.Catch{Kind: tool.CaughtEdge, At: n.seg.At(n.t), On: n.ref, Word: "on " + n.word, Slides: true}, reachLine)
	}
}

// onLines offers the nearest place on levels, guides and directions.
func (s *search) onLines() {
	for _, l := range s.lines {
		s.offer(tool.Catch{Kind: l.kind, At: l.foot(s.At), On: l.ref, Word: l.word, Slides: true, Help: []geom.Path{s.laidOut(l)}}, reachHelp)
	}
}

// onGrid returns the crossing of the squared paper next to the place if it is near.
func (s *search) onGrid() tool.Catch {
	if s.Grid >= leastGrids*s.MM {
		at := geom.Pt(math.Round(s.At.X/s.Grid)*s.Grid, math.Round(s.At.Y/s.Grid)*s.Grid)
		if at.Dist(s.At) <= reachGrid*s.MM {
			return tool.Catch{Kind: tool.CaughtGrid, At: at, Word: "grid"}
		}
	}
	return tool.Catch{At: s.At}
}

// through returns the line through a place as far as it runs through the box.
func through(at, dir geom.Point, box geom.Rect) geom.Path {
	t0, t1 := math.Inf(-1), math.Inf(1)
	clip := func(p, d, lo, hi float64) bool {
		if d == 0 {
			return lo <= p && p <= hi
		}
		a, b := (lo-p)/d, (hi-p)/d
		t0, t1 = max(t0, min(a, b)), min(t1, max(a, b))
		return t0 < t1
	}
	if !clip(at.X, dir.X, box.Min.X, box.Max.X) || !clip(at.Y, dir.Y, box.Min.Y, box.Max.Y) || math.IsInf(t0, 0) || math.IsInf(t1, 0) {
		return nil
	}
	return geom.Path{geom.Line(at.Add(dir.Mul(t0)), at.Add(dir.Mul(t1)))}
}

package snap

import (
	"math"

	"hemlet/app/tool"
	"hemlet/geom"
)

// onCurve is how near in mm a beginning must lie to a line to count as on it: what
// rounding leaves of a place that was caught there.
const onCurve = 1e-3

// leastWay is how far, in screen units, a place must be from the beginning for a
// line between them to have a direction.
const leastWay = 4

// directions keeps the lines from the beginning that leave an edge square or go on
// from it, and those with the grain and across it.
func (s *search) directions() {
	if s.From == nil || s.From.Dist(s.At) < leastWay*s.MM {
		return
	}
	for _, t := range s.Things {
		if !t.box.Grow(onCurve).Contains(*s.From) || s.still.piece(t) {
			continue
		}
		for i := range t.pieces {
			p := &t.pieces[i]
			if !p.box.Grow(onCurve).Contains(*s.From) || s.still.stretch(p) {
				continue
			}
			at, off := p.seg.Nearest(*s.From)
			if off > onCurve {
				continue
			}
			along := p.seg.Tangent(at)
			if along == (geom.Point{}) {
				continue
			}
			s.line(straight{at: *s.From, dir: along.Left(), kind: tool.CaughtSquare, ref: p.ref, word: "square to " + p.word})
			s.line(straight{at: *s.From, dir: along, kind: tool.CaughtTangent, ref: p.ref, word: "on from " + p.word})
		}
		if t.grain != (geom.Point{}) {
			s.line(straight{at: *s.From, dir: t.grain, kind: tool.CaughtSquare, word: "with the grain"})
			s.line(straight{at: *s.From, dir: t.grain.Left(), kind: tool.CaughtSquare, word: "across the grain"})
		}
	}
}

// feet offers the places of near edges and lines that a line from the beginning
// meets square, or touches.
func (s *search) feet() {
	if s.From == nil {
		return
	}
	help := func(at geom.Point) []geom.Path { return []geom.Path{{geom.Line(*s.From, at)}} }
	for _, n := range s.near {
		for _, t := range Square(n.seg, *s.From) {
			at := n.seg.At(t)
			if at.Dist(*s.From) >= leastWay*s.MM {
				s.offer(tool.Catch{Kind: tool.CaughtSquare, At: at, On: n.ref, Word: "square to " + n.word, Help: help(at)}, reachLine)
			}
		}
		for _, t := range Touching(n.seg, *s.From) {
			at := n.seg.At(t)
			if at.Dist(*s.From) >= leastWay*s.MM {
				s.offer(tool.Catch{Kind: tool.CaughtTangent, At: at, On: n.ref, Word: "touches " + n.word, Help: help(at)}, reachLine)
			}
		}
	}
}

// Square returns the parameters of the segment where the line from the place meets
// it square, to rounding. A place on the segment itself meets it nowhere.
func Square(s geom.Segment, from geom.Point) []float64 {
	return zeros(func(t float64) float64 { return s.At(t).Sub(from).Dot(s.Deriv(t)) }, s.Straight)
}

// Touching returns the parameters of the segment where the line from the place
// touches it, to rounding; none for a straight one.
func Touching(s geom.Segment, from geom.Point) []float64 {
	if s.Straight {
		return nil
	}
	return zeros(func(t float64) float64 { return s.At(t).Sub(from).Cross(s.Deriv(t)) }, false)
}

// zeroParts is into how many parts a cubic is divided to tell its zeros apart: the
// functions asked have at most five, and those of a smooth edge lie far apart.
const zeroParts = 24

// zeros returns the zeros of f between 0 and 1 at which it changes its sign.
func zeros(f func(float64) float64, straight bool) []float64 {
	parts := zeroParts
	if straight {
		parts = 1 // f is linear
	}
	var out []float64
	t0, f0 := 0.0, f(0)
	for i := 1; i <= parts; i++ {
		t1 := float64(i) / float64(parts)
		f1 := f(t1)
		switch {
		case f0 == 0:
			out = append(out, t0)
		case f0*f1 < 0:
			out = append(out, bisected(f, t0, t1, f0))
		}
		t0, f0 = t1, f1
	}
	if f0 == 0 {
		out = append(out, 1)
	}
	return out
}

// bisected returns the zero between t0, where f is f0, and t1.
func bisected(f func(float64) float64, t0, t1, f0 float64) float64 {
	for range 60 { // halves the bracket down to rounding
		t := (t0 + t1) / 2
		if t <= t0 || t >= t1 {
			break
		}
		if f(t)*f0 > 0 {
			t0 = t
		} else {
			t1 = t
		}
	}
	return (t0 + t1) / 2
}

// onLength offers the place as far from the beginning as an edge is long, and where
// that meets a line on which the place is.
func (s *search) onLength() {
	if s.From == nil {
		return
	}
	way := s.At.Sub(*s.From)
	far := way.Len()
	if far < leastWay*s.MM {
		return
	}
	for _, t := range s.Alike {
		for _, l := range t.lengths {
			if math.Abs(far-l.mm) > reachHelp*s.MM || s.still.moves(l.ref) {
				continue
			}
			word := "as long as " + l.word
			at := s.From.Add(way.Mul(l.mm / far))
			s.offer(tool.Catch{Kind: tool.CaughtLength, At: at, On: l.ref, Word: word}, reachHelp)
			for _, on := range s.lines {
				if at, ok := on.atDistance(*s.From, l.mm, s.At); ok {
					c := tool.Catch{Kind: tool.CaughtLength, At: at, On: l.ref, Word: on.word + ", " + word, Help: []geom.Path{s.laidOut(on)}}
					s.offerBoth(c)
				}
			}
		}
	}
}

// offerBoth offers a place that is caught by two things at once: it counts as near as
// it would by the length alone, and comes first.
func (s *search) offerBoth(c tool.Catch) {
	if off := c.At.Dist(s.At); off <= reachLine*s.MM && off-2*s.MM < s.score || !s.best.Caught() && off <= reachLine*s.MM {
		s.best, s.score = c, off-2*s.MM
	}
}

// atDistance returns the place on the line at the distance from a beginning that is
// next to p.
func (l straight) atDistance(from geom.Point, mm float64, p geom.Point) (geom.Point, bool) {
	foot := l.foot(from)
	half := mm*mm - foot.Dist(from)*foot.Dist(from)
	if half < 0 {
		return geom.Point{}, false
	}
	way := l.dir.Mul(math.Sqrt(half))
	a, b := foot.Add(way), foot.Sub(way)
	if b.Dist(p) < a.Dist(p) {
		return b, true
	}
	return a, true
}

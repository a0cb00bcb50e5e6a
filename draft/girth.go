package draft

import (
	"math"
	"slices"

	"hemlet/draft/body"
)

// Girth is how wide a garment is round one level of its wearer. All lengths are in mm.
type Girth struct {
	// Level is the level's name, Garment the garment's, Wearer whose body it is.
	Level, Garment string
	Wearer         ID
	// Length is what the garment measures round the level, Body what the wearer
	// does, and Ease the difference.
	Length, Body, Ease float64
	// Estimated says that Body was worked out from other measures.
	Estimated bool
}

// girthKey tells apart what is worn together.
type girthKey struct {
	level, garment string
	wearer         ID
}

// girthSum gathers the spans of one level.
type girthSum struct {
	Girth
	// covered is how much of the way round the spans stand for, front and back how
	// much of those halves the arcs do, as shares.
	covered, front, back float64
}

// coverSlack is how far the shares of the spans round a level may be from the whole:
// what is left when thirds are added up.
const coverSlack = 1e-6

// girthsOf adds up the spans that stand for parts of a girth, each as often as its
// piece is cut, and twice for a piece cut on the fold. A level is told only where its
// spans go all the way round, on the shell of the garment.
func girthsOf(p *Project, states []SpanState) []Girth {
	sums := make(map[girthKey]*girthSum)
	var order []girthKey
	for _, st := range states {
		level, arc, ok := p.levelOfSpan(st)
		if !ok || !st.Known || st.Piece.Layer != Shell || st.again() {
			continue
		}
		key := girthKey{level, st.Piece.Garment, st.Wearer}
		sum := sums[key]
		if sum == nil {
			sum = &girthSum{Girth: Girth{Level: level, Garment: key.garment, Wearer: st.Wearer}}
			sums[key] = sum
			order = append(order, key)
		}
		times := float64(st.Piece.Cut.Copies())
		if st.Piece.Cut.Way == CutOnFold {
			times *= 2
		}
		sum.Length += times * st.Length
		sum.Body += times * (st.Wants - st.Span.Ease)
		sum.Estimated = sum.Estimated || st.Estimated
		*[...]*float64{&sum.covered, &sum.front, &sum.back}[arc] += times * st.Span.Share
	}
	var out []Girth
	for _, key := range order {
		sum := sums[key]
		if math.Abs(sum.covered+(sum.front+sum.back)/2-1) > coverSlack || math.Abs(sum.front-sum.back) > 1 {
			continue
		}
		sum.Ease = sum.Length - sum.Body
		if w := p.Wearer(key.wearer); sum.Estimated && w != nil {
			// Front and back may be estimated parts of a girth that was taken.
			whole := w.Given()[body.GirthOf(key.level)]
			sum.Estimated = !(math.Abs(sum.Body-whole) <= coverSlack*whole)
		}
		out = append(out, sum.Girth)
	}
	rank := func(g Girth) int {
		if i := slices.Index(body.Levels[:], g.Level); i >= 0 {
			return i
		}
		return len(body.Levels)
	}
	slices.SortStableFunc(out, func(a, b Girth) int { return rank(a) - rank(b) })
	return out
}

// again reports whether a span goes from point to point where another one of its piece
// measures the same along edges or lines: that one is the way round the level, and this
// another place that is to be as wide.
func (st SpanState) again() bool {
	return st.Span.From != "" && slices.ContainsFunc(st.Piece.Spans, func(s Span) bool {
		return s.Measure == st.Span.Measure && s.From == ""
	})
}

// levelOfSpan returns the level of which the span stands for a part: 0 of the whole
// girth, 1 of the arc in front, 2 of the arc behind.
func (p *Project) levelOfSpan(st SpanState) (level string, arc int, ok bool) {
	levels := slices.Clone(body.Levels[:])
	if w := p.Wearer(st.Wearer); w != nil {
		for _, l := range w.Levels {
			levels = append(levels, l.Name)
		}
	}
	for _, level := range levels {
		for arc, name := range []string{body.GirthOf(level), body.ArcFrontOf(level), body.ArcBackOf(level)} {
			if name == st.Span.Measure {
				return level, arc, true
			}
		}
	}
	return "", 0, false
}

package draft

import "math"

// meanAsItIs returns the seam as it is meant once an act has changed the length of its
// sides on purpose: before is the project before the act, p the one after, in which the
// runs of the seam still stand. What the seam was off before, it is off still. kind says
// what becomes of the extra length; where it is nil, what became of it before, or ease
// up to 1.04 and gathers beyond.
func (p *Project) meanAsItIs(before *Project, s *Seam, kind *Fullness) *Seam {
	a0, b0, a1, b1 := before.runLength(s.A), before.runLength(s.B), p.runLength(s.A), p.runLength(s.B)
	if math.Abs(a1-a0) < meantSlack && math.Abs(b1-b0) < meantSlack {
		return s
	}
	// What the two sides were meant to measure, and are meant to now.
	if s.Fuller == SideA {
		a1 += s.Ratio*b0 - before.runLength(s.A)
	} else {
		b1 += s.Ratio*a0 - before.runLength(s.B)
	}
	if !(a1 > 0 && b1 > 0) {
		return s
	}
	m := *s
	switch {
	case math.Abs(a1-b1) < meantSlack && s.Ratio == 1:
		return s
	case math.Abs(a1-b1) < meantSlack:
		m.Ratio, m.Fullness, m.From, m.To = 1, Plain, 0, 1
		return &m
	case a1 > b1:
		m.Fuller, m.Ratio = SideA, a1/b1
	default:
		m.Fuller, m.Ratio = SideB, b1/a1
	}
	m.Ratio = min(m.Ratio, MaxRatio)
	if m.Fuller != s.Fuller {
		m.From, m.To = 0, 1
	}
	switch {
	case kind != nil && *kind != Plain:
		m.Fullness = *kind
	case s.Fullness == Plain || s.Fullness == Ease && m.Ratio > easeTo:
		m.Fullness = Gathers
		if m.Ratio <= easeTo {
			m.Fullness = Ease
		}
	}
	return &m
}

// meantSlack is how far, in mm, lengths may differ and still be meant as one: what the
// grid rounds away along an edge of many points.
const meantSlack = 100 * Grid

// meanFuller has every seam that sews the edge mean what an act has added to it between
// two shares of its length. The edge has the id that it had.
func (p *Project) meanFuller(before *Project, edge EdgeRef, kind *Fullness, from, to float64, out *Outcome) *Project {
	next := p
	for _, s := range p.Seams {
		side, run, k := useOf(s, edge)
		if k < 0 {
			continue
		}
		m := p.meanAsItIs(before, s, kind)
		if m == s {
			continue
		}
		if m.Ratio > 1 && m.Fuller == side {
			lo, hi := p.shareOfRun(run, k, from, to)
			if s.Ratio > 1 && s.Fuller == side { // what was full already stays so
				lo, hi = min(lo, s.From), max(hi, s.To)
			}
			if lo < hi {
				m.From, m.To = lo, hi
			}
		}
		next = next.withSeam(m)
		if m.Ratio == 1 {
			out.say("Seam %s is plain now.", m.label())
		} else {
			out.say("Seam %s now has %s, %.2f to 1.", m.label(), m.Fullness, m.Ratio)
		}
	}
	return next
}

// meanTaken has seams that are meant to be full, and whose fuller side an act has made
// shorter, mean the less. A plain seam is left as it is: that its sides no longer match
// is for the checks to tell.
func (p *Project) meanTaken(before *Project, edge EdgeRef, out *Outcome) *Project {
	next := p
	for _, s := range p.Seams {
		side, _, k := useOf(s, edge)
		if k < 0 || s.Ratio == 1 || s.Fuller != side {
			continue
		}
		if m := p.meanAsItIs(before, s, nil); m != s && m.Fuller == side {
			next = next.withSeam(m)
			out.say("Seam %s now has %s, %.2f to 1.", m.label(), m.Fullness, m.Ratio)
		}
	}
	return next
}

// useOf returns the side and the run in which the seam sews the edge, and the place in
// that run; -1 where it does not.
func useOf(s *Seam, edge EdgeRef) (Side, Run, int) {
	for side, run := range [2]Run{s.A, s.B} {
		for k, u := range run {
			if u.Piece == edge.Piece && u.Edge == edge.Edge {
				return Side(side), run, k
			}
		}
	}
	return SideA, nil, -1
}

// shareOfRun returns the stretch of a run, as shares of its length, that a stretch of
// its use number k is, given as shares of the edge's length.
func (p *Project) shareOfRun(run Run, k int, from, to float64) (lo, hi float64) {
	before, whole := p.runLength(run[:k]), p.runLength(run)
	own := p.runLength(run[k : k+1])
	if !(whole > 0) {
		return 0, 1
	}
	if run[k].Reversed {
		from, to = 1-to, 1-from
	}
	return clampShare((before + from*own) / whole), clampShare((before + to*own) / whole)
}

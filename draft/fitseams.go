package draft

import (
	"cmp"
	"math"
	"slices"

	"hemlet/geom/warp"
)

const (
	// seamMeantWithin is the share of a seam's length within which a pattern has to hold what
	// is intended of a seam for that to be what is fitted; a pattern that is further off means
	// what it shows.
	seamMeantWithin = 0.05
	// seamNoise is in mm what the grid of the coordinates, and figures that were written down,
	// leave of a seam that holds: it is let be, so that a pattern of which nothing is wanted
	// does not move at all.
	seamNoise = 1e-4
	// sameRatioWithin is in mm how far a part of a seam may be from what the whole seam is
	// meant to be and still be meant to be that.
	sameRatioWithin = 0.05
)

// seams returns what keeps the seams of the source true: the whole of each, and the parts
// between notches that meet.
func (b *fitBasis) seams() []warp.Seam {
	var out []warp.Seam
	for _, s := range b.source.Seams {
		out = append(out, b.seam(s)...)
	}
	return out
}

// seam returns what keeps one seam true.
func (b *fitBasis) seam(s *Seam) []warp.Seam {
	match, err := b.project.matchOf(s)
	if err != nil {
		return nil
	}
	full, other := match.rows[s.Fuller].length(), match.rows[match.less].length()
	ratio := s.Ratio
	if math.Abs(full-ratio*other) > seamMeantWithin*max(full, ratio*other) {
		ratio = full / other
	}
	want := full - ratio*other
	if math.Abs(want) > seamNoise {
		want = 0
	}
	l := b.m.newLengths()
	l.add(s.run(s.Fuller), 1)
	l.add(s.run(match.less), -ratio)
	terms := l.warpTerms()
	if len(terms) == 0 {
		return nil // an edge that is sewn to its own mirror image
	}
	return append([]warp.Seam{{Terms: terms, Want: want}}, b.parts(match, ratio)...)
}

// seamPart is what lies between two places at which the sides of a seam meet.
type seamPart struct {
	full, other *lengths
	// the lengths of both sides in mm
	fullLength, otherLength float64
}

// ratio returns how much longer the fuller side of the part is.
func (s *seamPart) ratio() float64 { return s.fullLength / s.otherLength }

// parts returns what keeps the notches of a seam meeting: each part between two of them
// keeps the ratio of its sides. The part that is furthest from the ratio of the whole takes
// what is left, for all together are held by the seam itself. A part that is the mirror
// image of another one is the same part.
func (b *fitBasis) parts(m *seamMatch, ratio float64) []warp.Seam {
	var list []*seamPart
	at := [2]float64{}
	ends := append(b.meetings(m), [2]float64{m.rows[SideA].length(), m.rows[SideB].length()})
	for _, end := range ends {
		full, less := m.seam.Fuller, m.less
		p := &seamPart{fullLength: end[full] - at[full], otherLength: end[less] - at[less]}
		p.full, p.other = b.between(&m.rows[full], at[full], end[full]), b.between(&m.rows[less], at[less], end[less])
		at = end
		if !slices.ContainsFunc(list, p.same) {
			list = append(list, p)
		}
	}
	if len(list) < 2 {
		return nil
	}
	// The part by which the seam is made to hold is the one that is most unlike the whole;
	// where all are alike it is the longest.
	rest := slices.MaxFunc(list, func(p, q *seamPart) int {
		off := func(x *seamPart) float64 { return max(math.Abs(x.fullLength-ratio*x.otherLength), sameRatioWithin) }
		return cmp.Or(cmp.Compare(off(p), off(q)), cmp.Compare(p.otherLength, q.otherLength))
	})
	var out []warp.Seam
	for _, p := range list {
		if p == rest {
			continue
		}
		r := p.ratio()
		if math.Abs(p.fullLength-ratio*p.otherLength) <= sameRatioWithin {
			r = ratio
		}
		s := warp.Seam{Terms: p.full.scaledWarpTerms(1), Want: 0}
		s.Terms = append(s.Terms, p.other.scaledWarpTerms(-r)...)
		if off := p.fullLength - r*p.otherLength; math.Abs(off) <= seamNoise {
			s.Want = off
		}
		out = append(out, s)
	}
	return out
}

// same reports whether two parts are of the same stretches of the same edges.
func (s *seamPart) same(o *seamPart) bool {
	return s.full.same(o.full) && s.other.same(o.other)
}

// meetings returns the places, in mm along sides A and B, at which notches of both sides
// meet, joints of both do, or a notch of one meets a joint of the other, in order.
func (b *fitBasis) meetings(m *seamMatch) [][2]float64 {
	full, other := m.rows[m.seam.Fuller].length(), m.rows[m.less].length()
	limit := seamLimit(other) + math.Abs(full-m.seam.Ratio*other)
	if m.seam.Fullness == Gathers {
		limit = max(limit, full*gathersShare)
	}
	c := notchCheck{p: b.project, m: m, limit: limit}
	c.gather()
	if len(c.notches) > mostPaired {
		return nil
	}
	var list [][2]float64
	for i := range c.notches {
		n := &c.notches[i]
		if !n.met {
			continue
		}
		far := &m.rows[n.side.other()]
		there := far.nearestJoint(m.across(n.side, n.at))
		pair := [2]float64{n.at, there}
		if n.side == SideB {
			pair = [2]float64{there, n.at}
		}
		list = append(list, pair)
	}
	for _, at := range m.rows[SideA].ends[:len(m.rows[SideA].ends)-1] {
		if there := m.rows[SideB].nearestJoint(m.across(SideA, at)); math.Abs(there-m.across(SideA, at)) <= limit {
			list = append(list, [2]float64{at, there})
		}
	}
	for {
		x, y := c.nearest()
		if x == nil || math.Abs(x.inA-y.inA) > limit {
			break
		}
		x.met, y.met = true, true
		list = append(list, [2]float64{x.at, y.at})
	}
	return inOrder(list, m)
}

// inOrder sorts places that meet and leaves out those that are not clear of the one before
// on both sides, and of the ends.
func inOrder(list [][2]float64, m *seamMatch) [][2]float64 {
	slices.SortFunc(list, func(a, b [2]float64) int { return cmp.Compare(a[SideA], b[SideA]) })
	var out [][2]float64
	last := [2]float64{}
	for _, x := range list {
		clear := true
		for side := range x {
			clear = clear && x[side]-last[side] >= shortestStretch && m.rows[side].length()-x[side] >= shortestStretch
		}
		if clear {
			out = append(out, x)
			last = x
		}
	}
	return out
}

// nearestJoint returns the place of the run nearest to at where two of its edges meet.
func (r *seamRow) nearestJoint(at float64) float64 {
	return slices.MinFunc(r.ends, func(a, b float64) int { return cmp.Compare(math.Abs(a-at), math.Abs(b-at)) })
}

// between sums up what of a run lies between two places along it.
func (b *fitBasis) between(r *seamRow, from, to float64) *lengths {
	l := b.m.newLengths()
	for k := range r.run {
		lo, hi := max(from-r.starts(k), 0), min(to-r.starts(k), r.lengths[k])
		if hi-lo < Grid {
			continue
		}
		if lo < Grid && r.lengths[k]-hi < Grid {
			l.add(r.run[k:k+1], 1)
			continue
		}
		if r.run[k].Reversed {
			lo, hi = r.lengths[k]-hi, r.lengths[k]-lo
		}
		l.addPart(r.pieces[k], r.edges[k], lo, hi)
	}
	return l
}

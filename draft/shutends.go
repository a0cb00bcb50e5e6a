package draft

import (
	"math"
	"slices"
)

// stripShare is how long the ends of a strip are at most, as a share of its two long sides in
// the mean: what is longer is a piece whose long seam is not sewn yet, such as a sleeve.
const stripShare = 0.5

// withoutShutEnds leaves out of an open line the two ends of a strip that runs all round, as
// a cuff or a frill does, and is not sewn together yet: worn they lie on each other, and are
// no part of the opening. The sides of a slit stay, which gape, and so do ends that are
// sewn in shut, the garment closed for wearing, and opened here.
func (st *sewnState) withoutShutEnds(loop []sewnUse, shut *sewnState) []sewnUse {
	for k := 0; k < len(loop) && len(loop) > 2; k++ {
		n := len(loop)
		if shut.isSewn(loop[k].use) || !st.stripEnds(loop[k], loop[(k+1)%n]) {
			continue
		}
		// What lies between the two ends; behind them those of the next strip may meet.
		rest := slices.Concat(loop[k+1:], loop[:k+1])[1 : n-1]
		for len(rest) > 2 && !shut.isSewn(rest[0].use) && st.strip(rest[len(rest)-1], rest[0]) {
			rest = rest[1 : len(rest)-1]
		}
		return st.withoutShutEnds(rest, shut)
	}
	return loop
}

// stripEnds reports whether two neighbours on an open line are the two ends of a strip,
// which meet on a seam that closes to a ring: other pieces lie between them there. Where a
// seam of the piece itself runs on from the point, they are the sides of a slit.
func (st *sewnState) stripEnds(u, v sewnUse) bool {
	if !st.strip(u, v) {
		return false
	}
	between, end := 0, st.corner[u.last()]
	for range 2 * len(st.uses) {
		if st.across[end] < 0 {
			break
		}
		end = st.corner[st.across[end]]
		between++
	}
	return end == v.first() && between > 1
}

// strip reports whether two edges are the equally long ends of one copy of a strip.
func (st *sewnState) strip(u, v sewnUse) bool {
	if u.use == v.use || st.face[u.use] != st.face[v.use] || math.Abs(st.lengths[u.use]-st.lengths[v.use]) > passSlack ||
		isSlitName(st.edges[u.use].Name) || isSlitName(st.edges[v.use].Name) {
		return false
	}
	sides := -st.lengths[u.use] - st.lengths[v.use]
	for k, face := range st.face {
		if face == st.face[u.use] {
			sides += st.lengths[k]
		}
	}
	return st.lengths[u.use] <= stripShare*sides/2
}

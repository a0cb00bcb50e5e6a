package draft

import (
	"math"
	"sort"
)

// edgeSpan is an edge with the places at which it starts and ends, in mm round an
// outline; it may run on past the start of the outline.
type edgeSpan struct {
	edge   *Edge
	lo, hi float64
}

// spans returns the edges of the ring with their places.
func (r ring) spans() []edgeSpan {
	var list []edgeSpan
	for i := range r {
		if r[i].edge != nil {
			list = append(list, edgeSpan{edge: r[i].edge, lo: r[i].pos})
		}
	}
	for i := range list {
		if i+1 < len(list) {
			list[i].hi = list[i+1].lo
		} else {
			list[i].hi = list[0].lo + r.round()
		}
	}
	return list
}

// share returns where in the edge a place lies, as a share of its length, or false
// where it lies elsewhere. round is the length all round.
func (s edgeSpan) share(pos, round float64) (float64, bool) {
	length := s.hi - s.lo
	if length <= 0 {
		return 0, false
	}
	for _, at := range []float64{pos - s.lo, pos - s.lo + round, pos - s.lo - round} {
		if share := at / length; share >= -shareSlack && share <= 1+shareSlack {
			return min(max(share, 0), 1), true
		}
	}
	return 0, false
}

// lineageIn says which edges of other stand where the edges of outline do. marks has
// the places of the nodes of other in terms of outline.
func lineageIn(marks, outline, other ring) Lineage {
	round := outline.round()
	at := marks.index()
	var others []edgeSpan
	here := make(map[ID]bool)
	for i := range other {
		if other[i].edge == nil {
			continue
		}
		here[other[i].edge.ID] = true
		k, ok := at[other[i].ID]
		if !ok {
			continue // a point that outline does not have: nothing of outline is there
		}
		others = append(others, edgeSpan{edge: other[i].edge, lo: math.Mod(marks[k].pos, round)})
	}
	for i := range others {
		next := others[(i+1)%len(others)].lo
		if next <= others[i].lo {
			next += round
		}
		others[i].hi = next
	}
	lin := make(Lineage)
	for _, s := range outline.spans() {
		heirs := s.heirs(others, round)
		switch {
		case len(heirs) == 1 && heirs[0] == Heir{Edge: s.edge.ID, Old1: 1, New1: 1}:
		case len(heirs) == 0 && here[s.edge.ID]:
		default:
			lin[s.edge.ID] = heirs
		}
	}
	return lin
}

// heirs returns the stretches of others that lie in the edge.
func (s edgeSpan) heirs(others []edgeSpan, round float64) []Heir {
	var heirs []Heir
	for _, o := range others {
		for _, shift := range []float64{-round, 0, round} {
			lo, hi := max(s.lo, o.lo+shift), min(s.hi, o.hi+shift)
			if hi-lo <= shareSlack*round {
				continue
			}
			heirs = append(heirs, Heir{
				Edge: o.edge.ID,
				Old0: s.part(lo), Old1: s.part(hi), New0: o.part(lo - shift), New1: o.part(hi - shift),
			})
		}
	}
	sort.Slice(heirs, func(i, k int) bool { return heirs[i].Old0 < heirs[k].Old0 })
	return heirs
}

// part returns a place in the edge as a share of it; within rounding of an end it is
// the end.
func (s edgeSpan) part(pos float64) float64 {
	share := (pos - s.lo) / (s.hi - s.lo)
	const snap = 1e-7
	switch {
	case share < snap:
		return 0
	case share > 1-snap:
		return 1
	}
	return share
}

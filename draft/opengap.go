package draft

import (
	"math"
	"slices"
)

// seamGap is what opens at one point of a ring of seams: how long the sides of the
// openings there are, in mm, of what is worn outside and of the facings and linings behind
// it.
type seamGap struct {
	outer, behind       float64
	hasOuter, hasBehind bool
	// bounded says that what opens outside ends somewhere in the cloth, or not at all.
	bounded bool
}

// insideMost is how far, in mm, a lining lies inside its piece at an edge: its opening is
// shorter by that and yet as deep. (Common practice, no source: half a millimetre to one.)
const insideMost = 2

// width is by how much the gap makes the ring larger. What is behind lies along what is
// outside: the shorter opening of the two holds.
func (s *seamGap) width() float64 {
	switch {
	case s.hasOuter && s.hasBehind && s.behind < s.outer-2*insideMost:
		return s.behind
	case s.hasOuter:
		return s.outer
	}
	return s.behind
}

// gaps returns by how much the seams that open from a ring of seams on make it larger, in
// mm: by both their sides, where the ring is broken. What is sewn on past there in one
// piece keeps it closed.
func (g *sewnGarment) gaps(l openLoop) float64 {
	at := make(map[int]*seamGap)
	var order []int
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		from, to := g.ends(arc)
		if !g.closed.isSewn(arc.a[0].use) || g.runsRound(l, arc) || from == to {
			continue
		}
		for _, v := range [...]int{from, to} {
			if !g.broken(l, v) {
				continue
			}
			gap := at[v]
			if gap == nil {
				gap = &seamGap{}
				at[v] = gap
				order = append(order, v)
			}
			gap.take(g, arc, from+to-v)
		}
	}
	sum := 0.0
	for _, v := range order {
		sum += at[v].width()
	}
	return sum
}

// take counts a seam that ends at the gap and leads to another point of the garment.
func (s *seamGap) take(g *sewnGarment, arc *sewnArc, to int) {
	open := 0.0
	if arc.seam.Opens {
		open = g.closed.runLength(arc.a) + g.closed.runLength(arc.b)
	}
	if !g.behind(arc) {
		s.takeOuter(open, arc.seam.Opens && g.endsFree(to))
		return
	}
	if arc.seam.Opens && g.endsFree(to) {
		open = math.Inf(1) // a facing that is open all through holds nothing
	}
	s.behind, s.hasBehind = s.behind+open, true
}

// takeOuter counts a seam of what is worn outside. Of two on either side of the ring the
// cloth gives there only as far as the one that opens less; what opens as far as an edge, as
// the ends of a collar do, holds nothing back.
func (s *seamGap) takeOuter(open float64, free bool) {
	switch {
	case !s.hasOuter || !free && !s.bounded:
		s.outer, s.bounded = open, !free
	case !free:
		s.outer = min(s.outer, open)
	case !s.bounded:
		s.outer = max(s.outer, open)
	}
	s.hasOuter = true
}

// runsRound reports whether the seam is one of the ring.
func (g *sewnGarment) runsRound(l openLoop, arc *sewnArc) bool {
	return slices.Contains(l.seams, arc.seam)
}

// behind reports whether a seam sews what lies behind the outside of the garment: pieces of
// another layer, or facings.
func (g *sewnGarment) behind(arc *sewnArc) bool {
	for _, u := range [...]sewnUse{arc.a[0], arc.b[0]} {
		piece := g.closed.faces[g.closed.face[u.use]].piece
		if piece.Layer == Shell && !isWord(piece.Name, "facing") && (piece.Derived == nil || piece.Derived.Role != roleFacing) {
			return false
		}
	}
	return true
}

// openOutside reports whether what is worn outside opens at one of two points.
func (g *sewnGarment) openOutside(points ...int) bool {
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		from, to := g.ends(arc)
		if arc.seam.Opens && !g.behind(arc) && (slices.Contains(points, from) || slices.Contains(points, to)) {
			return true
		}
	}
	return false
}

// endsFree reports whether the cloth ends at a point of the garment: an edge there is sewn
// to nothing.
func (g *sewnGarment) endsFree(at int) bool {
	for u := range g.closed.uses {
		if !g.closed.isSewn(u) && (g.closed.vertex.of(sewnStart(u)) == at || g.closed.vertex.of(sewnEnd(u)) == at) {
			return true
		}
	}
	return false
}

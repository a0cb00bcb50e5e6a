package draft

import (
	"cmp"
	"slices"
)

// Heir is a stretch of a new edge that stands where a stretch of an old one stood.
// Places are shares of an edge's length from 0 to 1; where New0 > New1 the new
// edge runs the other way.
type Heir struct {
	// Piece is the piece that has the new edge, empty where it is the one that had the
	// old.
	Piece ID
	// Across says that the new edge stands there on the other side of the body: on the
	// far half of a piece cut on the fold, as the left of one cut in pairs.
	Across     bool
	Edge       ID
	Old0, Old1 float64
	New0, New1 float64
}

// Lineage says what became of edges: for each old edge its heirs in the order of
// the old edge. An edge that is not named is still itself; an edge with no heirs
// is gone.
type Lineage map[ID][]Heir

// then returns what became of edges that went through l first and through next
// after it.
func (l Lineage) then(next Lineage) Lineage {
	out := make(Lineage, len(l)+len(next))
	made := make(map[ID]bool)
	for old, heirs := range l {
		out[old] = nil
		for _, h := range heirs {
			made[h.Edge] = true
			out[old] = append(out[old], h.through(next)...)
		}
	}
	for old, heirs := range next {
		if _, known := out[old]; !known && !made[old] {
			out[old] = heirs
		}
	}
	return out
}

// through returns the heirs of the heir.
func (h Heir) through(next Lineage) []Heir {
	heirs, gone := next[h.Edge]
	if !gone {
		return []Heir{h}
	}
	var out []Heir
	for i := range heirs {
		g := heirs[i]
		if h.New0 > h.New1 {
			g = heirs[len(heirs)-1-i]
		}
		lo, hi := max(min(h.New0, h.New1), g.Old0), min(max(h.New0, h.New1), g.Old1)
		if g.Old0 == g.Old1 {
			// What is new at one place of the old edge belongs to the heir that ends there.
			if here := g.Old0 == 0 && h.lowest() == 0 || g.Old0 > h.lowest() && g.Old0 <= h.highest(); !here {
				continue
			}
		} else if hi-lo <= shareSlack {
			continue
		}
		if h.New0 > h.New1 {
			lo, hi = hi, lo
		}
		next := Heir{
			Piece: h.Piece, Edge: g.Edge, Across: h.Across != g.Across,
			Old0: between(lo, h.New0, h.New1, h.Old0, h.Old1), Old1: between(hi, h.New0, h.New1, h.Old0, h.Old1),
			New0: between(lo, g.Old0, g.Old1, g.New0, g.New1), New1: between(hi, g.Old0, g.Old1, g.New0, g.New1),
		}
		if g.Piece != "" {
			next.Piece = g.Piece
		}
		if g.Old0 == g.Old1 {
			if next.New0, next.New1 = g.New0, g.New1; h.New0 > h.New1 {
				next.New0, next.New1 = g.New1, g.New0
			}
		}
		out = append(out, next)
	}
	return out
}

func (h Heir) lowest() float64  { return min(h.New0, h.New1) }
func (h Heir) highest() float64 { return max(h.New0, h.New1) }

// unite returns the heirs that two lineages know of the same edges, in the order of the
// old edges.
func (l Lineage) unite(other Lineage) Lineage {
	out := make(Lineage, len(l)+len(other))
	for old, heirs := range l {
		out[old] = slices.Clone(heirs)
	}
	for old, heirs := range other {
		out[old] = append(out[old], heirs...)
		slices.SortStableFunc(out[old], func(a, b Heir) int { return cmp.Compare(a.Old0+a.Old1, b.Old0+b.Old1) })
	}
	return out
}

// of returns what became of the edges of one piece, which may be nil.
func (l Lineage) of(p *Piece) Lineage {
	out := make(Lineage)
	if p == nil {
		return out
	}
	for i := range p.Edges {
		if heirs, gone := l[p.Edges[i].ID]; gone {
			out[p.Edges[i].ID] = heirs
		}
	}
	return out
}

// between maps x from the stretch a0 to a1 to the stretch b0 to b1.
func between(x, a0, a1, b0, b1 float64) float64 { return b0 + (b1-b0)*(x-a0)/(a1-a0) }

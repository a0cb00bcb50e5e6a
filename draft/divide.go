package draft

import (
	"fmt"
	"strings"
)

// split divides edge i at its node k, which becomes a corner, and returns what
// became of the edge. Allowances taper on; the first part keeps the name.
func (p *Piece) split(i, k int, ids *idSource) Lineage {
	old := p.Edges[i]
	a, b := old, old
	a.ID, b.ID = ids.make(kindEdge), ids.make(kindEdge)
	a.Nodes = append([]Node(nil), old.Nodes[:k]...)
	b.Nodes = append([]Node(nil), old.Nodes[k:]...)
	b.Corner = Mitre
	edges := make([]Edge, 0, len(p.Edges)+1)
	edges = append(append(append(edges, p.Edges[:i]...), a, b), p.Edges[i+1:]...)
	p.Edges = edges
	p.followDarts()
	la, lb := p.EdgeLength(i), p.EdgeLength(i+1)
	at := shareOf(la, lb)
	width := old.Allowance.Start + (old.Allowance.End-old.Allowance.Start)*at
	p.Edges[i].Allowance.End, p.Edges[i+1].Allowance.Start = width, width
	p.nameApart(i+1, old.Name)
	return Lineage{old.ID: {
		{Edge: a.ID, Old0: 0, Old1: at, New0: 0, New1: 1},
		{Edge: b.ID, Old0: at, Old1: 1, New0: 0, New1: 1},
	}}
}

// shareOf returns the share of a in a + b, half where both are 0.
func shareOf(a, b float64) float64 {
	if a+b == 0 {
		return 0.5
	}
	return a / (a + b)
}

func (p *Piece) hasEdgeName(name string) bool {
	for i := range p.Edges {
		if p.Edges[i].Name == name {
			return true
		}
	}
	return false
}

// nameApart names edge i, a part of an edge of the name whole, after it, with a number that
// tells it from the edges that bear the name.
func (p *Piece) nameApart(i int, whole string) {
	p.Edges[i].Name = ""
	if stem, _ := nameStem(whole); stem != "" {
		p.Edges[i].Name = unusedName(stem, func(n string) bool { return n == stem || p.hasEdgeName(n) })
	}
}

// nameStem takes the number off "side 2" and "centre back 2".
func nameStem(name string) (string, bool) {
	i := strings.LastIndexByte(name, ' ')
	if i <= 0 || i == len(name)-1 || strings.Trim(name[i+1:], "0123456789") != "" {
		return name, false
	}
	return name[:i], true
}

// canMerge reports why the corner at which edge i starts must stay.
func (p *Piece) canMerge(i int) error {
	h := (i + len(p.Edges) - 1) % len(p.Edges)
	for _, k := range []int{h, i} {
		if e := &p.Edges[k]; e.Kind == FoldEdge {
			return fmt.Errorf("the fold %s ends at this corner; the fold is one straight edge", e.label())
		}
	}
	return nil
}

// cornerShare returns the share that the edge before edge i has of the two.
func (p *Piece) cornerShare(i int) float64 {
	n := len(p.Edges)
	return shareOf(p.EdgeLength((i+n-1)%n), p.EdgeLength(i))
}

// merge makes one edge of edge i and the one before it, and returns what became of
// the two, which met at the share at of the new one. Where kept, the node between
// them is a node of the new edge, else it is dropped. The edge takes name, kind and
// trimming of the longer.
func (p *Piece) merge(i int, at float64, kept bool, ids *idSource, out *Outcome) Lineage {
	n := len(p.Edges)
	h := (i + n - 1) % n
	a, b := p.Edges[h], p.Edges[i]
	e := a
	if at < 0.5 {
		e = b
	}
	e.ID = ids.make(kindEdge)
	e.Corner = a.Corner
	e.Allowance.Start, e.Allowance.End = a.Allowance.Start, b.Allowance.End
	rest := b.Nodes
	if !kept {
		rest = b.Nodes[1:]
	}
	e.Nodes = append(append([]Node(nil), a.Nodes...), rest...)
	edges := make([]Edge, 0, n-1)
	for k := range p.Edges {
		switch k {
		case h:
			edges = append(edges, e)
		case i:
		default:
			edges = append(edges, p.Edges[k])
		}
	}
	p.Edges = edges
	if stem, numbered := nameStem(e.Name); numbered && !p.hasEdgeName(stem) {
		if a.Name == stem || b.Name == stem {
			_, k := p.Edge(e.ID)
			p.Edges[k].Name = stem
		}
	}
	p.followDarts()
	out.Made = e.ID
	if a.Allowance.End != b.Allowance.Start {
		out.say("%s: the allowance of %s now tapers from %s to %s.", p.label(), e.label(), out.unit.Format(e.Allowance.Start), out.unit.Format(e.Allowance.End))
	}
	if a.Kind != b.Kind {
		out.say("%s: edge %s is now all %s.", p.label(), e.label(), e.Kind)
	}
	return Lineage{
		a.ID: {{Edge: e.ID, Old0: 0, Old1: 1, New0: 0, New1: at}},
		b.ID: {{Edge: e.ID, Old0: 0, Old1: 1, New0: at, New1: 1}},
	}
}

// followDarts has each dart name the edge on which its mouth lies.
func (p *Piece) followDarts() {
	for i, d := range p.Darts {
		if _, e, _ := p.Node(d.From); e >= 0 {
			p.Darts[i].Edge = p.Edges[e].ID
		}
	}
}

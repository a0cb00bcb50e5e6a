package draft

import (
	"errors"
	"fmt"
	"slices"

	"hemlet/geom"
)

// openDart makes two real edges of the legs of a dart, with corners at its mouth, its apex
// and its mouth; p may be written to. legs are the ids of the two edges in the order of the
// outline. The edge on which the dart lay is divided, and the dart is gone.
func (p *Piece) openDart(dart ID, ids *idSource) (legs [2]ID, lin Lineage, err error) {
	at := slices.IndexFunc(p.Darts, func(d Dart) bool { return d.ID == dart })
	if at < 0 {
		return legs, nil, fmt.Errorf("dart %s %w", dart, errGone)
	}
	d := p.Darts[at]
	if d.Fold != Wedge {
		return legs, nil, fmt.Errorf("%s is a %s and has no point; only a dart opens to one", labelOf(d.Name, d.ID), d.Fold)
	}
	_, i, k := p.Node(d.From)
	if i < 0 {
		return legs, nil, fmt.Errorf("the mouth of %s %w", d.called(), errGone)
	}
	old, was := p.Edges[i], p.clone()
	p.Darts = slices.Delete(p.Darts, at, at+1)
	width := p.seamWidth()
	label := labelOf(d.Name, "dart")
	var names []string
	leg := func(n Node) Edge {
		name := unusedName(label+" leg", func(n string) bool { return slices.Contains(names, n) || p.hasEdgeName(n) })
		names = append(names, name)
		return Edge{ID: ids.make(kindEdge), Name: name, Allowance: Even(width), Nodes: []Node{n}}
	}
	from, to := p.EdgeNodes(i)[k], p.EdgeNodes(i)[k+1]
	from.Out, to.In, from.Smooth, to.Smooth = geom.Point{}, geom.Point{}, false, false
	first := leg(from)
	apex := Node{ID: ids.make(kindNode), At: d.Apex}
	second := leg(apex)
	before, after := old, old
	before.Nodes = slices.Clone(old.Nodes[:k])
	var rest []Node
	if k+1 < len(old.Nodes) {
		rest = slices.Clone(old.Nodes[k+1:])
		rest[0] = to
	}
	after.Nodes, after.Corner = rest, Mitre
	legs = [2]ID{first.ID, second.ID}
	var edges []Edge
	edges = append(edges, p.Edges[:i]...)
	if len(before.Nodes) > 0 {
		before.ID = ids.make(kindEdge)
		edges = append(edges, before)
	}
	edges = append(edges, first, second)
	if len(after.Nodes) > 0 {
		after.ID = ids.make(kindEdge)
		edges = append(edges, after)
	}
	edges = append(edges, p.Edges[i+1:]...)
	if len(rest) == 0 {
		// The dart's mouth ends at the corner of the next edge.
		j := slices.IndexFunc(edges, func(e Edge) bool { return e.Nodes[0].ID == to.ID })
		if j < 0 {
			return legs, nil, errors.New("the dart ends nowhere")
		}
		edges[j].Nodes = slices.Clone(edges[j].Nodes)
		edges[j].Nodes[0].In, edges[j].Nodes[0].Smooth = geom.Point{}, false
	}
	p.Edges = edges
	lin = p.opened(old, before, after)
	q, err := followPiece(was, p, lin)
	if err != nil {
		return legs, nil, err
	}
	*p = *q
	p.followDarts()
	return legs, lin, nil
}

// opened says what became of the edge old, of which before and after are left; either may
// be without nodes.
func (p *Piece) opened(old, before, after Edge) Lineage {
	length := func(e Edge) float64 {
		if _, i := p.Edge(e.ID); i >= 0 && len(e.Nodes) > 0 {
			return p.EdgeLength(i)
		}
		return 0
	}
	share := shareOf(length(before), length(after))
	var heirs []Heir
	switch {
	case len(before.Nodes) == 0:
		heirs = []Heir{{Edge: after.ID, Old1: 1, New1: 1}}
	case len(after.Nodes) == 0:
		heirs = []Heir{{Edge: before.ID, Old1: 1, New1: 1}}
	default:
		_, i := p.Edge(before.ID)
		_, k := p.Edge(after.ID)
		width := old.Allowance.Start + (old.Allowance.End-old.Allowance.Start)*share
		p.Edges[i].Allowance.End, p.Edges[k].Allowance.Start = width, width
		p.nameApart(k, old.Name)
		heirs = []Heir{{Edge: before.ID, Old1: share, New1: 1}, {Edge: after.ID, Old0: share, Old1: 1, New1: 1}}
	}
	return Lineage{old.ID: heirs}
}

package draft

import (
	"slices"

	"hemlet/geom"
)

// turnOver makes the piece, which may be written to, its mirror image under m, a
// reflection. The outline is still run counter-clockwise, so that every edge runs the other
// way; ids stay. The lineage says so of every edge.
func (p *Piece) turnOver(m geom.Affine) Lineage {
	was := p.clone()
	n := len(p.Edges)
	edges := make([]Edge, n)
	lin := Lineage{}
	for i := range was.Edges {
		e := was.Edges[i]
		nodes := was.EdgeNodes(i)
		next := was.Edges[(i+1)%n]
		// The corner at which the edge ended is the one at which it starts, and is its own
		// from now on.
		e.Corner = next.Corner.swapped()
		e.Allowance.Start, e.Allowance.End = e.Allowance.End, e.Allowance.Start
		e.Nodes = mirroredNodes(reversedNodes(nodes[1:]), m)
		edges[(n-i)%n] = e
		lin[e.ID] = []Heir{{Edge: e.ID, Old1: 1, New0: 1, New1: 0}}
	}
	p.Edges = edges
	for i := range p.Lines {
		p.Lines[i].Nodes = mirroredNodes(p.Lines[i].Nodes, m)
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		d.From, d.To, d.Apex = d.To, d.From, m.Apply(d.Apex)
		switch d.Press {
		case PressToStart:
			d.Press = PressToEnd
		case PressToEnd:
			d.Press = PressToStart
		}
	}
	if p.Grain != nil {
		p.Grain.From, p.Grain.To = m.Apply(p.Grain.From), m.Apply(p.Grain.To)
	}
	if p.LabelAt != nil {
		*p.LabelAt = m.Apply(*p.LabelAt)
	}
	for i := range p.Notches {
		p.Notches[i].FromEnd = !p.Notches[i].FromEnd
	}
	for i := range p.Stretches {
		s := &p.Stretches[i]
		s.From, s.To = 1-s.To, 1-s.From
	}
	for i := range p.Spans {
		slices.Reverse(p.Spans[i].Edges)
	}
	return lin
}

// mirroredNodes returns the nodes under m.
func mirroredNodes(nodes []Node, m geom.Affine) []Node {
	out := slices.Clone(nodes)
	for i := range out {
		n := &out[i]
		n.At, n.In, n.Out = m.Apply(n.At), m.ApplyVector(n.In), m.ApplyVector(n.Out)
	}
	return out
}

// otherSide returns the use on the other side of the body of a piece cut in a given way,
// or itself where there is none.
func (u EdgeUse) otherSide(way CutWay) EdgeUse {
	switch way {
	case CutPairs:
		u.Copy.Mirrored = !u.Copy.Mirrored
	case CutOnFold:
		u.Half = Far - u.Half
	}
	return u
}

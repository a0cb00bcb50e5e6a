package draft

import (
	"slices"

	"hemlet/geom"
)

// chain is a row of nodes of an outline, each by the indices of its edge and of its
// place in that edge.
type chain [][2]int

// chain returns the nodes of the outline from one on to another, both included.
func (p *Piece) chain(from, to ID) chain {
	_, i, k := p.Node(from)
	if i < 0 {
		return nil
	}
	c := chain{{i, k}}
	for range p.nodeCount() {
		if p.Edges[i].Nodes[k].ID == to {
			break
		}
		if k++; k == len(p.Edges[i].Nodes) {
			i, k = (i+1)%len(p.Edges), 0
		}
		c = append(c, [2]int{i, k})
	}
	return c
}

// of returns the ids of the nodes.
func (c chain) of(p *Piece) []ID {
	ids := make([]ID, len(c))
	for i, at := range c {
		ids[i] = p.Edges[at[0]].Nodes[at[1]].ID
	}
	return ids
}

// path returns the closed line along the nodes and back by way of a point.
func (c chain) path(p *Piece, by geom.Point) geom.Path {
	nodes := make([]Node, len(c))
	for i, at := range c {
		nodes[i] = p.Edges[at[0]].Nodes[at[1]]
	}
	path := pathOf(nodes)
	return append(path, geom.Line(nodes[len(nodes)-1].At, by), geom.Line(by, nodes[0].At))
}

// mover says by what motion each place of a piece is moved, and each dart.
type mover struct {
	at   func(geom.Point) geom.Affine
	dart func(*Dart) geom.Affine
}

// mover returns what moves the part of a piece inside a path, with the darts that open
// on the chain.
func (c chain) mover(p *Piece, part geom.Path, move geom.Affine) mover {
	ids := c.of(p)
	return mover{
		at: func(q geom.Point) geom.Affine {
			if part.Contains(q) {
				return move
			}
			return geom.Identity
		},
		dart: func(d *Dart) geom.Affine {
			if slices.Contains(ids, d.From) && slices.Contains(ids, d.To) {
				return move
			}
			return geom.Identity
		},
	}
}

// maxListedLines bounds how many lines one sentence names.
const maxListedLines = 4

// moveMarks moves what lies inside a piece along with its parts: each dart with its
// mouth, the grain and the label whole, a line point by point, so that one that crosses a
// slash is drawn on across it; that is told.
func (p *Piece) moveMarks(m mover, out *Outcome) {
	for i := range p.Darts {
		p.Darts[i].Apex = m.dart(&p.Darts[i]).Apply(p.Darts[i].Apex)
	}
	if g := p.Grain; g != nil {
		by := m.at(g.From.Lerp(g.To, 0.5))
		g.From, g.To = by.Apply(g.From), by.Apply(g.To)
	}
	if p.LabelAt != nil {
		*p.LabelAt = m.at(*p.LabelAt).Apply(*p.LabelAt)
	}
	var across []string
	for i := range p.Lines {
		l := &p.Lines[i]
		crossed := false
		first := geom.Identity
		for k := range l.Nodes {
			n := &l.Nodes[k]
			by := m.at(n.At)
			if k == 0 {
				first = by
			}
			crossed = crossed || by != first
			n.At, n.In, n.Out = by.Apply(n.At), by.ApplyVector(n.In), by.ApplyVector(n.Out)
		}
		if crossed {
			across = append(across, labelOf(l.Name, l.ID))
		}
	}
	switch {
	case len(across) == 1:
		out.say("%s: the line %s lies across and is drawn on over the opening.", p.label(), across[0])
	case len(across) > 1:
		out.say("%s: the lines %s lie across and are drawn on over the opening.", p.label(), list(across, maxListedLines))
	}
}

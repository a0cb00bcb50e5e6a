package bench

import (
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// nodeMark is a node of an outline with where it stands in it.
type nodeMark struct {
	node *draft.Node
	// edge is the edge on which the node lies, before the one that ends at it; the
	// two differ at a corner.
	edge, before int
	corner       bool
	// line is the line on which the node lies, empty for one of the outline.
	line draft.ID
}

// handleMark is the tip of a handle.
type handleMark struct {
	at  geom.Point
	out bool
}

func (n nodeMark) handles() []handleMark {
	var out []handleMark
	if n.node.In != (geom.Point{}) {
		out = append(out, handleMark{n.node.At.Add(n.node.In), false})
	}
	if n.node.Out != (geom.Point{}) {
		out = append(out, handleMark{n.node.At.Add(n.node.Out), true})
	}
	return out
}

// eachNode calls f for each node of the outline in order, then for those of the lines.
func (b *body) eachNode(f func(nodeMark)) {
	edges := b.piece.Edges
	for i := range edges {
		for j := range edges[i].Nodes {
			n := nodeMark{node: &edges[i].Nodes[j], edge: i, before: i}
			if j == 0 {
				n.corner = true
				n.before = (i + len(edges) - 1) % len(edges)
			}
			f(n)
		}
	}
	for i := range b.piece.Lines {
		l := &b.piece.Lines[i]
		for j := range l.Nodes {
			f(nodeMark{node: &l.Nodes[j], line: l.ID, corner: !l.Nodes[j].Smooth})
		}
	}
}

// showsHandles reports whether any handle of the node is shown.
func (s *scene) showsHandles(b *body, n nodeMark) bool {
	return s.showsHandle(b, n, false) || s.showsHandle(b, n, true)
}

// showsHandle reports whether the handle of the node on one side is shown: the node
// or one of its handles is picked, or the edge on that side.
func (s *scene) showsHandle(b *body, n nodeMark, out bool) bool {
	edge := n.before
	if out {
		edge = n.edge
	}
	for _, r := range s.picked {
		if r.Piece != b.piece.ID {
			continue
		}
		switch r.Kind {
		case desk.Node, desk.HandleIn, desk.HandleOut:
			if r.Node == n.node.ID {
				return true
			}
		case desk.Edge:
			if n.line == "" && r.Edge == b.piece.Edges[edge].ID {
				return true
			}
		case desk.Line:
			if n.line != "" && r.Thing == n.line {
				return true
			}
		}
	}
	return false
}

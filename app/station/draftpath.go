package station

import (
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/geom"
)

// pathOf returns the line through nodes.
func pathOf(nodes []block.Node, closed bool) geom.Path {
	var path geom.Path
	join := func(a, b block.Node) {
		if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
			path = append(path, geom.Line(a.At, b.At))
			return
		}
		path = append(path, geom.Cubic(a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At))
	}
	for i := 1; i < len(nodes); i++ {
		join(nodes[i-1], nodes[i])
	}
	if closed && len(nodes) > 1 {
		join(nodes[len(nodes)-1], nodes[0])
	}
	return path
}

// nodesOf returns all nodes of a piece round its outline.
func nodesOf(p *block.Piece) []block.Node {
	var nodes []block.Node
	for _, e := range p.Edges {
		nodes = append(nodes, e.Nodes...)
	}
	return nodes
}

// outlineOf returns the stitching line of a piece.
func outlineOf(p *block.Piece) geom.Path { return pathOf(nodesOf(p), true) }

// edgeOf returns the line of an edge of a piece.
func edgeOf(p *block.Piece, name string) geom.Path {
	for i, e := range p.Edges {
		if e.Name == name && len(e.Nodes) > 0 {
			next := p.Edges[(i+1)%len(p.Edges)]
			return pathOf(append(append([]block.Node(nil), e.Nodes...), next.Nodes[0]), false)
		}
	}
	return nil
}

// nodeOf returns where the node with the name lies, on the outline or on a line inside.
func nodeOf(p *block.Piece, name string) (geom.Point, bool) {
	nodes := nodesOf(p)
	for _, l := range p.Lines {
		nodes = append(nodes, l.Nodes...)
	}
	for _, n := range nodes {
		if n.Name == name {
			return n.At, true
		}
	}
	return geom.Point{}, false
}

// stretchOf returns the lines that a span measures.
func stretchOf(p *block.Piece, s block.Span) []geom.Path {
	var out []geom.Path
	add := func(path geom.Path) {
		if len(path) > 0 {
			out = append(out, path)
		}
	}
	for _, name := range s.Edges {
		add(edgeOf(p, name))
	}
	for _, name := range s.Lines {
		for _, l := range p.Lines {
			if l.Name == name {
				add(pathOf(l.Nodes, l.Closed))
			}
		}
	}
	if len(out) == 0 {
		a, from := nodeOf(p, s.From)
		b, to := nodeOf(p, s.To)
		if b = spanEnd(p, s, a, b); from && to && a != b {
			add(geom.Path{geom.Line(a, b)})
		}
	}
	return out
}

// spanEnd returns where a span from a ends that is measured only along or across the
// grain: level with b, or plumb with it.
func spanEnd(p *block.Piece, s block.Span, a, b geom.Point) geom.Point {
	up := geom.Pt(0, 1)
	if p.Grain != nil {
		up = p.Grain[1].Sub(p.Grain[0]).Unit()
	}
	switch d := b.Sub(a); s.Way {
	case draft.AlongGrain.String():
		return a.Add(up.Mul(d.Dot(up)))
	case draft.AcrossGrain.String():
		return a.Add(up.Left().Mul(up.Cross(d)))
	}
	return b
}

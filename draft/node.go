package draft

import "hemlet/geom"

// Node is a point of an outline or an internal line, with the handles of the
// curves that come in and go out. A handle is a vector from the node in mm; the
// stretch between two nodes is straight where neither has a handle towards it.
type Node struct {
	ID      ID
	At      geom.Point
	In, Out geom.Point
	// Smooth keeps In and Out in one line, each with a length of its own.
	Smooth bool
}

// segment returns the stretch from a to b.
func segment(a, b Node) geom.Segment {
	if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
		return geom.Line(a.At, b.At)
	}
	return geom.Cubic(a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At)
}

// pathOf returns the open path through the nodes in order.
func pathOf(nodes []Node) geom.Path {
	var p geom.Path
	for i := 1; i < len(nodes); i++ {
		p = append(p, segment(nodes[i-1], nodes[i]))
	}
	return p
}

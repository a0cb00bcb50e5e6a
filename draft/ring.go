package draft

import "hemlet/geom"

// ring is an outline as one closed row of nodes.
type ring []ringNode

// ringNode is a node of an outline and the stretch that follows it.
type ringNode struct {
	Node
	// edge is the edge that starts here, nil inside an edge.
	edge *Edge
	// mouth says that the stretch that follows is the mouth of a dart, which counts
	// for no length.
	mouth bool
	// pos is how far round the outline the node lies, in mm without mouths.
	pos float64
}

// ringOf returns the outline of edges whose darts are given.
func ringOf(edges []Edge, darts []Dart) ring {
	mouths := make(map[ID]ID, len(darts))
	for _, d := range darts {
		mouths[d.From] = d.To
	}
	var r ring
	for i := range edges {
		for k, n := range edges[i].Nodes {
			node := ringNode{Node: n}
			if k == 0 {
				node.edge = &edges[i]
			}
			r = append(r, node)
		}
	}
	for i := range r {
		to, isMouth := mouths[r[i].ID]
		r[i].mouth = isMouth && to == r.at(i+1).ID
	}
	r.measure()
	return r
}

// at returns node i, counted on past the end.
func (r ring) at(i int) *ringNode { return &r[(i%len(r)+len(r))%len(r)] }

// after returns the stretch that follows node i.
func (r ring) after(i int) geom.Segment { return segment(r.at(i).Node, r.at(i+1).Node) }

// measure works out where each node lies.
func (r ring) measure() {
	at := 0.0
	for i := range r {
		r[i].pos = at
		at += r.stretch(i)
	}
}

// stretch returns the length of the stretch that follows node i, 0 for a mouth.
func (r ring) stretch(i int) float64 {
	if r.at(i).mouth {
		return 0
	}
	return r.after(i).Length()
}

// round returns the length all round.
func (r ring) round() float64 { return r[len(r)-1].pos + r.stretch(len(r)-1) }

// index returns where each node is.
func (r ring) index() map[ID]int {
	m := make(map[ID]int, len(r))
	for i := range r {
		m[r[i].ID] = i
	}
	return m
}

// directions returns the unit directions in which the line comes to node i and
// leaves it.
func (r ring) directions(i int) (in, out geom.Point) {
	return r.after(i - 1).Tangent(1), r.after(i).Tangent(0)
}

// edges takes the ring apart at the nodes at which an edge starts. The edges have
// the nodes of the ring and all else from what starts there.
func (r ring) edges() []Edge {
	var list []Edge
	first := 0
	for first < len(r) && r[first].edge == nil {
		first++
	}
	for k := range r {
		n := r.at(first + k)
		if n.edge != nil {
			e := *n.edge
			e.Nodes = nil
			list = append(list, e)
		}
		if len(list) > 0 {
			last := &list[len(list)-1]
			last.Nodes = append(last.Nodes, n.Node)
		}
	}
	return list
}

// turn is a rotation of the plane: a unit vector that the direction to the right is
// turned to.
type turn geom.Point

// noTurn leaves everything as it is.
var noTurn = turn{X: 1}

// turnFrom returns the rotation from the direction u to the direction v, and false
// where one of them has none.
func turnFrom(u, v geom.Point) (turn, bool) {
	u, v = u.Unit(), v.Unit()
	if u == (geom.Point{}) || v == (geom.Point{}) {
		return noTurn, false
	}
	if u == v {
		return noTurn, true
	}
	return turn{X: u.Dot(v), Y: u.Cross(v)}, true
}

// of returns the vector turned.
func (t turn) of(v geom.Point) geom.Point {
	if t == noTurn {
		return v
	}
	return geom.Pt(v.X*t.X-v.Y*t.Y, v.X*t.Y+v.Y*t.X)
}

// meanTurn returns the rotation halfway between two; where they are opposite, the
// second.
func meanTurn(a, b turn) turn {
	u := geom.Point(a).Add(geom.Point(b)).Unit()
	if a == b || u == (geom.Point{}) {
		return b
	}
	return turn(u)
}

// frameTurn returns how far the frame of a node turns from one outline to another:
// the mean of the turns of the two directions in which the line meets it. At a
// smooth node the two are the same; at a corner neither of the two edges is given
// way to the other, and a corner that only opens or closes does not turn at all.
func frameTurn(from ring, i int, to ring, k int) turn {
	in0, out0 := from.directions(i)
	in1, out1 := to.directions(k)
	a, okA := turnFrom(in0, in1)
	b, okB := turnFrom(out0, out1)
	switch {
	case okA && okB:
		return meanTurn(a, b)
	case okA:
		return a
	default:
		return b
	}
}

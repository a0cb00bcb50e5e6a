package draft

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

const (
	// rowSlack is how far, in mm, a node may lie beside the straight line of its
	// neighbours and still belong to it: a tenth of what a pencil line is wide.
	rowSlack = 0.01
	// grainSlack is the sine of the angle within which a straight edge lies along the
	// grain: a twentieth of a degree, as exact as anybody lays a piece.
	grainSlack = 1e-3
)

// outline returns the outline as geom/adjust has it.
func (g *givingPiece) outline() adjust.Shape {
	s := adjust.Shape{Nodes: make([]adjust.Node, len(g.nodes))}
	for i, n := range g.nodes {
		may := g.may[i]
		// The line across the mouth of a dart keeps its shape.
		if g.mouth(i) {
			may.out = false
		}
		if g.mouth((i + len(g.nodes) - 1) % len(g.nodes)) {
			may.in = false
		}
		s.Nodes[i] = adjust.Node{
			At: n.At, In: n.In, Out: n.Out, Smooth: n.Smooth,
			Fixed: may == liberty{}, Pinned: !may.at, FixedIn: !may.in, FixedOut: !may.out,
		}
	}
	return s
}

// rows lists the nodes of straight lines of more than one stretch, which stay straight,
// corners between two edges included.
func (g *givingPiece) rows() []adjust.Row {
	n := len(g.nodes)
	start := -1 // a node at which no row runs on
	for k := range n {
		if !g.runsOn(k) {
			start = k
			break
		}
	}
	if start < 0 {
		return nil
	}
	var rows []adjust.Row
	for k := 0; k < n; {
		row := []int{(start + k) % n}
		k++
		for k <= n && g.straight((start+k-1)%n) {
			row = append(row, (start+k)%n)
			if !g.runsOn((start + k) % n) {
				break
			}
			k++
		}
		if len(row) > 2 {
			rows = append(rows, adjust.Row{Shape: g.shape, Nodes: row})
		}
	}
	return rows
}

// runsOn reports whether the straight line that comes to node k goes on beyond it.
func (g *givingPiece) runsOn(k int) bool {
	n := len(g.nodes)
	before, after := (k+n-1)%n, (k+1)%n
	if !g.straight(before) || !g.straight(k) {
		return false
	}
	a, b, c := g.nodes[before].At, g.nodes[k].At, g.nodes[after].At
	u, v := b.Sub(a), c.Sub(b)
	chord := c.Sub(a).Unit()
	return u.Dot(v) > 0 && math.Abs(chord.Cross(u)) < rowSlack
}

// allRails lists the nodes that move along one line only: those of folds and, unless
// straight edges are let loose, of edges along the grain.
func (g *givingPiece) allRails(loose bool) []adjust.Rail {
	along := make(map[int]adjust.Rail)
	for i := range g.piece.Edges {
		from, to := g.first[i], g.end(i)
		u := g.nodes[to].At.Sub(g.nodes[from].At).Unit()
		if u == (geom.Point{}) || g.piece.Edges[i].Kind != FoldEdge && (loose || !g.alongGrain(i, u)) {
			continue
		}
		for _, k := range append(g.inside(i), from, to) {
			along[k] = adjust.Rail{Shape: g.shape, Node: k, Along: u}
		}
	}
	for k, u := range g.rails {
		if _, has := along[k]; !has {
			along[k] = adjust.Rail{Shape: g.shape, Node: k, Along: u, Turns: true}
		}
	}
	var rails []adjust.Rail
	for k := range g.nodes {
		if r, has := along[k]; has && g.may[k].at {
			rails = append(rails, r)
		}
	}
	return rails
}

// alongGrain reports whether edge i is straight and lies along the grain, whose direction
// it keeps.
func (g *givingPiece) alongGrain(i int, u geom.Point) bool {
	grain := g.piece.Grain
	if grain == nil || math.Abs(grain.To.Sub(grain.From).Unit().Cross(u)) > grainSlack {
		return false
	}
	return g.straightEdge(i)
}

// straightEdge reports whether edge i is one straight line.
func (g *givingPiece) straightEdge(i int) bool {
	for k := range g.piece.Edges[i].Nodes {
		at := g.first[i] + k
		if !g.straight(at) || k > 0 && !g.runsOn(at) {
			return false
		}
	}
	return true
}

// allTies lists the nodes that move together: the mouth of a dart, which keeps its
// width.
func (g *givingPiece) allTies() []adjust.Tie {
	var ties []adjust.Tie
	for k := range g.nodes {
		if g.mouth(k) {
			ties = append(ties, adjust.Tie{Shape: g.shape, Nodes: []int{k, g.next(k)}})
		}
	}
	for _, nodes := range g.ties {
		ties = append(ties, adjust.Tie{Shape: g.shape, Nodes: nodes})
	}
	return ties
}

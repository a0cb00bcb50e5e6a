package draft

import (
	"math"

	"hemlet/geom"
)

// movementSamples is how many places of each stretch of an outline are looked at: the
// largest distance between two cubics with common ends is told within 2 %.
const movementSamples = 12

// Movement returns by how many mm any place of an outline moved at most from one project
// to another, in the piece's own millimetres: where the piece lies on the bench does not
// count. Pieces that are in one of them only, and what lies inside pieces, are left out.
func Movement(before, after *Project) float64 {
	most := 0.0
	for _, p := range before.Pieces {
		if q := after.Piece(p.ID); q != nil && q != p {
			most = math.Max(most, p.movedTo(q))
		}
	}
	return most
}

// movedTo returns by how many mm the outline of p differs from that of q: the larger of
// what points with the same id moved, and the distance of either line from the other.
func (p *Piece) movedTo(q *Piece) float64 {
	if equalEdges(p.Edges, q.Edges) {
		return 0
	}
	most := 0.0
	for i := range p.Edges {
		for _, n := range p.Edges[i].Nodes {
			if m, _, _ := q.Node(n.ID); m != nil {
				most = math.Max(most, n.At.Dist(m.At))
			}
		}
	}
	a, b := p.DrawnPath(), q.DrawnPath()
	return max(most, mostApart(a, b), mostApart(b, a))
}

// mostApart returns the largest distance in mm of sampled places of a path from another.
func mostApart(a, b geom.Path) float64 {
	most := 0.0
	for _, s := range a {
		for k := range movementSamples {
			_, d := b.Nearest(s.At(float64(k) / movementSamples))
			most = math.Max(most, d)
		}
	}
	return most
}

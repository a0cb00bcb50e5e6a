package draft

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/warp"
)

const (
	// mirrorSlack is how far in mm the two halves of a piece may differ and still be meant to
	// be mirror images: what a careful hand leaves between two halves that it draws.
	mirrorSlack = 0.05
	// mostMirrored is the largest number of points for which a line of symmetry is looked
	// for: the search grows with its square.
	mostMirrored = 400
)

// mirror returns the line about which a piece that is drawn whole is symmetric. One that is
// cut as a pair has none: it lies on one side of the body, and nothing keeps its halves
// alike; and of one that is cut on the fold only a half is drawn.
func (g *givingPiece) mirror() (warp.Mirror, bool) {
	n := len(g.nodes)
	if g.piece.Cut.Way != CutSingle || n < 3 || n > mostMirrored {
		return warp.Mirror{}, false
	}
	// Reflected, node i is node (sum-i) mod n. An even sum has nodes on the axis; a line of
	// symmetry along the grain is taken before another.
	var best warp.Mirror
	found, upright := false, -1.0
	for sum := range n {
		axis, ok := g.axis(sum)
		if !ok || !g.mirrored(sum, axis) {
			continue
		}
		along := math.Abs(axis[1].Sub(axis[0]).Unit().Dot(g.piece.GrainWay()))
		if along > upright {
			best, found, upright = warp.Mirror{Shape: g.shape, Axis: axis, Pairs: mirrorPairs(sum, n)}, true, along
		}
	}
	return best, found
}

// mirrorPairs lists the nodes that are each other's images.
func mirrorPairs(sum, n int) [][2]int {
	var pairs [][2]int
	for i := range n {
		if j := (sum - i + n) % n; i < j {
			pairs = append(pairs, [2]int{i, j})
		}
	}
	return pairs
}

// axis returns the line that has the two nodes that are furthest apart and each other's
// images on both sides.
func (g *givingPiece) axis(sum int) ([2]geom.Point, bool) {
	n := len(g.nodes)
	var middle, across geom.Point
	for i := range n {
		a, b := g.nodes[i].At, g.nodes[(sum-i+n)%n].At
		if way := b.Sub(a); way.Len() > across.Len() {
			middle, across = a.Lerp(b, 0.5), way
		}
	}
	if across.Len() < shortestStretch {
		return [2]geom.Point{}, false
	}
	return [2]geom.Point{middle, middle.Add(across.Unit().Left())}, true
}

// mirrored reports whether every node lies where its image does, with its handles.
func (g *givingPiece) mirrored(sum int, axis [2]geom.Point) bool {
	n := len(g.nodes)
	u := axis[1].Sub(axis[0])
	turn := func(v geom.Point) geom.Point { return u.Mul(2 * v.Dot(u)).Sub(v) }
	near := func(a, b geom.Point) bool { return a.Dist(b) <= mirrorSlack }
	for i := range n {
		a, b := g.nodes[i], g.nodes[(sum-i+n)%n]
		at := axis[0].Add(turn(a.At.Sub(axis[0])))
		if !near(at, b.At) || !near(turn(a.Out), b.In) || !near(turn(a.In), b.Out) {
			return false
		}
	}
	return true
}

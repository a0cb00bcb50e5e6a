package draft

import (
	"math"
	"slices"

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

// mirror returns the line about which a piece is drawn symmetric: a back, a band, and a sleeve
// or a cuff that is cut as a pair, which nobody drew alike in front and behind by chance. Of
// what is cut on the fold only a half is drawn. Where the points of an outline are not each
// other's images and only its course is, as after tracing, no points are named.
func (g *givingPiece) mirror() (warp.Mirror, bool) {
	n := len(g.nodes)
	if g.piece.FoldEdge() >= 0 || n < 3 || n > mostMirrored {
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
	if found {
		return best, true
	}
	axis, ok := g.axisOfCourse()
	return warp.Mirror{Shape: g.shape, Axis: axis}, ok
}

const (
	// courseSlack is the share of its size by which the course of an outline may differ from
	// its mirror image and still be meant to be it: half a millimetre of a sleeve, what
	// tracing leaves.
	courseSlack = 1e-3
	// coursePlaces is at how many places of a stretch that is looked at.
	coursePlaces = 8
)

// axisOfCourse returns the line along the grain about which the outline is symmetric, whatever
// its points.
func (g *givingPiece) axisOfCourse() ([2]geom.Point, bool) {
	outline, up := g.piece.DrawnPath(), g.piece.GrainWay()
	box := outline.Transform(geom.Rotation(math.Pi/2-up.Angle(), geom.Point{})).Bounds()
	middle := geom.Rotation(up.Angle()-math.Pi/2, geom.Point{}).Apply(box.Center())
	axis := [2]geom.Point{middle, middle.Add(up)}
	image, ok := geom.Reflection(axis[0], axis[1])
	if !ok {
		return axis, false
	}
	slack := courseSlack * math.Hypot(box.W(), box.H())
	for _, s := range outline {
		for k := range coursePlaces {
			at := image.Apply(s.At(float64(k) / coursePlaces))
			if !slices.ContainsFunc(outline, func(o geom.Segment) bool { _, d := o.Nearest(at); return d <= slack }) {
				return axis, false
			}
		}
	}
	return axis, true
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

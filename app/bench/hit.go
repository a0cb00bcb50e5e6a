package bench

import (
	"math"

	"hemlet/app/desk"
	"hemlet/geom"
)

// How near, in screen units, the pointer must come to touch a thing: about the
// size of what is drawn and a little more, for a shaky hand. What can be touched is so
// at least 9 units wide at any zoom.
const (
	reachNode   = 9
	reachHandle = 9
	reachSpot   = 9
	reachNotch  = 6
	reachEdge   = 9
	reachBeside = 6 // of what is drawn beside an edge
)

// hit is what lies under a place on the bench.
type hit struct {
	ref desk.Ref
	// at is the place itself, or the nearest place of the node or edge, on the
	// bench.
	at geom.Point
}

// seeker looks for what lies nearest to a place.
type seeker struct {
	s     *scene
	at    geom.Point
	mm    float64 // mm of a screen unit
	can   takes
	best  hit
	dist  float64 // of the best, in mm
	found bool
}

// hitAt returns what of the kinds that are taken the pointer at the place on the
// bench touches; mm is how many millimetres a screen unit covers. Points and handles
// can be touched only where they are shown. What is small comes before what is long,
// and that before whole pieces.
func (s *scene) hitAt(at geom.Point, mm float64, can takes) hit {
	k := &seeker{s: s, at: at, mm: mm, can: can, best: hit{at: at}}
	for _, look := range []func(*body){k.points, k.spots, k.lines} {
		k.dist = math.Inf(1)
		for i := len(s.order) - 1; i >= 0; i-- {
			if b := s.order[i]; !b.piece.Locked && b.box.Grow(reachEdge*mm).Contains(at) {
				look(b)
			}
		}
		if k.found {
			return k.best
		}
	}
	if !can(desk.Piece) {
		return hit{at: at}
	}
	for i := len(s.order) - 1; i >= 0; i-- {
		b := s.order[i]
		if !b.piece.Locked && b.box.Contains(at) && b.outline().Contains(b.back.Apply(at)) {
			return hit{ref: desk.PieceRef(b.piece.ID), at: at}
		}
	}
	return hit{at: at}
}

// offer takes a thing at the distance in mm if it is nearer than what was found, and
// within reach in screen units. at is its place on the bench.
func (k *seeker) offer(r desk.Ref, at geom.Point, dist, reach float64) {
	if dist <= reach*k.mm && dist < k.dist && k.can(r.Kind) {
		k.best, k.dist, k.found = hit{ref: r, at: at}, dist, true
	}
}

// points looks for the points and handles that are shown on a piece.
func (k *seeker) points(b *body) {
	if !k.s.picked.Touches(b.piece.ID) {
		return
	}
	b.eachNode(func(n nodeMark) {
		on := b.place.Apply(n.node.At)
		k.offer(desk.NodeRef(b.piece.ID, n.node.ID), on, on.Dist(k.at), reachNode)
		for _, h := range n.handles() {
			if k.s.showsHandle(b, n, h.out) {
				on := b.place.Apply(h.at)
				k.offer(desk.HandleRef(b.piece.ID, n.node.ID, h.out), on, on.Dist(k.at), reachHandle)
			}
		}
	})
}

// spots looks for notches, the tips of darts, drill points and fastenings.
func (k *seeker) spots(b *body) {
	local := b.back.Apply(k.at)
	for i := range b.parts {
		x := &b.parts[i]
		if !x.box.Grow(2 * reachSpot * k.mm).Contains(local) {
			continue
		}
		if x.ref.Kind == desk.Notch {
			stroke := geom.Line(x.notch, x.notch.Add(x.out.Mul(notchLength*k.mm)))
			_, d := stroke.Nearest(local)
			k.offer(x.ref, b.place.Apply(x.notch), d, reachNotch)
			continue
		}
		for _, p := range x.spots {
			k.offer(x.ref, b.place.Apply(p), p.Dist(local), reachSpot)
		}
	}
}

// lines looks for edges, lines, the legs of darts, and what is drawn beside edges.
func (k *seeker) lines(b *body) {
	local := b.back.Apply(k.at)
	k.edges(b, local)
	for i := range b.parts {
		x := &b.parts[i]
		if !k.can(x.ref.Kind) || !x.box.Grow((2*reachSpot+x.inset)*k.mm).Contains(local) {
			continue
		}
		for _, path := range x.paths {
			at, d := path.Nearest(local)
			on, reach := path.At(at), float64(reachEdge)
			if x.inset > 0 {
				// It is drawn beside the edge, on the left of it.
				side := path.Tangent(at).Cross(local.Sub(on))
				if side <= 0 {
					continue
				}
				d, reach = math.Abs(d-x.inset*k.mm), reachBeside
			}
			k.offer(x.ref, b.place.Apply(on), d, reach)
		}
	}
}

// edges looks for the edges, by their stitching line and by the cut line along them.
func (k *seeker) edges(b *body, local geom.Point) {
	if !k.can(desk.Edge) {
		return
	}
	reach := reachEdge * k.mm
	for i, path := range b.edges {
		if !b.edgeBoxes[i].Grow(reach).Contains(local) {
			continue
		}
		place, d := path.Nearest(local)
		k.offer(desk.EdgeRef(b.piece.ID, b.piece.Edges[i].ID), b.place.Apply(path.At(place)), d, reachEdge)
	}
	for i, seg := range b.cut {
		edge := b.cutEdge[i]
		if edge < 0 || !seg.HandleBounds().Grow(reach).Contains(local) {
			continue
		}
		if _, d := seg.Nearest(local); d < k.dist && d <= reach {
			place, _ := b.edges[edge].Nearest(local)
			k.offer(desk.EdgeRef(b.piece.ID, b.piece.Edges[edge].ID), b.place.Apply(b.edges[edge].At(place)), d, reachEdge)
		}
	}
}

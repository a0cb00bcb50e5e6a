package bench

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// How near, in screen units, the pointer must come to touch a thing: about the
// size of what is drawn and a little more, for a shaky hand.
const (
	reachNode   = 9
	reachHandle = 9
	reachEdge   = 9
)

// hit is what lies under a place on the bench.
type hit struct {
	ref desk.Ref
	// at is the place itself, or the nearest place of the node or edge, on the
	// bench.
	at geom.Point
}

// hitAt returns what of the kinds that are taken the pointer at the place on the
// bench touches; mm is how many millimetres a screen unit covers. Points and handles
// can be touched only where they are shown.
func (s *scene) hitAt(at geom.Point, mm float64, can takes) hit {
	if h, ok := s.hitPoints(at, mm, can); ok {
		return h
	}
	if h, ok := s.hitEdges(at, mm*reachEdge, can); ok {
		return h
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

func (s *scene) hitPoints(at geom.Point, mm float64, can takes) (hit, bool) {
	best, found := hit{}, false
	dist := mm * reachNode
	for i := len(s.order) - 1; i >= 0; i-- {
		b := s.order[i]
		if b.piece.Locked || !s.picked.Touches(b.piece.ID) {
			continue
		}
		b.eachNode(func(n nodeMark) {
			try := func(p geom.Point, r desk.Ref, limit float64) {
				on := b.place.Apply(p)
				if d := on.Dist(at); d <= limit && d < dist && can(r.Kind) {
					best, dist, found = hit{ref: r, at: on}, d, true
				}
			}
			try(n.node.At, desk.NodeRef(b.piece.ID, n.node.ID), mm*reachNode)
			for _, h := range n.handles() {
				if !s.showsHandle(b, n, h.out) {
					continue
				}
				try(h.at, desk.HandleRef(b.piece.ID, n.node.ID, h.out), mm*reachHandle)
			}
		})
	}
	return best, found
}

func (s *scene) hitEdges(at geom.Point, reach float64, can takes) (hit, bool) {
	best, found := hit{}, false
	if !can(desk.Edge) {
		return best, false
	}
	dist := reach
	for i := len(s.order) - 1; i >= 0; i-- {
		b := s.order[i]
		if b.piece.Locked || !b.box.Grow(reach).Contains(at) {
			continue
		}
		local := b.back.Apply(at)
		for k, path := range b.edges {
			place, d := path.Nearest(local)
			if d < dist {
				ref := desk.EdgeRef(b.piece.ID, b.piece.Edges[k].ID)
				best, dist, found = hit{ref: ref, at: b.place.Apply(path.At(place))}, d, true
			}
		}
		for k, seg := range b.cut {
			edge := b.cutEdge[k]
			if edge < 0 || !seg.HandleBounds().Grow(dist).Contains(local) {
				continue
			}
			if _, d := seg.Nearest(local); d < dist {
				place, _ := b.edges[edge].Nearest(local)
				ref := desk.EdgeRef(b.piece.ID, b.piece.Edges[edge].ID)
				best, dist, found = hit{ref: ref, at: b.place.Apply(b.edges[edge].At(place))}, d, true
			}
		}
	}
	return best, found
}

// inside returns the pieces that lie wholly in the box, or else the points of the
// pieces in it, of those pieces first of which a part is picked.
func (s *scene) inside(box geom.Rect) []desk.Ref {
	var pieces, points, all []desk.Ref
	for _, b := range s.order {
		if b.piece.Locked || !b.box.Overlaps(box) {
			continue
		}
		if box.Contains(b.box.Min) && box.Contains(b.box.Max) {
			pieces = append(pieces, desk.PieceRef(b.piece.ID))
			continue
		}
		b.eachNode(func(n nodeMark) {
			if !box.Contains(b.place.Apply(n.node.At)) {
				return
			}
			r := desk.NodeRef(b.piece.ID, n.node.ID)
			all = append(all, r)
			if s.picked.Touches(b.piece.ID) {
				points = append(points, r)
			}
		})
	}
	switch {
	case len(pieces) > 0:
		return pieces
	case len(points) > 0:
		return points
	default:
		return all
	}
}

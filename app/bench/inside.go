package bench

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// region is a part of the bench.
type region struct {
	box geom.Rect
	// holds reports whether a place lies in it.
	holds func(geom.Point) bool
	// takes reports whether all of a piece lies in it.
	takes func(*body) bool
}

// inside returns the pieces that lie wholly in the box, or else the points of the
// pieces in it, of those pieces first of which a part is picked.
func (s *scene) inside(box geom.Rect) []desk.Ref {
	return s.in(region{box: box, holds: box.Contains, takes: func(b *body) bool {
		return box.Contains(b.box.Min) && box.Contains(b.box.Max)
	}})
}

// within is inside for what lies in a closed loop.
func (s *scene) within(loop geom.Path) []desk.Ref {
	return s.in(region{box: loop.Bounds(), holds: loop.Contains, takes: func(b *body) bool { return allIn(b, loop) }})
}

// loopSamples is how many places of each segment of a cut line have to lie in a loop: a
// hand draws no loop so closely round a piece that more would tell it better.
const loopSamples = 6

func allIn(b *body, loop geom.Path) bool {
	for _, seg := range b.outline() {
		for i := range loopSamples {
			if !loop.Contains(b.place.Apply(seg.At(float64(i) / loopSamples))) {
				return false
			}
		}
	}
	return true
}

func (s *scene) in(r region) []desk.Ref {
	var pieces, points, all []desk.Ref
	for _, b := range s.order {
		if b.piece.Locked || !b.box.Overlaps(r.box) {
			continue
		}
		if r.takes(b) {
			pieces = append(pieces, desk.PieceRef(b.piece.ID))
			continue
		}
		b.eachNode(func(n nodeMark) {
			if n.line != "" || !r.holds(b.place.Apply(n.node.At)) {
				return
			}
			ref := desk.NodeRef(b.piece.ID, n.node.ID)
			all = append(all, ref)
			if s.picked.Touches(b.piece.ID) {
				points = append(points, ref)
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

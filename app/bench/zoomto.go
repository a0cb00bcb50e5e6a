package bench

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// closest is how much, in mm, is shown at least of a bench on which single points are
// picked: as much as a hand needs to see where they are.
const closest = 20

// FitPicked shows the pieces that are picked, or the edges, points, lines and marks, as
// large as there is room; where nothing is, all, as Fit does.
func (b *Bench) FitPicked() {
	picked := b.desk.Picked()
	if b.laid() {
		b.takeSize()
	}
	if box := b.scene.boxOf(picked); b.laid() && !box.Empty() {
		b.look(b.fittedBox(box.Grow(closest/2), 0))
		return
	}
	b.fit(picked.Pieces()...)
}

// boxOf returns the box round the picked parts of pieces, empty where whole pieces are
// picked.
func (s *scene) boxOf(picked desk.Picked) geom.Rect {
	box := geom.EmptyRect()
	for _, r := range picked {
		b := s.bodies[r.Piece]
		if b == nil || r.Kind == desk.Piece {
			return geom.EmptyRect()
		}
		box = box.Union(b.boxOf(r))
	}
	return box
}

// boxOf returns the box round a part of the piece, on the bench.
func (b *body) boxOf(r desk.Ref) geom.Rect {
	box := geom.EmptyRect()
	if r.AtNode() {
		if n := b.piece.AnyNode(r.Node); n != nil {
			box = box.Include(b.place.Apply(n.At))
		}
		return box
	}
	if _, i := b.piece.Edge(r.Edge); i >= 0 && len(b.edges[i]) > 0 {
		return b.edges[i].Transform(b.place).Bounds()
	}
	if x := b.part(r); x != nil {
		for _, path := range x.paths {
			box = box.Union(path.Transform(b.place).Bounds())
		}
		for _, p := range x.spots {
			box = box.Include(b.place.Apply(p))
		}
	}
	return box
}

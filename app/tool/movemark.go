package tool

import (
	"slices"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// dartArgs moves the tip of a dart by a way on the bench.
func dartArgs(p *draft.Project, r desk.Ref, by geom.Point) (draft.MoveDartArgs, bool) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return draft.MoveDartArgs{}, false
	}
	i := slices.IndexFunc(piece.Darts, func(d draft.Dart) bool { return d.ID == r.Thing })
	if i < 0 {
		return draft.MoveDartArgs{}, false
	}
	apex := draft.Vector(piece.Place.Affine().Apply(piece.Darts[i].Apex).Add(by))
	return draft.MoveDartArgs{Dart: draft.DartRef{Piece: r.Piece, Dart: r.Thing}, Apex: &apex}, true
}

// notchArgs moves a notch along its edge to where a way on the bench leads; it goes on
// being told as a share, or from the end, if it was.
func notchArgs(p *draft.Project, r desk.Ref, by geom.Point) (draft.MoveNotchArgs, bool) {
	piece := p.Piece(r.Piece)
	if piece == nil {
		return draft.MoveNotchArgs{}, false
	}
	k := slices.IndexFunc(piece.Notches, func(n draft.Notch) bool { return n.ID == r.Thing })
	if k < 0 {
		return draft.MoveNotchArgs{}, false
	}
	n := piece.Notches[k]
	_, i := piece.Edge(n.Edge)
	back, ok := piece.Place.Affine().Invert()
	if i < 0 || !ok {
		return draft.MoveNotchArgs{}, false
	}
	edge := newCourse(piece.EdgeParts(i), false)
	if edge.long <= 0 {
		return draft.MoveNotchArgs{}, false
	}
	to := edge.nearest(edge.point(n.Along(edge.long)).Add(back.ApplyVector(by)))
	at := draft.EdgePlace{At: to, Share: n.Share, FromEnd: n.FromEnd}
	if at.FromEnd {
		at.At = edge.long - to
	}
	if at.Share {
		at.At /= edge.long
	}
	return draft.MoveNotchArgs{Notch: draft.NotchRef{Piece: r.Piece, Notch: r.Thing}, At: &at}, true
}

// nearest returns how far along the course its place next to p lies.
func (c course) nearest(p geom.Point) float64 {
	best, along := -1.0, 0.0
	for i, t := range c.tapes {
		if place, d := t.Path().Nearest(p); best < 0 || d < best {
			best, along = d, c.starts[i]+t.To(place)
		}
	}
	return along
}

// point returns the place so many mm along the course.
func (c course) point(mm float64) geom.Point {
	for i, t := range c.tapes {
		if d := mm - c.starts[i]; d <= t.Length() || i == len(c.tapes)-1 {
			return t.Path().At(t.At(d))
		}
	}
	return geom.Point{}
}

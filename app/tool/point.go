package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// Point puts new points on edges.
type Point struct {
	hand *Hand
	at   Pointer
}

// NewPoint returns the tool for the hand.
func NewPoint(h *Hand) *Point { return &Point{hand: h} }

// Info implements Tool.
func (*Point) Info() Info {
	return Info{Name: "Point", Icon: "node-add", Key: "I", Hint: "Click an edge to put a point on it. The line keeps its shape."}
}

// Press implements Tool.
func (t *Point) Press(p Pointer) {
	t.at = p
	if p.Hit.Kind == desk.Edge {
		t.hand.InsertAt(p.Hit, t.hand.placeOn(p))
	}
}

// Takes implements Picky.
func (*Point) Takes() []desk.Kind { return []desk.Kind{desk.Edge} }

// Cursor implements Pointed.
func (*Point) Cursor(p Pointer) Cursor { return onEdgeCursor(p) }

// onEdgeCursor is a cross where a press would put something on an edge.
func onEdgeCursor(p Pointer) Cursor {
	if p.Hit.Kind == desk.Edge {
		return CrossCursor
	}
	return ArrowCursor
}

// placeOn returns the place on the edge under the pointer: where it is caught, if
// that is a place on the edge, or else the nearest one.
func (h *Hand) placeOn(p Pointer) geom.Point {
	if p.Caught.Fixed() {
		if at, ok := h.nearestOn(p.Hit, p.Caught.At); ok && at.Near(p.Caught.At, onPlace) {
			return p.Caught.At
		}
	}
	return p.Snap
}

// nearestOn returns the place of an edge next to a place on the bench.
func (h *Hand) nearestOn(r desk.Ref, at geom.Point) (geom.Point, bool) {
	piece := h.Desk.Project().Piece(r.Piece)
	if piece == nil {
		return at, false
	}
	_, i := piece.Edge(r.Edge)
	if i < 0 {
		return at, false
	}
	path := piece.EdgePath(i).Transform(piece.Place.Affine())
	if len(path) == 0 {
		return at, false
	}
	place, _ := path.Nearest(at)
	return path.At(place), true
}

// Drag implements Tool.
func (*Point) Drag(Pointer) {}

// Release implements Tool.
func (*Point) Release(Pointer) {}

// Hover implements Tool.
func (t *Point) Hover(p Pointer) { t.at = p }

// Enter implements Tool.
func (*Point) Enter() bool { return false }

// Cancel implements Tool.
func (*Point) Cancel() bool { return false }

// Marks implements Tool: how far along the edge the point would lie.
func (t *Point) Marks() Marks { return t.hand.alongMarks(t.at) }

// alongMarks says how far along an edge the pointer is, if it is on one.
func (h *Hand) alongMarks(at Pointer) Marks {
	if at.Hit.Kind != desk.Edge {
		return Marks{}
	}
	place := h.placeOn(at)
	along, length, ok := h.along(at.Hit, place)
	if !ok {
		return Marks{}
	}
	unit := h.Desk.Project().Unit
	m := Marks{Plate: unit.FormatBare(along) + " of " + unit.Format(length), PlateAt: place}
	if at.Caught.Fixed() && place == at.Caught.At {
		m.Caught = at.Caught
	}
	return m
}

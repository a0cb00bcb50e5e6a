package tool

import "hemlet/app/desk"

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
		t.hand.InsertAt(p.Hit, p.Snap)
	}
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
	along, length, ok := h.along(at.Hit, at.Snap)
	if !ok {
		return Marks{}
	}
	unit := h.Desk.Project().Unit
	return Marks{Plate: unit.FormatBare(along) + " of " + unit.Format(length), PlateAt: at.Snap}
}

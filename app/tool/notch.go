package tool

import (
	"hemlet/app/desk"
	"hemlet/draft"
)

// Notch marks places on edges that meet their partners on the other side of a seam.
type Notch struct {
	hand *Hand
	at   Pointer
	// held is the notch that was pressed, on the edge, nil for none; moving is the
	// drag of it under way.
	held   *draft.Notch
	edge   desk.Ref
	moving *desk.Gesture
}

// NewNotch returns the tool for the hand.
func NewNotch(h *Hand) *Notch { return &Notch{hand: h} }

// Info implements Tool.
func (*Notch) Info() Info {
	return Info{Name: "Notch", Icon: "notch", Key: "N", Hint: "Click an edge to mark a notch, with Shift a double one as for a back. Drag a notch along its edge, or click it to take it away."}
}

// notchReach is how near, in screen units along the edge, a click touches a notch.
const notchReach = 8

// Press implements Tool.
func (t *Notch) Press(p Pointer) {
	t.Cancel()
	t.at = p
	if p.Hit.Kind != desk.Edge {
		return
	}
	along, length, ok := t.hand.along(p.Hit, t.hand.placeOn(p))
	if !ok {
		return
	}
	piece := t.hand.Desk.Project().Piece(p.Hit.Piece)
	for i, n := range piece.Notches {
		if off := n.Along(length) - along; n.Edge == p.Hit.Edge && max(off, -off) <= notchReach*p.MM {
			t.held, t.edge = &piece.Notches[i], p.Hit
			return
		}
	}
	args := draft.AddNotchArgs{Edge: draft.EdgeRef{Piece: p.Hit.Piece, Edge: p.Hit.Edge}, At: draft.EdgePlace{At: along}}
	if p.Keys.Shift { // without it the act tells front from back by their names
		args.Double = &p.Keys.Shift
	}
	t.hand.report(desk.Run(t.hand.Desk, draft.AddNotch, args))
}

// Takes implements Picky.
func (*Notch) Takes() []desk.Kind { return []desk.Kind{desk.Edge} }

// Cursor implements Pointed.
func (*Notch) Cursor(p Pointer) Cursor { return onEdgeCursor(p) }

// Drag implements Tool: the notch follows the pointer along its edge, and keeps
// being told as a share, or from the end, if it was.
func (t *Notch) Drag(p Pointer) {
	if t.held == nil {
		return
	}
	along, length, ok := t.hand.along(t.edge, p.At)
	if !ok {
		return
	}
	if t.moving == nil {
		t.moving = t.hand.Desk.Begin()
	}
	t.at = Pointer{At: p.At, Hit: t.edge, Snap: p.At}
	place := draft.EdgePlace{At: along, Share: t.held.Share, FromEnd: t.held.FromEnd}
	if place.FromEnd {
		place.At = length - along
	}
	if place.Share {
		place.At /= length
	}
	t.hand.report(desk.Move(t.moving, draft.MoveNotch, draft.MoveNotchArgs{
		Notch: draft.NotchRef{Piece: t.edge.Piece, Notch: t.held.ID}, At: &place,
	}))
}

// Release implements Tool: a notch that was not dragged is taken away.
func (t *Notch) Release(Pointer) {
	switch {
	case t.moving != nil:
		t.moving.End()
	case t.held != nil:
		t.hand.report(desk.Run(t.hand.Desk, draft.DeleteNotch, draft.DeleteNotchArgs{
			Notches: []draft.NotchRef{{Piece: t.edge.Piece, Notch: t.held.ID}},
		}))
	}
	t.held, t.moving = nil, nil
}

// Hover implements Tool.
func (t *Notch) Hover(p Pointer) { t.at = p }

// Enter implements Tool.
func (*Notch) Enter() bool { return false }

// Cancel implements Tool.
func (t *Notch) Cancel() bool {
	had := t.held != nil
	if t.moving != nil {
		t.moving.Cancel()
	}
	t.held, t.moving = nil, nil
	return had
}

// Marks implements Tool: how far along the edge the notch is, or would be.
func (t *Notch) Marks() Marks { return t.hand.alongMarks(t.at) }

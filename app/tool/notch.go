package tool

import (
	"hemlet/app/desk"
	"hemlet/draft"
)

// Notch marks places on edges that meet their partners on the other side of a seam.
type Notch struct {
	hand *Hand
	at   Pointer
}

// NewNotch returns the tool for the hand.
func NewNotch(h *Hand) *Notch { return &Notch{hand: h} }

// Info implements Tool.
func (*Notch) Info() Info {
	return Info{Name: "Notch", Icon: "notch", Key: "N", Hint: "Click an edge to mark a notch, with Shift a double one as for a back. Click a notch to take it away."}
}

// notchReach is how near, in screen units along the edge, a click touches a notch.
const notchReach = 8

// Press implements Tool.
func (t *Notch) Press(p Pointer) {
	t.at = p
	if p.Hit.Kind != desk.Edge {
		return
	}
	along, length, ok := t.hand.along(p.Hit, p.Snap)
	if !ok {
		return
	}
	piece := t.hand.Desk.Project().Piece(p.Hit.Piece)
	for _, n := range piece.Notches {
		if off := n.Along(length) - along; n.Edge == p.Hit.Edge && max(off, -off) <= notchReach*p.MM {
			t.hand.report(desk.Run(t.hand.Desk, draft.DeleteNotch, draft.DeleteNotchArgs{
				Notches: []draft.NotchRef{{Piece: piece.ID, Notch: n.ID}},
			}))
			return
		}
	}
	t.hand.report(desk.Run(t.hand.Desk, draft.AddNotch, draft.AddNotchArgs{
		Edge: draft.EdgeRef{Piece: p.Hit.Piece, Edge: p.Hit.Edge}, At: draft.EdgePlace{At: along}, Double: p.Keys.Shift,
	}))
}

// Drag implements Tool.
func (*Notch) Drag(Pointer) {}

// Release implements Tool.
func (*Notch) Release(Pointer) {}

// Hover implements Tool.
func (t *Notch) Hover(p Pointer) { t.at = p }

// Enter implements Tool.
func (*Notch) Enter() bool { return false }

// Cancel implements Tool.
func (*Notch) Cancel() bool { return false }

// Marks implements Tool: how far along the edge the notch would be.
func (t *Notch) Marks() Marks { return t.hand.alongMarks(t.at) }

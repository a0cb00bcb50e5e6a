package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// Pan moves the view.
type Pan struct {
	hand *Hand
	down bool
	from geom.Point
}

// NewPan returns the tool for the hand.
func NewPan(h *Hand) *Pan { return &Pan{hand: h} }

// Info implements Tool.
func (*Pan) Info() Info {
	return Info{Name: "Pan", Icon: "pan", Key: "H", Hint: "Drag to move the view. The middle button, or Space and drag, do the same with any tool."}
}

// Press implements Tool.
func (p *Pan) Press(e Pointer) { p.down, p.from = true, e.At }

// Takes implements Picky: nothing is taken.
func (*Pan) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Pan) Cursor(Pointer) Cursor { return GrabCursor }

// Drag implements Tool. The place under the pointer follows it, so that the next
// event is measured from the same place again.
func (p *Pan) Drag(e Pointer) {
	if p.down {
		p.hand.Scroll(e.At.Sub(p.from))
	}
}

// Release implements Tool.
func (p *Pan) Release(Pointer) { p.down = false }

// Hover implements Tool.
func (*Pan) Hover(Pointer) {}

// Enter implements Tool.
func (*Pan) Enter() bool { return false }

// Cancel implements Tool.
func (p *Pan) Cancel() bool {
	had := p.down
	p.down = false
	return had
}

// Marks implements Tool.
func (*Pan) Marks() Marks { return Marks{} }

package shell

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// hoverLabel shows, after a moment, what the control under the pointer is for.
type hoverLabel struct {
	object *fyne.Container
	box    *fyne.Container
	text   *control.Prose
	turn   int // of the pointer over controls; what comes late is dropped
}

// hoverAfter is how long the pointer rests before the label comes.
const hoverAfter = 600 * time.Millisecond

// hoverWidth is where the text breaks, in screen units.
const hoverWidth = 260

func newHoverLabel() *hoverLabel {
	h := &hoverLabel{text: control.NewProse("", 12, false, look.PlateText, hoverWidth)}
	h.box = container.NewStack(control.NewPlane(look.Plate, "", 6), control.Inset(10, 6, 10, 7, h.text))
	h.box.Hide()
	h.object = container.NewWithoutLayout(h.box)
	return h
}

// show puts the text beside the object after a moment; empty text takes it away.
func (h *hoverLabel) show(text string, at fyne.CanvasObject) {
	h.turn++
	if h.box.Visible() {
		h.box.Hide()
		h.object.Refresh()
	}
	if text == "" || at == nil {
		return
	}
	turn := h.turn
	time.AfterFunc(hoverAfter, func() {
		control.OnMain(func() {
			if h.turn == turn {
				h.place(text, at)
			}
		})
	})
}

// place shows the text under the object, or above it where there is no room.
func (h *hoverLabel) place(text string, at fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	c := d.CanvasForObject(at)
	if c == nil || !at.Visible() {
		return
	}
	h.text.Put(text)
	size := h.box.MinSize()
	// A short text needs no more room than it takes.
	if w := fyne.MeasureText(text, 12, fyne.TextStyle{}).Width; w < hoverWidth {
		size.Width = w + 20 + 1
	}
	pos := d.AbsolutePositionForObject(at).Subtract(d.AbsolutePositionForObject(h.object))
	x, y := pos.X, pos.Y+at.Size().Height+6
	if y+size.Height > h.object.Size().Height {
		y = pos.Y - size.Height - 6
	}
	x = max(min(x, h.object.Size().Width-size.Width-8), 8)
	h.box.Move(fyne.NewPos(x, y))
	h.box.Resize(size)
	h.box.Show()
	h.object.Refresh()
}

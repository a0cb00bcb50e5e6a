package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Hint is told what the pointer or the focus is on: one line of help, empty when
// it leaves. at is the thing beside which it can be shown, nil for none.
type Hint func(text string, at fyne.CanvasObject)

// ShowHint is where every control tells its hint. The window sets it.
var ShowHint Hint = func(string, fyne.CanvasObject) {}

// KeyElsewhere takes keys that the control in focus has no use for, such as Escape.
// The window sets it.
var KeyElsewhere = func(*fyne.KeyEvent) {}

// RuneElsewhere takes letters that the control in focus has no use for. The window
// sets it.
var RuneElsewhere = func(rune) {}

// functionKey reports whether the key is one of F1 to F12, which mean the same
// wherever the keys are.
func functionKey(k fyne.KeyName) bool { return len(k) > 1 && k[0] == 'F' && k[1] >= '1' && k[1] <= '9' }

// heed is what controls have in common that show whether the pointer or the keys
// are on them, and tell what they are for.
type heed struct {
	Hint string

	of               fyne.Widget
	beside           bool // the hint is shown beside the control too
	hovered, focused bool
}

// MouseIn implements desktop.Hoverable.
func (h *heed) MouseIn(*desktop.MouseEvent) {
	h.hovered = true
	if h.beside {
		ShowHint(h.Hint, h.of)
	} else {
		ShowHint(h.Hint, nil)
	}
	h.of.Refresh()
}

// MouseMoved implements desktop.Hoverable.
func (*heed) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (h *heed) MouseOut() {
	h.hovered = false
	ShowHint("", nil)
	h.of.Refresh()
}

// FocusGained implements fyne.Focusable.
func (h *heed) FocusGained() {
	h.focused = true
	ShowHint(h.Hint, nil)
	h.of.Refresh()
}

// FocusLost implements fyne.Focusable.
func (h *heed) FocusLost() {
	h.focused = false
	ShowHint("", nil)
	h.of.Refresh()
}

// TypedRune implements fyne.Focusable.
func (*heed) TypedRune(r rune) { RuneElsewhere(r) }

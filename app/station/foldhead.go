package station

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
)

// foldHead heads a group that folds; whether it is open is kept from one start of the
// program to the next.
type foldHead struct {
	card  *control.Card
	count *control.Text
	sign  *control.Text
	open  bool
}

// foldSign is how large the sign is that says whether something is folded, in screen units:
// its letter is small for its size.
const foldSign = 15

// prefOpen begins the names of the preferences that keep which groups are open.
const prefOpen = "open: "

// newFoldHead heads a group, open at first where nothing was kept; turned is told that it was
// opened or folded.
func newFoldHead(title string, open bool, turned func()) *foldHead {
	kept := func() fyne.Preferences { return fyne.CurrentApp().Preferences() }
	h := &foldHead{count: control.Faint(""), sign: control.NewText("", foldSign, false, look.Faint)}
	h.put(kept().BoolWithFallback(prefOpen+title, open))
	name := control.NewText(title, 12.5, true, look.Ink)
	h.card = control.NewCard(control.Inset(2, 4, 2, 4, control.Row(7, h.sign, name, control.Spring(), h.count)), "Show or fold: "+title, func() {
		h.put(!h.open)
		kept().SetBool(prefOpen+title, h.open)
		turned()
	}).Coloured(look.Paper, look.Paper)
	return h
}

func (h *foldHead) put(open bool) {
	h.open = open
	h.sign.Set(map[bool]string{false: "▸", true: "▾"}[open])
}

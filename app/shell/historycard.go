package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// historyCard lies over the middle and lists what was done, the oldest first; a click
// goes to any step.
type historyCard struct {
	s      *Shell
	object *fyne.Container
	card   fyne.CanvasObject
	list   *control.List
	count  *control.Text
	steps  []draft.Step
	at     int
}

// The list in screen units.
const (
	historyWide = 264
	historyHigh = 380
)

func newHistoryCard(s *Shell) *historyCard {
	h := &historyCard{s: s}
	h.list = control.NewList(func() int { return len(h.steps) },
		func() fyne.CanvasObject {
			return control.Inset(6, 1, 6, 1, control.Row(7, control.Wide(13, control.NewIcon("holds", look.Chalk, 13)), control.NewText("", 12.5, false, look.Ink).AtLeast(historyWide-62)))
		}, h.fill, h.goTo)
	h.count = control.Faint("")
	close := control.NewButton(control.Shape{Size: fyne.NewSize(26, 26), Icon: 15, Radius: 7}, "close", "", "Close the history (F9)", h.toggle)
	head := control.Inset(12, 6, 6, 2, control.Row(8, control.NewIcon("history", look.Chalk, 18), control.Heading("History"), h.count, control.Spring(), close))
	h.card = container.NewStack(control.NewPlane(look.Paper, look.Border, 12), control.Column(head, control.Inset(4, 0, 4, 0, h.list), control.Tall(6, control.NewPlane("", "", 0))))
	h.object = container.New(&historyPlace{h}, h.card)
	h.object.Hide()
	return h
}

func (h *historyCard) fill(i widget.ListItemID, o fyne.CanvasObject) {
	row := o.(*fyne.Container).Objects[0].(*fyne.Container)
	mark, name := row.Objects[0].(*fyne.Container).Objects[0], row.Objects[1].(*control.Text)
	if i >= len(h.steps) {
		return
	}
	name.Set(wording.Sentence(h.steps[i].Name))
	// Where we are is ticked, what was taken back bears the sign of doing it again.
	icon, colour := "holds", look.Ink
	if i > h.at {
		icon, colour = "redo", look.Faint
	}
	mark.(*control.Icon).Put(icon)
	name.SetColour(colour)
	shown(mark, i >= h.at)
	row.Refresh()
}

func (h *historyCard) goTo(i widget.ListItemID) {
	if i == h.at || i >= len(h.steps) {
		return
	}
	name := h.steps[i].Name
	h.s.desk.GoTo(i)
	h.s.fitLost()
	h.s.Say("Now after: " + name)
	h.s.focusBench()
}

// toggle shows the list or takes it away.
func (h *historyCard) toggle() {
	if h.object.Visible() {
		h.object.Hide()
		h.s.focusBench()
	} else {
		if h.s.toile.object.Visible() {
			h.s.toile.toggle() // which lies in the same place
		}
		h.object.Show()
		h.update()
		h.object.Refresh() // shown by a key it would not be drawn until the pointer moves
	}
	h.s.card.object.Refresh() // which keeps clear of it
}

// update shows the history as it now stands.
func (h *historyCard) update() {
	if !h.object.Visible() {
		return
	}
	h.steps, h.at = h.s.desk.History().Steps()
	h.count.Set(wording.Count(len(h.steps)-1, "step"))
	h.list.Refresh()
	h.list.Put(h.at)
	h.object.Refresh()
}

// historyPlace lays the list at the right, under what covers the bench.
type historyPlace struct{ h *historyCard }

func (historyPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l historyPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	top := l.h.s.bench.Covered() + actCardClear
	const head, row = 50, 28
	high := min(head+row*float32(max(len(l.h.steps), 3)), historyHigh, max(size.Height-top-actCardClear, 120))
	o[0].Resize(fyne.NewSize(historyWide, high))
	o[0].Move(fyne.NewPos(size.Width-historyWide-actCardClear, top))
}

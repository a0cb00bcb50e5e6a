package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// historyCard lies over the middle and lists what was done, the oldest first; a click
// goes to any step.
type historyCard struct {
	*rightCard
	list  *control.List
	count *control.Text
	steps []draft.Step
	at    int
}

// The list in screen units.
const (
	historyWide = 264
	historyHigh = 380
)

func newHistoryCard(s *Shell) *historyCard {
	h := &historyCard{}
	h.list = control.NewList(func() int { return len(h.steps) },
		func() fyne.CanvasObject {
			return control.Inset(6, 1, 6, 1, control.Row(7, control.Wide(13, control.NewIcon("holds", look.Chalk, 13)), control.NewText("", 12.5, false, look.Ink).AtLeast(historyWide-62)))
		}, h.row, h.goTo)
	h.count = control.Faint("")
	h.rightCard = newRightCard(s, rightCardIs{
		icon: "history", title: "History", close: "Close the history (F9)", beside: []fyne.CanvasObject{h.count}, wide: historyWide, high: h.high,
	}, control.Inset(4, 0, 4, 6, h.list), nil)
	h.fill = h.update
	return h
}

func (h *historyCard) row(i widget.ListItemID, o fyne.CanvasObject) {
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

// update shows the history as it now stands.
func (h *historyCard) update() {
	if !h.visible() {
		return
	}
	h.steps, h.at = h.s.desk.History().Steps()
	h.count.Set(wording.Count(len(h.steps)-1, "step"))
	h.list.Refresh()
	h.list.Put(h.at)
	h.object.Refresh()
}

// high returns how high the list asks to be.
func (h *historyCard) high() float32 {
	const head, row = 50, 28
	return min(head+row*float32(max(len(h.steps), 3)), historyHigh)
}

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
	*rightCard
	list  *control.List
	count *control.Text
	steps []draft.Step
	at    int
	// tall is how high the rows are together.
	tall float32
	// highs are how high the rows of the steps are, by their words: to break these into
	// lines is slow, and a change adds one step to hundreds.
	highs map[string]float32
}

// The list in screen units: how wide and at most how high the card is, how wide the words of
// a step are before they take another line, and what is above and below them.
const (
	historyWide  = 288
	historyHigh  = 400
	historyInner = historyWide - 62
	historyGap   = 4
)

func newHistoryCard(s *Shell) *historyCard {
	h := &historyCard{}
	h.list = control.NewList(func() int { return len(h.steps) },
		func() fyne.CanvasObject {
			mark := control.Wide(13, container.NewVBox(control.Inset(0, 2, 0, 0, control.NewIcon("holds", look.Chalk, 13))))
			words := control.NewProse("", 12.5, false, look.Ink, historyInner)
			return control.Inset(6, historyGap, 6, historyGap, container.NewBorder(nil, nil, control.Inset(0, 0, 7, 0, mark), nil, words))
		}, h.row, h.goTo)
	h.count = control.Faint("")
	h.rightCard = newRightCard(s, rightCardIs{
		icon: "history", title: "History", close: "Close the history (F9)", beside: []fyne.CanvasObject{h.count}, wide: historyWide, high: h.high,
	}, control.Inset(4, 0, 4, 6, h.list), nil)
	h.fill = h.update
	return h
}

func (h *historyCard) row(i widget.ListItemID, o fyne.CanvasObject) {
	if i >= len(h.steps) {
		return
	}
	row := o.(*fyne.Container).Objects[0].(*fyne.Container)
	words, mark := row.Objects[0].(*control.Prose), iconIn(row)
	// Where we are is ticked, what was taken back bears the sign of doing it again.
	icon, colour := "holds", look.Ink
	if i > h.at {
		icon, colour = "redo", look.Faint
	}
	mark.Put(icon)
	words.PutAs(stepWords(h.steps[i]), colour)
	shown(mark, i >= h.at)
	row.Refresh()
}

func stepWords(s draft.Step) string { return wording.Sentence(s.Name) }

// iconIn returns the icon in a container, at any depth.
func iconIn(o fyne.CanvasObject) *control.Icon {
	if icon, ok := o.(*control.Icon); ok {
		return icon
	}
	if c, ok := o.(*fyne.Container); ok {
		for _, x := range c.Objects {
			if icon := iconIn(x); icon != nil {
				return icon
			}
		}
	}
	return nil
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
	h.tall = 0
	before := h.highs
	h.highs = make(map[string]float32, len(h.steps)) // those of steps that are gone go too
	for i, step := range h.steps {
		words := stepWords(step)
		high, known := before[words]
		if !known {
			high = control.NewProse(words, 12.5, false, look.Ink, historyInner).MinSize().Height + 2*historyGap
		}
		h.highs[words] = high
		h.list.SetItemHeight(i, high)
		h.tall += high + rowsApart
	}
	h.list.Refresh()
	h.list.Put(h.at)
	h.object.Refresh()
}

// rowsApart is what lies between two rows of a list, in screen units.
const rowsApart = 4

// high returns how high the list asks to be.
func (h *historyCard) high() float32 {
	const head, least = 54, 84
	return min(head+max(h.tall, least), historyHigh)
}

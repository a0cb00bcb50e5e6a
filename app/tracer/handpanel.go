package tracer

import (
	"fmt"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
)

// handPanel is what the panel shows while a line is followed by hand.
type handPanel struct {
	w      *ways
	object *fyne.Container
	count  *control.Text
	bare   *control.Prose
	fault  *control.Prose
	turn   *control.Button
	back   *control.Button
	shut   *control.Button
	end    *control.Button
}

func newHandPanel(w *ways) *handPanel {
	p := &handPanel{w: w}
	p.count = control.NewText("", 13, true, look.Ink)
	p.bare = control.NewProse("Where the way is dotted there is no ink: it runs straight. Set more stops there.", 12, false, look.OchreText, inner)
	p.fault = control.NewProse("", 12.5, false, look.PinText, inner)
	p.turn = control.NewButton(control.QuietShape, "corner", "Last stop: corner or smooth (S)", "A square stop is a corner, a round one is passed smoothly", func() { w.hand(fyne.KeyS) })
	p.back = control.NewButton(control.QuietShape, "undo", "Take the last stop back", "Take the last stop back (Backspace)", func() { w.hand(fyne.KeyBackspace) })
	p.shut = control.NewButton(control.WordShape, "holds", "Close the outline", "Lead the line back to its first stop and fit it (Enter, or a click on the first stop)", func() { w.hand(fyne.KeyReturn) })
	p.end = control.NewButton(control.QuietShape, "", "End it: a line inside (E)", "End the line at the last stop: it becomes a line inside the outline round it, such as a dart or a fold", func() { w.hand(fyne.KeyE) })
	leave := control.NewButton(control.QuietShape, "", "Leave off (Esc)", "Drop this line", func() { w.hand(fyne.KeyEscape) })
	p.object = control.Stack(8, p.count,
		faintly("Where sizes are drawn over one another, set a stop shortly before and after each crossing."),
		p.bare, p.fault,
		p.shut, p.end, p.turn, p.back, leave)
	return p
}

// hand does by a button what a key does, and gives the keys back to the picture.
func (w *ways) hand(k fyne.KeyName) {
	if w.guiding != nil {
		w.guideKey(k)
		w.host.Focus(nil)
	}
}

func (p *handPanel) update() {
	g := p.w.guiding
	if g == nil {
		return
	}
	n := len(g.stops)
	says := "Click where the line begins."
	if n > 0 {
		says = wording.Count(n, "stop") + " so far"
	}
	bare := 0
	for _, b := range g.bare {
		if b {
			bare++
		}
	}
	if bare > 0 {
		says += fmt.Sprintf(", %d without ink between", bare)
	}
	p.count.Set(says)
	show(p.bare, bare > 0 || g.liveBare && g.over && n > 0 && len(g.live) > 1)
	p.fault.Put(wording.Sentence(p.w.effort.fault))
	show(p.fault, p.w.effort.fault != "")
	p.shut.SetOff(n < 3)
	p.end.SetOff(n < 2)
	p.turn.SetOff(n == 0)
	p.back.SetOff(n == 0)
	p.object.Refresh()
}

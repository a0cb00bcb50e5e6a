package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/control"
	"hemlet/app/look"
)

// question is a box over the window that waits for an answer. Return gives the main
// answer and Escape the one that changes nothing, wherever the focus is.
type question struct {
	s       *Shell
	pop     *widget.PopUp
	answers []answer
	// before is the question under this one, nil where it is the window.
	before *question
	closed bool
	// scroll, where set, is moved by the arrow and page keys.
	scroll *container.Scroll
}

// answer is one button of a question.
type answer struct {
	word, hint string
	// main marks the answer that Return gives, out the one that Escape gives.
	main, out bool
	// do is called with the button; where it says false, the question stays.
	do func() bool
}

// askWidth is how wide the text of a question is, in screen units.
const askWidth = 440

// ask shows a question. focus, where not nil, gets the keys.
func (s *Shell) ask(title string, body fyne.CanvasObject, focus fyne.Focusable, answers ...answer) *question {
	q := &question{s: s, answers: answers, before: s.question}
	buttons := control.Row(10, control.Spring())
	var main *control.Button
	for _, a := range answers {
		shape := control.QuietShape
		shape.Size = fyne.NewSize(92, 32)
		if a.main {
			shape = control.WordShape
			shape.Size = fyne.NewSize(92, 32)
		}
		b := control.NewButton(shape, "", a.word, a.hint, func() { q.give(a) })
		if a.main {
			main = b
		}
		buttons.Add(b)
	}
	rows := control.Stack(14, control.NewText(title, 16, true, look.Ink))
	if body != nil {
		rows.Add(body)
	}
	rows.Add(buttons)
	q.pop = widget.NewModalPopUp(control.Compact(control.Inset(20, 16, 20, 16, rows)), s.win.Canvas())
	s.question = q
	q.pop.Show()
	if focus == nil && main != nil {
		focus = main
	}
	if focus != nil {
		s.win.Canvas().Focus(focus)
	}
	return q
}

// prose returns the text of a question.
func prose(text string) fyne.CanvasObject {
	return control.NewProse(text, 13, false, look.Ink, askWidth)
}

func (q *question) give(a answer) {
	if a.do != nil && !a.do() {
		return
	}
	q.close()
}

// close takes the box away, once. What an answer asked in its turn stays.
func (q *question) close() {
	if q.closed {
		return
	}
	q.closed = true
	if q.s.question == q {
		q.s.question = q.before
	} else {
		for later := q.s.question; later != nil; later = later.before {
			if later.before == q {
				later.before = q.before
			}
		}
	}
	q.pop.Hide()
	control.ShowHint("", nil)
	if q.s.question == nil {
		q.s.focusBench()
	}
}

// key answers by Return or Escape.
func (q *question) key(e *fyne.KeyEvent) {
	for _, a := range q.answers {
		switch {
		case a.main && (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter),
			a.out && e.Name == fyne.KeyEscape:
			q.give(a)
			return
		}
	}
	if q.scroll != nil {
		q.scrollBy(e.Name)
	}
}

// lineStep is how far an arrow key scrolls, in screen units.
const lineStep = 40

func (q *question) scrollBy(key fyne.KeyName) {
	s := q.scroll
	page := s.Size().Height - lineStep
	by := map[fyne.KeyName]float32{
		fyne.KeyUp: -lineStep, fyne.KeyDown: lineStep, fyne.KeyPageUp: -page, fyne.KeyPageDown: page,
		fyne.KeyHome: -s.Content.Size().Height, fyne.KeyEnd: s.Content.Size().Height,
	}[key]
	most := max(s.Content.Size().Height-s.Size().Height, 0)
	s.Offset.Y = max(min(s.Offset.Y+by, most), 0)
	s.Refresh()
}

// tell shows a text that only has to be read.
func (s *Shell) tell(title, text string) {
	s.ask(title, prose(text), nil, answer{word: "Good", main: true, out: true})
}

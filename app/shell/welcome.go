package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// welcome is the card on an empty bench: ways to come to pieces.
type welcome struct {
	s      *Shell
	object *fyne.Container
	// trace leads on with pictures that lie on the bench already.
	trace fyne.CanvasObject
}

func newWelcome(s *Shell) *welcome {
	const width = 350
	w := &welcome{s: s}
	way := func(title, says, icon string, do func()) fyne.CanvasObject {
		text := control.Stack(2, control.NewText(title, 14, true, look.Ink), control.NewProse(says, 12, false, look.Faint, width-90))
		row := container.NewBorder(nil, nil, control.Inset(4, 4, 14, 4, control.Centred(control.NewIcon(icon, look.Chalk, 26))), nil, text)
		return control.NewCard(control.Inset(12, 10, 12, 11, row), says, do)
	}
	w.trace = way("Trace the pictures", "Make pieces at true size of the pictures that lie here.", "trace", s.trace)
	rows := control.Stack(10,
		control.NewText("There is no piece yet", 18, true, look.Ink),
		control.NewProse("Have one drafted for the body that it is for, or bring in a pattern that was drawn elsewhere.", 12.5, false, look.Faint, width),
		way("Draft a block", "Have a pattern drafted from the measures of the wearer.", "draft", func() { s.enter(stationDraft) }),
		w.trace,
		way("Bring in a drawing", "Make pieces of the closed lines of an SVG or DXF.", "export", s.files.askDrawing),
		way("Other ways to begin", "Back to the first screen: a new body, the sample, the projects used last.", "open", func() { s.enter(stationStart) }),
		control.NewText("Files can also be dropped on this window.", 12, false, look.Faint),
	)
	card := container.NewStack(control.NewGround(look.Paper, look.Border, 14), control.Inset(24, 20, 24, 20, rows))
	w.object = container.New(floating{}, card)
	return w
}

// floating lays an object in the middle and asks for no room of its own.
type floating struct{}

func (floating) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (floating) Layout(o []fyne.CanvasObject, size fyne.Size) {
	m := o[0].MinSize()
	o[0].Resize(m)
	o[0].Move(fyne.NewPos((size.Width-m.Width)/2, (size.Height-m.Height)/2))
}

// update shows the card while there is nothing on the bench.
func (w *welcome) update() {
	if len(w.s.desk.Project().Pictures) > 0 {
		w.trace.Show()
	} else {
		w.trace.Hide()
	}
	if len(w.s.desk.Project().Pieces) == 0 {
		w.object.Show()
	} else {
		w.object.Hide()
	}
}

package station

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
)

// legend says over the drawing what was before the last change and lets one look at
// either.
type legend struct {
	s      *Draft
	object *fyne.Container
	what   *control.Text
	pill   *control.Pill
}

func newLegend(s *Draft) *legend {
	l := &legend{s: s}
	l.what = control.NewText("", 12, false, look.Ink).AtLeast(60)
	l.pill = control.NewPill("What is drawn: both, only what was before the last change, or only what is now", []string{"both", "before", "now"}, func(i int) {
		s.show = showing(i)
		s.draw()
	})
	row := container.NewBorder(nil, nil, control.Row(6, swatch(look.Ink, false), control.Faint("now"), swatch(look.Chalk, true), control.Faint("before")), l.pill, control.Inset(10, 0, 10, 0, control.Centred(l.what)))
	card := newStack(control.NewPlane(look.Card, look.Border, 16), control.Inset(14, 2, 4, 2, row))
	l.object = control.Inset(16, 0, 16, 14, card)
	return l
}

// swatch is a short stretch of a line, solid or dashed.
func swatch(colour fyne.ThemeColorName, dashed bool) fyne.CanvasObject {
	line := func(w float32) fyne.CanvasObject {
		return control.Wide(w, control.Tall(2, control.NewPlane(colour, "", 0)))
	}
	if !dashed {
		return line(20)
	}
	return control.Row(3, line(5), line(5), line(5))
}

func (l *legend) update() {
	s := l.s
	on := s.before != nil && s.now != nil && s.now.sheet != nil && !s.stepwise
	show(l.object, on)
	if on {
		l.what.Set(wording.Sentence(s.now.difference(s.before, s.desk.Project().Unit)))
		l.pill.Put(int(s.show))
	}
}

func newStack(o ...fyne.CanvasObject) *fyne.Container { return container.NewStack(o...) }

func sentence(text string) string { return wording.Sentence(text) }

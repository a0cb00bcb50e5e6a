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
	own    *fyne.Container // tells the block's own line where a piece stands otherwise
	pill   *control.Pill
}

func newLegend(s *Draft) *legend {
	l := &legend{s: s}
	l.what = control.NewText("", 12, false, look.Ink).AtLeast(60)
	l.pill = control.NewPill("What is drawn: both, only what was before the last change, or only what is now", []string{"both", "before", "now"}, func(i int) { l.choose(showing(i)) })
	l.own = control.Row(6, swatch(look.Ink, strokeDotted), control.Faint("as the block has it"))
	lines := control.Row(6, swatch(look.Ink, strokeSolid), control.Faint("now"), swatch(look.Chalk, strokeDashed), control.Faint("before"), l.own)
	row := container.NewBorder(nil, nil, lines, l.pill, control.Inset(10, 0, 10, 0, control.Centred(l.what)))
	card := newStack(control.NewPlane(look.Card, look.Border, 16), control.Inset(14, 2, 4, 2, row))
	l.object = control.Inset(16, 0, 16, 14, card)
	return l
}

// stroke is how a swatch is drawn.
type stroke int

const (
	strokeSolid stroke = iota
	strokeDashed
	strokeDotted
)

// swatch is a short stretch of a line.
func swatch(colour fyne.ThemeColorName, as stroke) fyne.CanvasObject {
	line := func(w float32) fyne.CanvasObject {
		return control.Wide(w, control.Tall(2, control.NewPlane(colour, "", 0)))
	}
	switch as {
	case strokeDashed:
		return control.Row(3, line(5), line(5), line(5))
	case strokeDotted:
		return control.Row(3, line(2), line(2), line(2), line(2))
	}
	return line(20)
}

// choose draws one of the two drafts, or both.
func (l *legend) choose(as showing) {
	l.s.show = as
	l.s.draw()
	l.update()
}

func (l *legend) update() {
	s := l.s
	on := s.before != nil && s.now != nil && s.now.sheet != nil && !s.stepwise
	show(l.object, on)
	if on {
		l.what.Set(wording.Sentence(s.now.difference(s.before, s.desk.Project().Unit)))
		l.pill.Put(int(s.show))
		show(l.own, s.show != showBefore && len(s.now.otherwise()) > 0)
		l.object.Refresh()
	}
}

func newStack(o ...fyne.CanvasObject) *fyne.Container { return container.NewStack(o...) }

func sentence(text string) string { return wording.Sentence(text) }

package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
)

// asideBar lies at the foot of the bench while pieces are put aside, says so, and
// brings them back.
type asideBar struct {
	s      *Shell
	object *fyne.Container
	text   *control.Text
}

func newAsideBar(s *Shell) *asideBar {
	b := &asideBar{s: s, text: control.NewText("", 12.5, false, look.Ink)}
	back := control.NewButton(control.WordShape, "eye", "Show the others", "Bring back the pieces that were put aside (Esc)", func() {
		s.desk.Rejoin()
		s.focusBench()
	})
	row := control.Row(10, control.Centred(b.text), back)
	card := container.NewStack(control.NewGround(look.Card, look.Border, 10), control.Inset(14, 5, 6, 5, row))
	b.object = container.New(footPlace{}, card)
	b.object.Hide()
	return b
}

// update shows the bar, or takes it away.
func (b *asideBar) update() {
	if !b.s.desk.Isolated() {
		b.object.Hide()
		return
	}
	n := 0
	for _, p := range b.s.desk.Project().Pieces {
		if b.s.desk.Seen(p) {
			n++
		}
	}
	b.text.Set("Only " + wording.Count(n, "piece") + " shown")
	b.object.Show()
	b.object.Refresh()
}

// barAbove is how far above the foot of the bench the bar lies, in screen units.
const barAbove = 16

// footPlace lays an object in the middle of the foot.
type footPlace struct{}

func (footPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (footPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	m := o[0].MinSize()
	o[0].Move(fyne.NewPos((size.Width-m.Width)/2, size.Height-m.Height-barAbove))
	o[0].Resize(m)
}

// sightChanged brings what depends on the pieces that are seen up to date.
func (s *Shell) sightChanged(c desk.Change) {
	if c.Has(desk.Sight | desk.Document | desk.Opened | desk.Selection) {
		s.aside.update()
	}
}

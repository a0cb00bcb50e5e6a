package shell

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
)

// rightCard lies over the middle at the right, under what covers the bench. Of several of
// its kind one is seen at a time.
type rightCard struct {
	s      *Shell
	is     rightCardIs
	object *fyne.Container
	// aside says that it has made room for the card of an act and comes back after it.
	aside bool
	// fill shows what it holds as it now stands; gone, where not nil, is told when the card
	// was taken away.
	fill, gone func()
}

// rightCardIs says how a card is headed and how large it is, in screen units.
type rightCardIs struct {
	icon, title, close string
	// beside stands in the head after the title.
	beside []fyne.CanvasObject
	wide   float32
	high   func() float32
}

func newRightCard(s *Shell, is rightCardIs, rows, foot fyne.CanvasObject) *rightCard {
	c := &rightCard{s: s, is: is}
	close := control.NewButton(control.Shape{Size: fyne.NewSize(26, 26), Icon: 15, Radius: 7}, "close", "", is.close, c.toggle)
	head := control.Row(8, control.NewIcon(is.icon, look.Chalk, 18), control.Heading(is.title))
	for _, o := range append(is.beside, control.Spring(), close) {
		head.Add(o)
	}
	body := control.Compact(container.NewBorder(control.Inset(12, 8, 8, 4, head), foot, nil, nil, rows))
	card := container.NewStack(control.NewGround(look.Paper, look.Border, 12), body)
	c.object = container.New(&rightPlace{s, is}, card)
	c.object.Hide()
	return c
}

// visible reports whether the card is seen.
func (c *rightCard) visible() bool { return c.object.Visible() }

// toggle shows the card or takes it away.
func (c *rightCard) toggle() {
	if c.visible() {
		c.shut()
		return
	}
	c.open()
}

func (c *rightCard) open() {
	c.aside = false
	for _, other := range c.s.rightCards() {
		if other != c && other.visible() {
			other.shut()
		}
		other.aside = false
	}
	c.object.Show()
	c.fill()
	c.s.draw(c.object)
	c.s.card.object.Refresh() // which keeps clear of it
}

func (c *rightCard) shut() {
	c.object.Hide()
	if c.gone != nil {
		c.gone()
	}
	c.s.card.object.Refresh()
	c.s.focusBench()
}

// stepAside makes room for the card of an act, so that one card lies over the pieces, and
// comes back after it.
func (c *rightCard) stepAside(away bool) {
	switch {
	case away && c.visible():
		c.aside = true
		c.object.Hide()
	case !away && c.aside:
		c.aside = false
		c.object.Show()
		c.fill()
		c.s.draw(c.object)
	}
}

// draw has what was just shown drawn: before it is drawn for the first time its own Refresh
// knows of no canvas, and shown by a key it would be seen only once the pointer moves.
func (s *Shell) draw(o fyne.CanvasObject) {
	o.Refresh()
	s.win.Canvas().Refresh(o)
}

// rightCards lists the cards that lie in that place.
func (s *Shell) rightCards() []*rightCard {
	return []*rightCard{s.history.rightCard, s.toile.rightCard}
}

// rightPlace lays a card at the right, as high as it asks to be and the bench allows.
type rightPlace struct {
	s  *Shell
	is rightCardIs
}

// rightCardLeast is how high a card is at least, in screen units.
const rightCardLeast = 120

func (rightPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l rightPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	top := l.s.bench.Covered() + actCardClear
	high := min(l.is.high(), max(size.Height-top-actCardClear, rightCardLeast))
	o[0].Resize(fyne.NewSize(l.is.wide, high))
	o[0].Move(fyne.NewPos(size.Width-l.is.wide-actCardClear, top))
}

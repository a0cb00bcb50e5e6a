package control

import (
	"bytes"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// Card is a rounded ground with something on it that can be pressed as a whole.
type Card struct {
	widget.BaseWidget
	heed
	// OnPoint, if set, is told when the pointer comes to the card and leaves it.
	OnPoint func(on bool)
	OnTap   func()
	// OnMore and OnRange, if set, are told of a press with Ctrl (on a Mac Command) and with
	// Shift held.
	OnMore, OnRange func()
	// OnLook, if set, is told when the pointer or the keys come to the card and leave it.
	OnLook func(on bool)

	content fyne.CanvasObject
	// fill and rim are its colours at rest.
	fill, rim fyne.ThemeColorName

	// title and says are what a card that tells something says, nil where it does not.
	title, says *Prose

	radius float32
	chosen bool
	// looked is what OnLook was told last.
	looked bool
}

// NewCard returns a card with the content. tap may be nil: then it cannot be
// pressed.
func NewCard(content fyne.CanvasObject, hint string, tap func()) *Card {
	c := &Card{content: content, OnTap: tap, fill: theme.ColorNameInputBackground, rim: theme.ColorNameInputBorder, radius: 9}
	c.heed = heed{Hint: hint, of: c}
	c.ExtendBaseWidget(c)
	return c
}

// MouseIn implements desktop.Hoverable.
func (c *Card) MouseIn(e *desktop.MouseEvent) {
	c.heed.MouseIn(e)
	if c.OnPoint != nil {
		c.OnPoint(true)
	}
	c.look()
}

// MouseOut implements desktop.Hoverable.
func (c *Card) MouseOut() {
	c.heed.MouseOut()
	if c.OnPoint != nil {
		c.OnPoint(false)
	}
	c.look()
}

// FocusGained implements fyne.Focusable.
func (c *Card) FocusGained() {
	c.heed.FocusGained()
	c.look()
}

// FocusLost implements fyne.Focusable.
func (c *Card) FocusLost() {
	c.heed.FocusLost()
	c.look()
}

// look tells whether the pointer or the keys are at the card, where that has changed.
func (c *Card) look() {
	if on := c.hovered || c.focused; c.OnLook != nil && on != c.looked {
		c.looked = on
		c.OnLook(on)
	}
}

// Coloured changes the colours at rest and returns the card.
func (c *Card) Coloured(fill, rim fyne.ThemeColorName) *Card {
	c.fill, c.rim = fill, rim
	return c
}

// Square takes the rounding off the corners.
func (c *Card) Square() { c.radius = 0 }

// SetChosen gives the card the rim of what is picked.
func (c *Card) SetChosen(on bool) {
	if c.chosen != on {
		c.chosen = on
		c.Refresh()
	}
}

// Content returns what lies on the card.
func (c *Card) Content() fyne.CanvasObject { return c.content }

// Chosen reports whether the card is marked as picked.
func (c *Card) Chosen() bool { return c.chosen }

// Tapped implements fyne.Tappable.
func (c *Card) Tapped(*fyne.PointEvent) {
	switch held := heldKeys(); {
	case c.OnMore != nil && held&fyne.KeyModifierShortcutDefault != 0:
		c.OnMore()
		return
	case c.OnRange != nil && held&fyne.KeyModifierShift != 0:
		c.OnRange()
		return
	}
	if c.OnTap != nil {
		ShowHint("", nil)
		c.OnTap()
	}
}

// heldKeys returns the modifier keys that are held, where the driver knows them.
func heldKeys() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

func shiftHeld() bool { return heldKeys()&fyne.KeyModifierShift != 0 }

// TypedKey implements fyne.Focusable.
func (c *Card) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		c.Tapped(nil)
	default:
		KeyElsewhere(e)
	}
}

// CreateRenderer implements fyne.Widget.
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	r := &cardRenderer{c: c, ground: canvas.NewRectangle(color.Transparent)}
	r.Refresh()
	return r
}

type cardRenderer struct {
	c      *Card
	ground *canvas.Rectangle
}

func (r *cardRenderer) MinSize() fyne.Size { return r.c.content.MinSize() }

func (r *cardRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	r.c.content.Resize(size)
}

func (r *cardRenderer) Refresh() {
	th, v := r.c.Theme(), variant()
	r.ground.CornerRadius = r.c.radius
	r.ground.FillColor = th.Color(r.c.fill, v)
	rim, width := r.c.rim, float32(1)
	switch {
	case r.c.chosen || r.c.focused:
		rim, width = theme.ColorNamePrimary, 2
	case r.c.hovered && r.c.OnTap != nil:
		rim = theme.ColorNamePrimary
	}
	r.ground.StrokeWidth, r.ground.StrokeColor = width, th.Color(rim, v)
	r.ground.Refresh()
	r.c.content.Refresh()
}

func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.c.content}
}

func (r *cardRenderer) Destroy() {}

// Level is how much a thing matters: each has a mark of its own form, so that
// colour is never alone in telling.
type Level int

// The levels.
const (
	Holds Level = iota
	Note
	LookAgain
	Problem
)

// Icon returns the name of the level's icon among the assets.
func (l Level) Icon() string {
	return [...]string{Holds: "holds", Note: "note", LookAgain: "look-again", Problem: "problem"}[l]
}

// Colour returns the colour of the level in the theme.
func (l Level) Colour() fyne.ThemeColorName {
	return [...]fyne.ThemeColorName{
		Holds: look.MossText, Note: look.Faint, LookAgain: look.OchreText, Problem: look.PinText,
	}[l]
}

// Word returns the word for the level.
func (l Level) Word() string {
	return [...]string{Holds: "holds", Note: "note", LookAgain: "look again", Problem: "problem"}[l]
}

// Mark is the icon of a level.
type Mark struct {
	Icon
	level Level
}

// NewMark returns the icon of the level.
func NewMark(l Level, size float32) *Mark {
	m := &Mark{Icon: Icon{name: l.Icon(), colour: l.Colour(), size: size}, level: l}
	m.ExtendBaseWidget(m)
	return m
}

// Put shows another level.
func (m *Mark) Put(l Level) {
	if m.level != l {
		m.level, m.name, m.colour = l, l.Icon(), l.Colour()
		m.Refresh()
	}
}

// Told returns a card that says something of a level: a title and a few lines, and
// what can be done about it under them at the right.
func Told(l Level, title, says string, width float32, hint string, tap func(), deeds ...fyne.CanvasObject) *Card {
	const pad, mark = 11, 16
	inner := width - 2*pad - mark - 8 - 4 // which the mark and the room beside it take as well
	name, text := look.Ink, look.Faint
	if l == Problem {
		name, text = look.PinText, look.PinText
	}
	head, body := NewProse(title, 12.5, true, name, inner), NewProse(says, 11.5, false, text, inner)
	lines := Stack(2, head)
	if says != "" {
		lines.Add(body)
	}
	if len(deeds) > 0 {
		lines.Add(Inset(0, 5, 0, 0, FlowEnd(inner, 6, deeds...)))
	}
	row := container.NewBorder(nil, nil, nil, Inset(8, 1, 0, 0, container.NewVBox(NewMark(l, mark))), lines)
	c := NewCard(Inset(pad, 8, pad, 9, row), hint, tap)
	c.title, c.says = head, body
	return c.Coloured(l.Ground(), l.Rim())
}

// Retell has a card of Told say something else, as figures change at every step of a drag; a
// card that said something beside its title goes on to. It reports whether that takes more
// lines or fewer, so that what lies under the card has to move.
func (c *Card) Retell(title, says string) (resized bool) {
	before := len(c.title.lines()) + len(c.says.lines())
	c.title.Put(title)
	c.says.Put(says)
	return len(c.title.lines())+len(c.says.lines()) != before
}

// Ground returns the colour behind what is said of the level.
func (l Level) Ground() fyne.ThemeColorName {
	if l == Problem {
		return look.PinTint
	}
	return look.Card
}

// Rim returns the colour of the line round what is said of the level.
func (l Level) Rim() fyne.ThemeColorName {
	if l == Problem {
		return look.Pin
	}
	return look.Border
}

// Icon is an icon of the assets in a colour of the theme.
type Icon struct {
	widget.BaseWidget
	name   string
	colour fyne.ThemeColorName
	size   float32
}

// NewIcon returns the icon with the name.
func NewIcon(name string, colour fyne.ThemeColorName, size float32) *Icon {
	i := &Icon{name: name, colour: colour, size: size}
	i.ExtendBaseWidget(i)
	return i
}

// Put shows another icon.
func (i *Icon) Put(name string) {
	if i.name != name {
		i.name = name
		i.Refresh()
	}
}

// CreateRenderer implements fyne.Widget.
func (i *Icon) CreateRenderer() fyne.WidgetRenderer {
	r := &iconRenderer{i: i, image: canvas.NewImageFromResource(nil)}
	r.image.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type iconRenderer struct {
	i     *Icon
	image *canvas.Image
	// svg is what the image shows.
	svg []byte
}

func (r *iconRenderer) MinSize() fyne.Size           { return fyne.NewSquareSize(r.i.size) }
func (r *iconRenderer) Layout(s fyne.Size)           { r.image.Resize(s) }
func (r *iconRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.image} }
func (r *iconRenderer) Destroy()                     {}

func (r *iconRenderer) Refresh() {
	// Whatever an icon lies on has it refresh, and the toolkit reads the drawing anew each time.
	icon := look.Icon(r.i.name, r.i.colour)
	svg := icon.Content()
	if bytes.Equal(svg, r.svg) {
		return
	}
	r.image.Resource, r.svg = icon, svg
	r.image.Refresh()
}

package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// Button is something to press: an icon, a word, or both, on a rounded ground.
// It can be reached by Tab and pressed by Space or Enter.
type Button struct {
	widget.BaseWidget
	heed
	Icon  string // among the assets, or empty
	Word  string
	OnTap func()
	// Shape says how it is laid out.
	Shape Shape
	// Colour is that of icon and word, empty for the usual one.
	Colour fyne.ThemeColorName

	chosen, off bool
}

// Shape is how a button is laid out.
type Shape struct {
	// Size is the least size.
	Size fyne.Size
	// Icon is the edge of the icon, Text the size of the word.
	Icon, Text float32
	Radius     float32
	// Beside puts the word beside the icon instead of under it.
	Beside bool
	// Close leaves little room beside what lies in a row.
	Close bool
	// Tinted gives it a ground of its own, Framed a rim.
	Tinted, Framed bool
}

// The shapes in use.
var (
	RailShape  = Shape{Size: fyne.NewSize(60, 66), Icon: 24, Text: 12, Radius: 12}
	ToolShape  = Shape{Size: fyne.NewSize(50, 50), Icon: 20, Text: 10.5, Radius: 9}
	TinyShape  = Shape{Size: fyne.NewSize(20, 19), Icon: 14, Radius: 5}
	IconShape  = Shape{Size: fyne.NewSize(32, 30), Icon: 18, Radius: 8}
	WordShape  = Shape{Size: fyne.NewSize(80, 34), Icon: 16, Text: 13, Radius: 9, Beside: true, Tinted: true}
	SmallShape = Shape{Size: fyne.NewSize(48, 22), Icon: 13, Text: 11.5, Radius: 6, Beside: true, Framed: true}
	QuietShape = Shape{Size: fyne.NewSize(60, 28), Icon: 15, Text: 12.5, Radius: 7, Beside: true, Framed: true}
)

// NewButton returns a button of a shape. icon and word may be left out.
func NewButton(shape Shape, icon, word, hint string, tap func()) *Button {
	b := &Button{Shape: shape, Icon: icon, Word: word, OnTap: tap}
	b.heed = heed{Hint: hint, of: b, beside: true}
	b.ExtendBaseWidget(b)
	return b
}

// SetChosen marks the button as the one that is on.
func (b *Button) SetChosen(on bool) {
	if b.chosen != on {
		b.chosen = on
		b.Refresh()
	}
}

// Chosen reports whether the button is the one that is on.
func (b *Button) Chosen() bool { return b.chosen }

// SetOff takes the button out of use, or back in.
func (b *Button) SetOff(off bool) {
	if b.off != off {
		b.off = off
		b.Refresh()
	}
}

// Off reports whether the button is out of use.
func (b *Button) Off() bool { return b.off }

// SetIcon changes the icon and its colour.
func (b *Button) SetIcon(icon string, colour fyne.ThemeColorName) {
	if b.Icon != icon || b.Colour != colour {
		b.Icon, b.Colour = icon, colour
		b.Refresh()
	}
}

// SetWord changes the word.
func (b *Button) SetWord(word string) {
	if b.Word != word {
		b.Word = word
		b.Refresh()
	}
}

// Tapped presses the button.
func (b *Button) Tapped(*fyne.PointEvent) { b.press() }

func (b *Button) press() {
	if !b.off && b.OnTap != nil {
		ShowHint("", nil)
		b.OnTap()
	}
}

// TypedKey presses the button on Space, Return and Enter.
func (b *Button) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		b.press()
	default:
		KeyElsewhere(e)
	}
}

// CreateRenderer implements fyne.Widget.
func (b *Button) CreateRenderer() fyne.WidgetRenderer {
	r := &buttonRenderer{b: b, ground: canvas.NewRectangle(color.Transparent), icon: canvas.NewImageFromResource(nil), word: canvas.NewText("", nil)}
	r.icon.FillMode = canvas.ImageFillContain
	r.Refresh()
	return r
}

type buttonRenderer struct {
	b      *Button
	ground *canvas.Rectangle
	icon   *canvas.Image
	word   *canvas.Text
}

func (r *buttonRenderer) style() fyne.TextStyle {
	return fyne.TextStyle{Bold: r.b.chosen || r.b.Shape.Tinted}
}

// Units beside what lies in a row.
const (
	buttonPad = 12
	closePad  = 4
)

func (r *buttonRenderer) MinSize() fyne.Size {
	s := r.b.Shape
	word := fyne.Size{}
	if r.b.Word != "" {
		word = fyne.MeasureText(r.b.Word, s.Text, fyne.TextStyle{Bold: true})
	}
	if !s.Beside {
		return s.Size.Max(fyne.NewSize(word.Width+8, s.Icon))
	}
	pad := float32(buttonPad)
	if s.Close {
		pad = closePad
	}
	w := word.Width + 2*pad
	if r.b.Icon != "" {
		w += s.Icon + 6
	}
	return s.Size.Max(fyne.NewSize(w, word.Height))
}

func (r *buttonRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	s := r.b.Shape
	icon := fyne.NewSquareSize(s.Icon)
	r.icon.Resize(icon)
	text := fyne.Size{}
	if r.b.Word != "" {
		text = fyne.MeasureText(r.b.Word, s.Text, r.style())
	}
	r.word.Resize(text)
	if s.Beside {
		w := text.Width
		if r.b.Icon != "" {
			w += icon.Width
			if r.b.Word != "" {
				w += 6
			}
		}
		x := (size.Width - w) / 2
		if r.b.Icon != "" {
			r.icon.Move(fyne.NewPos(x, (size.Height-icon.Height)/2))
			x += icon.Width + 6
		}
		r.word.Move(fyne.NewPos(x, (size.Height-text.Height)/2))
		return
	}
	gap := float32(0)
	if r.b.Word != "" {
		gap = 3
	}
	y := (size.Height - icon.Height - gap - text.Height) / 2
	r.icon.Move(fyne.NewPos((size.Width-icon.Width)/2, y))
	r.word.Move(fyne.NewPos((size.Width-text.Width)/2, y+icon.Height+gap))
}

func (r *buttonRenderer) Refresh() {
	b, th, v := r.b, r.b.Theme(), variant()
	name := theme.ColorNameForeground
	if b.Colour != "" {
		name = b.Colour
	}
	ground := color.Color(color.Transparent)
	switch {
	case b.off:
		name = theme.ColorNameDisabled
	case b.chosen || b.Shape.Tinted:
		name = theme.ColorNamePrimary
		ground = th.Color(theme.ColorNameSelection, v)
	case b.hovered:
		ground = th.Color(theme.ColorNameHover, v)
	}
	if b.Shape.Tinted && b.off {
		ground = th.Color(theme.ColorNameDisabledButton, v)
	}
	r.ground.FillColor = ground
	r.ground.CornerRadius = b.Shape.Radius
	r.ground.StrokeWidth = 0
	if b.Shape.Framed {
		r.ground.StrokeWidth, r.ground.StrokeColor = 1, th.Color(theme.ColorNameInputBorder, v)
		if !b.hovered && !b.chosen {
			r.ground.FillColor = th.Color(theme.ColorNameInputBackground, v)
		}
	}
	if b.Shape.Tinted && b.hovered && !b.off {
		r.ground.StrokeWidth, r.ground.StrokeColor = 1, th.Color(theme.ColorNamePrimary, v)
	}
	if b.focused {
		r.ground.StrokeWidth, r.ground.StrokeColor = 2, th.Color(theme.ColorNamePrimary, v)
	}
	if b.Icon != "" {
		r.icon.Resource = look.Icon(b.Icon, name)
	}
	r.icon.Hidden = b.Icon == ""
	r.word.Text, r.word.TextSize, r.word.TextStyle = b.Word, b.Shape.Text, r.style()
	r.word.Color = th.Color(name, v)
	r.Layout(b.Size())
	r.ground.Refresh()
	r.icon.Refresh()
	r.word.Refresh()
}

func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.icon, r.word}
}
func (r *buttonRenderer) Destroy() {}

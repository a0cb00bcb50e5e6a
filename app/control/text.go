package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Text is one line of text in a colour of the theme, cut short with an ellipsis
// where there is no room for all of it.
type Text struct {
	widget.BaseWidget
	text   string
	size   float32
	bold   bool
	colour fyne.ThemeColorName
	align  fyne.TextAlign
	least  float32
}

// NewText returns a line of text of the size in the colour of the theme.
func NewText(text string, size float32, bold bool, colour fyne.ThemeColorName) *Text {
	t := &Text{text: text, size: size, bold: bold, colour: colour}
	t.ExtendBaseWidget(t)
	return t
}

// TitleSize is how large the titles of panels are. The toolkit measures a text at whole sizes,
// rounds the height of its line, and brings what it stands on to the next whole pixel: at 15,
// and on a screen of one pixel a unit, that cuts g, p and y off.
const TitleSize = 16

// Heading returns the title of a group.
func Heading(text string) *Text { return NewText(text, 13, true, theme.ColorNameForeground) }

// Plain returns text of first rank.
func Plain(text string) *Text { return NewText(text, 12.5, false, theme.ColorNameForeground) }

// Faint returns text of second rank.
func Faint(text string) *Text { return NewText(text, 12, false, theme.ColorNamePlaceHolder) }

// Aligned sets where the text lies in its room and returns it.
func (t *Text) Aligned(a fyne.TextAlign) *Text {
	t.align = a
	return t
}

// AtLeast keeps the text from asking for more width than this, so that it is cut
// short where there is no more, and returns it.
func (t *Text) AtLeast(width float32) *Text {
	t.least = width
	return t
}

// Text returns what is shown.
func (t *Text) Text() string { return t.text }

// Cut reports whether there is no room for all of it, so that it ends with an ellipsis.
func (t *Text) Cut() bool {
	return t.Visible() && fyne.MeasureText(t.text, t.size, fyne.TextStyle{Bold: t.bold}).Width > t.Size().Width+cutSlack
}

// Set shows another text.
func (t *Text) Set(text string) {
	if t.text == text {
		return
	}
	t.text = text
	t.Refresh()
}

// SetColour shows the text in another colour of the theme.
func (t *Text) SetColour(c fyne.ThemeColorName) {
	if t.colour == c {
		return
	}
	t.colour = c
	t.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (t *Text) CreateRenderer() fyne.WidgetRenderer {
	r := &textRenderer{t: t, line: canvas.NewText("", nil)}
	r.Refresh()
	return r
}

type textRenderer struct {
	t    *Text
	line *canvas.Text
}

func (r *textRenderer) style() fyne.TextStyle { return fyne.TextStyle{Bold: r.t.bold} }

func (r *textRenderer) width(s string) float32 {
	return fyne.MeasureText(s, r.t.size, r.style()).Width
}

func (r *textRenderer) Layout(size fyne.Size) {
	r.line.Text = r.fit(size.Width)
	r.line.Resize(size)
}

// cutSlack is what is lost to rounding between measuring and layout, in screen units.
const cutSlack = 0.5

// fit returns the text, or as much of its start as the width holds.
func (r *textRenderer) fit(width float32) string {
	if r.t.text == "" || r.width(r.t.text) <= width+cutSlack {
		return r.t.text
	}
	runes := []rune(r.t.text)
	lo, hi := 0, len(runes)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if r.width(string(runes[:mid])+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return string(runes[:lo]) + "…"
}

func (r *textRenderer) MinSize() fyne.Size {
	s := fyne.MeasureText(r.t.text, r.t.size, r.style())
	if r.t.least > 0 && s.Width > r.t.least {
		s.Width = r.t.least
	}
	return s
}

func (r *textRenderer) Refresh() {
	r.line.TextSize = r.t.size
	r.line.TextStyle = r.style()
	r.line.Alignment = r.t.align
	r.line.Color = r.t.Theme().Color(r.t.colour, variant())
	r.line.Text = r.fit(r.t.Size().Width)
	r.line.Refresh()
}

func (r *textRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.line} }
func (r *textRenderer) Destroy()                     {}

// variant returns whether the light or the dark look is on.
func variant() fyne.ThemeVariant { return fyne.CurrentApp().Settings().ThemeVariant() }

package control

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Prose is text in as many lines as it needs at a fixed width.
type Prose struct {
	widget.BaseWidget
	text   string
	size   float32
	bold   bool
	colour fyne.ThemeColorName
	width  float32
	// flows says that the width is that of the room there is.
	flows bool
	// broken are the lines of the text that they were last broken from, at the width;
	// measuring text is slow.
	broken     []string
	brokenText string
	brokenAt   float32
}

// NewProse returns text of the size in the colour of the theme, broken at the
// width.
func NewProse(text string, size float32, bold bool, colour fyne.ThemeColorName, width float32) *Prose {
	p := &Prose{text: text, size: size, bold: bold, colour: colour, width: width}
	p.ExtendBaseWidget(p)
	return p
}

// Flowing has the text broken at the width that it is given instead of a fixed one,
// and returns it.
func (p *Prose) Flowing() *Prose {
	p.flows = true
	return p
}

// Put shows another text.
func (p *Prose) Put(text string) {
	if p.text != text {
		p.text = text
		p.Refresh()
	}
}

// Text returns what is shown.
func (p *Prose) Text() string { return p.text }

// SetWidth has the text broken at another width.
func (p *Prose) SetWidth(width float32) {
	if p.width != width {
		p.width = width
		p.Refresh()
	}
}

// PutAs shows another text in a colour of the theme.
func (p *Prose) PutAs(text string, colour fyne.ThemeColorName) {
	if p.text != text || p.colour != colour {
		p.text, p.colour = text, colour
		p.Refresh()
	}
}

func (p *Prose) style() fyne.TextStyle { return fyne.TextStyle{Bold: p.bold} }

// lines breaks the text at blanks.
func (p *Prose) lines() []string {
	if p.broken == nil || p.brokenText != p.text || p.brokenAt != p.width {
		p.broken, p.brokenText, p.brokenAt = p.breakLines(), p.text, p.width
	}
	return p.broken
}

func (p *Prose) breakLines() []string {
	var out []string
	for _, para := range strings.Split(p.text, "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			next := word
			if line != "" {
				next = line + " " + word
			}
			if line != "" && fyne.MeasureText(next, p.size, p.style()).Width > p.width {
				out = append(out, line)
				next = word
			}
			line = next
		}
		out = append(out, line)
	}
	return out
}

// CreateRenderer implements fyne.Widget.
func (p *Prose) CreateRenderer() fyne.WidgetRenderer {
	r := &proseRenderer{p: p}
	r.Refresh()
	return r
}

type proseRenderer struct {
	p     *Prose
	lines []*canvas.Text
}

func (r *proseRenderer) lineHeight() float32 {
	return fyne.MeasureText("Ag", r.p.size, r.p.style()).Height
}

func (r *proseRenderer) MinSize() fyne.Size {
	width := r.p.width
	if r.p.flows {
		width = 0
	}
	return fyne.NewSize(width, r.lineHeight()*float32(len(r.p.lines())))
}

func (r *proseRenderer) Layout(size fyne.Size) {
	if r.p.flows && size.Width > 0 && size.Width != r.p.width {
		r.p.width = size.Width
		r.Refresh()
		return
	}
	h := r.lineHeight()
	for i, t := range r.lines {
		t.Move(fyne.NewPos(0, float32(i)*h))
		t.Resize(fyne.NewSize(size.Width, h))
	}
}

func (r *proseRenderer) Refresh() {
	lines := r.p.lines()
	for len(r.lines) < len(lines) {
		r.lines = append(r.lines, canvas.NewText("", nil))
	}
	r.lines = r.lines[:len(lines)]
	colour := r.p.Theme().Color(r.p.colour, variant())
	for i, t := range r.lines {
		t.Text, t.TextSize, t.TextStyle, t.Color = lines[i], r.p.size, r.p.style(), colour
	}
	r.Layout(r.p.Size())
	canvas.Refresh(r.p)
}

func (r *proseRenderer) Objects() []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, len(r.lines))
	for i, t := range r.lines {
		out[i] = t
	}
	return out
}

func (r *proseRenderer) Destroy() {}

package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Pill is a row of words of which one is on. The left and right keys change it.
type Pill struct {
	widget.BaseWidget
	heed
	words  []string
	on     int
	choose func(int)
}

// NewPill returns a pill of the words; choose is given the index of the one that
// was pressed.
func NewPill(hint string, words []string, choose func(int)) *Pill {
	p := &Pill{words: words, choose: choose}
	p.heed = heed{Hint: hint, of: p}
	p.ExtendBaseWidget(p)
	return p
}

// Put turns a word on without choosing it.
func (p *Pill) Put(i int) {
	if p.on != i {
		p.on = i
		p.Refresh()
	}
}

// Word changes one of the words, whose order stays.
func (p *Pill) Word(i int, word string) {
	if p.words[i] != word {
		p.words[i] = word
		p.Refresh()
	}
}

// On returns which word is on.
func (p *Pill) On() int { return p.on }

// Tapped chooses the word under the pointer.
func (p *Pill) Tapped(e *fyne.PointEvent) {
	x := float32(0)
	for i, w := range p.widths() {
		if x += w; e.Position.X < x || i == len(p.words)-1 {
			p.pick(i)
			return
		}
	}
}

func (p *Pill) pick(i int) {
	if i < 0 || i >= len(p.words) || i == p.on {
		return
	}
	p.Put(i)
	if p.choose != nil {
		p.choose(i)
	}
}

// TypedKey implements fyne.Focusable.
func (p *Pill) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyLeft:
		p.pick(p.on - 1)
	case fyne.KeyRight:
		p.pick(p.on + 1)
	default:
		KeyElsewhere(e)
	}
}

const pillText = 12

func (p *Pill) widths() []float32 {
	out := make([]float32, len(p.words))
	for i, w := range p.words {
		out[i] = fyne.MeasureText(w, pillText, fyne.TextStyle{Bold: true}).Width + 15
	}
	return out
}

// CreateRenderer implements fyne.Widget.
func (p *Pill) CreateRenderer() fyne.WidgetRenderer {
	r := &pillRenderer{p: p, ground: canvas.NewRectangle(color.Transparent), on: canvas.NewRectangle(color.Transparent)}
	for range p.words {
		r.words = append(r.words, canvas.NewText("", nil))
	}
	r.Refresh()
	return r
}

type pillRenderer struct {
	p          *Pill
	ground, on *canvas.Rectangle
	words      []*canvas.Text
}

func (r *pillRenderer) MinSize() fyne.Size {
	s := fyne.NewSize(2, 28)
	for _, w := range r.p.widths() {
		s.Width += w
	}
	return s
}

func (r *pillRenderer) Layout(size fyne.Size) {
	r.ground.Resize(size)
	r.ground.CornerRadius = size.Height / 2
	x := float32(1)
	for i, w := range r.p.widths() {
		if i == r.p.on {
			r.on.Move(fyne.NewPos(x, 1))
			r.on.Resize(fyne.NewSize(w, size.Height-2))
			r.on.CornerRadius = size.Height/2 - 1
		}
		h := r.words[i].MinSize().Height
		r.words[i].Move(fyne.NewPos(x, (size.Height-h)/2))
		r.words[i].Resize(fyne.NewSize(w, h))
		x += w
	}
}

func (r *pillRenderer) Refresh() {
	th, v := r.p.Theme(), variant()
	r.ground.FillColor = th.Color(theme.ColorNameInputBackground, v)
	r.ground.StrokeWidth, r.ground.StrokeColor = 1, th.Color(theme.ColorNameInputBorder, v)
	if r.p.focused {
		r.ground.StrokeWidth, r.ground.StrokeColor = 2, th.Color(theme.ColorNamePrimary, v)
	}
	r.on.FillColor = th.Color(theme.ColorNameSelection, v)
	for i, t := range r.words {
		t.Text, t.TextSize, t.Alignment = r.p.words[i], pillText, fyne.TextAlignCenter
		t.TextStyle = fyne.TextStyle{Bold: i == r.p.on}
		t.Color = th.Color(theme.ColorNamePlaceHolder, v)
		if i == r.p.on {
			t.Color = th.Color(theme.ColorNamePrimary, v)
		}
		t.Refresh()
	}
	r.Layout(r.p.Size())
	r.ground.Refresh()
	r.on.Refresh()
}

func (r *pillRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.ground, r.on}
	for _, t := range r.words {
		out = append(out, t)
	}
	return out
}

func (r *pillRenderer) Destroy() {}

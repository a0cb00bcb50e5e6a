package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// Rim is the line round a field: thin, or strong in the colour of the focus or of a
// problem.
type Rim struct {
	widget.BaseWidget
	focused, wrong bool
}

// NewRim returns a rim at rest.
func NewRim() *Rim {
	r := &Rim{}
	r.ExtendBaseWidget(r)
	return r
}

// SetFocused shows that the field has the keys.
func (r *Rim) SetFocused(on bool) {
	r.focused = on
	r.Refresh()
}

// SetWrong shows that the field holds what cannot be taken.
func (r *Rim) SetWrong(on bool) {
	r.wrong = on
	r.Refresh()
}

// CreateRenderer implements fyne.Widget.
func (r *Rim) CreateRenderer() fyne.WidgetRenderer {
	out := &rimRenderer{r: r, rect: canvas.NewRectangle(color.Transparent)}
	out.Refresh()
	return out
}

type rimRenderer struct {
	r    *Rim
	rect *canvas.Rectangle
}

func (x *rimRenderer) Layout(s fyne.Size)           { x.rect.Resize(s) }
func (x *rimRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (x *rimRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{x.rect} }
func (x *rimRenderer) Destroy()                     {}

func (x *rimRenderer) Refresh() {
	name, width := look.Border, float32(1)
	switch {
	case x.r.wrong:
		name, width = look.Pin, 2
	case x.r.focused:
		name, width = look.Chalk, 2
	}
	x.rect.CornerRadius = 6
	x.rect.StrokeWidth, x.rect.StrokeColor = width, x.r.Theme().Color(name, variant())
	x.rect.Refresh()
}

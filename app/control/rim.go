package control

import (
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
	return newRectRenderer(func(rect *canvas.Rectangle) {
		name, width := look.Border, float32(1)
		switch {
		case r.wrong:
			name, width = look.Pin, 2
		case r.focused:
			name, width = look.Chalk, 2
		}
		rect.CornerRadius = 6
		rect.StrokeWidth, rect.StrokeColor = width, r.Theme().Color(name, variant())
	})
}

package control

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// Whole lies over the row of a list and says, as a hint, all of a text in it that is cut
// short under the pointer. It takes the pointer from the row, which is therefore shaded by it.
type Whole struct {
	widget.BaseWidget
	over []fyne.CanvasObject
	on   bool
	said string
}

// NewWhole returns what lies over the objects, which are the cells of a row.
func NewWhole(over ...fyne.CanvasObject) *Whole {
	w := &Whole{over: over}
	w.ExtendBaseWidget(w)
	return w
}

// MouseIn implements desktop.Hoverable.
func (w *Whole) MouseIn(e *desktop.MouseEvent) {
	w.on = true
	w.Refresh()
	w.MouseMoved(e)
}

// MouseMoved implements desktop.Hoverable.
func (w *Whole) MouseMoved(e *desktop.MouseEvent) { w.say(w.cutAt(e.Position)) }

// MouseOut implements desktop.Hoverable.
func (w *Whole) MouseOut() {
	w.on = false
	w.Refresh()
	w.say("")
}

func (w *Whole) say(text string) {
	if w.said != text {
		w.said = text
		ShowHint(text, nil)
	}
}

// cutAt returns the text that is cut short at a place, or empty text.
func (w *Whole) cutAt(at fyne.Position) string {
	for _, o := range w.over {
		t, ok := o.(*Text)
		if !ok || !t.Cut() {
			continue
		}
		if x := at.X - t.Position().X; x >= 0 && x < t.Size().Width {
			return t.Text()
		}
	}
	return ""
}

// CreateRenderer implements fyne.Widget.
func (w *Whole) CreateRenderer() fyne.WidgetRenderer {
	return newRectRenderer(func(r *canvas.Rectangle) {
		r.FillColor = color.Transparent
		if w.on {
			r.FillColor = w.Theme().Color(look.Hover, variant())
		}
	})
}

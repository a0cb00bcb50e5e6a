package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Ground is a plane under what lies over other things: what the pointer does on its empty
// places does not reach those.
type Ground struct {
	Plane
	// OnDrag, where set, is told by how much the ground is dragged, OnTwice of a double press
	// on it. Hint says what they are for while the pointer is there.
	OnDrag  func(by fyne.Delta)
	OnTwice func()
	Hint    string
}

// NewGround returns a ground in the colour, with a rim.
func NewGround(fill, rim fyne.ThemeColorName, radius float32) *Ground {
	g := &Ground{Plane: Plane{fill: fill, rim: rim, radius: radius}}
	g.ExtendBaseWidget(g)
	return g
}

// MouseDown implements desktop.Mouseable.
func (*Ground) MouseDown(*desktop.MouseEvent) {}

// MouseUp implements desktop.Mouseable.
func (*Ground) MouseUp(*desktop.MouseEvent) {}

// MouseIn implements desktop.Hoverable.
func (g *Ground) MouseIn(*desktop.MouseEvent) {
	if g.Hint != "" {
		ShowHint(g.Hint, nil)
	}
}

// MouseMoved implements desktop.Hoverable.
func (*Ground) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (g *Ground) MouseOut() {
	if g.Hint != "" {
		ShowHint("", nil)
	}
}

// Dragged implements fyne.Draggable.
func (g *Ground) Dragged(e *fyne.DragEvent) {
	if g.OnDrag != nil {
		g.OnDrag(e.Dragged)
	}
}

// DragEnd implements fyne.Draggable.
func (*Ground) DragEnd() {}

// DoubleTapped implements fyne.DoubleTappable.
func (g *Ground) DoubleTapped(*fyne.PointEvent) {
	if g.OnTwice != nil {
		g.OnTwice()
	}
}

// Scrolled implements fyne.Scrollable.
func (*Ground) Scrolled(*fyne.ScrollEvent) {}

// Cursor implements desktop.Cursorable.
func (*Ground) Cursor() desktop.Cursor { return desktop.DefaultCursor }

package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// Ground is a plane under what lies over other things: what the pointer does on its empty
// places does not reach those.
type Ground struct{ Plane }

// NewGround returns a ground in the colour, with a rim.
func NewGround(fill, rim fyne.ThemeColorName, radius float32) *Ground {
	g := &Ground{Plane{fill: fill, rim: rim, radius: radius}}
	g.ExtendBaseWidget(g)
	return g
}

// MouseDown implements desktop.Mouseable.
func (*Ground) MouseDown(*desktop.MouseEvent) {}

// MouseUp implements desktop.Mouseable.
func (*Ground) MouseUp(*desktop.MouseEvent) {}

// MouseIn implements desktop.Hoverable.
func (*Ground) MouseIn(*desktop.MouseEvent) {}

// MouseMoved implements desktop.Hoverable.
func (*Ground) MouseMoved(*desktop.MouseEvent) {}

// MouseOut implements desktop.Hoverable.
func (*Ground) MouseOut() {}

// Dragged implements fyne.Draggable.
func (*Ground) Dragged(*fyne.DragEvent) {}

// DragEnd implements fyne.Draggable.
func (*Ground) DragEnd() {}

// Scrolled implements fyne.Scrollable.
func (*Ground) Scrolled(*fyne.ScrollEvent) {}

// Cursor implements desktop.Cursorable.
func (*Ground) Cursor() desktop.Cursor { return desktop.DefaultCursor }

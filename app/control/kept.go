package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// Kept holds an object that comes and goes: the room that it once took stays, so that
// what lies under it does not move.
type Kept struct {
	object *fyne.Container
	high   float32
}

// NewKept returns the room for the object.
func NewKept(o fyne.CanvasObject) *Kept {
	k := &Kept{}
	k.object = container.New(k, o)
	return k
}

// Object returns the room.
func (k *Kept) Object() fyne.CanvasObject { return k.object }

// MinSize implements fyne.Layout.
func (k *Kept) MinSize(o []fyne.CanvasObject) fyne.Size {
	s := o[0].MinSize()
	k.high = max(k.high, s.Height)
	s.Height = k.high
	return s
}

// Layout implements fyne.Layout.
func (k *Kept) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/look"
)

// under is what lies under a ground, and counts what the pointer does on it.
type under struct {
	widget.BaseWidget
	hovered, dragged, scrolled int
}

func (u *under) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(nil))
}
func (u *under) MouseIn(*desktop.MouseEvent)    { u.hovered++ }
func (u *under) MouseMoved(*desktop.MouseEvent) { u.hovered++ }
func (u *under) MouseOut()                      {}
func (u *under) Dragged(*fyne.DragEvent)        { u.dragged++ }
func (u *under) DragEnd()                       {}
func (u *under) Scrolled(*fyne.ScrollEvent)     { u.scrolled++ }

// What the pointer does on a ground does not reach what lies under it, and does once the
// ground is gone. Presses go to the first that takes one, as they do in a window.
func TestGroundKeepsThePointer(t *testing.T) {
	test.NewTempApp(t)
	below := &under{}
	below.ExtendBaseWidget(below)
	ground := NewGround(look.Paper, look.Border, 12)
	w := test.NewTempWindow(t, container.NewStack(below, ground))
	w.Resize(fyne.NewSize(200, 200))
	play := func() {
		at := fyne.NewPos(100, 100)
		test.MoveMouse(w.Canvas(), at)
		test.Scroll(w.Canvas(), at, 0, 10)
		test.Drag(w.Canvas(), at, 5, 5)
		test.MoveMouse(w.Canvas(), fyne.NewPos(-1, -1))
	}
	play()
	if below.hovered+below.scrolled+below.dragged > 0 {
		t.Errorf("through the ground it was hovered %d times, scrolled %d, dragged %d", below.hovered, below.scrolled, below.dragged)
	}
	if _, ok := any(ground).(desktop.Mouseable); !ok {
		t.Error("a ground takes no press")
	}
	ground.Hide()
	play()
	if below.hovered == 0 || below.scrolled == 0 || below.dragged == 0 {
		t.Errorf("without it it was hovered %d times, scrolled %d, dragged %d", below.hovered, below.scrolled, below.dragged)
	}
}

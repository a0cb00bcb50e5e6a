package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/look"
)

func TestCellIsPressedAndDragged(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	c := NewCell(12, fyne.TextAlignTrailing)
	c.Put("61.0", look.Ink)
	c.Tapped(nil) // neither does anything where nothing can be changed
	c.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 3}})
	c.DragEnd()
	if c.Cursor() != desktop.DefaultCursor {
		t.Error("what cannot be changed has the cursor of what can")
	}
	taps, dropped := 0, 0
	var gone []float32
	c.OnTap = func() { taps++ }
	if c.Cursor() != desktop.PointerCursor {
		t.Error("what can be pressed does not show it")
	}
	c.OnDrag, c.OnDrop = func(by float32) { gone = append(gone, by) }, func() { dropped++ }
	if c.Cursor() != desktop.HResizeCursor {
		t.Error("what can be dragged does not show it")
	}
	c.Tapped(nil)
	for _, by := range []float32{4, 5, -2} {
		c.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: by}})
	}
	if !c.Dragging() {
		t.Error("it is not dragged")
	}
	c.DragEnd()
	c.DragEnd()
	if taps != 1 || dropped != 1 || c.Dragging() || len(gone) != 3 || gone[2] != 7 {
		t.Errorf("pressed %d times, dropped %d times, went %v", taps, dropped, gone)
	}
	c.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 1}})
	if gone[3] != 1 {
		t.Errorf("a second drag begins at %v", gone[3]-1)
	}
}

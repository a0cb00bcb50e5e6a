package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// A row that is put before the list has any room is in sight once it has.
func TestListShowsTheRowThatWasPutBeforeItHadRoom(t *testing.T) {
	test.NewTempApp(t)
	const rows, high, tall = 50, 30, 300
	for _, at := range []int{0, 7, rows - 1} {
		row := func() fyne.CanvasObject {
			r := canvas.NewRectangle(nil)
			r.SetMinSize(fyne.NewSize(100, high))
			return r
		}
		l := NewList(func() int { return rows }, row, func(widget.ListItemID, fyne.CanvasObject) {}, nil)
		test.WidgetRenderer(l)
		l.SetItemHeight(0, 2*high)
		l.Put(at)
		l.Resize(fyne.NewSize(200, tall))
		top := float32(0)
		if at > 0 {
			top = 2*high + float32(at-1)*high + float32(at)*l.Theme().Size("padding")
		}
		if from := l.GetScrollOffset(); top < from || top+high > from+tall {
			t.Errorf("row %d is at %v, and what is seen begins at %v", at, top, from)
		}
		from := l.GetScrollOffset()
		l.Resize(fyne.NewSize(200, tall+20))
		if at < rows-1 && l.GetScrollOffset() != from {
			t.Errorf("row %d: with more room it scrolls from %v to %v", at, from, l.GetScrollOffset())
		}
	}
}

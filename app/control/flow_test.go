package control

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// block is an object of a size.
func block(w, h float32) fyne.CanvasObject {
	r := canvas.NewRectangle(color.Black)
	r.SetMinSize(fyne.NewSize(w, h))
	return r
}

// What does not go into a line goes into the next, and never makes it wider.
func TestFlowBreaksLines(t *testing.T) {
	test.NewTempApp(t)
	a, b, c := block(60, 20), block(50, 24), block(40, 20)
	f := FlowEnd(120, 6, a, b, c)
	if m := f.MinSize(); m != fyne.NewSize(120, 24+6+20) {
		t.Errorf("it asks for %v", m)
	}
	f.Resize(fyne.NewSize(130, 60))
	if a.Position() != fyne.NewPos(14, 0) || b.Position() != fyne.NewPos(80, 0) || c.Position() != fyne.NewPos(90, 30) {
		t.Errorf("they lie at %v, %v, %v", a.Position(), b.Position(), c.Position())
	}
	b.Hide()
	if m := f.MinSize(); m != fyne.NewSize(120, 20) {
		t.Errorf("with one away it asks for %v", m)
	}
	plain := Flow(100, 5, block(60, 20), block(50, 20))
	if m := plain.MinSize(); m != fyne.NewSize(100, 40) {
		t.Errorf("without a gap between lines it asks for %v", m)
	}
}

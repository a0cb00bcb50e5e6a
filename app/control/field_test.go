package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
)

// What is typed after Tab or a click into a field replaces the figure that stood there; a
// second click sets the cursor into it.
func TestTypingReplacesTheOldFigure(t *testing.T) {
	test.NewTempApp(t)
	var got string
	first, second := NewField("", nil), NewField("", func(text string) error { got = text; return nil })
	w := test.NewTempWindow(t, container.NewVBox(first.Object(), second.Object()))
	w.Resize(fyne.NewSize(300, 200))
	click := func(f *Field) {
		e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
		e.Position = fyne.NewPos(3, 8)
		f.MouseDown(e)
		f.MouseUp(e)
	}
	for name, come := range map[string]func(){
		"Tab":   func() { w.Canvas().Focus(first); w.Canvas().(interface{ FocusNext() }).FocusNext() },
		"click": func() { click(second) },
	} {
		w.Canvas().Unfocus()
		second.Put("17 mm")
		come()
		second.TypedRune('9')
		second.Settle()
		if got != "9" {
			t.Errorf("after %s and 9 the field holds %q", name, got)
		}
	}
	w.Canvas().Unfocus()
	second.Put("17 mm")
	click(second)
	click(second)
	second.TypedRune('9')
	if second.Text != "917 mm" {
		t.Errorf("after a second click before the figure, 9 makes it %q", second.Text)
	}
}

// A long text makes nothing wider, and where one types in it stays in sight.
func TestLongTextStaysInItsBox(t *testing.T) {
	test.NewTempApp(t)
	f := NewField("", nil)
	box := f.Object()
	w := test.NewTempWindow(t, box)
	w.Resize(fyne.NewSize(160, 60))
	f.Put("A smock for a grown person with a long name")
	if got := box.MinSize().Width; got > fieldLeast+20 {
		t.Errorf("its box asks for %g", got)
	}
	if at := f.Position().X; at != 0 {
		t.Errorf("at rest it begins at %g", at)
	}
	w.Canvas().Focus(f)
	f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if at, end := f.Position().X, f.Position().X+f.Size().Width; at >= 0 || end > f.room.Size().Width+fieldLeast/8 {
		t.Errorf("at its end it lies from %g to %g in %g", at, end, f.room.Size().Width)
	}
	w.Canvas().Unfocus()
	if at := f.Position().X; at != 0 {
		t.Errorf("left, it begins at %g", at)
	}
}

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

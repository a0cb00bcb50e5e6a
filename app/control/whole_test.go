package control

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/look"
)

// Over a text that is cut short all of it is said, and nothing over one that is shown whole.
func TestCutTextIsSaidWhole(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	was := ShowHint
	defer func() { ShowHint = was }()
	said := ""
	ShowHint = func(text string, _ fyne.CanvasObject) { said = text }
	long, short := Plain("sleeve seam to sleeve seam 2"), Plain("81")
	w := NewWhole(long, short)
	box := container.NewWithoutLayout(long, short, w)
	box.Resize(fyne.NewSize(200, 24))
	long.Resize(fyne.NewSize(80, 20))
	short.Move(fyne.NewPos(90, 0))
	short.Resize(fyne.NewSize(60, 20))
	w.Resize(fyne.NewSize(200, 24))
	at := func(x float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, 10)}}
	}
	w.MouseIn(at(20))
	if said != long.Text() {
		t.Errorf("over the one that is cut it says %q", said)
	}
	w.MouseMoved(at(100))
	if said != "" {
		t.Errorf("over the one that is whole it says %q", said)
	}
	w.MouseMoved(at(20))
	w.MouseOut()
	if said != "" {
		t.Errorf("left, it says %q", said)
	}
}

package shell

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// A hint takes one line where there is room, else two, and none of its words is lost.
func TestHintTakesTwoLines(t *testing.T) {
	test.NewTempApp(t)
	h := newHintLines()
	text := "Drag a piece, or a point, handle or edge of the picked one. Shift and click picks more."
	h.set(text, theme.ColorNameForeground)
	for _, c := range []struct {
		width float32
		two   bool
	}{{900, false}, {300, true}} {
		h.object.Resize(fyne.NewSize(c.width, 36))
		if h.second.Visible() != c.two {
			t.Errorf("%v wide it is in two lines: %v", c.width, h.second.Visible())
		}
		shown := strings.TrimSpace(h.first.Text() + " " + h.second.Text())
		if shown != text {
			t.Errorf("%v wide it says %q", c.width, shown)
		}
	}
}

// The menu of a thing names its acts, and acts and commands are there only once.
func TestContextMenusHaveNoDoubles(t *testing.T) {
	s := window(t)
	seen := map[string]bool{}
	for _, c := range s.commands {
		if seen[c.name] {
			t.Errorf("two commands are called %s", c.name)
		}
		seen[c.name] = true
	}
}

// In the smallest window two lines hold what every tool and station says.
func TestFootLineIsWholeInASmallWindow(t *testing.T) {
	s := window(t)
	s.win.Resize(fyne.NewSize(800, 600))
	whole := func(of string) {
		t.Helper()
		settle()
		s.status.show()
		if s.status.line.first.Cut() || s.status.line.second.Cut() {
			t.Errorf("of %s it says %q, %q with %g of room", of, s.status.line.first.Text(), s.status.line.second.Text(), s.status.line.object.Size().Width)
		}
	}
	for _, station := range []string{stationMeasure, stationDraft, stationTrace, stationFit, stationTrue, stationMake} {
		s.enter(station)
		whole(station)
	}
	s.enter(stationShape)
	for _, x := range s.tools {
		s.takeTool(x)
		whole(x.Info().Name)
	}
}

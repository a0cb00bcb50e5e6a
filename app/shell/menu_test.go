package shell

import (
	"testing"

	"fyne.io/fyne/v2/widget"
)

// Every menu is seen whole in a window of 1280 by 800, whose bar of menus is 26 units high.
func TestMenusFit(t *testing.T) {
	const room = 800 - 26
	for _, m := range window(t).mainMenu().Items {
		if high := widget.NewMenu(m).MinSize().Height; high > room {
			t.Errorf("%s is %v high, with %d entries", m.Label, high, len(m.Items))
		}
	}
}

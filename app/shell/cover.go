package shell

import "fyne.io/fyne/v2"

// cover shows what lies over the bench, and has it drawn now.
func (s *Shell) cover(o fyne.CanvasObject) {
	o.Show()
	s.draw(o)
}

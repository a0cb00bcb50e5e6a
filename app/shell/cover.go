package shell

import (
	"fyne.io/fyne/v2"

	"hemlet/app/bench"
)

// cover shows what lies over the bench, and has it drawn now.
func (s *Shell) cover(o fyne.CanvasObject) {
	o.Show()
	s.draw(o)
}

// covers lists the cards that lie over the bench now.
func (s *Shell) covers() []bench.Cover {
	boxes := []*fyne.Container{s.card.object}
	for _, c := range s.rightCards() {
		boxes = append(boxes, c.object)
	}
	var out []bench.Cover
	for _, box := range boxes {
		if box.Visible() && len(box.Objects) > 0 {
			out = append(out, bench.Cover{Pos: box.Objects[0].Position(), Size: box.Objects[0].Size()})
		}
	}
	return out
}

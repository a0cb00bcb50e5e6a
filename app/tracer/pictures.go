package tracer

import (
	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
)

// pictures is the step in which pictures are brought in, named and turned upright.
type picturesStep struct {
	plain
	all *fyne.Container
}

func newPictures(r *Room) step { return &picturesStep{plain: plain{r}} }

func (*picturesStep) name() string { return stepPictures }

func (*picturesStep) says() string {
	return "Bring in every sheet of the pattern, and turn each picture upright."
}

func (s *picturesStep) hint() string {
	return "Trace: drop scans, photographs or a scanned PDF here. The wheel zooms, a drag moves the view."
}

func (s *picturesStep) standing() standing {
	n := len(s.pictures())
	if n == 0 {
		return standing{}
	}
	return standing{done: true, says: wording.Count(n, "picture")}
}

func (s *picturesStep) panel() fyne.CanvasObject {
	s.all = control.Stack(8, control.NewProse("", 12, false, look.Faint, inner))
	return s.all
}

package tracer

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// picturesStep is the step in which pictures are brought in, named and turned upright.
type picturesStep struct {
	plain
	all    *fyne.Container
	pdf    *pdfPanel
	failed *fyne.Container
	of     *fyne.Container // what is said of the picture in hand
	called *control.Field
	size   *control.Prose
	told   *fyne.Container
}

func newPictures(r *Room) step { return &picturesStep{plain: plain{r}} }

func (*picturesStep) name() string { return stepPictures }

func (*picturesStep) says() string {
	return "Bring in every sheet of the pattern, and turn each picture upright."
}

func (s *picturesStep) hint() string {
	return "Trace: drop scans, photographs or a scanned PDF here. The wheel zooms, a drag moves the view; [ and ] turn the picture in hand."
}

func (s *picturesStep) standing() standing {
	n := len(s.pictures())
	if n == 0 {
		return standing{}
	}
	return standing{done: true, says: wording.Count(n, "picture")}
}

func (s *picturesStep) panel() fyne.CanvasObject {
	s.pdf = newPDFPanel(s.Room)
	s.called = control.NewField("What the picture is called", func(text string) error {
		return s.set(draft.SetPictureArgs{Name: &text})
	})
	s.size = control.NewProse("", 12, false, look.Faint, inner)
	turn := func(icon, word, hint string, quarters float64) fyne.CanvasObject {
		return control.NewButton(control.QuietShape, icon, word, hint, func() { s.turn(quarters) })
	}
	away := control.NewButton(control.QuietShape, "remove", "Take away", "Take this picture away; its file stays beside the project (Del)", s.takeAway)
	s.told = control.Stack(8)
	s.of = control.Stack(8,
		control.Labelled("Name", s.called.Object()), s.size,
		control.Row(8, turn("undo", "Turn left", "Turn the picture a quarter to the left ([)", 1), turn("redo", "Turn right", "Turn the picture a quarter to the right (])", -1)),
		control.Row(8, away), s.told)
	s.failed = control.Stack(0)
	s.all = control.Stack(8, s.failed, s.pdf.all, s.of)
	return s.all
}

func (s *picturesStep) update() {
	if s.pdf == nil {
		return
	}
	s.pdf.update()
	s.failed.RemoveAll()
	if s.trouble != "" {
		s.failed.Add(control.Told(control.LookAgain, "This could not be brought in", s.trouble, inner, "", nil))
	}
	pic := s.chosen()
	show(s.of, pic != nil)
	if pic == nil {
		return
	}
	s.called.Put(pic.Name)
	says := fmt.Sprintf("%d by %d pixels.", pic.Wide, pic.High)
	if read := s.read(pic); read.fault != "" {
		says = wording.Sentence(read.fault)
	} else if read.image == nil {
		says += " It is being read."
	}
	s.size.Put(says)
	s.told.RemoveAll()
	if pic.Locked {
		s.told.Add(s.lockedCard(pic))
	}
}

func (s *picturesStep) set(args draft.SetPictureArgs) error {
	pic := s.chosen()
	if pic == nil {
		return nil
	}
	args.Pictures = []draft.PictureRef{draft.PictureRef(pic.ID)}
	_, err := draft.SetPicture.Do(s.desk.Project(), args)
	if err == nil {
		run(s.Room, draft.SetPicture, args)
	}
	return err
}

// turn turns the picture in hand by quarters counter-clockwise.
func (r *Room) turn(quarters float64) {
	if pic := r.chosen(); pic != nil {
		by := draft.Angle(quarters * math.Pi / 2)
		run(r, draft.TurnPicture, draft.TurnPictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(pic.ID)}, By: by})
	}
}

// takeAway takes the picture in hand away.
func (s *picturesStep) takeAway() {
	if pic := s.chosen(); pic != nil {
		run(s.Room, draft.DeletePicture, draft.DeletePictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(pic.ID)}})
	}
}

func (s *picturesStep) key(k fyne.KeyName, _ fyne.KeyModifier) bool {
	if k != fyne.KeyDelete || s.chosen() == nil {
		return false
	}
	s.takeAway()
	return true
}

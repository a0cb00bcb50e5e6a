package shell

import (
	"image"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tracer"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
	"hemlet/geom"
)

// stationTrace is the room in which pictures of patterns become pieces. It is not on the
// rail: it is a way to come by a pattern, as drafting is, and marks that on it.
const stationTrace = "Trace"

// pictureEndings are the endings of files that hold pictures of patterns.
func pictureEndings() []string { return append(intake.PictureEndings(), tracer.PDFEnding) }

// newTracer makes the room in which pictures are traced.
func (s *Shell) newTracer() (*tracer.Room, error) {
	return tracer.New(s.desk, s.palette(), tracer.Host{
		Say: s.Say,
		Status: func() {
			s.status.update()
			s.top.update() // where undo may have something to take back
		},
		Choose: s.askTrace,
		Keep:   s.keepPictures,
		Load:   s.loadTraced,
		Focus: func(f fyne.Focusable) {
			if f == nil {
				s.focusBench()
				return
			}
			s.giveKeys(f)
		},
		View:    func() { s.status.view() },
		Pointer: func(at geom.Point, on bool) { s.status.pointer(at, on) },
		Leave:   s.showTraced,
		Aside:   aside,
	})
}

// aside does work off the window's goroutine and what that returns on it.
func aside(work func() func()) {
	go func() {
		then := work()
		control.OnMain(then)
	}()
}

// tracerSeat is the room as it sits in the window.
func (s *Shell) tracerSeat() *seat {
	t := s.tracer
	return &seat{
		name: stationTrace, under: stationDraft, quiet: true,
		left: t.Left(), centre: t.Centre(), side: t.Side(), focus: t.Focus(), key: t.Key,
		says: t.Says, shown: t.Shown, hidden: t.Hidden, changed: t.Changed, back: t.Back, undoes: t.Undoes,
		percent: t.Percent, fit: t.Fit, palette: t.SetPalette,
	}
}

// trace goes to the room, and asks for a picture where there is none yet.
func (s *Shell) trace() { s.enter(stationTrace) }

// askTrace asks for a picture or a scanned PDF to be traced.
func (s *Shell) askTrace() {
	s.chooseFile("Trace a picture", "Bring in", pictureEndings(), func(path string) { s.traceFiles([]string{path}) })
}

// traceFiles brings pictures and scanned PDFs into the room.
func (s *Shell) traceFiles(paths []string) {
	s.enter(stationTrace)
	s.tracer.Bring(paths)
}

// tracePicked goes to the room with the picture that is picked.
func (s *Shell) tracePicked() {
	if r := s.desk.Picked().Last(); r.Kind == desk.Picture {
		s.enter(stationTrace)
		s.tracer.Take(r.Thing)
	}
}

// showTraced shows the pieces that were traced.
func (s *Shell) showTraced(made []draft.ID) {
	if len(made) > 0 {
		s.nameByPattern(made[0])
		s.showDrafted(made)
		return
	}
	s.enter(stationShape)
}

// loadTraced returns what reads a picture of the document, off the window's goroutine,
// with the dots an inch that its file tells.
func (s *Shell) loadTraced(pic *draft.Picture) func() (image.Image, float64, error) {
	content := s.contentOf(pic)
	return func() (image.Image, float64, error) {
		bytes, err := content()
		if err != nil {
			return nil, 0, err
		}
		file, err := intake.DescribePicture(pic.Name, bytes)
		if err != nil {
			return nil, 0, err
		}
		img, err := s.decode(pic.Name, bytes)
		return img, file.DPI, err
	}
}

// keepPictures returns what puts the bytes of picture files beside the document. Each is
// decoded first, so that one that is damaged is refused and not shown as an empty frame.
func (s *Shell) keepPictures() (func(name string, content []byte) (draft.PictureFile, error), error) {
	home, err := s.pictureHome()
	if err != nil {
		return nil, err
	}
	return func(name string, content []byte) (draft.PictureFile, error) {
		if _, err := s.decode(name, content); err != nil {
			return draft.PictureFile{}, err
		}
		return keepPicture(home, name, content)
	}, nil
}

// keepPicture puts the bytes of a picture file beside a project.
func keepPicture(home, name string, content []byte) (draft.PictureFile, error) {
	file, err := intake.DescribePicture(name, content)
	if err != nil {
		return draft.PictureFile{}, err
	}
	_, err = store.PutPicture(home, content, file.Ext)
	return file, err
}

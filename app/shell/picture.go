package shell

import (
	"image"
	"path/filepath"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/app/tracer"
	"hemlet/draft"
	"hemlet/draft/intake"
	"hemlet/draft/store"
	"hemlet/geom"
)

// unsavedPictures is the name, in the state folder, of the project beside which the
// pictures lie of documents that have no file yet.
const unsavedPictures = "unsaved"

// pictureHome returns the project file beside which the pictures of the document lie.
func (s *Shell) pictureHome() (string, error) {
	if path := s.desk.Path(); path != "" {
		return path, nil
	}
	state, err := s.stateDir()
	return filepath.Join(state, unsavedPictures), err
}

// loadPicture returns what reads a picture of the document, off the window's goroutine.
func (s *Shell) loadPicture(pic *draft.Picture) func() (image.Image, error) {
	content := s.contentOf(pic)
	return func() (image.Image, error) {
		bytes, err := content()
		if err != nil {
			return nil, err
		}
		return s.decode(pic.Name, bytes)
	}
}

// decode decodes a picture once no other is being decoded.
func (s *Shell) decode(name string, content []byte) (image.Image, error) {
	s.decoding.Lock()
	defer s.decoding.Unlock()
	return intake.DecodePicture(name, content)
}

// contentOf returns what reads the bytes of a picture of the document.
func (s *Shell) contentOf(pic *draft.Picture) func() ([]byte, error) {
	homes := s.pictureHomes()
	return func() (content []byte, err error) {
		err = &store.FileError{Says: "there is no place where pictures lie"}
		for _, home := range homes {
			if content, err = store.Picture(home, pic); err == nil {
				return content, nil
			}
		}
		return nil, err
	}
}

// pictureHomes lists the project files beside which a picture may lie: a document that
// was recovered may have its pictures where those of unsaved ones lie.
func (s *Shell) pictureHomes() []string {
	var homes []string
	if home, err := s.pictureHome(); err == nil {
		homes = append(homes, home)
	}
	if state, err := s.stateDir(); err == nil {
		homes = append(homes, filepath.Join(state, unsavedPictures))
	}
	return homes
}

// askPicture asks for a picture and lays it under the pieces.
func (f *files) askPicture() {
	f.s.chooseFile("Lay a picture under the pieces", "Lay under", intake.PictureEndings(), func(path string) {
		f.layUnder([]string{path}, nil)
	})
}

// layUnder lays pictures under the pieces, with the middle of the first at the place, or
// in the middle of what is seen.
func (f *files) layUnder(paths []string, at *geom.Point) {
	s := f.s
	s.enter(stationShape)
	for _, path := range paths {
		file, err := f.keepPicture(path)
		if err != nil {
			s.tell("This picture could not be taken in", err.Error())
			return
		}
		where := s.bench.Middle()
		if at != nil {
			where = *at
		}
		to := draft.Vector(where)
		out, err := desk.RunFolded(s.desk, draft.AddPicture, draft.AddPictureArgs{File: file, At: &to, Opacity: tracer.UsualOpacity}, "")
		if err != nil {
			s.Say(err.Error())
			return
		}
		s.desk.Pick(desk.PictureRef(out.Made))
	}
	s.scans.want()
	s.bench.Fit()
	s.Say("Scale it by two places whose distance you know (in the panel), then lock it, so that you can draw over it.")
}

// scalePicture takes up what makes the picked picture true to size.
func (s *Shell) scalePicture() {
	if r := s.desk.Picked().Last(); r.Kind == desk.Picture {
		s.takeActAt(tool.ScalePicture(), r, s.desk.Project().Picture(r.Thing).Middle())
	}
}

// keepPicture puts the bytes of a picture file beside the document.
func (f *files) keepPicture(path string) (draft.PictureFile, error) {
	content, err := store.ReadPictureFile(path)
	if err != nil {
		return draft.PictureFile{}, err
	}
	home, err := f.s.pictureHome()
	if err != nil {
		return draft.PictureFile{}, err
	}
	return keepPicture(home, filepath.Base(path), content)
}

// takeAlong copies the pictures of a project to where it was saved, from where they lay.
func (f *files) takeAlong(p *draft.Project, from, to string) {
	if len(p.Pictures) == 0 || from == to {
		return
	}
	if err := store.CopyPictures(p, from, to); err != nil {
		f.s.tell("Not every picture came along", err.Error())
	}
}

package shell

import "path/filepath"

// Start opens what the window begins with: the file that was named, what a killed
// session left behind, or the sample.
func (s *Shell) Start(paths ...string) {
	opened := false
	switch {
	case len(paths) == 0:
		opened = s.files.Sample()
	case hasEnding(paths[0], drawingEndings):
		s.later(func() { s.files.bringIn(paths) })
	default:
		opened = s.files.Open(filepath.Clean(paths[0]))
	}
	if !opened {
		s.files.startJournal() // of the empty project, which is what there is
	}
	s.later(func() { s.Recover() })
	go s.files.watch()
}

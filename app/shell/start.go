package shell

import "path/filepath"

// Start opens what the window begins with: the file that was named, what a killed
// session left behind, or the sample.
func (s *Shell) Start(paths ...string) {
	s.files.startJournal()
	switch {
	case len(paths) == 0:
		if !s.files.Sample() {
			s.welcome.update()
		}
	case hasEnding(paths[0], drawingEndings):
		s.later(func() { s.files.bringIn(paths) })
	default:
		s.files.Open(filepath.Clean(paths[0]))
	}
	s.later(func() { s.Recover() })
}

package shell

import "path/filepath"

// Start opens what the window begins with: the file that was named, what a killed
// session left behind, or the first screen; where that is not wanted, the project that
// was used last.
func (s *Shell) Start(paths ...string) {
	opened := false
	switch {
	case len(paths) == 0:
		opened = s.begin()
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

// begin shows the first screen, or else the project that was used last, and reports
// whether a project was opened.
func (s *Shell) begin() bool {
	if s.firstAtStart() {
		s.enter(stationStart)
		return false
	}
	last := s.files.lastUsed()
	return len(last) > 0 && exists(last[0]) && s.files.Open(last[0])
}

package shell

import (
	"os"

	"hemlet/app/control"
)

// later does something once the present event is over, so that one question can
// follow another. What is put off first is done first.
func (s *Shell) later(f func()) {
	s.putOff = append(s.putOff, f)
	if len(s.putOff) == 1 {
		go control.OnMain(s.catchUp)
	}
}

// catchUp does what was put off until now.
func (s *Shell) catchUp() {
	due := s.putOff
	s.putOff = nil
	for _, f := range due {
		f()
	}
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

package shell

import (
	"os"

	"hemlet/app/control"
)

// later does something once the present event is over, so that one question can
// follow another.
func (s *Shell) later(f func()) {
	if f == nil {
		return
	}
	go control.OnMain(f)
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

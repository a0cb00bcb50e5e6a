package shell

import (
	"os"

	"fyne.io/fyne/v2"
)

// later does something once the present event is over, so that one question can
// follow another.
func (s *Shell) later(f func()) {
	if f == nil {
		return
	}
	go fyne.Do(f)
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

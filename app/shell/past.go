package shell

import (
	"errors"
	"fmt"

	"hemlet/app/control"
	"hemlet/app/wording"
	"hemlet/draft/store"
)

// showHistory shows the list of what was done at the bench, or takes it away.
func (s *Shell) showHistory() {
	s.toBench()
	s.history.toggle()
}

// keepPast has the history kept of the document, which was saved to the path as the
// stamp says.
func (f *files) keepPast(path string, stamp store.Stamp) {
	state, err := f.s.stateDir()
	if err != nil {
		return // that nothing can be kept was told when the journal was begun
	}
	steps, at := f.s.desk.History().Steps()
	f.keeper.notePast(func() error { return store.WritePast(state, path, stamp, steps, at) })
}

// recallPast looks for the history of the document that was opened, off the window's
// goroutine, and puts it under what is done by then.
func (f *files) recallPast(path string, stamp store.Stamp) {
	state, err := f.s.stateDir()
	if err != nil {
		return
	}
	f.opening++
	opening := f.opening
	go func() {
		steps, at, err := store.ReadPast(state, path, stamp)
		control.OnMain(func() {
			if f.opening != opening || f.s.desk.Path() != path {
				return // something else lies open by now
			}
			switch {
			case errors.Is(err, store.ErrOtherFile):
				f.s.Say("This file was changed elsewhere since it was saved here, so its history begins anew.")
			case err != nil:
				f.s.Say("The earlier steps could not be read, so the history begins anew: " + err.Error())
			case len(steps) > 1:
				f.s.desk.Recall(steps, at)
				f.s.Say(fmt.Sprintf("The history goes back %s (F9).", wording.Count(at, "step")))
			}
		})
	}()
}

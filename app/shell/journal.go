package shell

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync"
	"time"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/draft/store"
)

// keeper writes the states of the open document to a journal, off the window's
// goroutine and not more often than needed, so that a killed program loses a few
// seconds at most.
type keeper struct {
	// mu guards what is still to be done. It is never held while something is
	// written, so that the window does not wait for the disk.
	mu    sync.Mutex
	next  *draft.Project // to be written
	saved *string        // the file that the document was saved to, before next
	past  func() error   // keeps the history of what was saved
	timer *time.Timer
	// disk guards the journal, and is held while it is written.
	disk    sync.Mutex
	journal *store.Journal
	// failed is told why something could not be written.
	failed func(error)
}

// keepAfter is how long after a change the state is written; changes that follow
// one another within it are written once.
const keepAfter = 1200 * time.Millisecond

// note has the project written after a moment.
func (k *keeper) note(p *draft.Project) {
	k.mu.Lock()
	defer k.mu.Unlock()
	waiting := k.next != nil
	k.next = p
	if !waiting {
		k.wake(keepAfter)
	}
}

// noteSaved has it written that the document is on disk now; the states before
// are not wanted any more.
func (k *keeper) noteSaved(document string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.next, k.saved = nil, &document
	k.wake(0)
}

// notePast has the history of what was saved kept.
func (k *keeper) notePast(keep func() error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.past = keep
	k.wake(0)
}

// wake has what is to be done done after a moment.
func (k *keeper) wake(after time.Duration) {
	if k.timer != nil {
		k.timer.Stop()
	}
	k.timer = time.AfterFunc(after, func() {
		// That there is no journal was told when none could be started.
		if err := k.write(); err != nil && !errors.Is(err, errNoJournal) {
			k.failed(err)
		}
	})
}

var errNoJournal = errors.New("there is no journal")

// write does what is to be done now.
func (k *keeper) write() error {
	k.disk.Lock()
	defer k.disk.Unlock()
	next, saved, past := k.take()
	var err error
	if past != nil {
		err = past()
	}
	switch {
	case next == nil && saved == nil:
		return err
	case k.journal == nil:
		return errors.Join(err, errNoJournal)
	}
	if saved != nil {
		err = errors.Join(err, k.journal.Saved(*saved))
	}
	if next != nil {
		err = errors.Join(err, k.journal.Write(next))
	}
	return err
}

// take returns what is to be done, and forgets it.
func (k *keeper) take() (next *draft.Project, saved *string, past func() error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	next, saved, past = k.next, k.saved, k.past
	k.next, k.saved, k.past = nil, nil, nil
	if k.timer != nil {
		k.timer.Stop()
	}
	return next, saved, past
}

// begin starts a journal for a document, and ends the one before: one that cannot be
// removed is offered at the next start, and that is all. It returns who else has the
// document open, as far as that can be found out.
func (k *keeper) begin(state, document string) ([]store.Owner, error) {
	_ = k.end()
	k.disk.Lock()
	defer k.disk.Unlock()
	j, err := store.StartJournal(state, document)
	if err != nil {
		return nil, err
	}
	k.journal = j
	others, _ := j.Others()
	return others, nil
}

// end removes the journal: nothing of it is wanted any more.
func (k *keeper) end() error {
	k.disk.Lock()
	defer k.disk.Unlock()
	k.take()
	if k.journal == nil {
		return nil
	}
	err := k.journal.Close()
	k.journal = nil
	return err
}

// startJournal begins to keep the document that was opened.
func (f *files) startJournal() {
	state, err := f.s.stateDir()
	var others []store.Owner
	if err == nil {
		others, err = f.keeper.begin(state, f.s.desk.Path())
	}
	if err != nil {
		f.s.Say("No journal can be kept, so save often: " + err.Error())
		return
	}
	if f.s.desk.Path() != "" && len(others) > 0 {
		f.s.later(func() {
			f.s.tell("This project is open in another window", "The window that saves last would undo what the other one saved. Hemlet asks before that happens; better close one of the two.")
		})
	}
}

// note keeps the document as it now stands.
func (f *files) note() {
	if f.s.desk.Dirty() {
		f.keeper.note(f.s.desk.Project())
	}
}

func (f *files) dropJournal() {
	if err := f.keeper.end(); err != nil {
		f.s.Say(err.Error())
	}
}

// Recover offers what sessions that were killed have left behind. It reports
// whether there is anything.
func (s *Shell) Recover() bool {
	state, err := s.stateDir()
	if err != nil {
		return false
	}
	list, err := store.Recoverable(state)
	if err != nil || len(list) == 0 {
		return false
	}
	s.offer(list)
	return true
}

// offer asks about the newest of the recoverable documents, and then about the
// next.
func (s *Shell) offer(list []store.Recovery) {
	r := list[0]
	name := "A project that was never saved"
	if r.Document != "" {
		name = "“" + filepath.Base(r.Document) + "”"
	}
	text := fmt.Sprintf("%s has changes of %s that were not saved when Hemlet ended.", name, r.When.Local().Format("2 January 15:04"))
	if r.FileNewer {
		text += " The file itself was written after that by something else; recover the changes and compare before you save."
	}
	rest := func() {
		if len(list) > 1 {
			s.later(func() { s.offer(list[1:]) })
		}
	}
	s.ask("Bring back what was not saved?", control.Stack(8, prose(text), control.NewProse(r.Document, 11.5, false, look.Faint, askWidth)), nil,
		answer{word: "Not now", out: true, hint: "Ask again at the next start", do: func() bool { rest(); return true }},
		answer{word: "Drop it", hint: "Drop these changes for good", do: func() bool {
			if err := r.Discard(); err != nil {
				s.Say(err.Error())
			}
			rest()
			return true
		}},
		answer{word: "Bring back", main: true, do: func() bool {
			s.later(func() { s.bringBack(r) })
			return true
		}})
}

// bringBack opens what was recovered. The old journal goes only once the new one
// holds its content.
func (s *Shell) bringBack(r store.Recovery) {
	p, err := r.Project()
	if err != nil {
		s.tell("This could not be brought back", err.Error())
		return
	}
	s.files.stamp = nil
	if _, stamp, err := store.Load(r.Document); r.Document != "" && err == nil && !r.FileNewer {
		s.files.stamp = &stamp
	}
	s.files.opened(p, r.Document)
	s.desk.MarkUnsaved()
	s.files.note()
	if err := s.files.keeper.write(); err != nil {
		s.Say("Brought back, and the old journal is kept, for there is no new one: " + err.Error())
		return
	}
	if err := r.Discard(); err != nil {
		s.Say("Brought back, but the old journal could not be removed: " + err.Error())
		return
	}
	s.Say("Brought back. Save it to keep it.")
}

// stateDir returns the folder that the journals lie in.
func (s *Shell) stateDir() (string, error) {
	if s.StateDir != "" {
		return s.StateDir, nil
	}
	return store.StateDir()
}

// failedJournal tells that a state could not be kept.
func (f *files) failedJournal(err error) {
	control.OnMain(func() { f.s.Say("The journal could not be kept, so save often: " + err.Error()) })
}

package shell

import (
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
	mu      sync.Mutex
	journal *store.Journal
	next    *draft.Project // what is to be written
	timer   *time.Timer
	// failed is told why a state could not be written.
	failed func(error)
}

// keepAfter is how long after a change the state is written; changes that follow
// one another within it are written once.
const keepAfter = 1200 * time.Millisecond

// note has the project written after a moment.
func (k *keeper) note(p *draft.Project) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.journal == nil {
		return
	}
	waiting := k.next != nil
	k.next = p
	if !waiting {
		k.timer = time.AfterFunc(keepAfter, k.write)
	}
}

func (k *keeper) write() {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.journal == nil || k.next == nil {
		return
	}
	err := k.journal.Write(k.next)
	k.next = nil
	if err != nil && k.failed != nil {
		k.failed(err)
	}
}

// forget drops what is still to be written.
func (k *keeper) forget() {
	k.next = nil
	if k.timer != nil {
		k.timer.Stop()
	}
}

// begin starts a journal for a document, and ends the one before. It returns who
// else has the document open.
func (k *keeper) begin(state, document string) ([]store.Owner, error) {
	k.end()
	k.mu.Lock()
	defer k.mu.Unlock()
	j, err := store.StartJournal(state, document)
	if err != nil {
		return nil, err
	}
	k.journal = j
	return j.Others()
}

// saved notes that the document is on disk.
func (k *keeper) saved(document string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.forget()
	if k.journal == nil {
		return nil
	}
	return k.journal.Saved(document)
}

// end removes the journal: nothing of it is wanted any more.
func (k *keeper) end() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.forget()
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

func (f *files) savedJournal() {
	if err := f.keeper.saved(f.s.desk.Path()); err != nil {
		f.s.Say("The journal could not be kept: " + err.Error())
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
	s.files.keeper.write()
	if err := r.Discard(); err != nil {
		s.Say(err.Error())
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

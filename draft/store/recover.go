package store

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"hemlet/draft"
)

// Recovery is a document that a session left without saving it and without being
// asked to drop it.
type Recovery struct {
	// Document is its file, empty if it never had one.
	Document string
	// When is the time of its last state.
	When time.Time
	// FileNewer says that the file was written after that by something else.
	FileNewer bool
	stem      string
}

// Recoverable lists what sessions that are gone left behind in the state folder,
// newest first. A document whose file already holds its last state is not listed,
// and what holds nothing to recover is swept away.
func Recoverable(state string) ([]Recovery, error) {
	dir := filepath.Join(state, journalFolder)
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, named(dir, err)
	}
	var list []Recovery
	for _, e := range entries {
		stem, ok := strings.CutSuffix(filepath.Join(dir, e.Name()), journalEnding)
		if !ok {
			sweep(dir, e)
			continue
		}
		if held(stem + claimEnding) {
			continue
		}
		r, worth := examine(stem)
		if !worth {
			r.Discard()
			continue
		}
		list = append(list, r)
	}
	slices.SortFunc(list, func(a, b Recovery) int { return b.When.Compare(a.When) })
	return list, nil
}

// abandonedAfter is the age from which a claim without a journal, or a file that
// was to replace a journal, is left over and not in the making, which takes
// milliseconds.
const abandonedAfter = time.Hour

// sweep removes what a session that died while it began or wrote left in the
// folder of the journals.
func sweep(dir string, e fs.DirEntry) {
	path := filepath.Join(dir, e.Name())
	stem, isClaim := strings.CutSuffix(path, claimEnding)
	if !isClaim && !strings.HasSuffix(path, partEnding) {
		return
	}
	info, err := e.Info()
	if err != nil || time.Since(info.ModTime()) < abandonedAfter {
		return
	}
	if isClaim {
		if _, err := os.Stat(stem + journalEnding); err == nil || held(path) {
			return
		}
	}
	os.Remove(path)
}

// examine reads a journal and tells whether it holds anything that is not on disk.
func examine(stem string) (Recovery, bool) {
	r := Recovery{stem: stem}
	records, err := readJournal(stem)
	if err != nil {
		return r, true // it may be readable another time; nothing is lost meanwhile
	}
	var last *record
	for i := range records {
		switch records[i].kind {
		case recordDocument:
			r.Document = string(records[i].body)
		case recordProject:
			last = &records[i]
		}
	}
	if last == nil {
		return r, false
	}
	r.When = last.when
	if r.Document == "" {
		return r, true
	}
	_, now, err := readFile(r.Document, draft.MaxTextBytes)
	if err != nil {
		return r, true
	}
	r.FileNewer = now.ModTime.After(r.When)
	return r, now.Hash != sha256.Sum256(last.body)
}

func readJournal(stem string) ([]record, error) {
	const most = maxJournalBytes + draft.MaxTextBytes // one record may be beyond the bound
	text, _, err := readFile(stem+journalEnding, most)
	if err != nil {
		return nil, err
	}
	return parseJournal(text), nil
}

// Project returns the last state that can be read.
func (r Recovery) Project() (*draft.Project, error) {
	records, err := readJournal(r.stem)
	if err != nil {
		return nil, named(r.stem+journalEnding, err)
	}
	err = &FileError{Says: "the journal holds no project"}
	for _, rec := range slices.Backward(records) {
		if rec.kind != recordProject {
			continue
		}
		p, decodeErr := Decode(rec.body)
		if decodeErr == nil {
			return p, nil
		}
		err = decodeErr
	}
	return nil, named(r.stem+journalEnding, err)
}

// Discard removes the journal: it was recovered, or is not wanted.
func (r Recovery) Discard() error {
	err := os.Remove(r.stem + journalEnding)
	os.Remove(r.stem + claimEnding)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return unwritable(r.stem+journalEnding, err)
	}
	return nil
}

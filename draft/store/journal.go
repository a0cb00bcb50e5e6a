package store

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"time"

	"hemlet/draft"
)

// Bounds of a journal. Beyond either it starts over with the newest record alone.
const (
	maxJournalBytes   = 16 << 20
	maxJournalRecords = 64
)

// Journal keeps the states of one open document in the state folder, so that they
// survive the program. It is append-only and bounded. A journal is for one
// goroutine at a time.
type Journal struct {
	path  string
	claim *claim
	file  *os.File
	size  int64
	count int
}

// Names in the state folder, and what a journal begins with.
const (
	journalFolder = "journal"
	journalEnding = ".journal"
	journalMagic  = "hemlet journal 1\n"
)

// record is one entry of a journal.
type record struct {
	kind byte
	when time.Time
	body []byte
}

// Kinds of records.
const (
	recordDocument = 'd' // the file that the document belongs to; always the first
	recordProject  = 'p' // a whole project, encoded
)

// recordHead is the size of what stands before the body of a record: kind, time in
// nanoseconds since 1970, length, and the CRC-32C of all the rest.
const recordHead = 1 + 8 + 4 + 4

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func appendRecord(dst []byte, r record) []byte {
	from := len(dst)
	dst = append(dst, r.kind)
	dst = binary.BigEndian.AppendUint64(dst, uint64(r.when.UnixNano()))
	dst = binary.BigEndian.AppendUint32(dst, uint32(len(r.body)))
	sum := crc32.Update(crc32.Checksum(dst[from:], castagnoli), castagnoli, r.body)
	dst = binary.BigEndian.AppendUint32(dst, sum)
	return append(dst, r.body...)
}

// parseJournal returns the whole records that a journal begins with. What follows
// them was torn when the program or the machine died, and counts for nothing.
func parseJournal(text []byte) []record {
	if len(text) < len(journalMagic) || string(text[:len(journalMagic)]) != journalMagic {
		return nil
	}
	return parseRecords(text[len(journalMagic):])
}

// parseRecords returns the whole records that a text begins with.
func parseRecords(text []byte) []record {
	var records []record
	for len(text) >= recordHead {
		n := int64(binary.BigEndian.Uint32(text[9:]))
		if n > int64(len(text)-recordHead) {
			break
		}
		body := text[recordHead : recordHead+n]
		sum := crc32.Update(crc32.Checksum(text[:recordHead-4], castagnoli), castagnoli, body)
		if sum != binary.BigEndian.Uint32(text[13:]) {
			break
		}
		records = append(records, record{text[0], time.Unix(0, int64(binary.BigEndian.Uint64(text[1:]))), body})
		text = text[recordHead+n:]
	}
	return records
}

// StartJournal starts a journal in the state folder for the document at the path,
// or for one that has no file yet where document is empty.
func StartJournal(state, document string) (*Journal, error) {
	dir := filepath.Join(state, journalFolder)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, unwritable(dir, err)
	}
	stem := filepath.Join(dir, rand.Text())
	claim, err := stake(stem+claimEnding, absolute(document))
	if err != nil {
		return nil, unwritable(dir, err)
	}
	j := &Journal{path: stem + journalEnding, claim: claim}
	if err := j.restart(nil); err != nil {
		j.Close()
		return nil, err
	}
	return j, nil
}

// absolute makes the name of a document independent of the working folder.
func absolute(document string) string {
	if document == "" {
		return ""
	}
	if abs, err := filepath.Abs(document); err == nil {
		return abs
	}
	return document
}

// Others returns the other living windows, of any process of this user, that have
// the same document open now.
func (j *Journal) Others() ([]Owner, error) {
	return ownersOf(filepath.Dir(j.path), j.claim.owner.Document, j.claim.file.Name())
}

// Write notes the project as it is now. When it returns nil, what it wrote
// survives the end of the program and of the machine.
func (j *Journal) Write(p *draft.Project) error {
	r := record{recordProject, time.Now(), Encode(p)}
	entry := appendRecord(nil, r)
	if j.file == nil || j.count >= maxJournalRecords || j.size+int64(len(entry)) > maxJournalBytes {
		return j.restart(&r)
	}
	if err := j.append(entry); err != nil {
		return unwritable(j.path, err)
	}
	j.count++
	return nil
}

func (j *Journal) append(entry []byte) error {
	_, err := j.file.WriteAt(entry, j.size)
	if err == nil {
		err = j.file.Sync()
	}
	if err != nil {
		// Half a record would hide the ones that come after it.
		return errors.Join(err, j.file.Truncate(j.size))
	}
	j.size += int64(len(entry))
	return nil
}

// restart begins the journal anew, with at most one record. The old one is there
// until the new one is whole.
func (j *Journal) restart(first *record) error {
	text := []byte(journalMagic)
	text = appendRecord(text, record{recordDocument, time.Now(), []byte(j.claim.owner.Document)})
	count := 0
	if first != nil {
		text = appendRecord(text, *first)
		count = 1
	}
	j.stop()
	if err := Replace(j.path, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	}); err != nil {
		return err
	}
	f, err := os.OpenFile(j.path, os.O_RDWR, 0o600)
	if err != nil {
		return unwritable(j.path, err)
	}
	j.file, j.size, j.count = f, int64(len(text)), count
	return nil
}

// stop closes the file, if it is open.
func (j *Journal) stop() {
	if j.file != nil {
		j.file.Close()
		j.file = nil
	}
}

// Saved notes that the document now is on disk at the path, under a new name
// perhaps: there is nothing to recover until the next Write.
func (j *Journal) Saved(document string) error {
	if err := j.claim.move(absolute(document)); err != nil {
		return unwritable(j.path, err)
	}
	return j.restart(nil)
}

// Close ends the journal and removes it: the document was closed as its owner
// wished.
func (j *Journal) Close() error {
	j.stop()
	err := os.Remove(j.path)
	j.claim.drop()
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return unwritable(j.path, err)
	}
	return nil
}

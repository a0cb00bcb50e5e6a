package store

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"hemlet/draft"
)

// Stamp is what a file was when it was read or written, so that a change by
// another program is noticed.
type Stamp struct {
	Size    int64
	ModTime time.Time
	// Hash is the SHA-256 of the content.
	Hash [sha256.Size]byte
}

// Load reads a project file. Errors are of type *FileError and name the file, the
// line as far as there is one, and how to mend it.
func Load(path string) (*draft.Project, Stamp, error) {
	text, stamp, err := readFile(path, draft.MaxTextBytes)
	if err != nil {
		return nil, Stamp{}, named(path, err)
	}
	p, err := Decode(text)
	if err != nil {
		return nil, Stamp{}, named(path, err)
	}
	return p, stamp, nil
}

// readFile reads a plain file of at most limit bytes.
func readFile(path string, limit int64) ([]byte, Stamp, error) {
	// Asked before it is opened: opening a pipe waits for somebody who writes.
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, Stamp{}, &FileError{Says: "it is no plain file"}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, Stamp{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, Stamp{}, err
	}
	if info.Size() > limit {
		return nil, Stamp{}, tooLarge(limit)
	}
	// One byte more than the limit tells a file that grows while it is read.
	text, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, Stamp{}, err
	}
	if int64(len(text)) > limit {
		return nil, Stamp{}, tooLarge(limit)
	}
	return text, stampOf(info, text), nil
}

func tooLarge(limit int64) error {
	return &FileError{Says: fmt.Sprintf("it is larger than %d MiB, the most that is read", limit>>20)}
}

func stampOf(info fs.FileInfo, content []byte) Stamp {
	return Stamp{Size: int64(len(content)), ModTime: info.ModTime(), Hash: sha256.Sum256(content)}
}

// ErrChangedOutside is the cause of the error about a file that another program
// has changed since it was read or written.
var ErrChangedOutside = errors.New("the file was changed by another program")

// Changed reports whether the file at path no longer is what the stamp says. A
// file that is gone, or that cannot be read, has changed. It is cheap while size
// and time stay the same, so that a window may ask whenever it comes to the front.
func Changed(path string, was Stamp) bool {
	info, err := os.Stat(path)
	if err != nil {
		return true
	}
	if info.Size() == was.Size && info.ModTime().Equal(was.ModTime) {
		return false
	}
	return !sameContent(path, was)
}

// Now returns what the file at path is now, and whether that is another content than
// the stamp says. It is as cheap as Changed while size and time stay the same. A file
// that is gone or cannot be read is not told: there is nothing new to open.
func Now(path string, was Stamp) (now Stamp, changed bool) {
	if !Changed(path, was) {
		return was, false
	}
	_, now, err := readFile(path, draft.MaxTextBytes)
	if err != nil {
		return was, false
	}
	return now, now.Hash != was.Hash
}

// sameContent reports whether the file has the content that the stamp says,
// whatever its time.
func sameContent(path string, was Stamp) bool {
	_, now, err := readFile(path, draft.MaxTextBytes)
	return err == nil && now.Hash == was.Hash
}

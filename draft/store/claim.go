package store

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Owner is a window that has a document open.
type Owner struct {
	// Document is the file, empty for a document that has none yet.
	Document string    `json:"document"`
	Host     string    `json:"host"`
	PID      int       `json:"pid"`
	Since    time.Time `json:"since"`
}

// claimEnding ends the names of claims. A claim is a file in the state folder that
// its window holds locked as long as it lives, and that says who the window is. The
// system lets go of the lock when the process dies, however it dies, so that a
// stale claim is told from a live one without trusting process ids, which are used
// again.
const claimEnding = ".claim"

// claim is a claim of this process.
type claim struct {
	file  *os.File
	owner Owner
}

// stake makes a claim at the path, which must not exist.
func stake(path, document string) (*claim, error) {
	f, err := openLocked(path, true)
	if err != nil {
		return nil, err
	}
	host, _ := os.Hostname()
	c := &claim{f, Owner{Host: host, PID: os.Getpid(), Since: time.Now()}}
	if err := c.move(document); err != nil {
		c.drop()
		return nil, err
	}
	return c, nil
}

// move writes down that the window has another document now.
func (c *claim) move(document string) error {
	c.owner.Document = document
	note, err := json.Marshal(c.owner)
	if err != nil {
		return err
	}
	if err := c.file.Truncate(0); err != nil {
		return err
	}
	_, err = c.file.WriteAt(append(note, '\n'), 0)
	return err
}

// drop lets go of the claim and removes it. On Windows an open file cannot be
// removed, so it is closed first; whoever looks in between sees a stale claim.
func (c *claim) drop() {
	c.file.Close()
	os.Remove(c.file.Name())
}

// held reports whether a living process holds the claim at the path.
func held(path string) bool {
	f, err := openLocked(path, false)
	if err != nil {
		return !os.IsNotExist(err)
	}
	f.Close()
	return false
}

// maxClaimBytes bounds what is read of a claim.
const maxClaimBytes = 64 << 10

// readClaim returns who staked the claim at the path, as far as it says.
func readClaim(path string) (Owner, bool) {
	note, _, err := readFile(path, maxClaimBytes)
	if err != nil {
		return Owner{}, false
	}
	var o Owner
	return o, json.Unmarshal(note, &o) == nil
}

// ownersOf returns the living windows that have the document open, but for the one
// with the claim named own.
func ownersOf(dir, document, own string) ([]Owner, error) {
	if document == "" {
		return nil, nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var owners []Owner
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if !strings.HasSuffix(path, claimEnding) || path == own {
			continue
		}
		if o, ok := readClaim(path); ok && sameFile(o.Document, document) && held(path) {
			owners = append(owners, o)
		}
	}
	return owners, nil
}

// sameFile reports whether two paths lead to one file, whether or not it exists.
func sameFile(a, b string) bool {
	if a == b {
		return true
	}
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

package store

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"hemlet/draft"
)

// state returns the n-th state of a project that is worked on.
func stateOf(n int) *draft.Project {
	p := wardrobe(1)
	p.Name = fmt.Sprintf("state %d", n)
	return p
}

// die ends a journal as the end of its process does: nothing is removed.
func (j *Journal) die() {
	j.stop()
	j.claim.file.Close()
}

func startJournal(t *testing.T, state, document string) *Journal {
	t.Helper()
	j, err := StartJournal(state, document)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func recoverable(t *testing.T, state string) []Recovery {
	t.Helper()
	list, err := Recoverable(state)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func note(t *testing.T, j *Journal, n int) {
	t.Helper()
	if err := j.Write(stateOf(n)); err != nil {
		t.Fatal(err)
	}
}

// stateFiles returns the names of what is left in the folder of journals.
func stateFiles(t *testing.T, state string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(state, journalFolder))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestRecovery(t *testing.T) {
	state, dir := t.TempDir(), t.TempDir()
	if list := recoverable(t, filepath.Join(state, "none")); len(list) != 0 {
		t.Fatalf("without a folder: %v", list)
	}
	document := filepath.Join(dir, "Cape.hemlet")
	if _, err := Save(document, stateOf(0), nil); err != nil {
		t.Fatal(err)
	}
	j := startJournal(t, state, document)
	note(t, j, 1)
	note(t, j, 2)
	if list := recoverable(t, state); len(list) != 0 {
		t.Fatalf("a living window's document was offered: %v", list)
	}
	j.die()
	list := recoverable(t, state)
	if len(list) != 1 || list[0].Document != document || list[0].FileNewer || time.Since(list[0].When) > time.Minute {
		t.Fatalf("got %+v", list)
	}
	p, err := list[0].Project()
	if err != nil || p.Name != "state 2" {
		t.Fatalf("recovered %v, %v", p, err)
	}
	if d := cmp.Diff(stateOf(2), p); d != "" {
		t.Errorf("recovered:\n%s", d)
	}
	if err := list[0].Discard(); err != nil {
		t.Fatal(err)
	}
	if list, left := recoverable(t, state), stateFiles(t, state); len(list) != 0 || len(left) != 0 {
		t.Errorf("after dropping it: %v, %v", list, left)
	}
}

func TestRecoveryOfADocumentWithoutAFile(t *testing.T) {
	state := t.TempDir()
	j := startJournal(t, state, "")
	note(t, j, 1)
	if others, err := j.Others(); err != nil || len(others) != 0 {
		t.Errorf("others: %v, %v", others, err)
	}
	j.die()
	list := recoverable(t, state)
	if len(list) != 1 || list[0].Document != "" {
		t.Fatalf("got %+v", list)
	}
	if p, err := list[0].Project(); err != nil || p.Name != "state 1" {
		t.Errorf("recovered %v, %v", p, err)
	}
}

func TestNothingToRecover(t *testing.T) {
	document := filepath.Join(t.TempDir(), "Cape.hemlet")
	for name, end := range map[string]func(j *Journal) error{
		"closed":             func(j *Journal) error { return j.Close() },
		"nothing written":    func(j *Journal) error { return j.Saved(document) },
		"saved, then killed": func(j *Journal) error { _, err := Save(document, stateOf(1), nil); return err },
		"saved and noted": func(j *Journal) error {
			_, err := Save(document, stateOf(3), nil)
			return errors.Join(err, j.Saved(document))
		},
	} {
		state := t.TempDir()
		j := startJournal(t, state, document)
		note(t, j, 1)
		if err := end(j); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		j.die()
		if list, left := recoverable(t, state), stateFiles(t, state); len(list) != 0 || len(left) != 0 {
			t.Errorf("%s: %v, and left are %v", name, list, left)
		}
	}
}

func TestRecoveryTellsOfANewerFile(t *testing.T) {
	state, document := t.TempDir(), filepath.Join(t.TempDir(), "Cape.hemlet")
	j := startJournal(t, state, document)
	note(t, j, 1)
	j.die()
	if _, err := Save(document, stateOf(7), nil); err != nil {
		t.Fatal(err)
	}
	later := time.Now().Add(time.Hour)
	if err := os.Chtimes(document, later, later); err != nil {
		t.Fatal(err)
	}
	if list := recoverable(t, state); len(list) != 1 || !list[0].FileNewer {
		t.Errorf("got %+v", list)
	}
}

func TestJournalFollowsSaveAs(t *testing.T) {
	state, dir := t.TempDir(), t.TempDir()
	second := filepath.Join(dir, "Second.hemlet")
	j := startJournal(t, state, filepath.Join(dir, "First.hemlet"))
	note(t, j, 1)
	if _, err := Save(second, stateOf(1), nil); err != nil {
		t.Fatal(err)
	}
	if err := j.Saved(second); err != nil {
		t.Fatal(err)
	}
	note(t, j, 2)
	other := startJournal(t, state, second)
	if owners, err := other.Others(); err != nil || len(owners) != 1 || owners[0].PID != os.Getpid() || owners[0].Document != second {
		t.Errorf("the other window sees %+v, %v", owners, err)
	}
	j.die()
	if owners, err := other.Others(); err != nil || len(owners) != 0 {
		t.Errorf("a stale claim counts: %+v, %v", owners, err)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	if list := recoverable(t, state); len(list) != 1 || list[0].Document != second {
		t.Errorf("got %+v", list)
	}
}

func TestOthersSeeThroughLinks(t *testing.T) {
	state, dir := t.TempDir(), t.TempDir()
	document, link := filepath.Join(dir, "Cape.hemlet"), filepath.Join(dir, "link.hemlet")
	if _, err := Save(document, stateOf(0), nil); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(document, link); err != nil {
		t.Skipf("no links here: %v", err)
	}
	a, b := startJournal(t, state, document), startJournal(t, state, link)
	defer a.Close()
	defer b.Close()
	if owners, err := b.Others(); err != nil || len(owners) != 1 {
		t.Errorf("got %+v, %v", owners, err)
	}
}

func TestJournalIsBounded(t *testing.T) {
	state := t.TempDir()
	j := startJournal(t, state, "")
	defer j.Close()
	p := wardrobe(600) // about 1.7 MB
	for n := range 2*maxJournalRecords + 3 {
		if n%8 == 0 {
			p.Name = fmt.Sprintf("state %d", n)
			if err := j.Write(p); err != nil {
				t.Fatal(err)
			}
		} else {
			note(t, j, n)
		}
		info, err := os.Stat(j.path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Size() != j.size || j.size > maxJournalBytes || j.count > maxJournalRecords {
			t.Fatalf("after %d states: %d bytes, and %d noted in %d records", n, info.Size(), j.size, j.count)
		}
	}
	if got, err := (Recovery{stem: strings.TrimSuffix(j.path, journalEnding)}).Project(); err != nil || got.Name != fmt.Sprintf("state %d", 2*maxJournalRecords+2) {
		t.Errorf("the last state is %v, %v", got, err)
	}
}

// Wherever a journal breaks off, what was whole before can be recovered.
func TestTornJournals(t *testing.T) {
	state := t.TempDir()
	j := startJournal(t, state, "")
	ends := []int64{j.size}
	for n := 1; n <= 3; n++ {
		p := draft.New(fmt.Sprintf("state %d", n))
		if err := j.Write(p); err != nil {
			t.Fatal(err)
		}
		ends = append(ends, j.size)
	}
	whole := []byte(contentOf(t, j.path))
	j.die()
	for n := range len(whole) {
		want := -1
		for k, end := range ends {
			if int64(n) >= end {
				want = k
			}
		}
		if got := len(parseJournal(whole[:n])) - 1; got != want {
			t.Fatalf("the first %d bytes hold %d states; want %d", n, got, want)
		}
	}
	// A flipped bit takes its record and what follows, and nothing before.
	for n := range whole {
		torn := append([]byte(nil), whole...)
		torn[n] ^= 0x10
		records := parseJournal(torn)
		for k, r := range records {
			if k > 0 && string(r.body) != string(Encode(draft.New(fmt.Sprintf("state %d", k)))) {
				t.Fatalf("with byte %d spoilt record %d is wrong and passed", n, k)
			}
		}
	}
	write(t, j.path, string(whole[:len(whole)-1]))
	list := recoverable(t, state)
	if len(list) != 1 {
		t.Fatalf("got %v", list)
	}
	if p, err := list[0].Project(); err != nil || p.Name != "state 2" {
		t.Errorf("recovered %v, %v", p, err)
	}
}

// A process that is killed while it writes leaves a journal that gives back a
// state no older than the last one that it told of.
func TestKilledWhileWriting(t *testing.T) {
	if state := os.Getenv("STORE_TEST_WRITE_UNTIL_KILLED"); state != "" {
		j := startJournal(t, state, "")
		for n := 0; ; n++ {
			note(t, j, n)
			fmt.Println("wrote", n)
		}
	}
	for round := range 4 {
		state := t.TempDir()
		child := exec.Command(os.Args[0], "-test.run", "^TestKilledWhileWriting$")
		child.Env = append(os.Environ(), "STORE_TEST_WRITE_UNTIL_KILLED="+state)
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		told := -1
		enough := maxJournalRecords - 2 + 2*round // about the time when it starts over
		for told < enough && lines.Scan() {
			fmt.Sscanf(lines.Text(), "wrote %d", &told)
		}
		if list := recoverable(t, state); len(list) != 0 {
			t.Errorf("a living process's document was offered")
		}
		if err := child.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for lines.Scan() {
			fmt.Sscanf(lines.Text(), "wrote %d", &told)
		}
		child.Wait()
		list := recoverable(t, state)
		if len(list) != 1 {
			t.Fatalf("round %d: got %v from %v", round, list, stateFiles(t, state))
		}
		p, err := list[0].Project()
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		var got int
		if _, err := fmt.Sscanf(p.Name, "state %d", &got); err != nil || got < told {
			t.Errorf("round %d: it told of state %d, and %q was recovered", round, told, p.Name)
		}
	}
}

func TestSweepOfLeftovers(t *testing.T) {
	state := t.TempDir()
	dir := filepath.Join(state, journalFolder)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-2 * abandonedAfter)
	for name, stays := range map[string]bool{"old.claim": false, "old.part": false, "new.claim": true, "new.part": true, "old.txt": true} {
		path := filepath.Join(dir, name)
		write(t, path, "{}")
		if strings.HasPrefix(name, "old") {
			if err := os.Chtimes(path, old, old); err != nil {
				t.Fatal(err)
			}
		}
		recoverable(t, state)
		if _, err := os.Stat(path); (err == nil) != stays {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestStateDir(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	if got, err := StateDir(); err != nil || got != filepath.Join(dir, "hemlet") {
		t.Errorf("got %q, %v", got, err)
	}
	t.Setenv("XDG_STATE_HOME", "not/absolute")
	if got, err := StateDir(); err == nil && strings.HasPrefix(got, "not") {
		t.Errorf("a relative folder was taken: %q", got)
	}
}

func FuzzParseJournal(f *testing.F) {
	text := appendRecord([]byte(journalMagic), record{recordDocument, time.Unix(1, 2), []byte("x")})
	f.Add(appendRecord(text, record{recordProject, time.Unix(3, 4), []byte("format = 1")}))
	f.Fuzz(func(t *testing.T, text []byte) {
		again := []byte(journalMagic)
		records := parseJournal(text)
		for _, r := range records {
			again = appendRecord(again, r)
		}
		if len(records) > 0 && string(again) != string(text[:len(again)]) {
			t.Fatal("the records are not what the journal holds")
		}
	})
}

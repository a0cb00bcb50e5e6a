//go:build linux

package store

import (
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// In a process that may write only small files saving fails as it does on a full
// disk: in the middle of the file.
func TestSaveWithoutRoom(t *testing.T) {
	if path := os.Getenv("STORE_TEST_WITHOUT_ROOM"); path != "" {
		signal.Ignore(syscall.SIGXFSZ)
		const room = 2000
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: room, Max: room}); err != nil {
			t.Fatal(err)
		}
		_, err := Save(path, wardrobe(20), nil)
		if err == nil {
			t.Fatal("it was saved")
		}
		t.Fatal(err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "p.hemlet")
	write(t, path, "before")
	child := exec.Command(os.Args[0], "-test.run", "^TestSaveWithoutRoom$")
	child.Env = append(os.Environ(), "STORE_TEST_WITHOUT_ROOM="+path)
	out, err := child.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "the disk is full") {
		t.Errorf("the process ended with %v:\n%s", err, out)
	}
	if got := contentOf(t, path); got != "before" {
		t.Errorf("the target now holds %d bytes", len(got))
	}
	onlyFile(t, dir, "p.hemlet")
}

// Opening a named pipe would wait for somebody who writes into it.
func TestLoadRefusesAPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p.hemlet")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skipf("no pipes here: %v", err)
	}
	if _, _, err := Load(path); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("got %v", err)
	}
}

package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"hemlet/draft"
)

// onlyFile fails unless the folder holds the named file and nothing else.
func onlyFile(t *testing.T, dir, name string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 1 || entries[0].Name() != name {
		t.Fatalf("the folder holds %v (%v); want %s alone", entries, err, name)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func contentOf(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestReplaceKeepsTheTargetOnFailure(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "p.hemlet")
	write(t, path, "before")
	for name, cause := range map[string]error{
		"disk full": &fs.PathError{Op: "write", Path: path, Err: syscall.ENOSPC},
		"other":     errors.New("no more ink"),
	} {
		err := Replace(path, func(w io.Writer) error {
			if _, err := w.Write([]byte("half of what was to")); err != nil {
				return err
			}
			return cause
		})
		if !errors.Is(err, cause) {
			t.Errorf("%s: got %v", name, err)
		}
		if name == "disk full" && runtime.GOOS != "windows" && !strings.Contains(err.Error(), path+": it cannot be written: the disk is full") {
			t.Errorf("%s: got %v", name, err)
		}
		if got := contentOf(t, path); got != "before" {
			t.Errorf("%s: the target now holds %q", name, got)
		}
		onlyFile(t, dir, "p.hemlet")
	}
}

func TestReplaceMakesAndReplaces(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "p.hemlet")
	for _, text := range []string{"first", "second, longer", "3"} {
		if err := Replace(path, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
			t.Fatal(err)
		}
		if got := contentOf(t, path); got != text {
			t.Fatalf("got %q, want %q", got, text)
		}
	}
	onlyFile(t, dir, "p.hemlet")
}

func TestReplaceKeepsPermissionsAndLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions and links work otherwise on Windows")
	}
	dir := t.TempDir()
	sub := filepath.Join(dir, "sub")
	if err := os.Mkdir(sub, 0o777); err != nil {
		t.Fatal(err)
	}
	target, link, further := filepath.Join(sub, "target"), filepath.Join(dir, "link"), filepath.Join(dir, "further")
	write(t, target, "before")
	if err := errors.Join(os.Chmod(target, 0o640), os.Symlink("sub/target", link), os.Symlink(link, further)); err != nil {
		t.Fatal(err)
	}
	text := func(w io.Writer) error { _, err := io.WriteString(w, "after"); return err }
	if err := Replace(further, text); err != nil {
		t.Fatal(err)
	}
	if got := contentOf(t, target); got != "after" {
		t.Errorf("the target of the link holds %q", got)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
	if info, err := os.Stat(target); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the permissions are %v, %v; want 0640", info.Mode(), err)
	}
	onlyFile(t, sub, "target")

	dangling := filepath.Join(dir, "dangling")
	if err := os.Symlink("sub/new", dangling); err != nil {
		t.Fatal(err)
	}
	if err := Replace(dangling, text); err != nil || contentOf(t, filepath.Join(sub, "new")) != "after" {
		t.Errorf("through a link to nothing: %v", err)
	}
	circle := filepath.Join(dir, "circle")
	if err := os.Symlink(circle, circle); err != nil {
		t.Fatal(err)
	}
	if err := Replace(circle, text); err == nil || !strings.Contains(err.Error(), "circle") {
		t.Errorf("a link to itself: %v", err)
	}
}

func TestReplaceRefuses(t *testing.T) {
	dir := t.TempDir()
	never := func(io.Writer) error { t.Error("something was written"); return nil }
	if err := Replace(dir, never); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("a folder: %v", err)
	}
	if err := Replace(filepath.Join(dir, "none", "p"), never); err == nil || !strings.Contains(err.Error(), "no such file or folder") {
		t.Errorf("a folder that is not there: %v", err)
	}
	path := filepath.Join(dir, "p.hemlet")
	write(t, path, "before")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	err := Replace(path, never)
	if !errors.Is(err, ErrReadOnly) || !strings.Contains(err.Error(), "read-only") {
		t.Errorf("a read-only file: %v", err)
	}
	if got := contentOf(t, path); got != "before" {
		t.Errorf("the read-only file now holds %q", got)
	}
	onlyFile(t, dir, "p.hemlet")
}

func TestReplaceInAFolderThatMustNotBeWritten(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("folders have no such permission here, or it does not bind this user")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "p.hemlet")
	write(t, path, "before")
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	err := Replace(path, func(io.Writer) error { return nil })
	if err == nil || !strings.Contains(err.Error(), "permission is denied") || contentOf(t, path) != "before" {
		t.Errorf("got %v", err)
	}
}

func TestSaveNoticesOtherPrograms(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p.hemlet")
	write(t, path, sample)
	p, seen, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if Changed(path, seen) {
		t.Error("the file changed by being loaded")
	}
	// Touched, and not changed.
	later := seen.ModTime.Add(time.Hour)
	if err := os.Chtimes(path, later, later); err != nil {
		t.Fatal(err)
	}
	if Changed(path, seen) {
		t.Error("a new time passed for a change")
	}
	if seen, err = Save(path, p, &seen); err != nil {
		t.Fatal(err)
	}
	// Changed to the same size within the same instant: saving still notices.
	other := strings.Replace(contentOf(t, path), "Cape", "Hood", 1)
	write(t, path, other)
	if err := os.Chtimes(path, seen.ModTime, seen.ModTime); err != nil {
		t.Fatal(err)
	}
	if _, err := Save(path, p, &seen); !errors.Is(err, ErrChangedOutside) || !strings.Contains(err.Error(), path) {
		t.Errorf("saving over a changed file: %v", err)
	}
	if got := contentOf(t, path); got != other {
		t.Error("the changed file was overwritten")
	}
	write(t, path, other+"# more\n")
	if !Changed(path, seen) {
		t.Error("a longer file passed for unchanged")
	}
	// Said to replace it all the same.
	if seen, err = Save(path, p, nil); err != nil {
		t.Fatal(err)
	}
	// A file that has gone is written anew.
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if !Changed(path, seen) {
		t.Error("a file that is gone passed for unchanged")
	}
	if _, err := Save(path, p, &seen); err != nil {
		t.Errorf("saving where the file has gone: %v", err)
	}
}

// Of many that have read the same file and save at once, one does, and the others are
// told.
func TestSaveAtOnce(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("an open file cannot be replaced on Windows, so nothing is held there")
	}
	path := filepath.Join(t.TempDir(), "p.hemlet")
	write(t, path, sample)
	p, seen, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	const many = 16
	errs := make(chan error, many)
	start := make(chan struct{})
	for i := range many {
		q := *p
		q.Name = strings.Repeat("x", i+1)
		go func() {
			<-start
			_, err := Save(path, &q, &seen)
			errs <- err
		}()
	}
	close(start)
	saved := 0
	for range many {
		if err := <-errs; err == nil {
			saved++
		} else if !errors.Is(err, ErrChangedOutside) {
			t.Error(err)
		}
	}
	if saved != 1 {
		t.Errorf("%d of %d saved over each other", saved, many)
	}
	onlyFile(t, filepath.Dir(path), "p.hemlet")
}

func TestSaveRefusesWhatCouldNotBeLoaded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "p.hemlet")
	p := draft.New("Cape")
	p.Seams = []*draft.Seam{{ID: "s1", Name: "side", Ratio: 1, To: 1}}
	p.NextID = 2
	if _, err := Save(path, p, nil); err == nil || !strings.Contains(err.Error(), "seam side") {
		t.Errorf("an unsound project: %v", err)
	}
	p.Seams = nil
	p.Name = strings.Repeat("long ", draft.MaxTextBytes/5)
	if _, err := Save(path, p, nil); err == nil || !strings.Contains(err.Error(), "64 MiB") {
		t.Errorf("a project that is too large: %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a file was made")
	}
}

// A dragged node changes one line of the file.
func TestDraggedNodeChangesOneLine(t *testing.T) {
	p := wardrobe(3)
	before := strings.Split(string(Encode(p)), "\n")
	p.Pieces[1].Edges[2].Nodes[1].At.X += 3.25
	after := strings.Split(string(Encode(p)), "\n")
	if len(before) != len(after) {
		t.Fatalf("%d lines became %d", len(before), len(after))
	}
	changed := 0
	for i := range before {
		if before[i] != after[i] {
			changed++
		}
	}
	if changed != 1 {
		t.Errorf("%d lines changed", changed)
	}
}

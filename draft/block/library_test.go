package block

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// folder returns a folder with the files.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestFolder(t *testing.T) {
	dir := folder(t, map[string]string{
		"a.toml":       square,
		"again.toml":   square,
		"bag.toml":     strings.Replace(square, `name = "square"`, `name = "drawstring-bag"`, 1),
		"broken.toml":  strings.Replace(square, "side)\"", "sid)\"", 1),
		"large.toml":   strings.Repeat("#", MaxTextBytes+1),
		"notes.txt":    "no block",
		".hidden.toml": "no block",
	})
	if err := os.Mkdir(filepath.Join(dir, "sub.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	l, err := Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	says := map[string]string{}
	builtins := 0
	for _, e := range l.Entries() {
		if !e.Users {
			builtins++
			continue
		}
		says[e.File] = e.Says()
		if (e.Err == nil) == (e.Block == nil) {
			t.Errorf("%s: neither a block nor an error, or both", e.File)
		}
	}
	if builtins != len(Builtin())-1 {
		t.Errorf("%d built-in blocks beside one that is shadowed; there are %d", builtins, len(Builtin()))
	}
	for file, want := range map[string]string{
		"a.toml":      "",
		"again.toml":  "again.toml: name: a.toml is a block called square already; give this one another name",
		"bag.toml":    "bag.toml takes the place of the built-in block drawstring-bag; give it another name to have both",
		"broken.toml": "broken.toml line 24: steps.b: “right(a, sid)” at character 10: ",
		"large.toml":  "large.toml: it is larger than 1024 KiB, and no block is",
		"sub.toml":    "sub.toml: it is no file",
	} {
		got, there := says[file]
		if !there || !strings.HasPrefix(got, want) || want == "" && got != "" {
			t.Errorf("%s: %q, not %q", file, got, want)
		}
	}
	if len(says) != 6 {
		t.Errorf("files %v", says)
	}
	if b, err := l.Named("drawstring-bag"); err != nil || b.File() != "bag.toml" {
		t.Errorf("the user's block does not take the place of the built-in one: %v", err)
	}
	if _, err := l.Named("broken"); err == nil || !strings.Contains(err.Error(), "sid") {
		t.Errorf("the error of a broken file is not told: %v", err)
	}
	if _, err := l.Named("cloak"); err == nil || !strings.Contains(err.Error(), `; broken.toml has a mistake in line 24: steps.b: “right(a, sid)” at character 10: `) {
		t.Errorf("a broken file that may hold the block is not told: %v", err)
	}
	if _, err := l.Named("cloak"); err == nil || !strings.HasPrefix(err.Error(), `there is no block "cloak"; there is `) || !strings.Contains(err.Error(), "drawstring-bag") {
		t.Errorf("%v", err)
	}
}

func TestFolderThatIsNotThere(t *testing.T) {
	for _, dir := range []string{"", filepath.Join(t.TempDir(), "none")} {
		l, err := Folder(dir)
		if err != nil || len(l.Blocks()) != len(Builtin()) {
			t.Errorf("%q: %v, %v", dir, l, err)
		}
	}
	file := filepath.Join(folder(t, map[string]string{"x": ""}), "x")
	if _, err := Folder(file); err == nil {
		t.Error("a file was taken for a folder")
	}
}

// The stamp changes when a block is saved, added or taken away, and not otherwise.
func TestStamp(t *testing.T) {
	dir := folder(t, map[string]string{"a.toml": square})
	last := Stamp(dir)
	if Stamp(dir) != last {
		t.Error("the stamp changes by itself")
	}
	path := filepath.Join(dir, "a.toml")
	for what, act := range map[string]func() error{
		"saved": func() error { return os.WriteFile(path, []byte(square+"#"), 0o600) },
		"saved with the same size": func() error {
			return os.Chtimes(path, time.Time{}, time.Now().Add(3*time.Second))
		},
		"added": func() error { return os.WriteFile(filepath.Join(dir, "b.toml"), nil, 0o600) },
	} {
		if err := act(); err != nil {
			t.Fatal(err)
		}
		now := Stamp(dir)
		if now == last {
			t.Errorf("%s: the stamp stays", what)
		}
		last = now
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if Stamp(dir) == last {
		t.Error("taken away: the stamp stays")
	}
	if Stamp(filepath.Join(dir, "none")) == "" {
		t.Error("a folder that is not there has no stamp")
	}
}

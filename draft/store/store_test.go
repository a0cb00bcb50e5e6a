package store

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
)

func TestDecodeReadsWhatEncodeWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drafttest.Project(t)
		if err := draft.Validate(p); err != nil {
			t.Fatalf("the project that was made is not sound: %v", err)
		}
		text := Encode(p)
		q, err := Decode(text)
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if d := cmp.Diff(p, q); d != "" {
			t.Fatalf("what was read differs (- written, + read):\n%s", d)
		}
		if again := Encode(q); !bytes.Equal(again, text) {
			t.Fatalf("written again it differs:\n%s", cmp.Diff(string(text), string(again)))
		}
	})
}

func TestLoadReadsWhatSaveWrites(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		p := drafttest.Project(t)
		path := filepath.Join(dir, "p.hemlet")
		stamp, err := Save(path, p, nil)
		if err != nil {
			t.Fatal(err)
		}
		q, seen, err := Load(path)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(p, q); d != "" {
			t.Fatalf("what was loaded differs (- saved, + loaded):\n%s", d)
		}
		if seen.Hash != stamp.Hash || seen.Size != stamp.Size || !seen.ModTime.Equal(stamp.ModTime) {
			t.Fatalf("the stamp after saving is %v, after loading %v", stamp, seen)
		}
	})
}

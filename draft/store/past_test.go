package store

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/draft"
)

// pastOf returns n steps, each of which gives the project another name.
func pastOf(n int) []draft.Step {
	steps := make([]draft.Step, n)
	for i := range steps {
		steps[i] = draft.Step{Name: fmt.Sprintf("Step %d", i), Project: stateOf(i)}
	}
	return steps
}

// stampFor returns the stamp of a file that holds the project.
func stampFor(p *draft.Project) Stamp {
	text := Encode(p)
	return Stamp{Size: int64(len(text)), Hash: sha256.Sum256(text)}
}

func TestPastComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "steps")
		at := rapid.IntRange(0, n-1).Draw(t, "at")
		steps := pastOf(n)
		state, err := os.MkdirTemp("", "past")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(state)
		stamp := stampFor(steps[at].Project)
		if err := WritePast(state, "a.hemlet", stamp, steps, at); err != nil {
			t.Fatal(err)
		}
		got, stood, err := ReadPast(state, "a.hemlet", stamp)
		if err != nil || stood != at || len(got) != n {
			t.Fatalf("%d steps of %d, at %d of %d: %v", len(got), n, stood, at, err)
		}
		for i := range got {
			if got[i].Name != steps[i].Name {
				t.Errorf("step %d is called %q", i, got[i].Name)
			}
			if d := cmp.Diff(string(Encode(steps[i].Project)), string(Encode(got[i].Project))); d != "" {
				t.Errorf("step %d: %s", i, d)
			}
		}
	})
}

func TestPastBelongsToItsFile(t *testing.T) {
	state, steps := t.TempDir(), pastOf(3)
	if err := WritePast(state, "a.hemlet", stampFor(steps[2].Project), steps, 2); err != nil {
		t.Fatal(err)
	}
	if _, _, err := ReadPast(state, "a.hemlet", stampFor(steps[1].Project)); !errors.Is(err, ErrOtherFile) {
		t.Errorf("of a file that has changed: %v", err)
	}
	if got, _, err := ReadPast(state, "b.hemlet", stampFor(steps[2].Project)); err != nil || len(got) > 0 {
		t.Errorf("another file has %d steps: %v", len(got), err)
	}
}

func TestPastIsBounded(t *testing.T) {
	state, steps := t.TempDir(), pastOf(3*maxPastSteps)
	at := 2 * maxPastSteps
	stamp := stampFor(steps[at].Project)
	if err := WritePast(state, "a.hemlet", stamp, steps, at); err != nil {
		t.Fatal(err)
	}
	got, stood, err := ReadPast(state, "a.hemlet", stamp)
	if err != nil || len(got) != maxPastSteps || got[stood].Name != steps[at].Name {
		t.Fatalf("%d steps, the present one %q: %v", len(got), got[stood].Name, err)
	}
	for i := range maxPasts + 3 {
		if err := WritePast(state, fmt.Sprintf("%d.hemlet", i), stamp, steps[:1], 0); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadDir(filepath.Join(state, pastFolder))
	if err != nil || len(kept) != maxPasts {
		t.Errorf("%d histories are kept: %v", len(kept), err)
	}
}

// However a history is torn, what is read of it are whole steps in their order.
func TestTornPast(t *testing.T) {
	steps := pastOf(6)
	stamp := stampFor(steps[3].Project)
	text := encodePast("a.hemlet", stamp, steps, 3)
	for n := range len(text) {
		got, at, err := decodePast(text[:n], stamp.Hash[:])
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range got {
			if want := steps[3+i-at]; s.Name != want.Name || !bytes.Equal(Encode(s.Project), Encode(want.Project)) {
				t.Fatalf("cut at %d, step %d is %q", n, i, s.Name)
			}
		}
	}
}

func FuzzDecodePast(f *testing.F) {
	steps := pastOf(4)
	stamp := stampFor(steps[2].Project)
	f.Add(encodePast("a.hemlet", stamp, steps, 2))
	f.Add(appendRecord([]byte(pastMagic), record{kind: recordStep, body: stepBody(0, "x", nil, []byte("format = 7"))}))
	f.Fuzz(func(t *testing.T, text []byte) {
		got, at, err := decodePast(text, stamp.Hash[:])
		if err == nil && len(got) > 0 && (at < 0 || at >= len(got)) {
			t.Errorf("%d steps, at %d", len(got), at)
		}
		for _, s := range got {
			if s.Project == nil || !strings.EqualFold(s.Name, strings.ToValidUTF8(s.Name, "")) {
				t.Error("a step without a project or with a broken name")
			}
		}
	})
}

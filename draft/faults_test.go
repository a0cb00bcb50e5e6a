package draft_test

import (
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
)

// smock returns a project of testdata/true; sh .dev/faults remakes them.
func smock(t *testing.T, file string) *draft.Project {
	t.Helper()
	p, _, err := store.Load(filepath.Join("..", "testdata", "true", file))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// plantedFaults are what is wrong about the smock of faults.hemlet: how the key of the one
// finding about each ends, and what it is about.
var plantedFaults = []struct {
	fault, key, about string
	level             draft.Gravity
}{
	{"a side too long", "/length", "seam side", draft.Problem},
	{"a frill too long", "/length", "seam frill", draft.Problem},
	{"a missed notch", "/notch alone", "seam shoulder", draft.LookAgain},
	{"a kinked hem", "/kink", "seam centre back", draft.LookAgain},
	{"a head that will not pass", "opening/", "Smock, seam neck", draft.Problem},
	{"a sleeve that is not mirrored", "/not mirrored", "Sleeve", draft.Problem},
}

// told are the findings that ask for something; notes do not.
func told(p *draft.Project) []draft.Finding {
	var out []draft.Finding
	for _, f := range draft.NewSlots().Check(p).Findings {
		if f.Level < draft.Remark && f.Open() {
			out = append(out, f)
		}
	}
	return out
}

func TestSoundSmock(t *testing.T) {
	for _, f := range told(smock(t, "sound.hemlet")) {
		t.Errorf("finds %s about %s: %s", f.Key, f.About, f.Says)
	}
}

func TestPlantedFaults(t *testing.T) {
	p := smock(t, "faults.hemlet")
	found := told(p)
	for _, want := range plantedFaults {
		n := 0
		for _, f := range found {
			if strings.Contains(f.Key, want.key) && f.About == want.about {
				n++
				if f.Level != want.level {
					t.Errorf("%s is told as %q, want %q", want.fault, f.Level, want.level)
				}
				if len(f.Mends) == 0 {
					t.Errorf("%s has no mend", want.fault)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s is found %d times", want.fault, n)
		}
	}
	if len(found) != len(plantedFaults) {
		for _, f := range found {
			t.Logf("%s about %s: %s", f.Key, f.About, f.Says)
		}
		t.Errorf("found %d things, planted %d", len(found), len(plantedFaults))
	}
	tryMends(t, "faults", p)
}

// TestFaultsMendedByTheirFirstMends mends the smock from its findings alone: the first mend
// of the first finding, until nothing is left.
func TestFaultsMendedByTheirFirstMends(t *testing.T) {
	p := smock(t, "faults.hemlet")
	for range plantedFaults {
		found := told(p)
		if len(found) == 0 {
			break
		}
		f := found[0]
		if len(f.Mends) == 0 {
			t.Fatalf("%s has no mend: %s", f.Key, f.Says)
		}
		out, err := p.Do(f.Mends[0])
		if err != nil {
			t.Fatalf("%s: %s: %v", f.Key, f.Mends[0].Title, err)
		}
		t.Logf("%s: %s; moves at most %.2f mm", f.About, f.Mends[0].Title, draft.Movement(p, out.Project))
		p = out.Project
		for _, g := range told(p) {
			if g.Key == f.Key {
				t.Fatalf("%s is still there after %s: %s", f.Key, f.Mends[0].Title, g.Says)
			}
		}
	}
	for _, f := range told(p) {
		t.Errorf("still finds %s about %s: %s", f.Key, f.About, f.Says)
	}
}

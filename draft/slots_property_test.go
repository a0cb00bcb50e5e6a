package draft_test

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
)

// atBare are the acts that change what the bare project says, and one that leaves it alone.
var atBare = []string{"rename-piece", "name-edge", "set-kind", "set-cut", "set-garment", "link-seam", "edit-seam", "add-notch", "move-nodes"}

// However a project is changed, and whatever earlier one is gone back to, what slots keep is
// what is worked out from nothing; and what hangs on no shape comes out of the whole project
// as it does of the bare one.
func TestSlotsKeepWhatIsWorkedOutFromNothing(t *testing.T) {
	names := actNames()
	for range len(names) / len(atBare) / 2 {
		names = append(names, atBare...)
	}
	most := 14
	if testing.Short() {
		most = 6
	}
	checked := 0
	rapid.Check(t, func(t *rapid.T) {
		p := startOn(t)
		if rapid.IntRange(0, 2).Draw(t, "odd project") == 0 {
			p = drafttest.Project(t)
		}
		kept, projects := draft.NewSlots(), []*draft.Project{p}
		for range rapid.IntRange(1, most).Draw(t, "acts") {
			name := anyOf(t, names, "act")
			if rapid.IntRange(0, 5).Draw(t, "go back") == 0 {
				p = anyOf(t, projects, "earlier")
			} else if act, err := draft.ActNamed(name); err != nil {
				t.Fatal(err)
			} else if texts, ok := drawArgs(t, p, act); ok && !laysFlat[name] {
				if out, err := act.DoText(p, texts); err == nil {
					p = out.Project
					projects = append(projects, p)
				}
			}
			fresh := draft.NewSlots()
			if got, want := kept.Check(p), fresh.Check(p); !reflect.DeepEqual(got, want) {
				t.Fatalf("after %s the findings are\n%v\nand from nothing\n%v", name, got.Findings, want.Findings)
			}
			if got, want := kept.Joints(p), fresh.Joints(p); !reflect.DeepEqual(got, want) {
				t.Fatalf("after %s the joints are\n%v\nand from nothing\n%v", name, got, want)
			}
			if got, want := kept.Proofs(p), fresh.Proofs(p); !reflect.DeepEqual(got, want) {
				t.Fatalf("after %s the proofs are\n%v\nand from nothing\n%v", name, got, want)
			}
			if what := draft.BareLacks(p); what != "" {
				t.Fatalf("after %s the bare project lacks what the %s go by", name, what)
			}
			checked++
		}
	})
	t.Logf("%d projects checked", checked)
}

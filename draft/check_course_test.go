package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// The armhole of a front's near half goes on in the left back, to which its side and its
// shoulder are sewn; a row of edges that goes on in the right back leaps.
func TestSideThatLeapsToTheWrongCopy(t *testing.T) {
	for _, tc := range []struct {
		side, edges string
		right       string
	}{
		{"armhole", "a=Front.armhole + Back.armhole/reversed", "Front.armhole + Back.armhole/left/reversed"},
	} {
		p := sampleProject(t)
		if found := foundIn(p, "/leap a"); len(found) > 0 {
			t.Fatalf("the sample leaps: %+v", found)
		}
		p = doAll(t, p, [2]string{"edit-seam", "seam=" + tc.side + "|" + tc.edges})
		found := foundIn(p, "/leap a")
		if len(found) != 1 || !strings.Contains(found[0].About, tc.side) {
			t.Fatalf("%s: found %+v", tc.side, found)
		}
		for range 3 {
			if found = foundIn(p, "/leap a"); len(found) == 0 {
				break
			}
			out, err := p.Do(found[0].Mends[0])
			if err != nil {
				t.Fatal(err)
			}
			p = out.Project
		}
		for _, s := range p.Seams {
			if s.Name == tc.side && p.RunText(s.A) != tc.right {
				t.Errorf("%s: mended to %s, want %s", tc.side, p.RunText(s.A), tc.right)
			}
		}
	}
}

func TestDraftedAndSampleSeamsDoNotLeap(t *testing.T) {
	for _, p := range []*draft.Project{sampleProject(t), draftedFor(t, "bodice", "quill"), smock(t, "sound.hemlet"), smock(t, "faults.hemlet")} {
		for _, f := range draft.NewSlots().Check(p).Findings {
			if strings.Contains(f.Key, "/leap") {
				t.Errorf("%s: %s", f.Key, f.Says)
			}
		}
	}
}

package draft_test

import (
	"strings"
	"testing"

	"hemlet/draft"
)

// Nothing holds the back of the sample closed; hooks along it do, and so does a lap.
func TestSeamThatOpensIsHeldClosed(t *testing.T) {
	p := sampleProject(t)
	found := foundIn(p, "/open")
	if len(found) != 1 || found[0].Level != draft.Remark || len(found[0].Mends) == 0 {
		t.Fatalf("found %+v", found)
	}
	for _, m := range found[0].Mends {
		out, err := p.Do(m)
		if err != nil {
			t.Fatal(err)
		}
		if left := foundIn(out.Project, "/open"); len(left) != 0 {
			t.Errorf("after %q: %s", m.Title, left[0].Says)
		}
		// The neck of the sample has no room for a lap.
		if m.Act == "edit-seam" {
			t.Errorf("offers %q, and the neck has 1.9 mm to spare", m.Title)
		}
	}
	if sewn := foundIn(doAll(t, p, [2]string{"edit-seam", "seam=centre back|opens=no"}), "/open"); len(sewn) != 0 {
		t.Errorf("a seam that is sewn is told: %s", sewn[0].Says)
	}
}

// A neck that a lap makes too tight is mended by less of one.
func TestNeckTooTightWhenLapped(t *testing.T) {
	for _, tc := range []struct{ lap, title string }{{"8mm", "edge to edge"}, {"4mm", "edge to edge"}} {
		p := doAll(t, sampleProject(t), [2]string{"edit-seam", "seam=centre back|lap=" + tc.lap})
		var tight *draft.Finding
		for _, f := range draft.NewSlots().Check(p).Findings {
			if strings.HasPrefix(f.Key, "closed/") {
				tight = &f
			}
		}
		if tight == nil || len(tight.Mends) == 0 || !strings.Contains(tight.Mends[0].Title, tc.title) {
			t.Fatalf("a lap of %s: %+v", tc.lap, tight)
		}
		out, err := p.Do(tight.Mends[0])
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range draft.NewSlots().Check(out.Project).Findings {
			if f.Key == tight.Key {
				t.Errorf("after %q: %s", tight.Mends[0].Title, f.Says)
			}
		}
	}
}

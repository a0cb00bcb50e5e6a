package station

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/draft"
)

// A finding in hand with three buttons asks for no more width than its list has, and none of
// them lies beyond its card.
func TestOpenFindingKeepsToItsList(t *testing.T) {
	s, _ := truing(t)
	s.ways.Measure = func(draft.ID, string) {}
	proofs := s.desk.Slots().Proofs(s.desk.Project())
	i := slices.IndexFunc(proofs, func(pr draft.Proof) bool { return len(pr.Measures) > 0 && (!pr.Known || pr.Estimated) })
	findings := s.desk.Report().Findings
	k := slices.IndexFunc(findings, func(f draft.Finding) bool { return f.Open() && len(s.place(f)) > 0 })
	if i < 0 || k < 0 {
		t.Fatal("nothing in the sample has all three buttons")
	}
	f := findings[k]
	f.Key = proofs[i].Key
	s.findings.chosen = f.Key
	c := newFindingCard(s.findings, f, f.Key)
	if wide := c.object.MinSize().Width; wide > findingRoom {
		t.Errorf("the card asks for %g of %d", wide, findingRoom)
	}
	foot := c.foot()
	if len(foot.Objects) != 3 {
		t.Fatalf("it has %d buttons", len(foot.Objects))
	}
	foot.Resize(foot.MinSize())
	for _, o := range foot.Objects {
		if end := o.Position().Add(fyne.NewPos(o.Size().Width, o.Size().Height)); end.X > findingRoom-2*findingPad || end.Y > foot.Size().Height {
			t.Errorf("%q reaches to %v", o.(*control.Button).Word, end)
		}
	}
}

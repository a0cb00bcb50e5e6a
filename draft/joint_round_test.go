package draft_test

import (
	"math"
	"testing"

	"hemlet/draft"
)

// Under the arm front, back and both sides of the sleeve are sewn all round: no line runs on
// there, and more cloth comes together than lies flat round a point.
func TestNoJointWhereItIsSewnAllRound(t *testing.T) {
	p := smock(t, "faults.hemlet")
	all := draft.NewSlots().Joints(p)
	for _, j := range all {
		if math.Abs(j.Kink) >= math.Pi {
			t.Errorf("seam %s has a %s at its %s with a kink of %.0f°", j.Seam, j.What, j.End, j.Degrees())
		}
	}
	rounds := 0
	for _, s := range p.Seams {
		if s.Name != "right armhole" && s.Name != "left armhole" {
			continue
		}
		rounds++
		if list := draft.NewSlots().SeamJoints(p, s.ID); len(list) > 0 {
			t.Errorf("the %s has joints: %+v", s.Name, list)
		}
	}
	if rounds == 0 || len(all) == 0 {
		t.Errorf("%d armholes and %d joints were looked at", rounds, len(all))
	}
}

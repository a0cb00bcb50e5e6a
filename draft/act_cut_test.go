package draft

import (
	"strings"
	"testing"
)

// A seam of the half beyond the fold, or of a left copy, sews nothing once there is
// no such half or copy.
func TestNoWayToCutLeavesASeamWithoutItsCopy(t *testing.T) {
	p := mustDo(t, bodice(), "link-seam", "a=front.side/far", "b=back.side/left", "ends=as given", "both-sides=no").Project
	mustRefuse(t, p, "take the seam apart first", "set-kind", "edges=front.fold", "kind=seam")
	mustRefuse(t, p, "take the seam apart first", "set-cut", "pieces=front", "way=single")
	mustRefuse(t, p, "take the seam apart first", "set-kind", "edges=back.middle", "kind=fold")
	mustRefuse(t, p, "take the seam apart first", "set-cut", "pieces=back", "way=single")
}

func TestSeamForBothSidesStandsForOneWhereThereIsOne(t *testing.T) {
	p := mustDo(t, bodice(), "link-seam", "a=front.side", "b=back.side", "ends=as given").Project
	if !p.Seams[0].BothSides {
		t.Fatal("the side seam does not stand for both sides")
	}
	out := mustDo(t, p, "set-cut", "pieces=back", "way=single")
	if out.Project.Seams[0].BothSides || !strings.Contains(strings.Join(out.Says, " "), "no longer stands for the other side") {
		t.Errorf("both sides %t, says %v", out.Project.Seams[0].BothSides, out.Says)
	}
	if !p.Seams[0].BothSides {
		t.Error("the earlier project changed")
	}
	if kept := mustDo(t, p, "set-cut", "pieces=back", "way=pairs", "count=2"); !kept.Project.Seams[0].BothSides {
		t.Error("a seam with both its sides lost one")
	}
}

package draft

import "testing"

func TestOnlyWhatIsFoundCanBeWaived(t *testing.T) {
	a, b := square("a", 80, 5), square("b", 90, 5)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	for _, key := range []string{"seam/s2/length", "seam/s1", "piece/a/outline"} {
		mustRefuse(t, p, "find nothing", "waive", "finding="+key, "reason=it stretches")
	}
	mustRefuse(t, p, "needs a reason", "waive", "finding=seam/s1/length", "reason= ")
	out := mustDo(t, p, "waive", "finding=seam/s1/length", "reason=it stretches")
	if worst, _ := Worst(NewSlots().Check(out.Project).Findings); worst == Problem {
		t.Error("the waived seam still counts")
	}
	// What has been mended since may be told again all the same.
	out.Project.Seams = nil
	if again := mustDo(t, out.Project, "unwaive", "finding=seam/s1/length"); len(again.Project.Waivers) != 0 {
		t.Errorf("waivers %v", again.Project.Waivers)
	}
}

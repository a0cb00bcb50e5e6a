package draft

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// notched is a front and a back with a side seam of 80 mm and notches at the places along
// the two sides, in mm up from the hem.
func notched(t fataler, front, back []float64) *Project {
	t.Helper()
	p := sewn(t, slanting(0, 0), [2]string{"front.side", "back.side"})
	for _, at := range front {
		p = mustDo(t, p, "add-notch", "edge=front.side", fmt.Sprintf("at=%gmm", at)).Project
	}
	for _, at := range back {
		p = mustDo(t, p, "add-notch", "edge=back.side", fmt.Sprintf("at=%gmm", at)).Project
	}
	return p
}

// aboutNotches lists what is found about notches that do not match.
func aboutNotches(p *Project) []Finding {
	var out []Finding
	for _, f := range NewSlots().Check(p).Findings {
		if strings.Contains(f.Key, "/notch") && f.Seam != "" {
			out = append(out, f)
		}
	}
	return out
}

// The side may be off by half a millimetre, and so may its notches.
func TestNotchesWithoutPartners(t *testing.T) {
	for _, tc := range []struct {
		name        string
		front, back []float64
		says        []string
	}{
		{"none", nil, nil, nil},
		{"a pair", []float64{20}, []float64{20.4}, nil},
		{"two pairs", []float64{20, 50}, []float64{50, 20}, nil},
		{"one missed", []float64{20}, nil, []string{"has no partner: on the side of back one belongs 20 mm from the hem"}},
		{"one missed of the other side", nil, []float64{70}, []string{"on the side of front one belongs 10 mm from the waist"}},
		{"a pair that misses", []float64{20}, []float64{23}, []string{"miss each other by 3 mm"}},
		{"far apart", []float64{20}, []float64{60}, []string{"20 mm from the hem", "20 mm from the waist"}},
		{"one of two", []float64{20, 50}, []float64{50}, []string{"20 mm from the hem"}},
		{"at the end, where the hem is", []float64{0.2}, nil, nil},
	} {
		p := notched(t, tc.front, tc.back)
		found := aboutNotches(p)
		if len(found) != len(tc.says) {
			t.Errorf("%s: found %+v, want %d", tc.name, found, len(tc.says))
			continue
		}
		for i, f := range found {
			if !strings.Contains(f.Says, tc.says[i]) || f.Level != LookAgain || f.At == nil {
				t.Errorf("%s: %+v, want it to say %q", tc.name, f, tc.says[i])
			}
			checkMended(t, p, f)
		}
	}
}

// checkMended does each mend of a finding: it is gone then, and nothing new is found.
func checkMended(t fataler, p *Project, f Finding) {
	t.Helper()
	if len(f.Mends) == 0 {
		t.Fatalf("%s: no mend", f.Key)
	}
	for _, m := range f.Mends {
		out, err := p.Do(m)
		if err != nil {
			t.Fatalf("%s: %v: %v", f.Key, m, err)
		}
		if was, is := len(aboutNotches(p)), len(aboutNotches(out.Project)); is != was-1 {
			t.Fatalf("%s: after %q %d are found, before %d: %+v", f.Key, m.Title, is, was, aboutNotches(out.Project))
		}
	}
}

// A side that is too long is told once: its notches may miss by as much.
func TestOneFaultIsToldOnce(t *testing.T) {
	p := notched(t, []float64{40}, []float64{42})
	p = mustDo(t, p, "move-nodes", "nodes=back.hem/start;back.side/start", "by=0mm,-2mm").Project
	if found := aboutNotches(p); len(found) != 0 {
		t.Errorf("the back is 2 mm too long, and of its notches is told %+v", found)
	}
}

// Marks are always pairs: of a seam notched by rule nothing is found, whatever is done.
func TestNotchedSeamsAreNotAccused(t *testing.T) {
	p := mustDo(t, armholeAndCap(t), "notch-seam", "seam=armhole").Project
	p = mustDo(t, p, "notch-seam", "seam=side").Project
	for _, f := range aboutNotches(p) {
		t.Errorf("%s: %s", f.Key, f.Says)
	}
	rapid.Check(t, func(t *rapid.T) {
		by := rapid.Float64Range(-20, 20).Draw(t, "by")
		q := mustDo(t, p, "move-nodes", "nodes=back.hem/start;back.side/start", fmt.Sprintf("by=0mm,%.3fmm", by)).Project
		q = mustDo(t, q, "move-nodes", "nodes=front.armhole/start", fmt.Sprintf("by=%.3fmm,0mm", math.Abs(by)/3)).Project
		for _, f := range aboutNotches(q) {
			t.Fatalf("%s: %s", f.Key, f.Says)
		}
	})
}

// Front single, behind double: a cap whose halves bear the same number can be set in the
// wrong way round.
func TestCapThatCanBeTurned(t *testing.T) {
	p := mustDo(t, armholeAndCap(t), "notch-seam", "seam=armhole").Project
	for _, tc := range []struct{ notch, double string }{{"back.armhole#1", "no"}, {"front.armhole#1", "yes"}} {
		q := mustDo(t, p, "set-notch", "notches="+tc.notch, "double="+tc.double).Project
		found := findingsAbout(NewSlots().Check(q), "/notches alike")
		if len(found) != 1 || found[0].Level != Remark {
			t.Fatalf("%s with double=%s: found %+v", tc.notch, tc.double, found)
		}
		checkMended(t, q, found[0])
	}
	// Set by hand it is the same.
	q := armholeAndCap(t)
	for _, at := range []string{"front.armhole|at=12mm", "back.armhole|at=12mm|double=no", "sleeve.cap|at=12mm|double=no", "sleeve.cap|at=12mm from end|double=no"} {
		q = mustDo(t, q, "add-notch", strings.Split("edge="+at, "|")...).Project
	}
	found := findingsAbout(NewSlots().Check(q), "/notches alike")
	if len(found) != 1 || len(aboutNotches(q)) != 1 {
		t.Fatalf("found %+v", aboutNotches(q))
	}
	checkMended(t, q, found[0])
}

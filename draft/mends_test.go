package draft_test

import (
	"fmt"
	"testing"

	"hemlet/draft"
)

// tryMends does every mend of every finding of a project: the finding is gone then or
// smaller, and none appears that is graver. It returns the acts that were done.
func tryMends(t *testing.T, name string, p *draft.Project) map[string]int {
	t.Helper()
	done := make(map[string]int)
	before := draft.NewSlots().Check(p).Findings
	sound := draft.Validate(p) == nil
	had := make(map[string]bool)
	for _, f := range before {
		had[f.Key] = true
	}
	for _, f := range before {
		for _, m := range f.Mends {
			where := fmt.Sprintf("%s: %s: %q (%s %v)", name, f.Key, m.Title, m.Act, m.Args)
			if m.Title == "" {
				t.Errorf("%s: has no title", where)
			}
			out, err := p.Do(m)
			if err != nil {
				t.Errorf("%s: %v", where, err)
				continue
			}
			done[m.Act]++
			if err := draft.Validate(out.Project); err != nil && sound {
				t.Errorf("%s: leaves %v", where, err)
			}
			for _, g := range draft.NewSlots().Check(out.Project).Findings {
				switch {
				case g.Key == f.Key && !isLess(g, f):
					t.Errorf("%s: still says: %s", where, g.Says)
				case g.Seam != "" && p.Seam(g.Seam) == nil: // about the seam that the mend made
				case !had[g.Key] && g.Level < f.Level:
					t.Errorf("%s: now finds %s: %s", where, g.Key, g.Says)
				}
			}
		}
	}
	return done
}

// isLess reports whether a finding is smaller than it was: the value nearer to its limit,
// or fewer words of a list.
func isLess(now, was draft.Finding) bool {
	off := func(f draft.Finding) float64 { return max(f.Value-f.Limit, f.Limit-f.Value) }
	if was.Value != 0 || was.Limit != 0 {
		return off(now) < off(was)
	}
	return now.Level > was.Level || now.Says != was.Says && len(now.Says) < len(was.Says)
}

func TestMendsOfBrokenPieces(t *testing.T) {
	// Nobody but the maker knows what was meant.
	without := map[string]bool{
		"crossing outline": true, "hollow tighter than the allowance piece/p/p.e0/short": true,
		"tiny piece piece/p/narrow": true,
	}
	for name, p := range draft.BrokenPieces() {
		t.Run(name, func(t *testing.T) {
			tryMends(t, name, p)
			for _, f := range draft.NewSlots().Check(p).Findings {
				if len(f.Mends) == 0 && !without[name] && !without[name+" "+f.Key] {
					t.Errorf("%s has no mend: %s", f.Key, f.Says)
				}
			}
		})
	}
}

func TestMendsOfTheSample(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	sample := sampleProject(t)
	lined := doAll(t, sample, [2]string{"line-piece", "piece=Back"})
	for _, tc := range []struct {
		name string
		p    *draft.Project
		want []string
	}{
		{"as shipped", sample, []string{"match-seam", "ratio-as-it-is", "set-kind"}},
		{"taken apart", unsewn(sample), []string{"link-seam"}},
		{"no cloth", doAll(t, sample, [2]string{"set-cloth", "pieces=Front"}), []string{"set-cloth"}},
		{"a side too long", doAll(t, sample, [2]string{"set-edge-length", "edge=Front.side|length=81mm|moves=start"}), []string{"match-seam", "take-up"}},
		{"sewn twice", doAll(t, sample, [2]string{"link-seam", "a=Front.side|b=Cuff.end 1"}), []string{"unlink-seam"}},
		{"lining behind", lined, nil},
		{"sleeves alike", doAll(t, twoSleeves(t), [2]string{"unlink-seam", "seams=left sleeve"}), []string{"cut-left-right"}},
		{"sleeves drawn alike", leftAndRight(t), []string{"turn-for-side"}},
		{"a slip of the tape", doAll(t, sample, [2]string{"set-measure", "wearer=Quill|name=waist_girth|value=2380mm"}), []string{"clear-measure"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			done := tryMends(t, tc.name, tc.p)
			for _, act := range tc.want {
				if done[act] == 0 {
					t.Errorf("no finding was mended by %s; done: %v", act, done)
				}
			}
		})
	}
}

// A mend leaves what it was offered for as it is on the project it came from.
func TestMendOfAnUnknownAct(t *testing.T) {
	if _, err := sampleProject(t).Do(draft.Mend{Act: "no-such-act"}); err == nil {
		t.Error("an act that does not exist was done")
	}
}

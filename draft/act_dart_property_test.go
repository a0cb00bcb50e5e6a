package draft_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/draft/drafttest"
)

// On any piece, however odd, the acts on darts and fullness make a sound project or refuse
// in words.
func TestDartActsOnOddPieces(t *testing.T) {
	names := []string{"add-dart", "move-dart", "set-dart", "delete-dart", "pivot-dart", "absorb-dart", "dart-to-seam", "add-fullness", "slash-spread", "add-pleats", "add-tucks"}
	done := make(map[string]int)
	rapid.Check(t, func(t *rapid.T) {
		p := drafttest.Project(t)
		if rapid.Bool().Draw(t, "a workshop") {
			p = workshop(t)
		}
		for range 15 {
			act, err := draft.ActNamed(rapid.SampledFrom(names).Draw(t, "act"))
			if err != nil {
				t.Fatal(err)
			}
			texts, ok := drawArgs(t, p, act)
			if !ok {
				continue
			}
			out, err := act.DoText(p, texts)
			if err != nil {
				if strings.Contains(err.Error(), "NaN") || strings.Contains(err.Error(), "Inf") {
					t.Fatalf("%s %v: %v", act.Info().Name, texts, err)
				}
				continue
			}
			if err := draft.Validate(out.Project); err != nil {
				t.Fatalf("%s %v: %v", act.Info().Name, texts, err)
			}
			done[act.Info().Name]++
			p = out.Project
		}
	})
	for _, name := range []string{"add-dart", "delete-dart", "set-dart", "absorb-dart"} {
		if done[name] == 0 && !testing.Short() {
			t.Errorf("%s was never done", name)
		}
	}
}

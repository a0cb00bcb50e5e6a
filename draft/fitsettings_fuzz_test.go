package draft

import (
	"math"
	"strings"
	"testing"
)

// Whatever a file says of a fit, its settings are read or refused, what is read lies within
// the limits, and it is written so that it is read back the same.
func FuzzReadFitPlan(f *testing.F) {
	for _, s := range [][2]string{
		{"ease", "kept"}, {"keep", "widths"}, {"target p1/m2", "ease 6mm"}, {"target front.x/m2", "length 1e400mm"},
		{"weight p1/m2", "NaN"}, {"weight p1/m2", "10"}, {"intake p1/d2", "width 8mm"}, {"intake p1/d2", "scaled"}, {"target /", "free"}, {"intake p", "width"},
		{"under o5", "2mm"},
	} {
		f.Add(s[0], s[1])
	}
	f.Fuzz(func(t *testing.T, name, value string) {
		plan, err := readFitPlan([]Setting{{name, value}})
		if err != nil {
			if !strings.Contains(err.Error(), "of the fit") {
				t.Errorf("%v does not say where", err)
			}
			return
		}
		for k, r := range plan.targets {
			if again, err := readTargetRule(r.String()); err != nil || math.Abs(again.value-r.value) > Grid || again.by != r.by {
				t.Errorf("%v: %q is read back as %v, %v", k, r, again, err)
			}
			if r.by == TargetLength && !(r.value >= shortestStretch && r.value <= MaxCoordinate) || !(math.Abs(r.value) <= MaxCoordinate) {
				t.Errorf("%v is to be %g mm", k, r.value)
			}
		}
		for k, w := range plan.weights {
			if !(w >= leastFitWeight && w <= largestFitWeight) {
				t.Errorf("%v counts %g", k, w)
			}
		}
		for k, w := range plan.intakes {
			if !(w >= leastIntake && w <= MaxCoordinate) {
				t.Errorf("%v takes in %g mm", k, w)
			}
		}
	})
}

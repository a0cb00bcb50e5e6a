package draft

import (
	"math"
	"testing"
)

// A piece whose outline is symmetric about its grain stays so in a fit wherever its points lie
// on it, as after tracing; one that is a hundredth of its size off is not taken for it.
func TestAxisOfCourse(t *testing.T) {
	for _, c := range []struct {
		name, line string
		axis       bool
	}{
		{"as it was drawn", "M 0 0 L 100 0 L 100 100 C 70 220 30 220 0 100 Z", true},
		// The same curve, parted at 0.4 of it (de Casteljau).
		{"parted beside its top", "M 0 0 L 100 0 L 100 100 C 88 148 74.4 176.8 60.48 186.4 C 39.6 200.8 18 172 0 100 Z", true},
		{"lopsided", "M 0 0 L 100 0 L 100 102 C 70 222 30 220 0 100 Z", false},
	} {
		p := mustDo(t, New("course"), "draw-piece", "name=cap", "line="+c.line).Project
		g := newMatching(p).take(p.Pieces[0])
		axis, ok := g.axisOfCourse()
		if ok != c.axis {
			t.Errorf("%s: an axis is found: %v, want %v", c.name, ok, c.axis)
		}
		if ok && math.Abs(axis[0].X-50) > 0.01 {
			t.Errorf("%s: the axis lies at %.3f mm, want 50", c.name, axis[0].X)
		}
	}
}

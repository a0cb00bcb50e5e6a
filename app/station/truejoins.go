package station

import (
	"math"

	"hemlet/draft"
)

// joints returns the joints of the seam that can be looked at.
func (t *Truing) joints(seam draft.ID) []draft.SeamJoint {
	if t.ways.Join == nil {
		return nil
	}
	var out []draft.SeamJoint
	for _, j := range t.desk.Slots().Joints(t.desk.Project()) {
		if j.Seam == seam {
			out = append(out, j)
		}
	}
	return out
}

// seeJoins shows the pieces laid together at an end of the seam in hand: that with the
// greater kink, if there is any.
func (t *Truing) seeJoins() {
	joints := t.joints(t.seams.chosen)
	if len(joints) == 0 {
		return
	}
	worst := joints[0]
	for _, j := range joints[1:] {
		if seenKink(j) > seenKink(worst) {
			worst = j
		}
	}
	t.ways.Join(worst.Seam, worst.End)
	t.ways.Away()
}

// seenKink is the angle in radians of a kink that shows, 0 where there is none.
func seenKink(j draft.SeamJoint) float64 {
	if j.Smooth() || j.Corner() || j.DrawnUp {
		return 0
	}
	return math.Abs(j.Kink)
}

// showJoint shows the kink of which a finding tells with its pieces laid together, and
// reports whether there is one.
func (t *Truing) showJoint(f draft.Finding) bool {
	end, ok := draft.KinkAt(f)
	if !ok {
		return false
	}
	for _, j := range t.joints(f.Seam) {
		if j.End == end {
			t.ways.Join(f.Seam, end)
			return true
		}
	}
	return false
}

package station

import "hemlet/draft"

// joints returns the joints of the seam that can be looked at, that with the greatest kink
// first.
func (t *Truing) joints(seam draft.ID) []draft.SeamJoint {
	if t.ways.Join == nil {
		return nil
	}
	return t.desk.Slots().SeamJoints(t.desk.Project(), seam)
}

// seeJoins shows the pieces laid together at an end of the seam in hand: that with the
// greater kink, if there is any.
func (t *Truing) seeJoins() {
	if joints := t.joints(t.seams.chosen); len(joints) > 0 {
		t.ways.Join(joints[0].Seam, joints[0].End)
		t.ways.Away()
	}
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

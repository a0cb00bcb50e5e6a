package draft

import (
	"testing"

	"hemlet/draft/body"
)

// unfolded in mm is within which a fitted bodice lies of the one drafted at once where no
// corner of it is folded over. Folded, the side of these lay 74 mm off.
const unfolded = 30

// Two bodies of ANSUR II (see bodytest.Columns), about a tenth apart in their girths. The
// front's side hardly turns below the bust on the first, and turns to the other side on the
// second: if it may not, all lengths hold only with a corner folded over.
func TestFitFoldsNoCorner(t *testing.T) {
	from := body.Given{"bust_girth": 963, "waist_girth": 1003, "hip_girth": 1015, "waist_to_hip": 71, "back_waist_length": 407, "back_width": 398, "armscye_depth": 157, "shoulder_length": 130, "neck_base_girth": 339, "upper_arm_girth": 283, "bust_height": 1052, "waist_height": 880, "neck_height": 1280, "stature": 1494}
	to := body.Given{"bust_girth": 1137, "waist_girth": 1038, "hip_girth": 1059, "waist_to_hip": 151, "back_waist_length": 528, "back_width": 473, "armscye_depth": 205, "shoulder_length": 157, "neck_base_girth": 446, "upper_arm_girth": 407, "bust_height": 1328, "waist_height": 1048, "neck_height": 1572, "stature": 1806}
	fitsUnfolded(t, from, to)
}

// Two more of them. The front of the first goes out from the bust to the waist, that of the
// second in: with a side that may only bend the way it did, bust and waist came out alike,
// 12 and 23 mm off.
func TestFitTurnsWhatHasToTurn(t *testing.T) {
	from := body.Given{"bust_girth": 901, "waist_girth": 944, "hip_girth": 1001, "waist_to_hip": 101, "back_waist_length": 446, "back_width": 370, "armscye_depth": 145, "shoulder_length": 136, "neck_base_girth": 375, "upper_arm_girth": 280, "bust_height": 1196, "waist_height": 984, "neck_height": 1421, "stature": 1662}
	to := body.Given{"bust_girth": 854, "waist_girth": 767, "hip_girth": 956, "waist_to_hip": 139, "back_waist_length": 433, "back_width": 315, "armscye_depth": 166, "shoulder_length": 133, "neck_base_girth": 345, "upper_arm_girth": 280, "bust_height": 1135, "waist_height": 947, "neck_height": 1394, "stature": 1623}
	fitsUnfolded(t, from, to)
}

// fitsUnfolded fits the bodice of one body to another, near the one drafted for it at once.
func fitsUnfolded(t *testing.T, from, to body.Given) {
	t.Helper()
	pair, err := draftPair("bodice", nil, from, to)
	if err != nil {
		t.Fatal(err)
	}
	if !pair.sameMake() {
		t.Fatal("the drafts cannot be compared")
	}
	x, err := pair.fit(EaseScaled)
	if err != nil {
		t.Fatal(err)
	}
	if gap, _ := x.gaps(); gap.largest > unfolded {
		t.Errorf("the bodice lies %.1f mm from the one drafted at once", gap.largest)
	}
	if worst := x.worstSpan(); worst > spanBar {
		t.Errorf("a target is missed by %.3f mm", worst)
	}
}

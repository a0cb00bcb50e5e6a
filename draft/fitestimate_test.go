package draft

import (
	"math"
	"testing"

	"hemlet/draft/body"
)

// The block reads a front length that nobody took otherwise than the catalogue does. What
// was drafted with it goes on to be read so: the front becomes as long as the block drafts
// it for the new body at once.
func TestFitReadsWhatTheBlockRead(t *testing.T) {
	from := body.Given{"bust_girth": 996, "waist_girth": 960, "hip_girth": 1030, "back_waist_length": 444, "neck_base_girth": 347}
	to := body.Given{"bust_girth": 1120, "waist_girth": 1010, "hip_girth": 1090, "back_waist_length": 466, "neck_base_girth": 471}
	pair, err := draftPair("bodice", nil, from, to)
	if err != nil {
		t.Fatal(err)
	}
	x, err := pair.fit(EaseScaled)
	if err != nil {
		t.Fatal(err)
	}
	some := false
	for _, target := range x.state.Targets {
		if target.Span.Name != "front length" {
			continue
		}
		some = true
		at := func(list []*Piece) float64 {
			return NewSlots().SpanLength(pieceOfList(list, target.Piece.ID), target.Span)
		}
		if want := at(x.direct); math.Abs(target.Wants-want) > 0.01 {
			t.Errorf("wanted %.2f mm of the front length, and the block makes it %.2f", target.Wants, want)
		}
		if by := body.Resolve(to).MM("front_waist_length"); math.Abs(target.New-by) < 1 {
			t.Errorf("the catalogue's estimate %.1f mm is too near the block's for this test", by)
		}
	}
	if !some {
		t.Error("there is no front length")
	}
}

// A setting that is no estimate is refused as a setting, and does not end the program.
func TestFitEstimateSettings(t *testing.T) {
	good := Setting{estimateSetting("o3", "front_waist_length"), "back_waist_length - neck_base_girth/8"}
	plan, err := readFitPlan([]Setting{good})
	if err != nil {
		t.Fatal(err)
	}
	g := body.Given{"back_waist_length": 400, "neck_base_girth": 360}
	if mm := plan.resolve("o3", g).MM("front_waist_length"); math.Abs(mm-355) > 1e-9 {
		t.Errorf("the front is read as %g mm, want 355", mm)
	}
	if mm, plain := plan.resolve("o4", g).MM("front_waist_length"), body.Resolve(g).MM("front_waist_length"); mm != plain {
		t.Errorf("what came from elsewhere reads it as %g mm, want the catalogue's %g", mm, plain)
	}
	for _, bad := range []Setting{
		{estimateSetting("o3", "front_waist_length"), "back_waist_length*"},
		{estimateSetting("o3", "front_waist_length"), "2"},
		{estimateSetting("o3", "no name"), "back_waist_length"},
	} {
		if _, err := readFitPlan([]Setting{bad}); err == nil {
			t.Errorf("%q = %q is taken", bad.Name, bad.Value)
		}
	}
}

// An estimate of a block may read another measure that only this block knows.
func TestFitEstimatesReadEachOther(t *testing.T) {
	wide := Setting{estimateSetting("o3", "crest_width"), "crest_height/2"}
	plan, err := readFitPlan([]Setting{wide, {estimateSetting("o3", "crest_height"), "head_girth/4"}})
	if err != nil {
		t.Fatal(err)
	}
	if mm := plan.resolve("o3", body.Given{"head_girth": 400}).MM("crest_width"); math.Abs(mm-50) > 1e-9 {
		t.Errorf("the crest is read as %g mm wide, want 50", mm)
	}
	if _, err := readFitPlan([]Setting{wide, {estimateSetting("o4", "crest_height"), "head_girth/4"}}); err == nil {
		t.Error("what another origin knows is read")
	}
}

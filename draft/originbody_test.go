package draft

import (
	"math"
	"strings"
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

// An estimate that cannot be read counts for none; the fit says so, and the program goes on.
func TestOriginEstimates(t *testing.T) {
	good := []OriginEstimate{{"front_waist_length", "back_waist_length - neck_base_girth/8"}}
	g := body.Given{"back_waist_length": 400, "neck_base_girth": 360}
	o := &Origin{ID: "o3", Estimates: good}
	if err := o.checkEstimates(); err != nil {
		t.Fatal(err)
	}
	if mm := o.Read(g).MM("front_waist_length"); math.Abs(mm-355) > 1e-9 {
		t.Errorf("the front is read as %g mm, want 355", mm)
	}
	plain := body.Resolve(g).MM("front_waist_length")
	var none *Origin
	if mm := none.Read(g).MM("front_waist_length"); mm != plain {
		t.Errorf("what came from nowhere reads it as %g mm, want the catalogue's %g", mm, plain)
	}
	if none.Body() != nil || o.Body() != nil {
		t.Error("without a measure something is known of the body")
	}
	o.Measures = []OriginMeasure{{"back_waist_length", 400}, {"neck_base_girth", 360}}
	if mm := o.Body().MM("front_waist_length"); math.Abs(mm-355) > 1e-9 {
		t.Errorf("the front of the old body is read as %g mm, want 355", mm)
	}
	for _, bad := range []OriginEstimate{
		{"front_waist_length", "back_waist_length*"},
		{"front_waist_length", "2"},
		{"no name", "back_waist_length"},
	} {
		o := &Origin{ID: "o3", Name: "Envelope", Estimates: []OriginEstimate{bad}}
		if err := o.checkEstimates(); err == nil || !strings.Contains(err.Error(), "Envelope") {
			t.Errorf("%q = %q: %v", bad.Measure, bad.Formula, err)
		}
		if mm := o.Read(g).MM("front_waist_length"); mm != plain {
			t.Errorf("%q = %q reads it as %g mm, want the catalogue's %g", bad.Measure, bad.Formula, mm, plain)
		}
	}
}

// An estimate of a block may read another measure that only this block knows.
func TestOriginEstimatesReadEachOther(t *testing.T) {
	wide := OriginEstimate{"crest_width", "crest_height/2"}
	o := &Origin{Estimates: []OriginEstimate{wide, {"crest_height", "head_girth/4"}}}
	if err := o.checkEstimates(); err != nil {
		t.Fatal(err)
	}
	if mm := o.Read(body.Given{"head_girth": 400}).MM("crest_width"); math.Abs(mm-50) > 1e-9 {
		t.Errorf("the crest is read as %g mm wide, want 50", mm)
	}
	o.Estimates = o.Estimates[:1]
	if err := o.checkEstimates(); err == nil {
		t.Error("what another origin knows is read")
	}
}

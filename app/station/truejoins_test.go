package station

import (
	"math"
	"path/filepath"
	"testing"

	"hemlet/draft"
	"hemlet/draft/store"
)

// joinsShown notes at which ends of which seams the pieces were laid together.
type joinsShown struct {
	seam draft.ID
	end  draft.EdgeEnd
	n    int
}

// trueOverFaults makes the station over the smock with planted faults.
func trueOverFaults(t *testing.T) (*Truing, *joinsShown, *shownPlaces) {
	t.Helper()
	s, places := truing(t)
	p, _, err := store.Load(filepath.Join("..", "..", "testdata", "true", "faults.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	joins := &joinsShown{}
	s.ways.Join = func(seam draft.ID, end draft.EdgeEnd) { joins.seam, joins.end, joins.n = seam, end, joins.n+1 }
	s.desk.Open(p, "")
	places.refs = nil
	return s, joins, places
}

// A kink in hand shows its pieces laid together, any other finding its place.
func TestKinkInHandIsShownLaidTogether(t *testing.T) {
	s, joins, places := trueOverFaults(t)
	kinks, others := 0, 0
	for _, f := range s.desk.Report().Findings {
		*joins, places.refs = joinsShown{}, nil
		s.Choose(f.Key)
		end, kink := draft.KinkAt(f)
		switch {
		case kink && (joins.n != 1 || joins.seam != f.Seam || joins.end != end || len(places.refs) > 0):
			t.Errorf("%s shows %+v and picks %v", f.Key, joins, places.refs)
		case !kink && joins.n > 0:
			t.Errorf("%s lays pieces together", f.Key)
		case kink:
			kinks++
		case len(places.refs) > 0:
			others++
		}
	}
	if kinks == 0 || others == 0 {
		t.Errorf("%d kinks and %d others were shown", kinks, others)
	}
}

// From its row a seam is shown at the end with the greater kink; a seam at whose ends no
// line runs on has nothing to see.
func TestJoinsOfTheSeamInHand(t *testing.T) {
	s, joins, _ := trueOverFaults(t)
	for _, r := range s.seams.all {
		*joins = joinsShown{}
		s.seams.choose(r.seam.ID, true)
		list := s.joints(r.seam.ID)
		if s.seam.joins.Visible() != (len(list) > 0) {
			t.Errorf("of %s with %d joints the button is to be seen: %v", r.seam.Name, len(list), s.seam.joins.Visible())
		}
		s.seam.joins.OnTap()
		if (joins.n > 0) != (len(list) > 0) {
			t.Errorf("%s with %d joints is shown %d times", r.seam.Name, len(list), joins.n)
		}
		for _, j := range list {
			shown, _ := s.desk.Slots().Joint(s.desk.Project(), joins.seam, joins.end)
			if joins.seam != r.seam.ID || j.Kinked() && math.Abs(j.Kink) > math.Abs(shown.Kink) {
				t.Errorf("%s is shown at its %s, and the kink at its %s is greater", r.seam.Name, joins.end, j.End)
			}
		}
	}
	back := seamBy(t, s, "centre back")
	s.seams.choose(back.seam.ID, true)
	if s.seam.joins.OnTap(); joins.end != draft.EdgeFinish {
		t.Errorf("the centre back is shown at its %s, want the hem", joins.end)
	}
}

package draft

import (
	"testing"

	"hemlet/geom"
)

func TestSlotIsMadeAnewOnlyWhenAnInputChanges(t *testing.T) {
	s, made := NewSlots(), 0
	a, b := new(Piece), new(Piece)
	get := func(in *Piece) { slotOf(s, "k", "p1", slotInputs{in}, func() int { made++; return made }) }
	get(a)
	get(a)
	if made != 1 {
		t.Fatalf("made %d times for one input", made)
	}
	get(b)
	get(b)
	if made != 2 || s.Len() != 1 {
		t.Errorf("made %d times in %d slots, want 2 in 1", made, s.Len())
	}
	get(a) // undone
	get(b) // and done again
	if made != 2 {
		t.Errorf("made anew for the inputs before: %d times", made)
	}
	get(new(Piece))
	get(a)
	if made != 4 {
		t.Errorf("made %d times, want 4: only one earlier value is kept", made)
	}
}

func TestKeepDropsWhatTheProjectNoLongerHolds(t *testing.T) {
	s := NewSlots()
	one := polygonPiece("one", 5, geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(0, 10))
	two := polygonPiece("two", 5, geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(0, 10))
	s.Check(projectOf(one, two))
	full := s.Len()
	s.Keep(projectOf(two))
	if s.Len() >= full || s.Len() == 0 {
		t.Errorf("%d slots before, %d after one of two pieces went", full, s.Len())
	}
}

// However often a measure changes, a drafted block fills the same slots.
func TestSlotsStayFewAsMeasuresChange(t *testing.T) {
	s, p := NewSlots(), vestFor(t, "231mm", "200mm", "84mm")
	s.Check(p)
	full := s.Len()
	for _, waist := range []string{"210mm", "220mm", "235mm", "190mm", "200mm"} {
		p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value="+waist).Project
		s.Check(p)
	}
	if s.Len() != full {
		t.Errorf("%d slots before and %d after the waist has changed", full, s.Len())
	}
	p = mustDo(t, p, "remove-wearer", "wearer=Quill").Project
	s.Check(p)
	s.Keep(p)
	for key := range s.slots {
		if key.kind == "drafted" || key.kind == "block" || key.kind == "lag" || key.kind == "slips" || key.kind == "body" {
			if key.id == "front" || key.id == "back" {
				continue // pieces are there still
			}
			t.Errorf("the slot %s of %s outlives the wearer", key.kind, key.id)
		}
	}
}

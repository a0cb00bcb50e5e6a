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

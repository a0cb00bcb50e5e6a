package draft

import (
	"slices"
	"testing"
)

// TestNotchSeams: all seams that want notches get those that each would get by itself; what
// has some keeps them, and there is nothing left to do then.
func TestNotchSeams(t *testing.T) {
	p := wornBodice(t)
	for _, s := range p.Seams {
		if len(s.Marks) > 0 {
			t.Fatalf("seam %s has notches", s.label())
		}
	}
	want := p.UnnotchedSeams()
	if len(want) < 2 {
		t.Fatalf("only %v want notches", want)
	}
	first := string(want[0])
	p = mustDo(t, p, "notch-seam", "seam="+first, "even=5").Project
	out := mustDo(t, p, "notch-seams")
	for _, s := range out.Project.Seams {
		if string(s.ID) == first {
			if len(s.Marks) != 5 {
				t.Errorf("the seam that had 5 notches has %d", len(s.Marks))
			}
			continue
		}
		alone := p
		if slices.Contains(want, s.ID) {
			alone = mustDo(t, p, "notch-seam", "seam="+string(s.ID)).Project
		}
		a, b := s.Marks, alone.Seam(s.ID).Marks
		same := slices.EqualFunc(a, b, func(x, y SeamMark) bool { return x.At == y.At && x.Shape == y.Shape && x.Double == y.Double })
		if !same {
			t.Errorf("seam %s has the notches %+v, alone %+v", s.label(), a, b)
		}
	}
	if left := out.Project.UnnotchedSeams(); len(left) > 0 {
		t.Errorf("%v want notches still", left)
	}
	act, _ := ActNamed("notch-seams")
	if _, err := act.DoText(out.Project, nil); err == nil {
		t.Error("there is nothing left to notch, and it is done")
	}
	only := mustDo(t, wornBodice(t), "notch-seams", "seams="+first).Project
	for _, s := range only.Seams {
		if (len(s.Marks) > 0) != (string(s.ID) == first) {
			t.Errorf("of one seam that was named, %s has %d notches", s.label(), len(s.Marks))
		}
	}
}

// wornBodice is a bodice drafted for a person, sewn and without notches.
func wornBodice(t *testing.T) *Project {
	p := bodiceFor(t)
	gone := make(map[ID]bool)
	for _, s := range p.Seams {
		for _, m := range s.Marks {
			gone[m.ID] = true
		}
	}
	return p.withoutMarks(gone)
}

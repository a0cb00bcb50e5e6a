package draft

import "testing"

// The girth of a part stands for the measure of the catalogue until that is taken; and
// what a block tells of a part that comes off is of no account.
func TestPartsStandForMeasures(t *testing.T) {
	w := &Wearer{Parts: []BodyPart{{Name: "Head", Girth: 168, ComesOff: true}, {Name: "Lantern", Girth: 90}}}
	if g := w.Given(); g["head_girth"] != 168 || len(g) != 1 {
		t.Errorf("given %v", g)
	}
	w.Measures = []Measure{{Name: "head_girth", Value: 170}}
	if g := w.Given(); g["head_girth"] != 170 {
		t.Errorf("given %v; the measure that was taken counts", g)
	}
	if !w.TakesOff([]string{"neck_base_girth", "head_girth"}) || w.TakesOff([]string{"bust_girth"}) {
		t.Error("the head comes off, and the bust does not")
	}
}

package draft

import "testing"

// A notch that is kept far beyond the end of its edge, where it is taken for that end,
// stays within what a file holds.
func TestScaleKeepsNotchesInBounds(t *testing.T) {
	p := mustDo(t, bodiceFor(t), "add-notch", "edge=Front.side", "at=20mm").Project
	front := p.Pieces[0].clone()
	front.Notches[len(front.Notches)-1].At = MaxCoordinate
	p = p.withPiece(front)
	if err := Validate(p); err != nil {
		t.Fatal(err)
	}
	p = mustDo(t, p, "scale-piece", "pieces=Front", "factor=2").Project
	if err := Validate(p); err != nil {
		t.Error(err)
	}
}

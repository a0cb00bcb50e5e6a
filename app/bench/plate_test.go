package bench

import (
	"testing"

	"hemlet/assets"
	"hemlet/draft/store"
)

// What is wrong with a seam is said at the side that is too long: the sample's cap is that
// of the Sleeve, though Front and Back are the first side.
func TestPlateStandsAtTheSideThatIsOff(t *testing.T) {
	p, err := store.Decode(assets.Sample())
	if err != nil {
		t.Fatal(err)
	}
	s := newStage(t, p, 900, 600)
	told := 0
	for _, state := range s.desk.Report().Seams {
		if state.Holds {
			continue
		}
		told++
		if got := p.Piece(offPiece(p, state)).Name; got != "Sleeve" {
			t.Errorf("%s is told at %s, want at the Sleeve", state.Seam.Name, got)
		}
	}
	if told == 0 {
		t.Error("no seam of the sample is off")
	}
}

package bench

import (
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/geom"
)

// What the pointer says grows away from a card that lies over the bench.
func TestPlatesKeepClearOfCards(t *testing.T) {
	s := onScan(t)
	s.Frame(900, 700)
	at := s.view.ToMM(geom.Pt(400*s.view.DPR, 300*s.view.DPR))
	if s.leftward(at, "Now click the edge that is sewn to it") {
		t.Fatal("it grows to the left of a bare bench")
	}
	card := Cover{fyne.NewPos(600, 200), fyne.NewSize(260, 200)}
	s.Covers = func() []Cover { return []Cover{card} }
	if !s.leftward(at, "Now click the edge that is sewn to it") {
		t.Error("it runs under the card")
	}
	if s.leftward(at, "82 mm") {
		t.Error("it grows to the left though it has room")
	}
	card.Pos.Y = 500
	if s.leftward(at, "Now click the edge that is sewn to it") {
		t.Error("it keeps clear of what lies below it")
	}
}

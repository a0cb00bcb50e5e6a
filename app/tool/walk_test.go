package tool

import (
	"math"
	"strings"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// walked is two squares of 80 mm whose upright sides are sewn, one 3 mm longer, with a
// notch at 30 mm and one at 50.
func walked(t *testing.T) (*Hand, *Walk) {
	t.Helper()
	square := func(x, high float64) draft.Outline {
		return draft.Outline{
			Path:   geom.Polygon(geom.Pt(x, 0), geom.Pt(x+80, 0), geom.Pt(x+80, high), geom.Pt(x, high)),
			Corner: []bool{true, true, true, true},
		}
	}
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{square(0, 80), square(100, 83)}, Allowance: 5})
	if err != nil {
		t.Fatal(err)
	}
	p := out.Project
	edge := func(piece, k int) draft.EdgeRef {
		return draft.EdgeRef{Piece: p.Pieces[piece].ID, Edge: p.Pieces[piece].Edges[k].ID}
	}
	run := func(e draft.EdgeRef, reversed bool) draft.Run {
		return draft.Run{{Piece: e.Piece, Edge: e.Edge, Copy: draft.CopyRef{Number: 1}, Reversed: reversed}}
	}
	a, b := edge(0, 1), edge(1, 3) // the right side of the first upwards, the left of the second downwards
	linked, err := draft.LinkSeam.Do(p, draft.LinkSeamArgs{A: run(a, false), B: run(b, true), Name: "side", Ends: draft.EndsAsGiven})
	if err != nil {
		t.Fatal(err)
	}
	p = linked.Project
	for _, n := range []draft.AddNotchArgs{{Edge: a, At: draft.EdgePlace{At: 30}}, {Edge: b, At: draft.EdgePlace{At: 33}}} {
		if out, err = draft.AddNotch.Do(p, n); err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	h := &Hand{Desk: desk.New(p), Say: func(text string) { t.Log(text) }}
	return h, NewWalk(h, linked.Made)
}

func TestWalkStepsAndLeaps(t *testing.T) {
	_, w := walked(t)
	at := func(want float64) {
		t.Helper()
		if math.Abs(w.At()-want) > 1e-9 {
			t.Fatalf("at %g mm, want %g", w.At(), want)
		}
	}
	w.Arrow(geom.Pt(1, 0))
	w.Arrow(geom.Pt(0, 10))
	at(11)
	w.Arrow(geom.Pt(-0.1, 0))
	at(10.9)
	w.Leap(LeapNext)
	at(30)
	w.Leap(LeapNext)
	at(50)
	w.Leap(LeapBefore)
	at(30)
	w.Leap(LeapNext)
	w.Leap(LeapNext)
	at(80) // no further notch: the end of the shorter side
	w.Arrow(geom.Pt(1, 0))
	at(80)
	w.Leap(LeapStart)
	at(0)
	w.Arrow(geom.Pt(-1, 0))
	at(0)
}

// A drag takes the place of contact along, and a notch holds it.
func TestWalkFollowsTheHand(t *testing.T) {
	_, w := walked(t)
	at := func(x, y float64, keys Keys) Pointer { return Pointer{At: geom.Pt(x, y), MM: 0.5, Keys: keys} }
	w.Press(at(200, 20, Keys{})) // anywhere
	w.Drag(at(205, 37, Keys{}))
	if math.Abs(w.At()-17) > 0.05 {
		t.Errorf("a drag of 17 mm up came to %g", w.At())
	}
	w.Drag(at(205, 51, Keys{}))
	if w.At() != 30 {
		t.Errorf("the notch at 30 mm does not hold at %g", w.At())
	}
	w.Drag(at(205, 51, Keys{Ctrl: true}))
	if math.Abs(w.At()-31) > 0.05 {
		t.Errorf("with Ctrl a drag of 31 mm came to %g", w.At())
	}
	w.Release(at(205, 51, Keys{}))
	w.Drag(at(205, 90, Keys{}))
	if math.Abs(w.At()-31) > 0.05 {
		t.Error("it goes on after the hand let go")
	}
}

// At its end the walk goes back as far as the hand does, however it is pulled.
func TestWalkLeavesItsEnds(t *testing.T) {
	_, w := walked(t)
	w.Leap(LeapEnd)
	w.Press(Pointer{At: geom.Pt(200, 90), MM: 0.5})
	w.Drag(Pointer{At: geom.Pt(230, 78), MM: 0.5})
	if math.Abs(w.At()-68) > 0.05 {
		t.Errorf("a drag back by 12 mm from 80 came to %g", w.At())
	}
	w.Drag(Pointer{At: geom.Pt(200, 120), MM: 0.5})
	if w.At() != 80 {
		t.Errorf("a drag past the end came to %g", w.At())
	}
}

func TestWalkTells(t *testing.T) {
	_, w := walked(t)
	w.Go(30)
	told, err := w.Tells()
	if err != nil {
		t.Fatal(err)
	}
	if told.Holds || !strings.Contains(told.Says, "3 mm too long: that is left over at the end") {
		t.Errorf("says %q", told.Says)
	}
	if !told.NotchOff || !strings.Contains(told.Notch, "20 mm further on") {
		t.Errorf("of the notch it says %q", told.Notch)
	}
	if got := told.Sides; got[0].Done != "30 of 80 mm" || got[0].Left != "50 mm left" || got[1].Left != "53 mm left" {
		t.Errorf("the sides are told as %+v", got)
	}
	w.Swap()
	if told, _ = w.Tells(); w.At() != 30 || told.Sides[0].Left != "53 mm left" {
		t.Errorf("swapped, at %g mm, %+v", w.At(), told.Sides)
	}
	w.OtherEnd()
	w.Leap(LeapEnd)
	if told, _ = w.Tells(); !strings.Contains(told.Says, "at the start") || told.Sides[0].Left != "3 mm left" {
		t.Errorf("from the other end it says %q, %+v", told.Says, told.Sides)
	}
}

// A notch here marks both sides at the place of contact, as one step to undo, and the two
// meet. From the other end of a seam that is off it says why they do not.
func TestWalkNotches(t *testing.T) {
	for _, fromEnd := range []bool{false, true} {
		h, w := walked(t)
		said := ""
		h.Say = func(text string) { said = text }
		if fromEnd {
			w.OtherEnd()
		}
		before := h.Desk.Project()
		w.Go(12)
		w.NotchHere()
		count := 0
		for _, p := range h.Desk.Project().Pieces {
			count += len(p.Notches)
		}
		if count != 4 || len(h.Desk.Project().Seams[0].Marks) != 1 {
			t.Fatalf("%d notches, want two more than two, and one mark", count)
		}
		told, err := w.Tells()
		if meets := told.Notch == "The notches of both sides meet here."; err != nil || meets == fromEnd {
			t.Errorf("says %q, %v", told.Notch, err)
		}
		if (said != "") != fromEnd {
			t.Errorf("said %q", said)
		}
		h.Desk.Undo()
		if h.Desk.Project() != before {
			t.Error("one step back does not take both away")
		}
	}
}

// Where a side has a notch already, that is the notch of the mark.
func TestWalkTakesTheNotchThatIsThere(t *testing.T) {
	h, w := walked(t)
	w.Leap(LeapNext)
	w.NotchHere()
	count := 0
	for _, p := range h.Desk.Project().Pieces {
		count += len(p.Notches)
	}
	if count != 3 {
		t.Errorf("%d notches, want one more than two", count)
	}
}

// When its seam is taken apart a walk says so and draws nothing.
func TestWalkOfASeamThatIsGone(t *testing.T) {
	h, w := walked(t)
	if err := desk.Run(h.Desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(w.Seam())}}); err != nil {
		t.Fatal(err)
	}
	if _, err := w.Tells(); err == nil {
		t.Error("it is walked all the same")
	}
	if w.Marks().Any() {
		t.Error("it is drawn all the same")
	}
	w.NotchHere()
	w.Go(3)
	w.Leap(LeapEnd)
}

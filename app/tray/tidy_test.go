package tray

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
)

// laid returns a tray in a window of the test driver, with the sample in two garments.
func laid(t *testing.T) (*Tray, *desk.Desk) {
	t.Helper()
	tr, d := sample(t)
	w := test.NewTempWindow(t, tr.Object())
	w.SetPadded(false)
	w.Resize(fyne.NewSize(Width, 900))
	pieces := d.Project().Pieces
	if len(pieces) < 4 {
		t.Fatalf("the sample has %d pieces", len(pieces))
	}
	last := pieces[len(pieces)-1]
	if err := desk.Run(d, draft.SetGarment, draft.SetGarmentArgs{Pieces: []draft.PieceRef{draft.PieceRef(last.ID)}, Garment: "Cape"}); err != nil {
		t.Fatal(err)
	}
	return tr, d
}

func listing(d *desk.Desk) string {
	var all []string
	for _, g := range garmentsOf(d.Project()) {
		all = append(all, "["+g+"]")
		for _, p := range d.Project().Pieces {
			if p.Garment == g {
				all = append(all, p.Name)
			}
		}
	}
	return strings.Join(all, " ")
}

// over returns a place of the canvas over a part of an object.
func over(o fyne.CanvasObject, part float32) fyne.Position {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return at.Add(fyne.NewPos(20, o.Size().Height*part))
}

func TestDraggingReorders(t *testing.T) {
	tr, d := laid(t)
	names := func(i int) string { return d.Project().Pieces[i].Name }
	a, b, c := names(0), names(1), names(2)
	card := func(i int) *control.DragCard { return tr.cards[d.Project().Pieces[i].ID].card }
	drag := func(from *control.DragCard, to fyne.Position) {
		from.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: over(from, 0.5)}})
		from.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{AbsolutePosition: to}})
		if !tr.mark.Visible() {
			t.Error("nothing marks where it would go")
		}
		from.DragEnd()
		if tr.mark.Visible() {
			t.Error("the mark stays")
		}
	}
	drag(card(0), over(card(1), 0.8))
	if got := names(0) + names(1) + names(2); got != b+a+c {
		t.Errorf("after dragging the first below the second: %s", listing(d))
	}
	drag(card(2), over(card(0), 0.2))
	if got := names(0) + names(1) + names(2); got != c+b+a {
		t.Errorf("after dragging the third to the top: %s", listing(d))
	}
	// To where it lies is no step.
	steps, _ := d.History().Steps()
	drag(card(1), over(card(1), 0.6))
	if now, _ := d.History().Steps(); len(now) != len(steps) {
		t.Error("a piece that stays where it is makes a step")
	}
	// To another garment, under its head.
	first := d.Project().Pieces[0]
	drag(card(0), over(tr.heads["Cape"].card, 0.9))
	if got := d.Project().Piece(first.ID).Garment; got != "Cape" {
		t.Errorf("garment %q: %s", got, listing(d))
	}
	// A garment as a whole to the top.
	drag(tr.heads["Cape"].card, over(tr.list.Objects[0], 0.1))
	if got := listing(d); !strings.HasPrefix(got, "[Cape] "+first.Name) {
		t.Error(got)
	}
	d.Undo()
	d.Undo()
	if d.Project().Piece(first.ID).Garment == "Cape" {
		t.Error("a drag is more than one step to undo")
	}
	// All that is picked goes along.
	d.Pick(desk.PieceRef(d.Project().Pieces[0].ID), desk.PieceRef(d.Project().Pieces[1].ID))
	drag(card(1), over(tr.heads["Cape"].card, 0.9))
	n := 0
	for _, p := range d.Project().Pieces {
		if p.Garment == "Cape" {
			n++
		}
	}
	if n != 3 {
		t.Errorf("%d pieces in the cape: %s", n, listing(d))
	}
}

func TestFindLeavesOnlyWhatHoldsTheLetters(t *testing.T) {
	tr, d := laid(t)
	first := d.Project().Pieces[0]
	tr.find.SetText(strings.ToUpper(first.Name))
	for _, p := range d.Project().Pieces {
		listed := false
		for _, o := range tr.list.Objects {
			listed = listed || o == tr.cards[p.ID].card
		}
		if want := strings.Contains(strings.ToLower(p.Name), strings.ToLower(first.Name)); listed != want {
			t.Errorf("%s is listed: %v", p.Name, listed)
		}
	}
	tr.find.SetText("cape")
	if n := len(tr.list.Objects); n != 2 {
		t.Errorf("%d rows for the cape and its one piece", n)
	}
	picked := draft.ID("")
	tr.Pick = func(id draft.ID, _ bool) { picked = id }
	tr.find.OnSubmitted("")
	if p := d.Project().Piece(picked); p == nil || p.Garment != "Cape" {
		t.Error("Return does not pick the first piece of the list")
	}
	if tr.find.SetText("no such piece"); !tr.none.Visible() || len(tr.list.Objects) != 0 {
		t.Error("nothing says that there is no such piece")
	}
	tr.find.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if got := len(tr.list.Objects); got != len(d.Project().Pieces)+2 || tr.none.Visible() {
		t.Errorf("Esc leaves %d rows", got)
	}
}

func TestEyesAndLocks(t *testing.T) {
	tr, d := laid(t)
	first := d.Project().Pieces[0]
	c := tr.cards[first.ID]
	d.Pick(desk.PieceRef(first.ID))
	c.eye.Tapped(nil)
	if !d.Project().Pieces[0].Hidden || c.eye.Icon != "eye-shut" || c.thumb.Translucency == 0 || !strings.HasPrefix(c.cut.Text(), "hidden") {
		t.Error("the eye does not hide the piece, or its card does not tell")
	}
	if len(d.Picked()) != 0 {
		t.Error("what is hidden is still picked, and so still seen")
	}
	c.eye.Tapped(nil)
	c.lock.Tapped(nil)
	if d.Project().Pieces[0].Hidden || !d.Project().Pieces[0].Locked || c.eye.Icon != "eye" || c.lock.Icon != "lock" {
		t.Error("the eye does not show the piece again, or the lock does not lock it")
	}
	h := tr.heads[first.Garment]
	h.lock.Tapped(nil)
	h.eye.Tapped(nil)
	for _, p := range d.Project().Pieces {
		if want := p.Garment == first.Garment; p.Hidden != want || p.Locked != want {
			t.Errorf("%s of %q: hidden %v, locked %v", p.Name, p.Garment, p.Hidden, p.Locked)
		}
	}
	if h.eye.Icon != "eye-shut" || h.lock.Icon != "lock" {
		t.Error("the head of the garment does not tell")
	}
	h.eye.Tapped(nil)
	h.lock.Tapped(nil)
	if p := d.Project().Pieces[0]; p.Hidden || p.Locked {
		t.Error("a second press does not bring the garment back")
	}
	if err := desk.Run(d, draft.SetGhost, draft.SetGhostArgs{Pieces: []draft.PieceRef{draft.PieceRef(first.ID)}, Opacity: 0.4}); err != nil {
		t.Fatal(err)
	}
	if got := c.cut.Text(); !strings.HasPrefix(got, "ghost") {
		t.Errorf("a ghost is marked %q", got)
	}
}

// A second press soon after the first renames the piece; the first is not held back.
func TestRenameInPlace(t *testing.T) {
	tr, d := laid(t)
	now := time.Unix(1e9, 0)
	control.Now = func() time.Time { return now }
	t.Cleanup(func() { control.Now = time.Now })
	first := d.Project().Pieces[0]
	c := tr.cards[first.ID]
	presses := 0
	tr.Pick = func(draft.ID, bool) { presses++ }
	tap := func(after time.Duration) {
		now = now.Add(after)
		c.card.Tapped(&fyne.PointEvent{})
	}
	tap(0)
	tap(time.Second)
	if presses != 2 || len(c.words.Objects) > 1 {
		t.Error("two slow presses rename the piece, or one is not heard")
	}
	tap(100 * time.Millisecond)
	if len(c.words.Objects) < 2 {
		t.Fatal("two quick presses do not rename the piece")
	}
	field := fyne.CurrentApp().Driver().CanvasForObject(c.words).Focused().(*control.Field)
	field.SetText("Bib")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if got := d.Project().Pieces[0].Name; got != "Bib" || len(c.words.Objects) > 1 || c.name.Text() != "Bib" {
		t.Errorf("the piece is called %q", got)
	}
	tr.Rename(first.ID)
	field = fyne.CurrentApp().Driver().CanvasForObject(c.words).Focused().(*control.Field)
	field.SetText("Bibb")
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if got := d.Project().Pieces[0].Name; got != "Bib" || len(c.words.Objects) > 1 {
		t.Errorf("after Esc the piece is called %q", got)
	}
}

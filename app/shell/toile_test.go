package shell

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/export"
)

// wordsIn returns all that a container says, and press finds a button in it by its word.
func wordsIn(o fyne.CanvasObject) string {
	switch o := o.(type) {
	case *control.Prose:
		return o.Text() + "\n"
	case *control.Card:
		return wordsIn(o.Content())
	case *fyne.Container:
		var words strings.Builder
		for _, x := range o.Objects {
			words.WriteString(wordsIn(x))
		}
		return words.String()
	}
	return ""
}

func buttonIn(o fyne.CanvasObject, word string) *control.Button {
	switch o := o.(type) {
	case *control.Button:
		if strings.HasPrefix(o.Word, word) {
			return o
		}
	case *control.Card:
		return buttonIn(o.Content(), word)
	case *container.Scroll:
		return buttonIn(o.Content, word)
	case *container.ThemeOverride:
		return buttonIn(o.Content, word)
	case *fyne.Container:
		for _, x := range o.Objects {
			if b := buttonIn(x, word); b != nil {
				return b
			}
		}
	}
	return nil
}

// A fitting from the keeping of a version over a note to the pages that are printed again.
func TestAFittingOfTheToile(t *testing.T) {
	s := window(t)
	s.commandNamed("Versions").run()
	c := s.toile
	if !c.object.Visible() || !strings.Contains(wordsIn(c.rows), "Keep the pattern when you print it") {
		t.Fatalf("the card says %q", wordsIn(c.rows))
	}
	buttonIn(c.foot, "Keep").Tapped(nil)
	if s.question == nil {
		t.Fatal("it asks no name")
	}
	s.question.key(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if v := s.desk.Project().LastVersion(); v == nil || v.Name != "Toile 1" || !strings.Contains(wordsIn(c.rows), "Nothing has changed") {
		t.Fatalf("kept %+v, and it says %q", v, wordsIn(c.rows))
	}
	s.key(fyne.KeyF11)
	if c.which.On() != toileNotes || !buttonIn(c.foot, "Do").Off() {
		t.Error("F11 does not show the notes, or there is something to do without one")
	}
	buttonIn(c.foot, "Note").Tapped(nil)
	asking, ok := s.bench.Tool().(*tool.Asking)
	if !ok || asking.Asked() != tool.ToileNote {
		t.Fatal("no note is asked for")
	}
	if c.visible() {
		t.Error("two cards lie over the pieces")
	}
	s.putAway()
	if !c.visible() {
		t.Error("the card does not come back")
	}
	side := seamNamed(t, s, "side").A[0]
	amount := draft.Length(2)
	if err := desk.Run(s.desk, draft.AddToileNote, draft.AddToileNoteArgs{Edge: draft.EdgeRef{Piece: side.Piece, Edge: side.Edge}, At: draft.EdgePlace{At: 0.5, Share: true}, To: draft.EdgePlace{At: 1, Share: true}, Amount: &amount}); err != nil {
		t.Fatal(err)
	}
	if says := wordsIn(c.rows); !strings.Contains(says, "side") || !strings.Contains(says, "in 2 mm") {
		t.Errorf("the list says %q", says)
	}
	c.rows.Objects[0].(*control.Card).Tapped(nil)
	if !s.desk.Picked().Has(desk.EdgeRef(side.Piece, side.Edge)) {
		t.Error("the row does not show its place")
	}
	before := s.desk.Project()
	buttonIn(c.foot, "Do").Tapped(nil)
	if s.desk.Project() == before || !strings.Contains(wordsIn(c.rows), "done") {
		t.Errorf("it was not done: %q", s.status.said)
	}
	s.commandNamed("Versions").run()
	if says := wordsIn(c.rows); !strings.Contains(says, "up to 2 mm in") {
		t.Errorf("the changes say %q", says)
	}
	buttonIn(c.foot, "Print").Tapped(nil)
	if o := s.make.Options(); s.station != stationMake || o.Since != s.desk.Project().Versions[0].ID || o.Format != export.PDF {
		t.Errorf("at %s with %+v", s.station, o)
	}
	settle()
}

// The card and the history lie in the same place, one at a time.
func TestTheCardOfTheToileGivesWay(t *testing.T) {
	s := window(t)
	s.commandNamed("Notes of the toile").run()
	s.showHistory()
	if s.toile.object.Visible() || !s.history.object.Visible() {
		t.Error("the history does not take the place")
	}
	s.commandNamed("Notes of the toile").run()
	if !s.toile.object.Visible() || s.history.object.Visible() {
		t.Error("the card does not take it back")
	}
	s.commandNamed("Notes of the toile").run()
	if s.toile.object.Visible() {
		t.Error("asked for again it does not go")
	}
}

// The card of the toile is reached by its key from stations that show no bench as well.
func TestToileIsReachedFromEveryStation(t *testing.T) {
	for _, station := range []string{stationMeasure, stationMake, stationFit} {
		s := window(t)
		s.enter(station)
		s.stationKey(&fyne.KeyEvent{Name: fyne.KeyF11})
		if !s.toile.object.Visible() || !s.benchSeen() {
			t.Errorf("from %s F11 does not show the toile", station)
		}
	}
}

// While a note is typed its card alone can be pressed, and what is listed are the notes that
// were taken; of a hem it offers up and down.
func TestOneCardIsLiveWhileANoteIsTyped(t *testing.T) {
	s := window(t)
	s.key(fyne.KeyF11)
	c := s.toile
	hem := draft.EdgeRef{}
	for _, p := range s.desk.Project().Pieces {
		for _, e := range p.Edges {
			if e.Kind == draft.HemEdge {
				hem = draft.EdgeRef{Piece: p.ID, Edge: e.ID}
			}
		}
	}
	piece := s.desk.Project().Piece(hem.Piece)
	_, i := piece.Edge(hem.Edge)
	at := piece.Place.Affine().Apply(piece.EdgePath(i)[0].At(0.5))
	s.takeActAt(tool.ToileNote, desk.EdgeRef(hem.Piece, hem.Edge), at)
	settle()
	if !s.desk.Trying() {
		t.Fatal("the note is not shown as it would be")
	}
	if c.visible() {
		t.Error("two cards can be pressed at once")
	}
	if says := wordsIn(c.rows); !strings.Contains(says, "Sew the toile") {
		t.Errorf("the note that is not taken is listed: %q", says)
	}
	kind := s.card.fields[0].choice
	if kind.Selected != "up" {
		t.Errorf("of a hem it offers %q first", kind.Selected)
	}
	kind.SetSelected("down")
	s.card.do.Tapped(nil)
	s.putAway()
	if !c.foot.Visible() || !strings.Contains(wordsIn(c.rows), "down") {
		t.Errorf("once it is taken, the card with %q is to be pressed: %t", wordsIn(c.rows), c.foot.Visible())
	}
}

// What the pointer does on the empty places of a card does not reach the bench under it.
func TestCardsKeepThePointer(t *testing.T) {
	s := window(t)
	s.showToile(toileNotes)
	var ground bool
	for _, o := range s.toile.object.Objects[0].(*fyne.Container).Objects {
		_, is := o.(*control.Ground)
		ground = ground || is
	}
	if !ground {
		t.Error("the card has no ground")
	}
}

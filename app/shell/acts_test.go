package shell

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
)

// actNamed returns an act of the lists by the name that scripts call it.
func actNamed(t *testing.T, s *Shell, name string) *tool.Asked {
	t.Helper()
	for _, g := range s.acts {
		for _, a := range g.Acts {
			if a.Act.Info().Name == name {
				return a
			}
		}
	}
	t.Fatalf("there is no act %s", name)
	return nil
}

// cardField returns the field of the card for a parameter.
func (c *actCard) fieldFor(t *testing.T, param string) *control.Field {
	t.Helper()
	for _, f := range c.fields {
		if f.of.Name == param && f.typed != nil {
			return f.typed
		}
	}
	t.Fatalf("the card has no field for %s", param)
	return nil
}

func TestCardOfAnAct(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	before := s.desk.Project()
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	s.takeAct(actNamed(t, s, "set-allowance"))
	settle()
	if !s.card.object.Visible() || !s.card.do.Off() {
		t.Fatal("the card is not shown, or offers what cannot be done yet")
	}
	field := s.card.fieldFor(t, "width")
	if s.win.Canvas().Focused() != fyne.Focusable(field) {
		t.Error("the first field has not got the keys")
	}
	// Every letter shows what would come of it.
	field.SetText("1")
	if got := s.desk.Project().Piece(front.ID).Edges[0].Allowance.Start; got != 1 || s.card.do.Off() {
		t.Errorf("with a 1 typed the allowance that is shown is %v", got)
	}
	field.SetText("1/2in")
	if got := s.desk.Project().Piece(front.ID).Edges[0].Allowance.Start; got != 12.7 {
		t.Errorf("with 1/2in typed it is %v", got)
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if s.desk.Trying() || s.card.object.Visible() || s.bench.Tool() != s.tools[0] {
		t.Error("Return does not end it")
	}
	if f := s.win.Canvas().Focused(); f != fyne.Focusable(s.bench) {
		t.Errorf("%T has the keys, not the bench", f)
	}
	if _, at := s.desk.History().Steps(); at != 1 {
		t.Errorf("it is %d steps", at)
	}
	s.desk.Undo()
	if s.desk.Project() != before {
		t.Error("undo does not lead back")
	}
}

// A card of many values is higher than the bench over the table of True in a small window:
// its values scroll, and its buttons stay in sight.
func TestButtonsOfACardStayInSight(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	s.win.Resize(fyne.NewSize(1280, 800))
	s.takeAct(actNamed(t, s, "link-seam"))
	settle()
	driver := fyne.CurrentApp().Driver()
	low := driver.AbsolutePositionForObject(s.card.do).Y + s.card.do.Size().Height
	if end := driver.AbsolutePositionForObject(s.bench).Y + s.bench.Size().Height; low > end {
		t.Errorf("Do it ends at %g, the bench at %g", low, end)
	}
	if got, room := s.card.scroll.Size().Height, s.card.rows.MinSize().Height; got >= room {
		t.Errorf("the values have %g units of %g: the card is too low to try it", got, room)
	}
}

func TestCardSaysWhyItCannotBeDone(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	s.takeAct(actNamed(t, s, "set-allowance"))
	settle()
	field := s.card.fieldFor(t, "width")
	field.SetText("-3")
	if s.desk.Trying() || !strings.Contains(allText(s.card.told), "allowance") || !s.card.do.Off() {
		t.Errorf("an allowance below 0 is shown, or the card says %q", allText(s.card.told))
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if !s.card.object.Visible() {
		t.Error("what cannot be done is taken for done")
	}
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape}) // from the figures back to the edge
	s.bench.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.card.object.Visible() || s.desk.Dirty() {
		t.Error("Escape does not get out")
	}
}

// Saving and what else is asked for while an act is only shown is done without it.
func TestCommandsPutAwayWhatIsOnlyShown(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	for _, name := range []string{"Duplicate", "Show all", "Undo", "Draft"} {
		before := s.desk.Project()
		s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
		s.takeAct(actNamed(t, s, "set-allowance"))
		settle()
		s.card.fieldFor(t, "width").SetText("3")
		if !s.desk.Trying() {
			t.Fatal("nothing is shown")
		}
		if name == "Undo" { // in the field it takes back what is typed
			s.focusBench()
		}
		s.commandNamed(name).run()
		settle()
		if name == "Show all" {
			if !s.desk.Trying() {
				t.Error("a change of the view puts the act away")
			}
			s.putAway()
		}
		if s.desk.Trying() || s.desk.Project() != before || s.card.object.Visible() {
			t.Errorf("%s leaves the act as it was shown", name)
		}
		s.enter(stationShape)
	}
}

func TestActsAreFoundByTheWordsOfTheTrade(t *testing.T) {
	s := window(t)
	s.finder.openActs()
	if !s.finder.found[0].head || s.finder.found[0].name != "Cutting table" || s.finder.at != 1 {
		t.Errorf("the list begins with %+v and stands at %d", s.finder.found[0], s.finder.at)
	}
	for word, want := range map[string]string{
		"shirr": "Dart into gathers or ease", "flip": "Mirror", "yoke": "Split", "casing": "Grown-on hem, casing or stand", "buttonholes": "Fastenings along an edge",
	} {
		s.finder.look(word)
		has := false
		for _, f := range s.finder.found {
			has = has || f.name == want
		}
		if !has {
			t.Errorf("%q does not find %q", word, want)
		}
	}
	s.finder.look("mirror")
	s.finder.take()
	if a, ok := s.bench.Tool().(*tool.Asking); !ok || a.Asked().Act != draft.Named(draft.MirrorPiece) {
		t.Errorf("what was found is not in hand, but %T", s.bench.Tool())
	}
}

// While nothing was given to an act, its card lies where it covers least of the pieces.
func TestCardSparesThePieces(t *testing.T) {
	s := window(t)
	s.takeAct(actNamed(t, s, "split-piece"))
	settle()
	room := s.card.object.Size()
	card := s.card.card.Size()
	s.card.laid = false
	at := s.card.place(room, card)
	least := s.card.covers(at, card)
	for _, x := range []float32{actCardClear, room.Width - card.Width - actCardClear} {
		for _, y := range []float32{s.bench.Covered() + actCardClear, room.Height - card.Height - actCardClear} {
			if other := s.card.covers(fyne.NewPos(x, y), card); other < least {
				t.Errorf("at %v the card covers %.0f, at %v, %v only %.0f", at, least, x, y, other)
			}
		}
	}
	if all := s.card.covers(fyne.NewPos(0, 0), room); all <= 0 {
		t.Error("a card as large as the bench covers nothing")
	}
}

// What is asked for can be touched, and a card that would hide all of one such thing lies
// elsewhere, where it covers more of others.
func TestCardHidesNothingThatIsAskedFor(t *testing.T) {
	s := window(t)
	s.win.Canvas().Capture() // from which the bench has its size
	for name, kind := range map[string]desk.Kind{"add-fullness": desk.Edge, "mirror-piece": desk.Piece} {
		s.takeAct(actNamed(t, s, name))
		settle()
		if len(s.card.touch) == 0 {
			t.Fatalf("for %s nothing can be clicked", name)
		}
		for ref := range s.card.touch {
			if ref.Kind != kind {
				t.Errorf("for %s a %v can be clicked", name, ref.Kind)
			}
		}
		s.putAway()
	}
	s.takeAct(actNamed(t, s, "mirror-piece"))
	settle()
	room, card := s.card.object.Size(), fyne.NewSize(120, 120)
	s.card.laid = false
	free := s.card.place(room, card)
	// All of one thing lies where the card would.
	s.card.touch[desk.PieceRef("small")] = []fyne.Position{free.AddXY(5, 5), free.AddXY(100, 100)}
	if at := s.card.place(room, card); at.X <= free.X+5 && at.X+card.Width > free.X+100 && at.Y <= free.Y+5 && at.Y+card.Height > free.Y+100 {
		t.Errorf("the card lies at %v over all of what is asked for", at)
	}
}

// A card does not come to lie under the pointer, where it would take what is meant for the
// bench.
func TestCardKeepsClearOfThePointer(t *testing.T) {
	s := window(t)
	s.win.Canvas().Capture()
	s.takeAct(actNamed(t, s, "mirror-piece"))
	settle()
	at := s.card.card.Position().AddXY(40, 40)
	s.putAway()
	s.bench.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	s.takeAct(actNamed(t, s, "mirror-piece"))
	settle()
	if p, size := s.card.card.Position(), s.card.card.Size(); at.X >= p.X && at.X <= p.X+size.Width && at.Y >= p.Y && at.Y <= p.Y+size.Height {
		t.Errorf("with the pointer at %v it lies at %v", at, p)
	}
}

// A card that was dragged stays there, for the next act too and in sight in a smaller window,
// until it is pressed twice.
func TestCardStaysWhereItIsDragged(t *testing.T) {
	s := window(t)
	s.takeAct(actNamed(t, s, "split-piece"))
	settle()
	found := s.card.card.Position()
	to := fyne.NewPos(actCardClear+7, s.bench.Covered()+actCardClear+9)
	ground := s.card.card.Objects[0].(*control.Ground)
	for _, by := range []fyne.Delta{{DX: -2000, DY: -2000}, {DX: 7, DY: 9}} { // no farther than the corner
		ground.Dragged(&fyne.DragEvent{Dragged: by})
	}
	if got := s.card.card.Position(); got != to {
		t.Fatalf("it lies at %v, not at %v", got, to)
	}
	s.putAway()
	s.takeAct(actNamed(t, s, "add-fullness"))
	settle()
	if got := s.card.card.Position(); got != to {
		t.Errorf("for the next act it lies at %v, not at %v", got, to)
	}
	s.card.card.Objects[0].(*control.Ground).Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: 2000, DY: 2000}})
	s.win.Resize(fyne.NewSize(1024, 700))
	settle()
	if at, card, room := s.card.card.Position(), s.card.card.Size(), s.card.object.Size(); at.X+card.Width > room.Width || at.Y+card.Height > room.Height {
		t.Errorf("in a smaller window it lies at %v, out of %v", at, room)
	}
	s.win.Resize(fyne.NewSize(1280, 800))
	s.putAway()
	s.takeAct(actNamed(t, s, "split-piece"))
	s.card.card.Objects[0].(*control.Ground).DoubleTapped(nil)
	settle()
	if got := s.card.card.Position(); got != found {
		t.Errorf("pressed twice it lies at %v, not at %v", got, found)
	}
}

// The card and its fields stay where they are whatever it has to say.
func TestCardStaysWhereItIs(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID))
	s.takeAct(actNamed(t, s, "set-allowance"))
	settle()
	field := s.card.fieldFor(t, "width")
	where := func() [3]fyne.Position {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject
		return [...]fyne.Position{at(s.card.card), at(field), at(s.card.do)}
	}
	before := where()
	for _, typed := range []string{"1", "-1", "wide", "12", ""} {
		field.SetText(typed)
		settle()
		if got := where(); got != before {
			t.Errorf("with %q typed card, field and button lie at %v, not at %v", typed, got, before)
		}
	}
}

// The menu on a locked piece offers to unlock it.
func TestMenuUnlocksALockedPiece(t *testing.T) {
	s := window(t)
	front := s.desk.Project().Pieces[0]
	arrange(s, draft.LockPieces, draft.ShowPiecesArgs{Pieces: []draft.PieceRef{draft.PieceRef(front.ID)}})
	at := front.Place.Affine().Apply(front.DrawnPath().Bounds().Center())
	for _, item := range s.menuOf(desk.Ref{}, at).Items {
		if item.Label == "Unlock "+front.Name {
			item.Action()
		}
	}
	if s.desk.Project().Piece(front.ID).Locked {
		t.Error("it is locked still")
	}
}

// Who wants to gather is led to the act that makes the fullness, and then to its marks.
func TestGatherFindsFullnessFirst(t *testing.T) {
	s := window(t)
	s.finder.openActs()
	for _, typed := range []string{"gath", "gather", "smock"} {
		s.finder.look(typed)
		if len(s.finder.found) == 0 || s.finder.found[0].name != "Add fullness" {
			t.Errorf("%s finds %v first", typed, s.finder.found)
		}
	}
}

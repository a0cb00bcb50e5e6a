package shell

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/store"
)

func TestFitSharesTheBenchWithShape(t *testing.T) {
	s := window(t)
	s.key(fyne.KeyF5)
	if s.station != stationFit || !s.benchSeen() {
		t.Fatal("F5 does not lead to Fit")
	}
	if s.bench.Covered() != 0 {
		t.Error("the bench of Fit keeps room for the tools of Shape")
	}
	p := s.desk.Project().Pieces[0]
	before := s.desk.Project()
	s.desk.Pick(desk.PieceRef(p.ID))
	s.stationKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if s.desk.Project() == before {
		t.Error("an arrow key does not nudge the picked piece")
	}
	s.enter(stationTrue)
	if s.station != stationTrue {
		t.Error("there is no way on to True")
	}
}

func TestFitTellsWhatIsNextInTheStatusLine(t *testing.T) {
	s := window(t)
	s.enter(stationFit)
	before := s.status.line.first.Text()
	s.fitting.Open(1)
	if got := s.status.line.first.Text(); got == before {
		t.Errorf("at the next step the status line still says %q", got)
	}
}

func TestFitTakesInTheLook(t *testing.T) {
	s := window(t)
	s.enter(stationFit)
	for range 2 {
		s.SetDark(!s.dark())
	}
}

// A scan under the pieces may be as large as it likes: Fit shows the pieces.
func TestFitShowsThePiecesNotTheScan(t *testing.T) {
	s := window(t)
	s.files.layUnder([]string{scan(t, t.TempDir(), 4000, 3000)}, nil)
	s.bench.Frame(800, 600)
	far := s.bench.Percent()
	s.enter(stationFit)
	if s.bench.Frame(800, 600); s.bench.Percent() <= far {
		t.Errorf("at %g %%, with the scan %g %%", s.bench.Percent(), far)
	}
}

// A wearer is read from its file without leaving Fit, and is whom the pattern is to fit.
func TestFitReadsAWearer(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "tansy.toml")
	if err := store.SaveWearer(path, &draft.Wearer{Name: "Tansy", Measures: []draft.Measure{{Name: "bust_girth", Value: 310}}}); err != nil {
		t.Fatal(err)
	}
	s.enter(stationFit)
	s.fitting.OpenStep(fitWhom)
	buttonIn(s.fitting.Left(), "From a file…").Tapped(nil)
	settle()
	s.win.Canvas().Focused().(interface{ SetText(string) }).SetText(path)
	answerWith(t, s, "Read")
	all := s.desk.Project().Wearers
	if s.station != stationFit || all[len(all)-1].Name != "Tansy" {
		t.Fatalf("at %s with %d wearers", s.station, len(all))
	}
	if says := toFit(t, s); says != "Tansy" {
		t.Errorf("the pattern is to fit %q", says)
	}
}

// Sent to Measure from Fit, one finds the way back, and whom one measured is chosen there.
func TestMeasureLeadsBackToFit(t *testing.T) {
	s := window(t)
	back := buttonIn(s.measure.Left(), "Back to Fit")
	seen := func() bool { return !hiddenIn(s.measure.Left(), back) }
	s.enter(stationMeasure)
	if seen() {
		t.Error("a way back to Fit, from where nobody came")
	}
	s.enter(stationFit)
	s.fitting.OpenStep(fitWhom)
	buttonIn(s.fitting.Left(), "Another").Tapped(nil)
	if s.station != stationMeasure || !seen() {
		t.Fatalf("at %s; a way back: %t", s.station, seen())
	}
	out, err := desk.RunFolded(s.desk, draft.AddWearer, draft.AddWearerArgs{Name: "Tansy"}, "")
	if err != nil {
		t.Fatal(err)
	}
	s.measure.Choose(out.Made)
	back.Tapped(nil)
	if s.fitting.OpenStep(fitWhom); s.station != stationFit || toFit(t, s) != "Tansy" {
		t.Errorf("at %s for %q", s.station, toFit(t, s))
	}
	if seen() {
		t.Error("at Fit a fit still waits")
	}
}

// toFit returns the name of whom the pattern is to fit, as the open step says it.
func toFit(t *testing.T, s *Shell) string {
	t.Helper()
	c := choiceIn(s.fitting.Left(), "Whom the pattern is to fit")
	if c == nil {
		t.Fatal("nothing says whom the pattern is to fit")
	}
	return c.Selected
}

// choiceIn returns the choice with the hint in o, or nil.
func choiceIn(o fyne.CanvasObject, hint string) *control.Choice {
	var in []fyne.CanvasObject
	switch o := o.(type) {
	case *control.Choice:
		if o.Hint == hint {
			return o
		}
	case *container.Scroll:
		in = []fyne.CanvasObject{o.Content}
	case *container.ThemeOverride:
		in = []fyne.CanvasObject{o.Content}
	case *fyne.Container:
		in = o.Objects
	}
	for _, x := range in {
		if c := choiceIn(x, hint); c != nil {
			return c
		}
	}
	return nil
}

// What takes a piece out of its fit says so on the card before it is done, apart from what
// else it tells, and in the status line once it is; nothing is said of a piece that is free.
func TestCardWarnsBeforeAPieceLeavesItsFit(t *testing.T) {
	s := window(t)
	if !s.files.Open(filepath.Join("..", "..", "testdata", "fit", "smock.hemlet")) {
		t.Fatal("the smock does not open")
	}
	settle()
	p := s.desk.Project()
	for _, m := range []draft.Mend{
		{Act: "take-spans"},
		{Act: "add-wearer", Args: map[string]string{"name": "Tansy"}},
		{Act: "set-measure", Args: map[string]string{"wearer": "Tansy", "name": "bust_girth", "value": "310mm"}},
		{Act: "set-measure", Args: map[string]string{"wearer": "Tansy", "name": "back_waist_length", "value": "135mm"}},
		{Act: "fit-pattern", Args: map[string]string{"wearer": "Tansy"}},
	} {
		out, err := p.Do(m)
		if err != nil {
			t.Fatal(err)
		}
		s.desk.Take(out, "")
		p = out.Project
	}
	front := p.Pieces[0]
	unfold := func() {
		s.enter(stationShape)
		s.desk.Pick(desk.PieceRef(front.ID))
		s.takeAct(actNamed(t, s, "unfold-piece"))
		settle()
	}
	unfold()
	if says := s.card.warn.Text(); !s.card.warns.Visible() || !strings.Contains(says, "takes Front out of its fit") || !strings.Contains(says, "Tansy") {
		t.Fatalf("the card says %q", says)
	}
	if says := s.card.told.Text(); strings.Contains(says, "fit") {
		t.Errorf("and once more: %q", says)
	}
	s.card.do.Tapped(nil)
	settle()
	if says := s.status.line.first.Text(); s.desk.Project().FitOf(s.desk.Project().Piece(front.ID)) != nil || !strings.Contains(says, "no longer follows its fit") {
		t.Errorf("done, the status line says %q", says)
	}
	s.desk.Undo()
	out, err := s.desk.Project().Do(draft.Mend{Act: "end-fit"})
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Take(out, "")
	unfold()
	if s.card.do.Off() || s.card.warns.Visible() {
		t.Errorf("of a piece that follows nothing the card says %q", s.card.warn.Text())
	}
}

// hiddenIn reports whether a button, or something in o that holds it, is hidden.
func hiddenIn(o fyne.CanvasObject, b *control.Button) bool {
	if buttonIn(o, b.Word) != b {
		return false
	}
	if !o.Visible() {
		return true
	}
	switch o := o.(type) {
	case *container.ThemeOverride:
		return hiddenIn(o.Content, b)
	case *fyne.Container:
		for _, x := range o.Objects {
			if hiddenIn(x, b) {
				return true
			}
		}
	}
	return false
}

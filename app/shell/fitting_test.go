package shell

import (
	"path/filepath"
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
	if says := s.fitting.Whom(); says != all[len(all)-1].ID {
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
	if s.station != stationFit || s.fitting.Whom() != out.Made {
		t.Errorf("at %s for %q", s.station, s.fitting.Whom())
	}
	if seen() {
		t.Error("at Fit a fit still waits")
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

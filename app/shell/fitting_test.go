package shell

import (
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
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

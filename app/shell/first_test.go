package shell

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
)

// bare makes a window as it comes up, before anything is opened.
func bare(t *testing.T) *Shell {
	t.Helper()
	s, err := New(test.NewTempApp(t))
	if err != nil {
		t.Fatal(err)
	}
	s.StateDir, s.BlocksDir = t.TempDir(), t.TempDir()
	t.Cleanup(func() { s.files.keeper.end() })
	return s
}

func TestFirstScreenComesFirst(t *testing.T) {
	s := bare(t)
	s.begin()
	if s.station != stationStart || !s.nothingOpen() {
		t.Fatalf("the window begins at %q", s.station)
	}
	s.showSample()
	settle()
	if s.station != stationShape || s.desk.Picked().Last().Kind != desk.Edge {
		t.Errorf("“Show me” leads to %s with %v picked, not to the problem", s.station, s.desk.Picked())
	}
}

// Where the first screen is not wanted, the project used last is opened.
func TestLastProjectInsteadOfFirstScreen(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(path, nil, nil)
	s.setFirstAtStart(false)
	s.files.fresh()
	if !s.begin() || s.desk.Path() != path || s.station != stationShape {
		t.Errorf("at %s with %q open", s.station, s.desk.Path())
	}
	s.setFirstAtStart(true)
	if s.begin(); s.station != stationStart {
		t.Error("the first screen is not shown though it is wanted")
	}
}

func TestNewLeadsToTheFirstScreen(t *testing.T) {
	s := window(t)
	s.files.new()
	settle()
	if s.station != stationStart || !s.nothingOpen() {
		t.Errorf("New leads to %s", s.station)
	}
}

func TestPrintTheSample(t *testing.T) {
	s := bare(t)
	s.begin()
	s.printSample()
	settle()
	if s.station != stationMake || !s.hasPieces() {
		t.Errorf("at %s", s.station)
	}
}

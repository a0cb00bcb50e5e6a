package shell

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
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

// The first screen shows the sample as it lies open, and “Show me” goes on with that.
func TestFirstScreenFollowsTheSample(t *testing.T) {
	s := bare(t)
	s.showSample()
	settle()
	nudge(t, s)
	mine := s.desk.Project()
	s.enter(stationStart)
	if p, err := s.sampleAsItIs(); p != mine || err != nil {
		t.Fatalf("the first screen shows another sample: %v", err)
	}
	s.showSample()
	if s.question != nil || s.desk.Project() != mine || s.station != stationShape {
		t.Error("“Show me” does not go on with the sample that lies open")
	}
	s.desk.MarkSaved(mine, "smock.hemlet")
	s.files.new()
	settle()
	if p, _ := s.sampleAsItIs(); p == mine || len(p.Pieces) == 0 {
		t.Error("with another project open, the first screen does not show the sample as it comes")
	}
}

// A pattern to make fit begins a project of its own, in the place of what lies open.
func TestPatternBeginsAProject(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "waistcoat.svg")
	drawing := `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path d="M5 5H60V70H5Z"/></svg>`
	if err := os.WriteFile(path, []byte(drawing), 0o600); err != nil {
		t.Fatal(err)
	}
	nudge(t, s)
	sample := s.desk.Project()
	s.beginPattern()
	answerWith(t, s, "Drop changes")
	field := s.win.Canvas().Focused().(*control.Field)
	field.SetText(path)
	field.OnSubmitted(path)
	for i := 0; i < 50 && (s.question == nil || len(s.question.answers) != 2); i++ {
		settle()
	}
	if s.desk.Project() != sample {
		t.Fatal("the project that lies open is gone before there is another")
	}
	answerWith(t, s, "Bring in")
	if p := s.desk.Project(); len(p.Pieces) != 1 || p.Name != "waistcoat" || s.desk.Path() != "" {
		t.Errorf("%q with %d pieces lies open", p.Name, len(p.Pieces))
	}
}

package shell

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/geom"
)

// rename gives the first piece a name, which is a step of its own.
func rename(t *testing.T, s *Shell, name string) {
	t.Helper()
	err := desk.Run(s.desk, draft.RenamePiece, draft.RenamePieceArgs{Piece: draft.PieceRef(s.desk.Project().Pieces[0].ID), Name: name})
	if err != nil {
		t.Fatal(err)
	}
}

func TestHistoryGoesToAnyStep(t *testing.T) {
	s := window(t)
	s.showHistory()
	for _, name := range []string{"One", "Two", "Three"} {
		rename(t, s, name)
	}
	if len(s.history.steps) != 4 || s.history.at != 3 {
		t.Fatalf("the list has %d steps and stands at %d", len(s.history.steps), s.history.at)
	}
	s.history.goTo(1)
	if got := s.desk.Project().Pieces[0].Name; got != "One" || s.history.at != 1 || len(s.history.steps) != 4 {
		t.Errorf("step 1 leads to %s, at %d of %d", got, s.history.at, len(s.history.steps))
	}
	// What was taken back is told by its sign and not by its colour alone.
	row := s.history.list.CreateItem()
	for i, want := range []bool{false, true, true, true} {
		s.history.row(i, row)
		if icon := iconIn(row); icon.Visible() != want {
			t.Errorf("step %d of 3, at 1: its sign is seen: %t", i, icon.Visible())
		}
	}
	s.history.goTo(3)
	if got := s.desk.Project().Pieces[0].Name; got != "Three" {
		t.Errorf("what was undone is %s", got)
	}
	s.history.toggle()
	if s.history.object.Visible() {
		t.Error("the list stays")
	}
}

// A step is told whole, in as many lines as it needs.
func TestHistoryTellsStepsWhole(t *testing.T) {
	s := window(t)
	s.showHistory()
	name := "the long name of a piece by which alone it is told from another"
	rename(t, s, name)
	rename(t, s, "short")
	row := s.history.list.CreateItem()
	one := row.MinSize().Height
	s.history.row(1, row)
	words := row.(*fyne.Container).Objects[0].(*fyne.Container).Objects[0].(*control.Prose)
	if high := row.MinSize().Height; words.Text() != stepWords(s.history.steps[1]) || high < one+10 {
		t.Errorf("%q is %v high, one line %v", words.Text(), high, one)
	}
	if wide := row.MinSize().Width; wide > historyWide {
		t.Errorf("a row is %v wide", wide)
	}
	// Rows whose words were measured before take the room that they take measured anew.
	for _, change := range []func(){func() { rename(t, s, name) }, s.desk.Undo, func() { rename(t, s, "another") }} {
		change()
		tall := float32(0)
		for _, step := range s.history.steps {
			tall += control.NewProse(stepWords(step), 12.5, false, look.Ink, historyInner).MinSize().Height + 2*historyGap + rowsApart
		}
		if s.history.tall != tall {
			t.Errorf("%d steps are %v high, want %v", len(s.history.steps), s.history.tall, tall)
		}
	}
}

// reopen opens the file in the window once more, as at the next start.
func reopen(t *testing.T, s *Shell, path string) {
	t.Helper()
	if err := s.files.keeper.write(); err != nil {
		t.Fatal(err)
	}
	s.files.Open(path)
	settle()
}

func TestHistorySurvivesReopening(t *testing.T) {
	s := window(t)
	rename(t, s, "One")
	rename(t, s, "Two")
	rename(t, s, "Three")
	s.desk.Undo()
	path := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(path, nil, nil)
	reopen(t, s, path)
	steps, at := s.desk.History().Steps()
	if len(steps) != 4 || at != 2 || s.desk.Dirty() {
		t.Fatalf("%d steps, at %d, edited: %v", len(steps), at, s.desk.Dirty())
	}
	if !strings.Contains(s.status.said, "2 steps") {
		t.Errorf("it says %q", s.status.said)
	}
	s.desk.Undo()
	if got := s.desk.Project().Pieces[0].Name; got != "One" {
		t.Errorf("one step back the piece is called %s", got)
	}
	if a, b := s.desk.Project().Pieces[1], steps[2].Project.Pieces[1]; a != b {
		t.Error("a piece that no step changed is there twice")
	}
	s.desk.Redo()
	s.desk.Redo()
	if got := s.desk.Project().Pieces[0].Name; got != "Three" {
		t.Errorf("what had been undone is %s", got)
	}
}

func TestHistoryBeginsAnewWhereTheFileWasChanged(t *testing.T) {
	s := window(t)
	rename(t, s, "One")
	path := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(path, nil, nil)
	if err := s.files.keeper.write(); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), `"One"`, `"Other"`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	s.files.Open(path)
	settle()
	if steps, _ := s.desk.History().Steps(); len(steps) != 1 || !strings.Contains(s.status.said, "elsewhere") {
		t.Errorf("%d steps, and it says %q", len(steps), s.status.said)
	}
}

// Where a jump leaves nothing in view, all is shown.
func TestHistoryShowsWhereItLeads(t *testing.T) {
	s := window(t)
	s.showHistory()
	var refs []draft.PieceRef
	for _, p := range s.desk.Project().Pieces {
		refs = append(refs, draft.PieceRef(p.ID))
	}
	err := desk.Run(s.desk, draft.MovePiece, draft.MovePieceArgs{Pieces: refs, By: draft.Vector(geom.Pt(9000, 0))})
	if err != nil {
		t.Fatal(err)
	}
	s.bench.Frame(int(s.bench.Size().Width), int(s.bench.Size().Height)) // drawn once, it knows its size
	s.bench.Fit()
	id := s.desk.Project().Pieces[0].ID
	inView := func() bool {
		pos, size, _ := s.bench.Where(id)
		return overlap(fyne.Position{}, s.bench.Size(), pos, size) > 0
	}
	if !inView() {
		t.Fatal("the piece is not in view after the move")
	}
	s.history.goTo(0)
	if !inView() {
		t.Error("after the jump nothing is in view")
	}
}

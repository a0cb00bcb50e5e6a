package shell

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/figure"
	"hemlet/draft/store"
)

func TestBodyLeadsToMeasure(t *testing.T) {
	s := bare(t)
	s.begin()
	s.beginBody()
	if s.station != stationMeasure || len(s.desk.Project().Wearers) != 0 {
		t.Errorf("“I have a body” leads to %s", s.station)
	}
	s.enter(stationShape)
	s.key(fyne.KeyF2)
	if s.station != stationMeasure {
		t.Errorf("F2 leads to %s", s.station)
	}
}

func TestWearerGoesToAFileAndComesBack(t *testing.T) {
	s := bare(t)
	p, err := draft.AddWearer.Do(s.desk.Project(), draft.AddWearerArgs{Name: "Quill", Build: figure.Wide})
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Commit(p.Step, p.Project, "")
	err = desk.Run(s.desk, draft.SetMeasure, draft.SetMeasureArgs{Wearer: draft.WearerRef(p.Made), Name: "bust_girth", Value: 231})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "quill.toml")
	if err := store.SaveWearer(path, s.desk.Project().Wearers[0]); err != nil {
		t.Fatal(err)
	}
	s.addWearerFile(path, s.showWearer)
	all := s.desk.Project().Wearers
	if len(all) != 2 || all[1].Build != figure.Wide || all[1].Given()["bust_girth"] != 231 || all[1].Name == all[0].Name {
		t.Fatalf("wearers are %+v", all)
	}
	if s.station != stationMeasure || s.measure.Wearer().ID != all[1].ID {
		t.Error("the wearer that was read is not shown")
	}
	if err := os.WriteFile(path, []byte("name = 3"), 0o644); err != nil {
		t.Fatal(err)
	}
	s.addWearerFile(path, s.showWearer)
	if s.question == nil || len(s.desk.Project().Wearers) != 2 {
		t.Error("a file that is none is not told of")
	}
}

// The command asks for a file; what is written there is the sheet.
func TestMeasuringSheetIsWritten(t *testing.T) {
	s := bare(t)
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	s.commandNamed("Measuring sheet…").run()
	settle()
	if s.question == nil {
		t.Fatal("nothing is asked")
	}
	field := s.win.Canvas().Focused().(interface{ SetText(string) })
	field.SetText(path)
	answerWith(t, s, "Write")
	if b, err := os.ReadFile(path); err != nil || !bytes.HasPrefix(b, []byte("%PDF-")) {
		t.Errorf("no PDF is there (%v)", err)
	}
}

// Draft is asked for the wearer that is measured.
func TestMeasureGoesOnToDraft(t *testing.T) {
	s := bare(t)
	p, err := draft.AddWearer.Do(s.desk.Project(), draft.AddWearerArgs{Name: "Quill"})
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Commit(p.Step, p.Project, "")
	s.draftFor(p.Made)
	if s.station != stationDraft {
		t.Errorf("at %s", s.station)
	}
	s.showWearer(p.Made)
	if s.station != stationMeasure || s.measure.Wearer().ID != p.Made {
		t.Errorf("back at %s", s.station)
	}
}

package shell

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/draft/store"
	"hemlet/geom"
)

// Pictures that are dropped on the room come into it, beside the document, and the marks
// of the rail and the menu lead there.
func TestPicturesAreDroppedOnTheTraceRoom(t *testing.T) {
	s := window(t)
	s.commandNamed("Trace a picture…").run()
	if s.station != stationTrace || !s.rail.buttons[stationDraft].Chosen() || s.rail.buttons[stationShape].Chosen() {
		t.Fatalf("at %s", s.station)
	}
	path := scan(t, t.TempDir(), 400, 300)
	s.files.dropped(fyne.NewPos(640, 400), []fyne.URI{storage.NewFileURI(path), storage.NewFileURI(path)})
	until(t, "no picture came in", func() bool { return len(s.desk.Project().Pictures) == 2 })
	if s.station != stationTrace {
		t.Errorf("at %s", s.station)
	}
	pic := s.desk.Project().Pictures[0]
	home, err := s.pictureHome()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.Picture(home, pic); err != nil {
		t.Errorf("the picture does not lie beside the document: %v", err)
	}
	s.undo()
	if len(s.desk.Project().Pictures) != 0 {
		t.Error("bringing them in is not undone")
	}
	s.desk.Redo()
	s.stationKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.station != stationTrace {
		t.Errorf("Escape, which only leaves off, leads to %s", s.station)
	}
	s.enter(stationShape)
	if !s.welcome.trace.Visible() {
		t.Error("the empty bench does not lead on with the pictures")
	}
	s.bench.ZoomBy(1.7)
	s.enter(stationTrace)
	if want := fmt.Sprintf("%.0f %%", s.tracer.Percent()); s.status.scale.Word != want {
		t.Errorf("the foot says %s of a view at %s", s.status.scale.Word, want)
	}
	s.enter(stationShape)
	// A picture on the bench leads to the room with itself in hand.
	s.desk.Pick(desk.PictureRef(s.desk.Project().Pictures[1].ID))
	s.commandNamed("Trace this picture").run()
	if s.station != stationTrace {
		t.Errorf("at %s", s.station)
	}
}

// A file that is no picture is told, and those that are come in.
func TestLetterAmongPictures(t *testing.T) {
	s := window(t)
	dir := t.TempDir()
	good := scan(t, dir, 40, 30)
	s.traceFiles([]string{filepath.Join(dir, "missing.png"), good})
	until(t, "the good one did not come in", func() bool { return len(s.desk.Project().Pictures) == 1 })
	if s.status.said == "" {
		t.Error("nothing is said of the one that is missing")
	}
}

// A picture that ends too early, and a letter, are refused in words that are seen, in the
// step in which pictures are brought in; nothing is laid on the bench.
func TestDamagedPictureIsRefused(t *testing.T) {
	s := window(t)
	dir := t.TempDir()
	whole, err := os.ReadFile(scan(t, dir, 400, 300))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(whole))
	if err != nil {
		t.Fatal(err)
	}
	var photo bytes.Buffer
	if err := jpeg.Encode(&photo, img, nil); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		content []byte
		says    string
	}{
		{"half.jpg", photo.Bytes()[:photo.Len()/2], "damaged"},
		{"half.png", whole[:len(whole)/2], "damaged"},
		{"letter.txt", []byte("Dear aunt"), "PDF"},
	} {
		path := filepath.Join(dir, c.name)
		if err := os.WriteFile(path, c.content, 0o644); err != nil {
			t.Fatal(err)
		}
		s.traceFiles([]string{path})
		until(t, c.name+" is not refused", func() bool {
			return strings.Contains(s.status.said, c.name) && strings.Contains(s.status.said, c.says)
		})
		if n := len(s.desk.Project().Pictures); n != 0 {
			t.Errorf("%s: %d pictures lie on the bench", c.name, n)
		}
	}
}

// What a traced pattern is called names a project that has neither a name nor a file.
func TestTracedPatternNamesTheProject(t *testing.T) {
	for _, c := range []struct{ was, want string }{{unnamed, "Lamplighter's cape"}, {"Winter show", "Winter show"}} {
		s := window(t)
		out, err := draft.ImportTraced.Do(draft.New(c.was), draft.ImportTracedArgs{
			Outlines: []draft.TracedOutline{{Outline: draft.Outline{
				Path:   geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, 60), geom.Pt(0, 60)),
				Corner: []bool{true, true, true, true},
			}}}, Name: "Lamplighter's cape",
		})
		if err != nil {
			t.Fatal(err)
		}
		s.desk.Open(out.Project, "")
		s.showTraced([]draft.ID{out.Project.Pieces[0].ID})
		if got := s.desk.Project().Name; got != c.want {
			t.Errorf("%q is called %q", c.was, got)
		}
	}
}

// The way for a pattern that exists takes scans too, into a project of their own.
func TestScanBeginsAProject(t *testing.T) {
	s := window(t)
	path := scan(t, t.TempDir(), 400, 300)
	if len(s.desk.Project().Pieces) == 0 {
		t.Fatal("the sample is not open")
	}
	s.beginPattern()
	settle()
	field := s.win.Canvas().Focused().(*control.Field)
	field.SetText(path)
	field.OnSubmitted(path)
	until(t, "the scan did not come in", func() bool { return len(s.desk.Project().Pictures) == 1 })
	if p := s.desk.Project(); len(p.Pieces) != 0 || s.station != stationTrace {
		t.Errorf("%d pieces lie open, at %s", len(p.Pieces), s.station)
	}
}

// What was traced is shown on the bench.
func TestTracedPiecesAreShown(t *testing.T) {
	s := window(t)
	s.trace()
	s.showTraced([]draft.ID{s.desk.Project().Pieces[0].ID})
	if s.station != stationShape || len(s.desk.Picked()) != 1 {
		t.Errorf("at %s, picked %v", s.station, s.desk.Picked())
	}
}

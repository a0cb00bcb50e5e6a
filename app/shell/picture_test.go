package shell

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"hemlet/app/desk"
	"hemlet/draft/store"
	"hemlet/geom"
)

// scan writes a grey picture to a file.
func scan(t *testing.T, dir string, w, h int) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = byte(60 + i%90)
	}
	path := filepath.Join(dir, "scan.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	return path
}

// until lets events happen until something holds.
func until(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 200 {
		settle()
		if holds() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal(what)
}

// A picture that is dropped on the window lies under the pieces, is moved, turned and
// locked there, and goes along when the project is saved.
func TestPictureIsLaidUnderAndSaved(t *testing.T) {
	s := window(t)
	path := scan(t, t.TempDir(), 400, 300)
	s.files.dropped(fyne.NewPos(640, 400), []fyne.URI{storage.NewFileURI(path)})
	project := s.desk.Project()
	if len(project.Pictures) != 1 || project.Pictures[0].Wide != 400 || project.Pictures[0].High != 300 {
		t.Fatalf("pictures %v", project.Pictures)
	}
	pic := project.Pictures[0]
	if got := s.desk.Picked(); len(got) != 1 || got[0] != desk.PictureRef(pic.ID) {
		t.Errorf("picked %v", got)
	}
	grey := func() bool {
		img := s.bench.Frame(800, 600)
		seen := map[byte]bool{}
		for i := 0; i < len(img.Pix); i += 4 {
			seen[img.Pix[i]] = true
		}
		return len(seen) > 60 // shades that no line of ours has
	}
	s.bench.Frame(800, 600)
	until(t, "the picture is not drawn", grey)
	s.hand.Nudge(geom.Pt(5, 0))
	s.hand.Turn(0.5)
	moved := s.desk.Project().Pictures[0]
	if moved.Middle().Dist(pic.Middle().Add(geom.Pt(5, 0))) > 1e-6 || moved.Place.B == 0 {
		t.Error("the picture is not moved or turned")
	}
	saved := filepath.Join(t.TempDir(), "smock.hemlet")
	s.files.write(saved, nil, nil)
	settle()
	if _, err := store.Picture(saved, moved); err != nil {
		t.Errorf("the picture did not come along: %v", err)
	}
	s.commandNamed("Lock").run()
	s.desk.Pick()
	if !s.desk.Project().Pictures[0].Locked {
		t.Error("the picture is not locked")
	}
	s.commandNamed("Unlock all").run()
	s.desk.Pick(desk.PictureRef(pic.ID))
	s.hand.Delete()
	if len(s.desk.Project().Pictures) != 0 {
		t.Error("the picture is there still")
	}
	s.desk.Undo()
	if !s.files.Open(saved) || len(s.desk.Project().Pictures) != 1 {
		t.Fatal("what was saved does not come back")
	}
	s.bench.Frame(800, 600)
	until(t, "the picture of the opened project is not drawn", grey)
}

func TestPictureThatIsNone(t *testing.T) {
	s := window(t)
	path := filepath.Join(t.TempDir(), "letter.png")
	if err := os.WriteFile(path, []byte("Dear aunt"), 0o644); err != nil {
		t.Fatal(err)
	}
	before := s.desk.Project()
	s.files.layUnder([]string{path}, nil)
	if s.question == nil || s.desk.Project() != before {
		t.Error("a letter is laid under, or nothing is said")
	}
}

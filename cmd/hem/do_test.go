package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft/store"
)

// Pieces go from one project to another at the terminal as they do through the
// clipboard, and a ghost is neither checked nor written.
func TestPasteFromAFileAndGhosts(t *testing.T) {
	dir := t.TempDir()
	a, b := filepath.Join(dir, "a.hemlet"), filepath.Join(dir, "b.hemlet")
	must(t, "import", write(t, "a.svg", squareSVG), "-o", a, "--line", "stitch")
	must(t, "import", write(t, "b.svg", squareSVG), "-o", b, "--line", "stitch")
	must(t, "do", b, "rename-piece", "piece=Right", "name=Sleeve", "-o", b)
	must(t, "do", b, "rename-piece", "piece=Left", "name=Cuff", "-o", b)
	must(t, "do", a, "paste-pieces", "from=@"+b, "only=Sleeve", "-o", a)
	pieces := func() string {
		facts, _ := check(t, a)
		var names []string
		for _, p := range facts.Pieces {
			names = append(names, p.Name)
		}
		return strings.Join(names, " ")
	}
	if got := pieces(); got != "Left Right Sleeve" {
		t.Errorf("pieces %s", got)
	}
	must(t, "do", a, "set-ghost", "pieces=Sleeve", "-o", a)
	must(t, "do", a, "hide-pieces", "pieces=Left", "-o", a)
	if got := pieces(); got != "Left Right" {
		t.Errorf("with a ghost, pieces %s", got)
	}
	svg := filepath.Join(dir, "a.svg")
	must(t, "export", a, "-o", svg)
	text, err := os.ReadFile(svg)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), "Sleeve") || !strings.Contains(string(text), `data-name="Left"`) {
		t.Error("the ghost is written, or the hidden piece is not")
	}
	if code, _, errs := hem(t, "do", a, "paste-pieces", "from=@"+filepath.Join(dir, "none.hemlet"), "-o", a); code != exitFailed || !strings.Contains(errs, "none.hemlet") {
		t.Errorf("a missing file: %d %s", code, errs)
	}
	must(t, "do", a, "set-ghost", "pieces=*", "-o", a)
	if code, _, errs := hem(t, "export", a, "-o", svg); code != exitFailed || !strings.Contains(errs, "no pieces") {
		t.Errorf("ghosts alone are written: %d %s", code, errs)
	}
}

// A picture is laid under by the path of its file, as in the window: its bytes lie beside
// the project, and come along when an act writes another file.
func TestAddPictureByItsFile(t *testing.T) {
	dir := t.TempDir()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 30, 20))); err != nil {
		t.Fatal(err)
	}
	scan := filepath.Join(dir, "scan of Quill.png")
	if err := os.WriteFile(scan, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	a, c := filepath.Join(dir, "a.hemlet"), filepath.Join(dir, "c.hemlet")
	must(t, "import", write(t, "a.svg", squareSVG), "-o", a, "--line", "stitch")
	must(t, "do", a, "add-picture", "file="+scan, "width=60mm", "-o", a)
	must(t, "do", a, "add-picture", "file=@"+scan, "-o", a)
	must(t, "do", a, "rename-project", "name=Winter", "-o", c)
	for _, path := range []string{a, c} {
		p, _, err := store.Load(path)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Pictures) != 2 || p.Pictures[0].Name != "scan of Quill.png" {
			t.Fatalf("%d pictures", len(p.Pictures))
		}
		for _, pic := range p.Pictures {
			if content, err := store.Picture(path, pic); err != nil || !bytes.Equal(content, b.Bytes()) {
				t.Errorf("%s: %v", filepath.Base(path), err)
			}
		}
	}
	for path, says := range map[string]string{filepath.Join(dir, "none.png"): "none.png", a: "a.hemlet"} {
		fresh := filepath.Join(dir, "fresh.hemlet")
		if code, _, errs := hem(t, "do", a, "add-picture", "file="+path, "-o", fresh); code != exitFailed || !strings.Contains(errs, says) {
			t.Errorf("%s: %d %s", path, code, errs)
		}
		if _, err := os.Stat(store.PictureFolder(fresh)); err == nil {
			t.Error("something was left behind")
		}
	}
	// What cannot be saved leaves no picture behind.
	if err := os.Mkdir(filepath.Join(dir, "taken.hemlet"), 0o777); err != nil {
		t.Fatal(err)
	}
	taken := filepath.Join(dir, "taken.hemlet")
	if code, _, _ := hem(t, "do", a, "add-picture", "file="+scan, "-o", taken); code != exitFailed {
		t.Errorf("it is written over a folder: %d", code)
	}
	if _, err := os.Stat(store.PictureFolder(taken)); err == nil {
		t.Error("a picture was left behind")
	}
}

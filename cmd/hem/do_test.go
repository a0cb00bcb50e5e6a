package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
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

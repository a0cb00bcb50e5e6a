package main

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"hemlet/draft/store"
	"hemlet/geom/trace/tracetest"
)

// A pattern that a book prints at a fifth of its size is traced to its true one, by the line
// that says its scale.
func TestTraceReducedPage(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	page, rule, err := tracetest.SmockPage()
	if err != nil {
		t.Fatal(err)
	}
	pic, err := tracetest.Plain(300, 8).See(page)
	if err != nil {
		t.Fatal(err)
	}
	in, out := pictureFile(t, "page.png", pic), filepath.Join(t.TempDir(), "out.hemlet")
	a, b := pic.Back.Apply(rule[0]), pic.Back.Apply(rule[1])
	must(t, "trace", in, "-o", out, "--line", "stitch", "--no-picture",
		"--scale", fmt.Sprintf("%.2f,%.2f:%.2f,%.2f=%gmm", a.X, a.Y, b.X, b.Y, tracetest.SmockLine))
	p, _, err := store.Load(out)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Pieces) != len(page.Pieces) {
		t.Fatalf("%d pieces were traced of %d", len(p.Pieces), len(page.Pieces))
	}
	for _, truth := range tracetest.Smock() {
		nearest := math.Inf(1)
		for _, got := range p.Pieces {
			nearest = math.Min(nearest, math.Abs(got.DrawnPath().Length()-truth.Outline.Length()))
		}
		// 0.2 mm at a fifth is a tenth of a pixel of the scan.
		if nearest > 1 {
			t.Errorf("%s is %.2f mm off round its outline", truth.Name, nearest)
		}
	}
}

// What is kept for trying out fits is what tracetest draws, to the figures of its drawing.
func TestKeptSmock(t *testing.T) {
	p, _, err := store.Load(filepath.Join("..", "..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	for i, truth := range tracetest.Smock() {
		got := p.Pieces[i]
		if d := got.DrawnPath().Length() - truth.Outline.Length(); got.Name != truth.Name || math.Abs(d) > 1e-3 {
			t.Errorf("%s is kept as %s, %g mm longer round", truth.Name, got.Name, d)
		}
	}
	for _, m := range tracetest.SmockMeasures {
		if v, ok := p.Origins[0].Measure(m.Name); !ok || v != m.MM {
			t.Errorf("it was made for %s of %v", m.Name, v)
		}
	}
}

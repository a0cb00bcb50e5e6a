package tracetest_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// drawTo is where the photographs of the cape are written to:
//
//	go test ./geom/trace/tracetest -run TestDrawCape -draw FOLDER
var drawTo = flag.String("draw", "", "the folder into which pictures for trying out are written")

func TestCapeRunsOverBothSheets(t *testing.T) {
	sheets, truth, shift := tracetest.Cape()
	cape := truth[0].Outline.Bounds()
	if !(cape.Min.X > 0 && cape.Max.X > sheets[0].W && cape.Min.X < shift) {
		t.Errorf("the cape lies from %v to %v, on sheets %v apart", cape.Min, cape.Max, shift)
	}
	for i := range sheets[0].Marks {
		if d := sheets[0].Marks[i].Sub(sheets[1].Marks[i]); d.Dist(geom.Pt(shift, 0)) > 1e-9 {
			t.Errorf("mark %d lies %v apart", i, d)
		}
	}
	for _, p := range truth {
		if err := p.Outline.Simple(); err != nil || p.Outline.Area() <= 0 {
			t.Errorf("%s: %v", p.Name, err)
		}
	}
	if n := len(sheets[0].Layers[len(sheets[0].Layers)-1].Fills); n < 10 {
		t.Errorf("%d letters", n)
	}
}

func TestDrawCape(t *testing.T) {
	if *drawTo == "" {
		t.Skip("draws only where -draw names a folder")
	}
	sheets, truth, _ := tracetest.Cape()
	said := map[string]any{}
	for i, s := range sheets {
		camera := tracetest.Phone(uint64(71 + i))
		pic, err := camera.See(s)
		if err != nil {
			t.Fatal(err)
		}
		f, err := os.Create(filepath.Join(*drawTo, fmt.Sprintf("cape-%d.jpg", i+1)))
		if err != nil {
			t.Fatal(err)
		}
		if err := jpeg.Encode(f, pic.Image, &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		said[fmt.Sprintf("sheet %d", i+1)] = map[string]any{"frame_px": pic.Frame, "marks_px": pic.Marks}
	}
	for _, p := range truth {
		var edges []float64
		for _, s := range p.Outline {
			edges = append(edges, s.Length())
		}
		said[p.Name] = map[string]any{"area_mm2": p.Outline.Area(), "edges_mm": edges}
	}
	text, err := json.MarshalIndent(said, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*drawTo, "truth.json"), text, 0o644); err != nil {
		t.Fatal(err)
	}
}

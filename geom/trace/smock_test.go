package trace_test

import (
	"context"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// A page of a book on which a pattern is drawn at a fifth of its size: nothing about it is
// out of the ordinary, and its lines lie off the ink by what they are really off.
func TestReducedPage(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	page, _, err := tracetest.SmockPage()
	if err != nil {
		t.Fatal(err)
	}
	pic, err := tracetest.Plain(300, 8).See(page)
	if err != nil {
		t.Fatal(err)
	}
	r, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		t.Fatal(err)
	}
	const k = tracetest.SmockScale
	large := geom.Scaling(k, k)
	res, err := trace.Trace(context.Background(), []trace.Sheet{{Raster: r, Map: pic.Map.Then(large)}}, trace.Options{Manner: trace.Drawn}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(res.Outlines) != len(pic.Pieces) || len(res.Says) > 0 {
		t.Fatalf("%d outlines; %q", len(res.Outlines), res.Says)
	}
	for i, o := range res.Outlines {
		truth := pic.Pieces[i].Outline.Transform(large)
		if !truth.Bounds().Overlaps(o.Path.Bounds()) {
			t.Fatalf("%s lies elsewhere", pic.Pieces[i].Name)
		}
		off := tracetest.Measure(o.Path, truth)
		t.Logf("%s: off by %.3f mm, said to be off by %.3f mm at %v", pic.Pieces[i].Name, off.Largest, o.Off.Largest, o.Off.At)
		// A pixel is 0.42 mm wide here.
		if off.Largest > 0.1 || o.Off.Largest > 0.2 {
			t.Errorf("%s: off by %.3f mm, said to be off by %.3f mm at %v", pic.Pieces[i].Name, off.Largest, o.Off.Largest, o.Off.At)
		}
	}
}

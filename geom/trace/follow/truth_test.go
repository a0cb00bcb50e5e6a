package follow_test

import (
	"context"
	"flag"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/follow"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// pieces is how many outlines each condition takes.
var pieces = flag.Int("pieces", 1, "outlines that are scanned in each condition; 600 dpi only with several")

// polygon returns a followed line as a closed path in mm.
func polygon(l follow.Line, m geom.Homography) geom.Path {
	var p geom.Path
	for i, a := range l.Pts {
		p = append(p, geom.Line(m.Apply(a), m.Apply(l.Pts[(i+1)%len(l.Pts)])))
	}
	return p
}

// The points of a line lie on the outline that was scanned. The deviation of single points
// holds the noise of the scan, which a fit evens out; the bias stays in the fit.
func TestLinesLieOnTheTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for i, c := range []struct {
		name         string
		pen          float64 // mm, 0 for filled
		scan         func(dpi float64, seed uint64) tracetest.Scan
		dpi          float64
		median, bias float64 // mm
		largest      float64 // mm; 0 for filled shapes, whose tips the blur fills
	}{
		{"filled", 0, tracetest.Plain, 300, 0.005, 0.003, 0},
		{"pen 0.4", 0.4, tracetest.Plain, 300, 0.005, 0.002, 0.25},
		{"pen 0.8", 0.8, tracetest.Plain, 300, 0.005, 0.002, 0.25},
		{"filled, 150 dpi", 0, tracetest.Plain, 150, 0.010, 0.005, 0},
		{"pen 0.6, 150 dpi", 0.6, tracetest.Plain, 150, 0.010, 0.004, 0.35},
		{"filled, 600 dpi", 0, tracetest.Plain, 600, 0.005, 0.003, 0},
		{"pen 0.6, 600 dpi", 0.6, tracetest.Plain, 600, 0.005, 0.002, 0.25},
		{"filled, rough", 0, tracetest.Rough, 300, 0.04, 0.04, 0}, // where noise hides the tone,
		{"pen 0.6, rough", 0.6, tracetest.Rough, 300, 0.02, 0.01, 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.dpi > 300 && *pieces < 2 {
				t.Skip("only with several pieces: it takes long to draw the scan")
			}
			for k := range *pieces {
				seed := uint64(i + k)
				piece := tracetest.Garment(seed)
				sheet := tracetest.Filled(piece)
				if c.pen > 0 {
					sheet = tracetest.Drawn(c.pen, piece)
				}
				pic, err := c.scan(c.dpi, seed).See(sheet)
				if err != nil {
					t.Fatal(err)
				}
				line := followed(t, pic, c.pen > 0)
				off := tracetest.Measure(polygon(line, pic.Map), pic.Pieces[0].Outline)
				t.Logf("%s %d: median %.4f bias %+.4f p95 %.4f largest %.3f at %.1f; blur %.3f noise %.4f pen %.3f mm", piece.Name, seed,
					off.Median, off.Bias, off.P95, off.Largest, off.At, line.Blur/pic.Scale, line.Noise/pic.Scale, line.Width/pic.Scale)
				if off.Median > c.median || off.Bias > c.bias || off.Bias < -c.bias || c.largest > 0 && off.Largest > c.largest {
					t.Errorf("seed %d: off by %.4f mm in the median, %+.4f of bias, %.3f at most", seed, off.Median, off.Bias, off.Largest)
				}
			}
		})
	}
}

// followed returns the outline of the largest shape of a picture.
func followed(t *testing.T, pic tracetest.Picture, drawn bool) follow.Line {
	t.Helper()
	ctx := context.Background()
	r, err := scan.Grey(ctx, pic.Image, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := scan.Even(ctx, r, scan.Light{S: pic.Scale})
	if err != nil {
		t.Fatal(err)
	}
	do := follow.Edges
	if drawn {
		do = follow.Strokes
	}
	found, err := do(ctx, f, follow.Options{S: pic.Scale, Least: 25})
	if err != nil {
		t.Fatal(err)
	}
	if len(found.Shapes) != 1 {
		t.Fatalf("%d shapes, %d open, %d cut", len(found.Shapes), len(found.Open), len(found.Cut))
	}
	return found.Shapes[0].Outline
}

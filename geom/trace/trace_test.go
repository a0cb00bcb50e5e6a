package trace_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// boxPiece is a piece of four lines of the given size, counter-clockwise from the origin.
func boxPiece(w, h float64) tracetest.Piece {
	return tracetest.Piece{Name: "box", Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h))}
}

// seen scans the sheet and makes it one to trace.
func seen(t testing.TB, s tracetest.Sheet, scanner tracetest.Scan) trace.Sheet {
	t.Helper()
	pic, err := scanner.See(s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		t.Fatal(err)
	}
	return trace.Sheet{Raster: r, Map: pic.Map}
}

func TestTraceOfARectangle(t *testing.T) {
	p := boxPiece(70, 45)
	for _, c := range []struct {
		name  string
		sheet tracetest.Sheet
		o     trace.Options
		at    float64 // most that an edge may be off, mm
	}{
		{"filled", tracetest.Filled(p), trace.Options{}, .03},
		{"drawn", tracetest.Drawn(.6, p), trace.Options{Manner: trace.Drawn}, .03},
		{"light on dark", func() tracetest.Sheet {
			s, moved := tracetest.Lay(p)
			s.Paper = tracetest.Tone{.15, .15, .15}
			return s.Fill(tracetest.White, moved...)
		}(), trace.Options{Dark: true}, .03},
		{"filled, local threshold", tracetest.Filled(p), trace.Options{Local: true}, .1},
	} {
		t.Run(c.name, func(t *testing.T) {
			sh := seen(t, c.sheet, tracetest.Plain(150, 1))
			last := -1.0
			res, err := trace.Trace(context.Background(), []trace.Sheet{sh}, c.o, func(share float64, says string) {
				if share < last || share > 1 || says == "" {
					t.Errorf("progress %g %q after %g", share, says, last)
				}
				last = share
			})
			if err != nil || len(res.Outlines) != 1 {
				t.Fatalf("%d outlines, %v, %v", len(res.Outlines), res.Says, err)
			}
			if last != 1 {
				t.Errorf("progress ended at %g", last)
			}
			o := res.Outlines[0]
			if len(o.Path) != 4 || len(o.Corner) != 4 || !o.Path[0].Straight {
				t.Errorf("%d segments, corners %v", len(o.Path), o.Corner)
			}
			off := tracetest.Measure(o.Path, c.sheet.Pieces[0].Outline)
			if off.Largest > c.at {
				t.Errorf("off by %.3f mm at %v, median %.3f, bias %+.3f", off.Largest, off.At, off.Median, off.Bias)
			}
			// The review knows the ink that was followed: noise of a few hundredths.
			if o.Off.Largest > .5 || o.Off.Median > .05 || len(o.Off.Samples) < 100 {
				t.Errorf("review: median %g, largest %g, %d samples", o.Off.Median, o.Off.Largest, len(o.Off.Samples))
			}
			if want := map[trace.Manner]float64{trace.Drawn: .6}[c.o.Manner]; math.Abs(o.Pen-want) > .1 {
				t.Errorf("a pen of %g mm, want %g", o.Pen, want)
			}
		})
	}
}

func TestReviewTellsACornerThatWasMoved(t *testing.T) {
	sh := seen(t, tracetest.Filled(boxPiece(70, 45)), tracetest.Plain(150, 2))
	res, err := trace.Trace(context.Background(), []trace.Sheet{sh}, trace.Options{}, nil)
	if err != nil || len(res.Outlines) != 1 {
		t.Fatal(err, res.Says)
	}
	o := res.Outlines[0]
	moved := append(geom.Path{}, o.Path...)
	to := moved[0].P0.Add(geom.Pt(-1.5, -1.5))
	moved[0] = geom.Line(to, moved[0].P3)
	moved[3] = geom.Line(moved[3].P0, to)
	d := trace.Review(moved, o.Ink)
	if d.Largest < 1 || d.At.Dist(to) > 3 {
		t.Errorf("a corner moved by 2.1 mm: largest %.2f at %v, corner at %v", d.Largest, d.At, to)
	}
}

func TestTraceOfNothing(t *testing.T) {
	blank := seen(t, tracetest.Sheet{W: 60, H: 60, Paper: tracetest.White}, tracetest.Plain(150, 1))
	for _, m := range []trace.Manner{trace.Filled, trace.Drawn} {
		res, err := trace.Trace(context.Background(), []trace.Sheet{blank}, trace.Options{Manner: m}, nil)
		if err != nil || len(res.Outlines) > 0 || len(res.Says) == 0 {
			t.Errorf("%v, blank paper: %d outlines, %v, %v", m, len(res.Outlines), res.Says, err)
		}
	}
	// A line that does not close is told with its gap, and makes no outline.
	s, moved := tracetest.Lay(boxPiece(70, 45))
	s = s.Cover(tracetest.Layer{Tone: tracetest.Black, Pen: .6, Lines: tracetest.Broken(moved[0].Outline, 12, .3)})
	res, err := trace.Trace(context.Background(), []trace.Sheet{seen(t, s, tracetest.Plain(150, 1))}, trace.Options{Manner: trace.Drawn}, nil)
	if err != nil || len(res.Outlines) > 0 || len(res.Open) == 0 {
		t.Errorf("a gap of 12 mm: %d outlines, %d open, %v, %v", len(res.Outlines), len(res.Open), res.Says, err)
	}
	// The same with a gap that may be bridged.
	res, err = trace.Trace(context.Background(), []trace.Sheet{seen(t, s, tracetest.Plain(150, 1))}, trace.Options{Manner: trace.Drawn, Gap: 15}, nil)
	if err != nil || len(res.Outlines) != 1 {
		t.Fatalf("a gap of 12 mm bridged: %d outlines, %d open, %v, %v", len(res.Outlines), len(res.Open), res.Says, err)
	}
	if off := tracetest.Measure(res.Outlines[0].Path, moved[0].Outline); off.Largest > .3 {
		t.Errorf("a bridged gap: off by %.2f mm", off.Largest)
	}
}

func TestTraceRefusals(t *testing.T) {
	ctx := context.Background()
	good := &scan.Raster{W: 2, H: 2, Pix: make([]uint8, 4)}
	for _, c := range []struct {
		name   string
		sheets []trace.Sheet
		says   string
	}{
		{"no sheet", nil, "no picture"},
		{"no raster", []trace.Sheet{{Map: geom.Plane}}, "no picture"},
		{"no map", []trace.Sheet{{Raster: good}}, "true to size"},
		{"a map that is no number", []trace.Sheet{{Raster: good, Map: geom.Homography{A: math.NaN(), D: 1}}}, "true to size"},
		{"a region beside the picture", []trace.Sheet{{Raster: good, Map: geom.Plane, Region: []geom.Point{{X: 5}, {X: 6}, {X: 6, Y: 1}}}}, "does not lie on the picture"},
		{"the second has none", []trace.Sheet{{Raster: good, Map: geom.Plane}, {Raster: good}}, "sheet 2"},
	} {
		if _, err := trace.Trace(ctx, c.sheets, trace.Options{}, nil); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestTraceIsCancelled(t *testing.T) {
	sh := seen(t, tracetest.Filled(tracetest.Garment(2)), tracetest.Plain(150, 1))
	for _, stop := range []float64{0, .3, .5, .8} {
		ctx, cancel := context.WithCancel(context.Background())
		var at time.Time
		_, err := trace.Trace(ctx, []trace.Sheet{sh}, trace.Options{}, func(share float64, _ string) {
			if share >= stop && at.IsZero() {
				at = time.Now()
				cancel()
			}
		})
		if !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled at %.1f: %v", stop, err)
		}
		cancel()
	}
}

func TestOnlyTheRegionIsRead(t *testing.T) {
	s := tracetest.Sheet{W: 160, H: 80, Paper: tracetest.White}
	a, b := boxPiece(40, 40), boxPiece(50, 30)
	a, b = a.Transform(geom.Translation(geom.Pt(15, 15))), b.Transform(geom.Translation(geom.Pt(85, 15)))
	sh := seen(t, s.Fill(tracetest.Black, a, b), tracetest.Plain(150, 1))
	back, _ := sh.Map.Invert()
	for _, p := range geom.Polygon(geom.Pt(70, 5), geom.Pt(150, 5), geom.Pt(150, 70), geom.Pt(70, 70)) {
		sh.Region = append(sh.Region, back.Apply(p.P0))
	}
	res, err := trace.Trace(context.Background(), []trace.Sheet{sh}, trace.Options{}, nil)
	if err != nil || len(res.Outlines) != 1 {
		t.Fatalf("%d outlines, %v", len(res.Outlines), err)
	}
	if off := tracetest.Measure(res.Outlines[0].Path, b.Outline); off.Largest > .05 {
		t.Errorf("off by %.3f", off.Largest)
	}
}

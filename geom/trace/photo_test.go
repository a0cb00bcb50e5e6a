package trace_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// Bars of a photograph and of joined sheets, mm.
const (
	photoSide   = 200.0 // longer side of the piece
	photoMedian = 0.1
	photoP95    = 0.3
	joinLargest = 0.2
	// clickOff is by how much a click at the corner of a sheet may miss it, in px: a few on
	// a screen that shows the picture at a fourth of its size.
	clickOff = 15.0
	// markOff is by how much a mark may be missed, in px: less than half a pixel, after the
	// picture was enlarged.
	markOff = .4
)

// onSheet returns a piece of the given longer side in the middle of an A4 sheet, across.
func onSheet(p tracetest.Piece, side float64) (tracetest.Sheet, tracetest.Piece) {
	const w, h = 297.0, 210.0
	b := p.Outline.Bounds()
	k := math.Min(side/math.Max(b.W(), b.H()), math.Min((w-12)/b.W(), (h-12)/b.H()))
	p = p.Transform(geom.Scaling(k, k))
	b = p.Outline.Bounds()
	p = p.Transform(geom.Translation(geom.Pt(w/2, h/2).Sub(b.Center())))
	return tracetest.Sheet{W: w, H: h, Paper: tracetest.White}, p
}

// framed makes a sheet to trace of a photograph of which only the size of the paper is
// known and where its corners were clicked.
func framed(t testing.TB, pic tracetest.Picture, w, h float64, seed uint64) (trace.Sheet, error) {
	r, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		return trace.Sheet{}, err
	}
	rng := rand.New(rand.NewPCG(seed, 0xc11c))
	var rough [4]geom.Point
	for i, c := range pic.Frame {
		rough[i] = c.Add(geom.Pt(rng.Float64()-.5, rng.Float64()-.5).Mul(2 * clickOff / math.Sqrt2))
	}
	f, err := scan.FitFrame(r, rough)
	if err != nil {
		return trace.Sheet{}, err
	}
	m, _, err := f.True(w, h, geom.Pt(w/2, h/2))
	if err != nil {
		return trace.Sheet{}, err
	}
	back, _ := m.Invert()
	const inside = 2.0 // mm off the edge of the paper
	var region []geom.Point
	for _, c := range [4]geom.Point{{X: inside, Y: inside}, {X: w - inside, Y: inside}, {X: w - inside, Y: h - inside}, {X: inside, Y: h - inside}} {
		region = append(region, back.Apply(c))
	}
	return trace.Sheet{Raster: r, Map: m, Region: region}, nil
}

// photographs are the conditions with a camera.
func photographs(t testing.TB) []condition {
	snap := func(manner trace.Manner) condition {
		c := condition{manner: manner, pen: .6, median: photoMedian, p95: photoP95, large: true}
		c.place = func(p tracetest.Piece) tracetest.Sheet {
			s, p := onSheet(p, photoSide)
			if manner == trace.Filled {
				return s.Fill(tracetest.Black, p)
			}
			return s.Draw(tracetest.Black, c.pen, p)
		}
		c.see = func(s tracetest.Sheet, seed uint64) (tracetest.Picture, error) { return tracetest.Phone(seed).See(s) }
		c.known = func(pic tracetest.Picture, seed uint64) (trace.Sheet, error) { return framed(t, pic, 297, 210, seed) }
		return c
	}
	filled, drawn := snap(trace.Filled), snap(trace.Drawn)
	filled.name, drawn.name = "photograph, filled", "photograph, pen 0.6"
	return []condition{filled, drawn}
}

// joined scans a long piece as two sheets and joins them by their marks.
func joined(t *testing.T, p tracetest.Piece, manner trace.Manner, seed uint64) (found, truth geom.Path, off float64) {
	ctx := context.Background()
	b := p.Outline.Bounds()
	whole := tracetest.Filled(p)
	if manner == trace.Drawn {
		whole = tracetest.Drawn(.6, p)
	}
	const overlap = 40.0
	mid := whole.W / 2
	// Marks in the overlap, above and below the piece.
	whole.H += 20
	whole = whole.Mark(5, geom.Pt(mid-8, 5), geom.Pt(mid+6, b.H()+2*tracetest.Margin+8))
	var sheets []trace.Sheet
	var marks [][]geom.Point
	rng := rand.New(rand.NewPCG(seed, 0x101))
	for i, r := range []geom.Rect{
		{Max: geom.Pt(mid+overlap/2, whole.H)},
		{Min: geom.Pt(mid-overlap/2, 0), Max: geom.Pt(whole.W, whole.H)},
	} {
		pic, err := tracetest.Plain(300, seed*2+uint64(i)).See(whole.Part(r))
		if err != nil {
			t.Fatal(err)
		}
		raster, err := scan.Grey(ctx, pic.Image, nil)
		if err != nil {
			t.Fatal(err)
		}
		m := pic.Map
		if i > 0 {
			// Of the second sheet only the resolution is known, not how it lay.
			m = geom.Scaling(25.4/300, -25.4/300).Projective()
		}
		var at []geom.Point
		for _, c := range pic.Marks {
			at = append(at, m.Apply(c.Add(geom.Pt(rng.Float64()-.5, rng.Float64()-.5).Mul(2*markOff/math.Sqrt2))))
		}
		sheets, marks = append(sheets, trace.Sheet{Raster: raster, Map: m}), append(marks, at)
	}
	j, err := scan.JoinMarks(marks[1], marks[0])
	if err != nil {
		t.Fatal(err)
	}
	sheets[1].Map = sheets[1].Map.Then(j.Map)
	// How far the join is from the truth, at the far end of the second sheet.
	res, err := trace.Trace(ctx, sheets, trace.Options{Manner: manner}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(res.Outlines) == 0 {
		t.Fatalf("%s: nothing found: %v, %d open, %d cut", p.Name, res.Says, len(res.Open), len(res.Cut))
	}
	best := res.Outlines[0].Path
	for _, o := range res.Outlines {
		if o.Path.Area() > best.Area() {
			best = o.Path
		}
	}
	return best, whole.Pieces[0].Outline, j.RMS
}

func TestJoinedSheetsAreTrue(t *testing.T) {
	n := max(1, *bars/10)
	for i, p := range specimens(t, 150) {
		// Long enough for two sheets, and for the test in a few seconds.
		if b := p.Outline.Bounds(); b.W() < 150 || b.W() > 200 || b.H() > 120 || n == 0 {
			continue
		}
		n--
		for _, manner := range []trace.Manner{trace.Filled, trace.Drawn} {
			found, truth, rms := joined(t, p, manner, uint64(i))
			o := tracetest.Measure(found, truth)
			t.Logf("%s, %v: marks %.3f mm, median %.4f, 95 of 100 %.3f, largest %.3f mm, %d segments of %d", p.Name, manner, rms, o.Median, o.P95, o.Largest, len(found), len(truth))
			if o.P95 > joinLargest {
				t.Errorf("%s, %v: joined sheets are off by %.3f mm", p.Name, manner, o.P95)
			}
		}
	}
}

package scan_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// The bars of making true, held against pictures that the generator draws. It shares no
// code with what is tested.
const (
	frameMedian, frameP95 = .05, .3 // mm inside a sheet of about 200 mm, at 12 megapixels
	joinMost              = .2      // mm
	gridMost              = .15     // mm, squared paper scanned at 150 dpi
)

// grey is the picture that the generator made.
func grey(tb testing.TB, p tracetest.Picture, err error) *scan.Raster {
	tb.Helper()
	if err != nil {
		tb.Fatal(err)
	}
	r, err := scan.Grey(context.Background(), p.Image, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// a4 is a sheet of A4 across (ISO 216: 297 by 210 mm) with a drawn garment on it.
func a4(seed uint64) tracetest.Sheet {
	s := tracetest.Sheet{W: 297, H: 210, Paper: tracetest.White}
	p := tracetest.Garment(seed)
	b := tracetest.Bounds(p)
	k := math.Min(250/b.W(), 170/b.H())
	m := geom.Translation(b.Min.Mul(-1)).Then(geom.Scaling(k, k)).Then(geom.Translation(geom.Pt(20, 20)))
	return s.Draw(tracetest.Black, .6, p.Transform(m))
}

// offsOn returns how far, in mm, a map of a picture puts the places of a sheet from where
// they are, sorted.
func offsOn(s tracetest.Sheet, p tracetest.Picture, h geom.Homography) []float64 {
	var offs []float64
	for x := 5.0; x < s.W; x += 10 {
		for y := 5.0; y < s.H; y += 10 {
			at := geom.Pt(x, y)
			offs = append(offs, h.Apply(p.Back.Apply(at)).Dist(at))
		}
	}
	slices.Sort(offs)
	return offs
}

func TestPhotographByItsFrame(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for seed := uint64(1); seed <= 2; seed++ {
		s := a4(seed)
		phone := tracetest.Phone(seed)
		if seed > 1 {
			phone.W, phone.H = 2000, 1500 // to save time; the bar is for 12 megapixels
		}
		p, err := phone.See(s)
		r := grey(t, p, err)
		pick := rand.New(rand.NewPCG(seed, 1))
		var clicks [4]geom.Point
		for i, c := range p.Frame {
			clicks[i] = c.Add(geom.Pt(12*pick.NormFloat64(), 12*pick.NormFloat64()))
		}
		f, err := scan.FitFrame(r, clicks)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		h, rms, err := f.True(s.W, s.H, geom.Pt(s.W/2, s.H/2))
		if err != nil {
			t.Fatal(err)
		}
		offs := offsOn(s, p, h)
		median, p95 := offs[len(offs)/2], offs[len(offs)*95/100]
		t.Logf("seed %d: %.2f px/mm, median %.4f, p95 %.4f, largest %.4f mm; residual %.4f mm", seed, p.Scale, median, p95, offs[len(offs)-1], rms)
		if median > frameMedian || p95 > frameP95 || rms > frameMedian {
			t.Errorf("seed %d: median %.3f, p95 %.3f mm, residual %.3f mm", seed, median, p95, rms)
		}
		found, err := scan.FindFrame(r)
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			continue
		}
		for _, c := range p.Frame {
			near := math.Inf(1)
			for _, q := range found {
				near = math.Min(near, q.Dist(c))
			}
			if near > 1.5 {
				t.Errorf("seed %d: found corners %.2f px off", seed, near)
			}
		}
	}
}

func TestScanByItsGrid(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, c := range []struct {
		name  string
		tone  tracetest.Tone
		side  float64 // mm
		pen   float64 // mm
		rough bool
	}{
		{"blue 5 mm", tracetest.Blue, 5, .2, false},
		{"rose 10 mm", tracetest.Rose, 10, .3, false},
		{"quarter inch", tracetest.Blue, 6.35, .2, false},
		{"an inch", tracetest.Pencil, 25.4, .3, false},
		{"a bad scan", tracetest.Rose, 5, .25, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := a4(4)
			s = s.Under(s.Squared(c.tone, c.side, c.pen))
			how := tracetest.Plain(150, 4)
			if c.rough {
				how = tracetest.Rough(150, 4)
			}
			p, err := how.See(s)
			r := grey(t, p, err)
			g, err := scan.FindGrid(context.Background(), r)
			if err != nil {
				t.Fatal(err)
			}
			px := geom.Pt(float64(r.W)/2, float64(r.H)/2)
			h, rms, err := g.True(c.side, px, p.Map.Apply(px))
			if err != nil {
				t.Fatal(err)
			}
			// The true map turns with the sheet, as the grid does.
			offs := offsOn(s, p, h)
			t.Logf("%d crossings, rms %.3f mm; median %.4f, largest %.4f mm", g.Crossings, rms, offs[len(offs)/2], offs[len(offs)-1])
			if most := offs[len(offs)-1]; most > gridMost || rms > gridMost/2 {
				t.Errorf("off by %.3f mm, residual %.3f: %+v", most, rms, g)
			}
		})
	}
}

func TestPhotographByItsGrid(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	s := a4(5)
	s = s.Under(s.Squared(tracetest.Blue, 10, .3))
	phone := tracetest.Phone(5)
	phone.W, phone.H = 1600, 1200
	p, err := phone.See(s)
	r := grey(t, p, err)
	g, err := scan.FindGrid(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	px := geom.Pt(float64(r.W)/2, float64(r.H)/2)
	h, rms, err := g.True(10, px, p.Map.Apply(px))
	if err != nil {
		t.Fatal(err)
	}
	offs := offsOn(s, p, h)
	t.Logf("%d crossings, rms %.3f mm; median %.4f, largest %.4f mm", g.Crossings, rms, offs[len(offs)/2], offs[len(offs)-1])
	if offs[len(offs)/2] > frameMedian || offs[len(offs)*95/100] > frameP95 {
		t.Errorf("median %.3f, p95 %.3f mm", offs[len(offs)/2], offs[len(offs)*95/100])
	}
}

// A frame printed on the sheet is measured along the middle of its line, whatever the width
// of the pen.
func TestPhotographByAPrintedFrame(t *testing.T) {
	s := a4(2)
	at := [4]geom.Point{{X: 40, Y: 30}, {X: 240, Y: 30}, {X: 240, Y: 180}, {X: 40, Y: 180}}
	l := tracetest.Layer{Tone: tracetest.Black, Pen: .7}
	for i := range at {
		l.Lines = append(l.Lines, geom.Path{geom.Line(at[i], at[(i+1)%4])})
	}
	s = s.Cover(l)
	phone := tracetest.Phone(2)
	phone.W, phone.H = 2000, 1500
	p, err := phone.See(s)
	r := grey(t, p, err)
	var clicks [4]geom.Point
	pick := rand.New(rand.NewPCG(2, 1))
	for i, q := range at {
		clicks[i] = p.Back.Apply(q).Add(geom.Pt(6*pick.NormFloat64(), 6*pick.NormFloat64()))
	}
	f, err := scan.FitFrame(r, clicks)
	if err != nil {
		t.Fatal(err)
	}
	h, rms, err := f.True(200, 150, geom.Pt(140, 105))
	if err != nil {
		t.Fatal(err)
	}
	offs := offsOn(s, p, h)
	if !f.Drawn || offs[len(offs)/2] > frameMedian || rms > frameMedian {
		t.Errorf("drawn %v, median %.3f mm, residual %.3f mm", f.Drawn, offs[len(offs)/2], rms)
	}
}

// Two scans of sheets that overlap are joined by clicks near their printed marks.
func TestJoinScans(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	sheets, _, shift := tracetest.Cape()
	pick := rand.New(rand.NewPCG(8, 8))
	const dpi = 200
	var marks [2][]geom.Point
	var maps, truth [2]geom.Homography
	for i, s := range sheets {
		p, err := tracetest.Plain(dpi, uint64(i+3)).See(s)
		r := grey(t, p, err)
		maps[i] = geom.Scaling(25.4/dpi, -25.4/dpi).Projective()
		truth[i] = p.Map.Then(geom.Translation(geom.Pt(shift*float64(i), 0)))
		for _, m := range p.Marks {
			at, err := scan.SnapMark(r, m.Add(geom.Pt(4*pick.NormFloat64(), 4*pick.NormFloat64())), 16)
			if err != nil {
				t.Fatalf("sheet %d: %v", i+1, err)
			}
			if d := at.Dist(m); d > .5 {
				t.Errorf("sheet %d: a mark is %.2f px off", i+1, d)
			}
			marks[i] = append(marks[i], maps[i].Apply(at))
		}
	}
	j, err := scan.JoinMarks(marks[1], marks[0])
	if err != nil {
		t.Fatal(err)
	}
	if j.RMS > joinMost || math.Abs(j.Scale-1) > .002 || j.Says(.002) != "" {
		t.Errorf("%+v", j)
	}
	// Places of the second sheet as the first has them.
	back0, _ := truth[0].Invert()
	back1, _ := truth[1].Invert()
	var most float64
	for x := shift; x <= shift+sheets[1].W; x += 20 {
		for y := 0.0; y <= sheets[1].H; y += 20 {
			p := geom.Pt(x, y)
			d := j.Map.Apply(maps[1].Apply(back1.Apply(p))).Dist(maps[0].Apply(back0.Apply(p)))
			if x < shift+20 { // where both show
				most = math.Max(most, d)
			}
		}
	}
	t.Logf("rms %.4f mm, scale %.5f, largest in the overlap %.4f mm", j.RMS, j.Scale, most)
	if most > joinMost {
		t.Errorf("joined %.3f mm off", most)
	}
}

// Two photographs, each made true by its sheet, are joined by their marks and put together.
func TestJoinPhotographs(t *testing.T) {
	sheets, _, shift := tracetest.Cape()
	pick := rand.New(rand.NewPCG(9, 9))
	var marks [2][]geom.Point
	var placed [2]scan.Placed
	var backs [2]geom.Homography
	for i, s := range sheets {
		phone := tracetest.Phone(uint64(i + 6))
		phone.W, phone.H = 1400, 1050
		p, err := phone.See(s)
		r := grey(t, p, err)
		corners, err := scan.FindFrame(r)
		if err != nil {
			t.Fatal(err)
		}
		f, err := scan.FitFrame(r, corners)
		if err != nil {
			t.Fatal(err)
		}
		wide, high := s.W, s.H
		if f.Swapped(wide, high) {
			wide, high = high, wide
		}
		// Somewhere on the bench.
		m, _, err := f.True(wide, high, geom.Pt(700*float64(i), 50))
		if err != nil {
			t.Fatal(err)
		}
		for k, at := range p.Marks {
			q, err := scan.SnapMark(r, at.Add(geom.Pt(3*pick.NormFloat64(), 3*pick.NormFloat64())), 14)
			if err != nil {
				t.Fatalf("sheet %d, mark %d: %v", i+1, k+1, err)
			}
			marks[i] = append(marks[i], m.Apply(q))
		}
		field, err := scan.Even(context.Background(), r, scan.Light{S: p.Scale})
		if err != nil {
			t.Fatal(err)
		}
		placed[i] = scan.Placed{Field: field, Map: m, Region: f.Corners[:]}
		backs[i] = p.Back
	}
	j, err := scan.JoinMarks(marks[1], marks[0])
	if err != nil {
		t.Fatal(err)
	}
	placed[1].Map = placed[1].Map.Then(j.Map)
	var most float64
	for x := shift; x <= shift+20; x += 5 {
		for y := 5.0; y <= sheets[1].H; y += 10 {
			a := placed[0].Map.Apply(backs[0].Apply(geom.Pt(x, y)))
			b := placed[1].Map.Apply(backs[1].Apply(geom.Pt(x-shift, y)))
			most = math.Max(most, a.Dist(b))
		}
	}
	t.Logf("rms %.4f mm, scale %.5f, largest in the overlap %.4f mm", j.RMS, j.Scale, most)
	if most > joinMost || j.RMS > joinMost {
		t.Errorf("joined %.3f mm off, rms %.3f", most, j.RMS)
	}
	whole, m, err := scan.Mosaic(context.Background(), placed[:], 0)
	if err != nil {
		t.Fatal(err)
	}
	if w := float64(whole.W) * m.ScaleAt(geom.Point{}); math.Abs(w-(shift+sheets[1].W)) > 1.5 {
		t.Errorf("together they are %.1f mm wide", w)
	}
}

// Printed lines taken out leave the drawing as it is on plain paper.
func TestUngridScan(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	bare := a4(6)
	how := tracetest.Plain(200, 6)
	how.JPEG = 0
	p, err := how.See(bare)
	want := grey(t, p, err)
	p, err = how.See(bare.Under(bare.Squared(tracetest.Blue, 5, .2)))
	r := grey(t, p, err)
	g, err := scan.FindGrid(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := scan.Ungrid(context.Background(), r, g)
	if err != nil {
		t.Fatal(err)
	}
	var before, after, turned float64
	for i, v := range want.Pix {
		a, b := float64(r.Pix[i])-float64(v), float64(got.Pix[i])-float64(v)
		before, after = before+a*a, after+b*b
		if (v < 120) != (got.Pix[i] < 120) {
			turned++
		}
	}
	n := float64(len(want.Pix))
	before, after, turned = math.Sqrt(before/n), math.Sqrt(after/n), turned/n
	t.Logf("rms %.2f, was %.2f levels; on the wrong side %.2g", after, before, turned)
	if after > before/3 || turned > 2e-4 {
		t.Errorf("rms %.2f, was %.2f levels; on the wrong side %.2g", after, before, turned)
	}
}

// A table beside the paper, of which there is more than of paper, changes nothing.
func TestUngridPhotograph(t *testing.T) {
	bare := a4(7)
	phone := tracetest.Phone(7)
	phone.W, phone.H, phone.Fill = 1600, 1200, .6
	phone.Faults.JPEG, phone.Faults.Noise = 0, 1
	p, err := phone.See(bare)
	want := grey(t, p, err)
	p, err = phone.See(bare.Under(bare.Squared(tracetest.Pencil, 10, .4)))
	r := grey(t, p, err)
	g, err := scan.FindGrid(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := scan.Ungrid(context.Background(), r, g)
	if err != nil {
		t.Fatal(err)
	}
	var before, after, turned float64
	for i, v := range want.Pix {
		a, b := float64(r.Pix[i])-float64(v), float64(got.Pix[i])-float64(v)
		before, after = before+a*a, after+b*b
		if (v < 110) != (got.Pix[i] < 110) {
			turned++
		}
	}
	turned /= float64(len(want.Pix))
	t.Logf("rms %.2f of before; on the wrong side %.2g", math.Sqrt(after/before), turned)
	if after > before/9 || turned > 5e-4 {
		t.Errorf("rms %.2f of before; on the wrong side %.2g", math.Sqrt(after/before), turned)
	}
}

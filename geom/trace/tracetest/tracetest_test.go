package tracetest_test

import (
	"image"
	"math"
	"os"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

func figures(t testing.TB) []tracetest.Piece {
	f, err := os.Open("../../../testdata/trace/outlines.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ps, err := tracetest.Figures(f)
	if err != nil {
		t.Fatal(err)
	}
	return ps
}

func TestFiguresAreOutlines(t *testing.T) {
	ps := figures(t)
	if len(ps) != 100 {
		t.Fatalf("%d outlines, want 100", len(ps))
	}
	for _, p := range ps {
		if n := len(p.Outline); n < 6 || n > 9 || !p.Outline.Closed() || p.Outline.Area() <= 0 {
			t.Errorf("%s: %d edges, closed %v, area %g", p.Name, n, p.Outline.Closed(), p.Outline.Area())
		}
	}
}

func TestGarmentsKeepTheirLimits(t *testing.T) {
	seen := map[int]int{}
	for seed := range uint64(60) {
		p := tracetest.Garment(seed)
		b := p.Outline.Bounds()
		side := math.Max(b.W(), b.H())
		if err := p.Outline.Simple(); err != nil || !p.Outline.Closed() || p.Outline.Area() <= 0 {
			t.Errorf("%s: %v", p.Name, err)
		}
		// A turned piece is up to the root of 2 larger than its sides.
		if n := len(p.Outline); n < 6 || n > 9 || side < 35 || side > 570 {
			t.Errorf("%s: %d edges, %.0f mm", p.Name, len(p.Outline), side)
		}
		if len(p.Corners(math.Pi/18)) == 0 {
			t.Errorf("%s has no corner", p.Name)
		}
		seen[len(p.Outline)]++
	}
	if len(seen) < 3 {
		t.Errorf("garments with %v edges only", seen)
	}
}

// darkness returns the ink of a grey picture in mm² as black on white would give it.
func darkness(p tracetest.Picture) float64 {
	g := p.Image.(*image.Gray)
	paper, ink := 255*float64(tracetest.White[0]), 255*float64(tracetest.Black[0])
	var sum float64
	for y := range g.Rect.Dy() {
		for _, v := range g.Pix[y*g.Stride:][:g.Rect.Dx()] {
			sum += (paper - float64(v)) / (paper - ink)
		}
	}
	return sum / (p.Scale * p.Scale)
}

func TestAPictureHoldsAsMuchInkAsThePiece(t *testing.T) {
	for seed := range uint64(6) {
		p := tracetest.Garment(seed)
		scan := tracetest.Scan{DPI: 100, Turn: .02, Noise: 1, Seed: seed}
		filled, err := scan.See(tracetest.Filled(p))
		if err != nil {
			t.Fatal(err)
		}
		// The rounding to levels leaves up to half a level everywhere, so compare loosely.
		if got, want := darkness(filled), p.Outline.Area(); math.Abs(got-want) > .004*want+40 {
			t.Errorf("%s filled: %.1f mm² of ink, want %.1f", p.Name, got, want)
		}
		blank, err := scan.See(tracetest.Sheet{W: filled.Pieces[0].Outline.Bounds().W() + 24, H: filled.Pieces[0].Outline.Bounds().H() + 24, Paper: tracetest.White})
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := scan.See(tracetest.Drawn(2, p))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := darkness(drawn)-darkness(blank), 2*p.Outline.Length(); math.Abs(got-want) > .02*want {
			t.Errorf("%s drawn: %.1f mm² of ink, want %.1f", p.Name, got, want)
		}
	}
}

func TestTheCameraMapsTheSheet(t *testing.T) {
	for seed := range uint64(8) {
		cam := tracetest.Phone(seed)
		cam.W, cam.H = 400, 300
		cam.Faults.Noise, cam.Faults.JPEG, cam.Faults.Specks = 0, 0, 0
		sheet := tracetest.Sheet{W: 297, H: 210, Paper: tracetest.White}.Mark(10, geom.Pt(30, 40))
		p, err := cam.See(sheet)
		if err != nil {
			t.Fatal(err)
		}
		g := p.Image.(*image.Gray)
		for i, c := range p.Frame {
			if c.X < 0 || c.Y < 0 || c.X > 400 || c.Y > 300 {
				t.Errorf("seed %d: corner %d of the sheet lies outside, at %v", seed, i, c)
			}
			// Just inside is paper, just outside table.
			mid := p.Back.Apply(geom.Pt(148.5, 105))
			in, out := c.Add(mid.Sub(c).Unit().Mul(6)), c.Sub(mid.Sub(c).Unit().Mul(6))
			if out.X < 0 || out.Y < 0 || out.X >= 400 || out.Y >= 300 {
				continue
			}
			a, b := g.GrayAt(int(in.X), int(in.Y)).Y, g.GrayAt(int(out.X), int(out.Y)).Y
			if a < b+50 {
				t.Errorf("seed %d: at corner %d the paper is %d and the table %d", seed, i, a, b)
			}
		}
		if d := p.Map.Apply(p.Marks[0]).Dist(geom.Pt(30, 40)); d > 1e-9 {
			t.Errorf("seed %d: the mark is off by %g mm", seed, d)
		}
		// The scale falls off in perspective, so that the map is no affine one.
		if p.Map.G == 0 && p.Map.H == 0 {
			t.Errorf("seed %d: no perspective", seed)
		}
	}
}

func TestMeasure(t *testing.T) {
	sq := geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(0, 80))
	big := geom.Polygon(geom.Pt(-1, -1), geom.Pt(101, -1), geom.Pt(101, 81), geom.Pt(-1, 81))
	o := tracetest.Measure(big, sq)
	if math.Abs(o.Median-1) > 1e-9 || math.Abs(o.Bias-1) > 1e-9 || math.Abs(o.Largest-math.Sqrt2) > 1e-9 {
		t.Errorf("a square 1 mm outside: %+v", o)
	}
	if o = tracetest.Measure(sq, big); math.Abs(o.Bias+1) > 1e-9 {
		t.Errorf("a square 1 mm inside: %+v", o)
	}
	// A spike of the truth that was not found counts.
	spike := geom.Polygon(geom.Pt(0, 0), geom.Pt(49.9, 0), geom.Pt(50, -30), geom.Pt(50.1, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(0, 80))
	if o = tracetest.Measure(sq, spike); math.Abs(o.Largest-30) > .1 || o.Median > 1e-9 {
		t.Errorf("a lost spike of 30 mm: %+v", o)
	}
	f := tracetest.CornersFound([]geom.Point{{X: 0, Y: .5}, {X: 100}, {X: 50}}, sq, math.Pi/18, 1)
	if f != (tracetest.Found{True: 4, Missed: 2, False: 1}) {
		t.Errorf("corners: %+v", f)
	}
}

func TestTextAndBreaks(t *testing.T) {
	ps, err := tracetest.Text(geom.Pt(10, 10), 5, "Hem 2")
	if err != nil {
		t.Fatal(err)
	}
	box := geom.EmptyRect()
	for _, p := range ps {
		if !p.Closed() {
			t.Error("a letter is open")
		}
		box = box.Union(p.Bounds())
	}
	if math.Abs(box.H()-5) > .4 || box.W() < 10 || box.Min.X < 10 || math.Abs(box.Min.Y-10) > .2 {
		t.Errorf("letters of 5 mm lie within %v", box)
	}
	p := tracetest.Garment(3).Outline
	var sum float64
	for _, part := range tracetest.Broken(p, 2, .1, .4, .95) {
		sum += part.Length()
	}
	if math.Abs(sum-(p.Length()-6)) > 1e-6 {
		t.Errorf("three gaps of 2 mm take off %g", p.Length()-sum)
	}
}

package scan

import (
	"context"
	"math"
	"slices"
	"testing"

	"hemlet/geom"
)

// drawn is a picture of pen lines in several directions and a filled shape, on squared
// paper and without it.
func drawn(g paperGrid, w, h int, pen float64) (with, without *Raster) {
	grid := g
	grid.noise = 0
	with = grid.draw(w, h)
	without = &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	var bars []inkBar
	mid := geom.Pt(float64(w)/2, float64(h)/2)
	for k := range 9 {
		d := geom.Pt(math.Cos(float64(k)*.37+.05), math.Sin(float64(k)*.37+.05)).Mul(float64(min(w, h)) * .45)
		bars = append(bars, inkBar{mid.Sub(d), mid.Add(d), pen})
	}
	bars = append(bars, inkBar{geom.Pt(60, 60), geom.Pt(60, 60), 90})
	ink := drawMarks(w, h, bars, 0) // 240 for paper, 40 for ink
	noise := paperGrid{toPx: g.toPx, paper: 128, line: 128, wide: 1, noise: g.noise}.draw(w, h)
	for i := range with.Pix {
		share := (240 - float64(ink.Pix[i])) / 200
		n := float64(noise.Pix[i]) - 128
		put := func(paper float64) uint8 { return uint8(clamp(math.Round(paper*(1-share)+40*share+n), 0, 255)) }
		with.Pix[i], without.Pix[i] = put(float64(with.Pix[i])), put(g.paper)
	}
	return with, without
}

// apart returns the root mean square of the differences of two pictures, the largest but
// one of ten thousand, and the share of px that change from ink to paper or back.
func apart(a, b *Raster) (rms, most, turned float64) {
	var offs []float64
	for i := range a.Pix {
		d := math.Abs(float64(a.Pix[i]) - float64(b.Pix[i]))
		rms += d * d
		offs = append(offs, d)
		if (a.Pix[i] < 140) != (b.Pix[i] < 140) {
			turned++
		}
	}
	n := float64(len(a.Pix))
	slices.Sort(offs)
	return math.Sqrt(rms / n), offs[len(offs)*9999/10000], turned / n
}

func TestUngrid(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	const w, h = 700, 600
	for _, c := range []struct {
		name  string
		g     paperGrid
		most  float64 // grey levels that are left of the grid, rms
		edges float64 // share of px on the wrong side of half ink
	}{
		{"pale", paperGrid{toPx: squares(w, h, 39.4, .03, 0, 0, 0), paper: 240, line: 200, wide: 1.5, noise: 2}, 3, 3e-4},
		{"blue as printed", paperGrid{toPx: squares(w, h, 59, .1, 0, 0, 0), paper: 240, line: 160, wide: 2, noise: 2}, 4, 5e-4},
		{"turned by much", paperGrid{toPx: squares(w, h, 50, .6, 0, 0, 0), paper: 240, line: 160, wide: 2, noise: 2}, 4, 5e-4},
		{"perspective", paperGrid{toPx: squares(w, h, 50, .1, 0, 2e-4, 1e-4), paper: 240, line: 170, wide: 1.5, noise: 2}, 4, 5e-4},
		{"stronger every 5", paperGrid{toPx: squares(w, h, 24, .04, 0, 0, 0), paper: 240, line: 190, wide: 1, every: 5, strong: 3, noise: 2}, 5, 1e-3},
		{"black", paperGrid{toPx: squares(w, h, 50, .04, 0, 0, 0), paper: 240, line: 40, wide: 1.5, noise: 2}, 5, 1.5e-3},
	} {
		t.Run(c.name, func(t *testing.T) {
			with, without := drawn(c.g, w, h, 6)
			was := slices.Clone(with.Pix)
			g, err := FindGrid(context.Background(), with)
			if err != nil {
				t.Fatal(err)
			}
			got, err := Ungrid(context.Background(), with, g)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(was, with.Pix) {
				t.Fatal("the original changed")
			}
			before, _, beforeTurned := apart(with, without)
			rms, most, turned := apart(got, without)
			t.Logf("rms %.2f, was %.2f; most %.0f; on the wrong side %.2g, was %.2g", rms, before, most, turned, beforeTurned)
			if rms > c.most || turned > c.edges {
				t.Errorf("rms %.2f above %g, or on the wrong side %.2g above %g", rms, c.most, turned, c.edges)
			}
		})
	}
}

// Where there is no line, such as under a thing that lies on the paper, nothing is put.
func TestUngridCovered(t *testing.T) {
	g := paperGrid{toPx: squares(700, 600, 40, .03, 0, 0, 0), paper: 240, line: 170, wide: 1.5, noise: 2}
	r := g.draw(700, 600)
	fill(r, 200, 150, 500, 450, 130)
	found, err := FindGrid(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Ungrid(context.Background(), r, found)
	if err != nil {
		t.Fatal(err)
	}
	for y := 155; y < 445; y++ {
		for x := 205; x < 495; x++ {
			if v := got.Pix[y*700+x]; v < 128 || v > 132 {
				t.Fatalf("at %d, %d the thing became %d", x, y, v)
			}
		}
	}
}

func TestUngridRefuses(t *testing.T) {
	r := drawSheet(200, 200, testQuad, 240, 240, 1, 0)
	fine := Grid{Map: geom.Scaling(.5, -.5).Projective()}
	behind := Grid{Map: geom.Homography{A: .02, D: -.02, G: -.02}}
	for name, c := range map[string]struct {
		r *Raster
		g Grid
	}{
		"no picture": {nil, fine}, "empty": {&Raster{}, fine}, "no grid": {r, Grid{}}, "too fine": {r, fine},
		"behind": {r, behind}, "not finite": {r, Grid{Map: geom.Homography{A: math.NaN(), D: 1}}},
	} {
		if _, err := Ungrid(context.Background(), c.r, c.g); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Ungrid(ctx, r, Grid{Map: geom.Scaling(.02, -.02).Projective()}); err != context.Canceled {
		t.Errorf("given up: %v", err)
	}
}

func BenchmarkUngridA3(b *testing.B) {
	m := squares(3508, 4961, 59, .02, 0, 0, 0)
	r := paperGrid{toPx: m, paper: 245, line: 190, wide: 1.5, noise: 4}.draw(3508, 4961)
	back, _ := m.Invert()
	b.ResetTimer()
	for b.Loop() {
		if _, err := Ungrid(context.Background(), r, Grid{Map: back}); err != nil {
			b.Fatal(err)
		}
	}
}

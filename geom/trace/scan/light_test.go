package scan

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// lit returns a picture whose ink is where ink says so (0 paper to 1 full), under a light
// and with noise of the given standard deviation in steps of 255.
func lit(w, h int, ink func(x, y float64) float64, light func(x, y float64) float64, noise float64) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	rng := rand.New(rand.NewPCG(1, 2))
	for y := range h {
		for x := range w {
			k := ink(float64(x)+0.5, float64(y)+0.5)
			v := 255*light(float64(x)/float64(w), float64(y)/float64(h))*(1-k*0.85) + noise*rng.NormFloat64()
			r.Pix[y*w+x] = uint8(min(max(math.Round(v), 0), 255))
		}
	}
	return r
}

// bar is ink between two x.
func bar(from, to float64) func(x, y float64) float64 {
	return func(x, _ float64) float64 {
		return min(max(x-from+0.5, 0), 1) - min(max(x-to+0.5, 0), 1)
	}
}

const dpi300 = 300 / 25.4

// edgeOf returns where row y of a field falls through half going right from x.
func edgeOf(f *Field, x, y int) float64 {
	for ; x+1 < f.W; x++ {
		a, b := float64(f.V[y*f.W+x]), float64(f.V[y*f.W+x+1])
		if (a-Paper/2)*(b-Paper/2) <= 0 && a != b {
			return float64(x) + 0.5 + (Paper/2-a)/(b-a)
		}
	}
	return math.NaN()
}

// The edge of a wide bar lies where it was drawn, whatever the light: within 0.01 mm for
// light that a quadratic surface describes, 0.02 mm at the edge of a shadow.
func TestEvenKeepsTheEdge(t *testing.T) {
	full := func(_, _ float64) float64 { return 0.9 }
	for _, c := range []struct {
		name  string
		light func(x, y float64) float64
		l     Light
		noise float64
		tol   float64 // px
	}{
		{"even", full, Light{}, 0, 0.03},
		{"falls by 45 %", func(x, y float64) float64 { return 0.95 * (1 - 0.3*x - 0.15*y) }, Light{}, 0, 0.1},
		{"falls to the rim", func(x, y float64) float64 { return 0.95 * (1 - 0.9*((x-.5)*(x-.5)+(y-.5)*(y-.5))) }, Light{}, 4, 0.1},
		{"shadow", func(x, _ float64) float64 { return 0.9 - 0.4/(1+math.Exp((x-0.5)*60)) }, Light{Local: true}, 2, 0.25},
		{"shadow, not told", func(x, _ float64) float64 { return 0.9 - 0.4/(1+math.Exp((x-0.5)*60)) }, Light{}, 2, 0.25},
	} {
		t.Run(c.name, func(t *testing.T) {
			const from, to = 300.3, 700.8
			c.l.S = dpi300
			f, err := Even(context.Background(), lit(1000, 700, bar(from, to), c.light, c.noise), c.l)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range []struct{ near, want float64 }{{from, from}, {to, to}} {
				sum := 0.0
				for y := 100; y < 600; y++ {
					sum += edgeOf(f, int(x.near)-20, y) / 500
				}
				if math.Abs(sum-x.want) > c.tol {
					t.Errorf("edge at %.3f, want %.3f", sum, x.want)
				}
			}
			mid, bare := float64(f.V[350*f.W+500])/Paper, float64(f.V[350*f.W+100])/Paper
			if math.Abs(mid) > 0.06 || math.Abs(bare-1) > 0.06 {
				t.Errorf("ink %.3f and paper %.3f, want 0 and 1", mid, bare)
			}
		})
	}
}

func TestEvenOfDarkGround(t *testing.T) {
	ground := func(x, y float64) float64 { return 1 - bar(300.3, 700.8)(x, y) }
	light := func(x, _ float64) float64 { return 0.9 - 0.2*x }
	f, err := Even(context.Background(), lit(1000, 700, ground, light, 3), Light{S: dpi300, Dark: true})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for y := 100; y < 600; y++ {
		sum += edgeOf(f, 280, y) / 500
	}
	if math.Abs(sum-300.3) > 0.1 {
		t.Errorf("edge at %.3f, want 300.3", sum)
	}
	if v := float64(f.V[350*f.W+500]) / Paper; math.Abs(v) > 0.06 {
		t.Errorf("the light shape is %.3f, want 0", v)
	}
}

// A thin pale line on a large sheet of noisy paper is still full ink, and paper without ink
// is paper.
func TestEvenOfLittleInk(t *testing.T) {
	pale := func(x, y float64) float64 { return 0.5 * bar(300, 306)(x, y) }
	f, err := Even(context.Background(), lit(1500, 1500, pale, func(_, _ float64) float64 { return 0.9 }, 5), Light{S: dpi300})
	if err != nil {
		t.Fatal(err)
	}
	if v := float64(f.V[700*f.W+303]) / Paper; v > 0.3 {
		t.Errorf("the middle of a pale line is %.3f", v)
	}
	none := func(_, _ float64) float64 { return 0 }
	f, err = Even(context.Background(), lit(600, 600, none, func(x, _ float64) float64 { return 0.9 - 0.3*x }, 5), Light{S: dpi300})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range f.V {
		if v < Paper/2 {
			t.Fatalf("ink at %d on bare paper", i)
		}
	}
}

func TestEvenOfOddPictures(t *testing.T) {
	for _, c := range []struct {
		name string
		w, h int
		at   func(i int) uint8
	}{
		{"one pixel", 1, 1, func(int) uint8 { return 7 }},
		{"a row", 900, 1, func(i int) uint8 { return uint8(i) }},
		{"a column", 1, 900, func(i int) uint8 { return uint8(i) }},
		{"black", 300, 200, func(int) uint8 { return 0 }},
		{"white", 300, 200, func(int) uint8 { return 255 }},
		{"noise", 300, 200, func(i int) uint8 { return uint8(i * i * 2654435761 >> 9) }},
		{"half", 300, 200, func(i int) uint8 { return uint8(i / 30000 * 255) }},
	} {
		for _, l := range []Light{{}, {S: dpi300}, {S: dpi300, Local: true}, {S: 1e9, Dark: true}, {S: math.Inf(1)}, {S: math.NaN()}, {S: -1}} {
			r := &Raster{W: c.w, H: c.h, Pix: make([]uint8, c.w*c.h)}
			for i := range r.Pix {
				r.Pix[i] = c.at(i)
			}
			if f, err := Even(context.Background(), r, l); err != nil || len(f.V) != c.w*c.h {
				t.Errorf("%s under %+v: %v", c.name, l, err)
			}
		}
	}
	if _, err := Even(context.Background(), &Raster{}, Light{}); err == nil {
		t.Error("a picture without pixels is evened")
	}
	gone, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Even(gone, &Raster{W: 300, H: 300, Pix: make([]uint8, 90000)}, Light{}); err == nil {
		t.Error("goes on though given up")
	}
}

func BenchmarkEvenA3(b *testing.B) {
	r := lit(3508, 4961, bar(300, 1700), func(x, y float64) float64 { return 0.95 - 0.2*x - 0.1*y }, 3)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Even(context.Background(), r, Light{S: dpi300}); err != nil {
			b.Fatal(err)
		}
	}
}

// A wide dark shape with a narrow cut stays ink all over in a noisy picture, though the
// noise makes the darkest of its ink darker than it is, and the guess of the paper under it
// goes out from the darker end of the light.
func TestEvenKeepsNoisyShapesWhole(t *testing.T) {
	shape := func(x, y float64) float64 {
		in := x > 150 && x < 1450 && y > 200 && y < 2200
		cut := y < 750 && math.Abs(x-600) < (750-y)/12
		if in && !cut {
			return 0.9
		}
		return 0
	}
	light := func(_, y float64) float64 { return 0.7 + 0.25*y }
	for _, noise := range []float64{4, 16} {
		f, err := Even(context.Background(), lit(1600, 2400, shape, light, noise), Light{S: dpi300})
		if err != nil {
			t.Fatal(err)
		}
		pale := 0
		for y := 800; y < 2150; y++ {
			for x := 200; x < 1400; x++ {
				if !isInk(f.V[y*f.W+x]) {
					pale++
				}
			}
		}
		if pale > 0 {
			t.Errorf("noise %g: %d pixels of the shape are taken for paper", noise, pale)
		}
	}
}

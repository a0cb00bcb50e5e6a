package scan

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// paperGrid is squared paper to be drawn.
type paperGrid struct {
	toPx         geom.Homography // squares to px
	paper, line  float64         // grey levels
	wide         float64         // px, of a line
	every        int             // a stronger line every so many
	strong       float64         // px, of a stronger one
	noise        float64         // grey levels
	oneDirection bool            // hatching
}

// draw draws the paper, with lines blurred by a sigma of 0.8 px.
func (g paperGrid) draw(w, h int) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	back, _ := g.toPx.Invert()
	pick := rand.New(rand.NewPCG(5, 5))
	rough := g.toPx.ScaleAt(geom.Point{}) / 3
	far := math.Max(g.wide, g.strong)/2 + 3
	ink := func(x, px float64) float64 {
		i := math.Round(x)
		wide := g.wide
		if g.every > 0 && math.Mod(i, float64(g.every)) == 0 {
			wide = g.strong
		}
		d := math.Abs(x-i) * px
		if d > wide/2+3 {
			return 0
		}
		return softStep(wide/2-d, .8) * softStep(wide/2+d, .8)
	}
	for j := range h {
		for i := range w {
			p := geom.Pt(float64(i)+.5, float64(j)+.5)
			q := back.Apply(p)
			v := 0.0
			if math.Min(math.Abs(q.X-math.Round(q.X)), math.Abs(q.Y-math.Round(q.Y)))*rough < far {
				n := back.Near(p)
				// One px across the lines x = const is the length of the gradient of x.
				v = ink(q.X, 1/math.Hypot(n.A, n.C))
				if !g.oneDirection {
					v = math.Max(v, ink(q.Y, 1/math.Hypot(n.B, n.D)))
				}
			}
			r.Pix[j*w+i] = uint8(clamp(math.Round(g.paper+(g.line-g.paper)*v+g.noise*pick.NormFloat64()), 0, 255))
		}
	}
	return r
}

// squares returns a map from squares of side px, turned and skewed by radians, in
// perspective of g and h a px, to the middle of a picture.
func squares(w, h int, side, turn, skew, gx, gy float64) geom.Homography {
	s, c := math.Sincos(turn)
	s2, c2 := math.Sincos(turn + math.Pi/2 + skew)
	m := geom.Affine{A: side * c, B: -side * s, C: side * c2, D: -side * s2}.Projective()
	m.G, m.H = gx*side, gy*side
	return m.Then(geom.Translation(geom.Pt(float64(w)/2+3.3, float64(h)/2-2.1)))
}

// gridOff returns by how many px at most the found grid lies off the drawn one, in a picture
// of w by h, whichever line is called 0.
func gridOff(g Grid, toPx geom.Homography, w, h int) float64 {
	back, _ := toPx.Invert()
	mid := geom.Pt(float64(w)/2, float64(h)/2)
	shift := g.Map.Apply(mid).Sub(back.Apply(mid))
	shift = geom.Pt(math.Round(shift.X), math.Round(shift.Y))
	var most float64
	for _, sx := range []float64{.05, .3, .5, .7, .95} {
		for _, sy := range []float64{.05, .3, .5, .7, .95} {
			p := geom.Pt(sx*float64(w), sy*float64(h))
			most = math.Max(most, toPx.Apply(g.Map.Apply(p).Sub(shift)).Dist(p))
		}
	}
	return most
}

func TestFindGrid(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	const w, h = 1000, 840
	drawing := func(r *Raster) {
		fill(r, 300, 250, 700, 800, 30) // a cut-out piece
		fill(r, 900, 100, 905, 900, 20) // a pen line up
		for x := 100; x < 1100; x++ {   // and one that slants
			fill(r, x, 100+x/2, x+1, 106+x/2, 25)
		}
	}
	bare := func(*Raster) {}
	for _, c := range []struct {
		name   string
		g      paperGrid
		change func(*Raster)
		minor  int
		off    float64 // px
	}{
		{"5 mm at 200 dpi", paperGrid{toPx: squares(w, h, 39.4, 0, 0, 0, 0), paper: 245, line: 170, wide: 1.5}, bare, 0, .1},
		{"turned", paperGrid{toPx: squares(w, h, 39.4, .12, 0, 0, 0), paper: 245, line: 170, wide: 1.5, noise: 4}, bare, 0, .1},
		{"turned by much", paperGrid{toPx: squares(w, h, 39.4, .7, 0, 0, 0), paper: 245, line: 170, wide: 1.5, noise: 4}, bare, 0, .1},
		{"pale", paperGrid{toPx: squares(w, h, 39.4, .02, 0, 0, 0), paper: 245, line: 215, wide: 1.5, noise: 5}, bare, 0, .2},
		{"skewed", paperGrid{toPx: squares(w, h, 39.4, .02, .05, 0, 0), paper: 245, line: 190, wide: 1.5, noise: 4}, bare, 0, .1},
		{"perspective", paperGrid{toPx: squares(w, h, 39.4, .05, 0, 1.5e-4, -1e-4), paper: 245, line: 170, wide: 1.5, noise: 4}, bare, 0, .2},
		{"covered", paperGrid{toPx: squares(w, h, 39.4, -.06, 0, 0, 0), paper: 245, line: 200, wide: 1.5, noise: 4}, drawing, 0, .15},
		{"stronger every 5", paperGrid{toPx: squares(w, h, 24.7, .03, 0, 0, 0), paper: 245, line: 190, wide: 1, every: 5, strong: 2.5, noise: 4}, drawing, 5, .15},
		{"stronger every 10", paperGrid{toPx: squares(w, h, 11.8, .03, 0, 0, 0), paper: 245, line: 170, wide: 1, every: 10, strong: 3, noise: 4}, drawing, 10, .15},
		{"black lines", paperGrid{toPx: squares(w, h, 50, .03, 0, 0, 0), paper: 250, line: 20, wide: 2, noise: 4}, drawing, 0, .1},
		{"inches", paperGrid{toPx: squares(w, h, 160, .03, 0, 0, 0), paper: 245, line: 160, wide: 2, noise: 4}, bare, 0, .15},
		{"inches in eighths", paperGrid{toPx: squares(w, h, 25, .03, 0, 0, 0), paper: 245, line: 190, wide: 1, every: 8, strong: 3, noise: 4}, bare, 8, .15},
		{"light on a dark mat", paperGrid{toPx: squares(w, h, 60, .03, 0, 1e-4, 0), paper: 70, line: 180, wide: 2, noise: 4}, bare, 0, .15},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.g.draw(w, h)
			c.change(r)
			g, err := FindGrid(context.Background(), r)
			if err != nil {
				t.Fatal(err)
			}
			if d := gridOff(g, c.g.toPx, w, h); d > c.off {
				t.Errorf("off by %.3f px, above %g: %+v", d, c.off, g)
			}
			if g.Minor != c.minor || g.Light != (c.g.line > c.g.paper) || g.RMS > .5 || g.Crossings < 20 {
				t.Errorf("%+v", g)
			}
			if c.g.toPx.G == 0 && c.g.toPx.H == 0 {
				m, _ := c.g.toPx.Affine()
				turn := math.Atan2(-m.B, m.A)
				skew := geom.Pt(m.C, -m.D).Angle() - turn - math.Pi/2
				if math.Abs(g.Turn-turn) > 2e-3 || math.Abs(g.Skew-skew) > 2e-3 {
					t.Errorf("turn %.4f, skew %.4f, not %.4f and %.4f", g.Turn, g.Skew, turn, skew)
				}
			}
		})
	}
}

// Lines finer than the lessened picture shows are found in the picture as it is.
func TestFindGridFine(t *testing.T) {
	const w, h = 3200, 300
	m := squares(w, h, 9, .02, 0, 0, 0)
	g, err := FindGrid(context.Background(), paperGrid{toPx: m, paper: 245, line: 150, wide: 1.2, noise: 3}.draw(w, h))
	if err != nil {
		t.Fatal(err)
	}
	if d := gridOff(g, m, w, h); d > .2 || g.Minor != 0 {
		t.Errorf("off by %.3f px: %+v", d, g)
	}
}

func TestFindGridTrue(t *testing.T) {
	m := squares(1240, 1000, 39.4, .2, .03, 1e-4, 5e-5)
	r := paperGrid{toPx: m, paper: 245, line: 180, wide: 1.5, noise: 3}.draw(1240, 1000)
	g, err := FindGrid(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	px, mm := geom.Pt(620, 500), geom.Pt(-40, 77)
	h, rms, err := g.True(5, px, mm)
	if err != nil {
		t.Fatal(err)
	}
	if got := h.Apply(px); !got.Near(mm, 1e-9) {
		t.Errorf("the middle lies at %v", got)
	}
	if rms > .05 {
		t.Errorf("residual %g mm", rms)
	}
	// Twelve squares along either way, anywhere, are 60 mm.
	for _, a := range []geom.Point{{X: -8, Y: -6}, {X: 0, Y: 0}, {X: 3, Y: -9}} {
		for _, v := range []geom.Point{{X: 12}, {Y: 12}} {
			if d := h.Apply(m.Apply(a)).Dist(h.Apply(m.Apply(a.Add(v)))); math.Abs(d-60) > .03 {
				t.Errorf("twelve squares are %.3f mm", d)
			}
		}
	}
	for _, side := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, _, err := g.True(side, px, mm); err == nil {
			t.Errorf("takes squares of %g mm", side)
		}
	}
}

// textPage draws rows of words of strokes, as a page of a book has.
func textPage(w, h int) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	fill(r, 0, 0, w, h, 240)
	pick := rand.New(rand.NewPCG(2, 3))
	for y := 60; y < h-60; y += 34 {
		for x := 60; x < w-60; {
			for range 2 + pick.IntN(8) {
				wide := 6 + pick.IntN(8)
				fill(r, x, y, x+2, y+16, 40)
				if pick.IntN(2) == 0 {
					fill(r, x, y+pick.IntN(15), x+wide, y+2+pick.IntN(15), 40)
				}
				if pick.IntN(2) == 0 {
					fill(r, x+wide-2, y, x+wide, y+16, 40)
				}
				x += wide + 4
			}
			x += 12
		}
	}
	return r
}

func TestFindGridRefuses(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	flat := func(v string) *Raster {
		return &Raster{W: 800, H: 600, Pix: []uint8(strings.Repeat(v, 800*600))}
	}
	noisy := paperGrid{toPx: squares(800, 600, 5000, 0, 0, 0, 0), paper: 235, line: 235, noise: 8}.draw(800, 600)
	hatch := paperGrid{toPx: squares(1240, 1000, 39, .1, 0, 0, 0), paper: 245, line: 60, wide: 2, noise: 4, oneDirection: true}.draw(1240, 1000)
	mono := flat("\xf0")
	for y := 20; y < 580; y += 24 {
		for x := 20; x < 780; x += 15 {
			fill(mono, x, y, x+2, y+14, 40)
			fill(mono, x, y+6, x+9, y+8, 40)
		}
	}
	piece := flat("\xf0")
	fill(piece, 100, 100, 700, 500, 20)
	fill(piece, 300, 200, 500, 400, 240)
	for name, r := range map[string]*Raster{
		"white": flat("\xff"), "black": flat("\x00"), "noise": noisy, "hatching": hatch, "text": textPage(1240, 1000), "large text": textPage(2700, 900),
		"typed": mono, "piece": piece, "sheet": drawSheet(800, 600, testQuad, 235, 60, 1, 4),
		"one pixel": {W: 1, H: 1, Pix: []uint8{7}}, "one row": {W: 3000, H: 1, Pix: make([]uint8, 3000)},
		"one column": {W: 1, H: 3000, Pix: make([]uint8, 3000)}, "empty": {}, "nil": nil, "lying": {W: 500, H: 500},
	} {
		if g, err := FindGrid(context.Background(), r); err == nil {
			t.Errorf("%s: found %+v", name, g)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := FindGrid(ctx, noisy); err != context.Canceled {
		t.Errorf("given up: %v", err)
	}
}

// Whatever squares are drawn, they are found where they are, or not at all; and of a
// picture that shows so few lines nine in ten are found.
func TestFindGridProperty(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	drawn, found := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		const w, h = 240, 210
		m := squares(w, h, f("side", 14, 34), f("turn", -.7, .7), f("skew", -.05, .05), f("g", -3e-4, 3e-4), f("h", -3e-4, 3e-4))
		r := paperGrid{toPx: m, paper: 240, line: f("line", 60, 200), wide: f("wide", 1, 2.5), noise: 3}.draw(w, h)
		g, err := FindGrid(context.Background(), r)
		if drawn++; err != nil {
			return
		}
		found++
		if d := gridOff(g, m, w, h); d > .5 {
			t.Fatalf("off by %g px: %+v", d, g)
		}
	})
	if 10*found < 9*drawn {
		t.Errorf("of %d squared papers %d are found", drawn, found)
	}
}

func BenchmarkFindGridA3(b *testing.B) {
	r := paperGrid{toPx: squares(3508, 4961, 59, .02, 0, 0, 0), paper: 245, line: 190, wide: 1.5, noise: 4}.draw(3508, 4961)
	b.ResetTimer()
	for b.Loop() {
		if _, err := FindGrid(context.Background(), r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindNoGridA3(b *testing.B) {
	r := paperGrid{toPx: squares(3508, 4961, 59, .02, 0, 0, 0), paper: 245, line: 190, wide: 1.5, noise: 4, oneDirection: true}.draw(3508, 4961)
	b.ResetTimer()
	for b.Loop() {
		if _, err := FindGrid(context.Background(), r); err == nil {
			b.Fatal("found")
		}
	}
}

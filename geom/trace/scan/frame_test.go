package scan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// softStep is the edge of a step blurred by a Gaussian of sigma s, at distance d.
func softStep(d, s float64) float64 {
	if d > 4*s {
		return 1
	}
	if d < -4*s {
		return 0
	}
	return .5 * (1 + math.Erf(d/(s*math.Sqrt2)))
}

// drawSheet draws a sheet with the corners, clockwise with y down, on a ground, both as
// grey levels, blurred by sigma px and with Gaussian noise.
func drawSheet(w, h int, c [4]geom.Point, sheet, ground, blur, noise float64) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	pick := rand.New(rand.NewPCG(7, 7))
	var lines [4]edgeLine
	for i := range 4 {
		lines[i] = lineThrough(c[i], c[(i+1)%4])
	}
	for j := range h {
		for i := range w {
			p := geom.Pt(float64(i)+.5, float64(j)+.5)
			in := 1.0
			for _, l := range lines {
				if d := l.off(p); d < 6*blur {
					in *= softStep(d, blur)
				}
			}
			v := ground + (sheet-ground)*in
			if noise > 0 {
				v += noise * pick.NormFloat64()
			}
			r.Pix[j*w+i] = uint8(clamp(math.Round(v), 0, 255))
		}
	}
	return r
}

// fill paints a rectangle with one grey.
func fill(r *Raster, x0, y0, x1, y1 int, v uint8) {
	for j := max(y0, 0); j < min(y1, r.H); j++ {
		for i := max(x0, 0); i < min(x1, r.W); i++ {
			r.Pix[j*r.W+i] = v
		}
	}
}

var testQuad = [4]geom.Point{{X: 101.3, Y: 82.7}, {X: 712.4, Y: 121.2}, {X: 689.9, Y: 531.6}, {X: 74.2, Y: 498.1}}

// clicked returns the corners moved a few px, as clicks are.
func clicked(c [4]geom.Point, by float64) [4]geom.Point {
	for i := range c {
		c[i] = c[i].Add(geom.Pt(by*math.Cos(float64(2*i+1)), by*math.Sin(float64(3*i+1))))
	}
	return c
}

// farthest returns the largest distance of corners from their truth.
func farthest(a, b [4]geom.Point) float64 {
	var d float64
	for i := range a {
		d = math.Max(d, a[i].Dist(b[i]))
	}
	return d
}

func TestFitFrame(t *testing.T) {
	hidden := func(r *Raster) *Raster {
		fill(r, 300, 60, 480, 180, 90) // a hand over the upper edge
		return r
	}
	cut := func(r *Raster) *Raster {
		fill(r, 60, 60, 125, 110, 60) // the first corner torn off
		return r
	}
	bent := func(r *Raster) *Raster {
		fill(r, 690, 500, 720, 560, 235) // the third corner bent outward
		return r
	}
	same := func(r *Raster) *Raster { return r }
	for _, c := range []struct {
		name                       string
		sheet, ground, blur, noise float64
		change                     func(*Raster) *Raster
		off                        float64
	}{
		{"light on dark", 235, 60, 1, 0, same, .02},
		{"dark on light", 40, 220, 1, 0, same, .02},
		{"faint", 235, 215, 1.2, 2, same, .4},
		{"noisy", 235, 60, 1.2, 8, same, .15},
		{"blurred", 235, 60, 3, 4, same, .2},
		{"partly hidden", 235, 60, 1, 3, hidden, .15},
		{"corner torn off", 235, 60, 1, 3, cut, .15},
		{"corner bent", 235, 60, 1, 3, bent, .15},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.change(drawSheet(800, 600, testQuad, c.sheet, c.ground, c.blur, c.noise))
			f, err := FitFrame(r, clicked(testQuad, 7))
			if err != nil {
				t.Fatal(err)
			}
			if d := farthest(f.Corners, testQuad); d > c.off {
				t.Errorf("a corner is off by %.3f px, above %g", d, c.off)
			}
			if f.RMS > .5 || f.Drawn {
				t.Errorf("rms %.3f px, drawn %v", f.RMS, f.Drawn)
			}
		})
	}
}

// A drawn frame is measured along the middle of its line.
func TestFitFrameDrawn(t *testing.T) {
	outer := drawSheet(800, 600, grown(testQuad, 2.5), 30, 240, 1, 0)
	inner := drawSheet(800, 600, grown(testQuad, -2.5), 255, 0, 1, 0)
	for i, v := range inner.Pix {
		if share := float64(v) / 255; share > 0 {
			outer.Pix[i] = uint8(math.Round(float64(outer.Pix[i])*(1-share) + 240*share))
		}
	}
	f, err := FitFrame(outer, clicked(testQuad, 6))
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(f.Corners, testQuad); d > .05 || !f.Drawn {
		t.Errorf("a corner is off by %.3f px, drawn %v", d, f.Drawn)
	}
}

// grown moves the sides of a quadrilateral outward by px.
func grown(c [4]geom.Point, by float64) [4]geom.Point {
	var r [4]geom.Point
	for i := range 4 {
		a, b := lineThrough(c[(i+3)%4], c[i]), lineThrough(c[i], c[(i+1)%4])
		a.at, b.at = a.at.Sub(a.dir.Left().Mul(by)), b.at.Sub(b.dir.Left().Mul(by))
		r[i], _ = a.meet(b)
	}
	return r
}

func TestFitFrameRefuses(t *testing.T) {
	sheet := drawSheet(400, 300, [4]geom.Point{{X: 50, Y: 50}, {X: 350, Y: 50}, {X: 350, Y: 250}, {X: 50, Y: 250}}, 235, 60, 1, 0)
	white := &Raster{W: 400, H: 300, Pix: []uint8(strings.Repeat("\xff", 400*300))}
	good := [4]geom.Point{{X: 50, Y: 50}, {X: 350, Y: 50}, {X: 350, Y: 250}, {X: 50, Y: 250}}
	crossed, line, out, lost, one := good, good, good, good, good
	crossed[1], crossed[2] = crossed[2], crossed[1]
	line[1] = geom.Pt(200, 150)
	out[2] = geom.Pt(401, 250)
	lost[3].X = math.NaN()
	one[1] = one[0]
	inner := [4]geom.Point{{X: 120, Y: 120}, {X: 280, Y: 120}, {X: 280, Y: 200}, {X: 120, Y: 200}}
	dent := good
	dent[2] = geom.Pt(150, 100)
	for _, c := range []struct {
		name string
		r    *Raster
		c    [4]geom.Point
		says string
	}{
		{"crossed", sheet, crossed, "crossed"},
		{"three in a line", sheet, line, "one line"},
		{"outside", sheet, out, "corner 3 lies outside"},
		{"nowhere", sheet, lost, "corner 4 lies outside"},
		{"the same", sheet, one, "on one another"},
		{"a dent", sheet, dent, "crossed"},
		{"plain paper", white, good, "no edge shows between the first and the second corner"},
		{"inside the sheet", sheet, inner, "no edge"},
		{"one pixel", &Raster{W: 1, H: 1, Pix: []uint8{9}}, [4]geom.Point{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}, "on one another"},
		{"no picture", &Raster{}, good, "empty"},
		{"nil", nil, good, "empty"},
		{"too few pixels", &Raster{W: 400, H: 300, Pix: make([]uint8, 5)}, good, "empty"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, _, err := FrameEdges(c.r, c.c); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("says %v, not %q", err, c.says)
			}
		})
	}
}

func TestFindFrame(t *testing.T) {
	with := drawSheet(1600, 1200, [4]geom.Point{{X: 301, Y: 182}, {X: 1302, Y: 221}, {X: 1289, Y: 931}, {X: 274, Y: 998}}, 235, 60, 1.2, 3)
	fill(with, 500, 400, 900, 700, 40)   // a drawn piece
	fill(with, 20, 1050, 300, 1190, 240) // another light thing
	fill(with, 700, 150, 860, 260, 70)   // a hand over the upper edge
	fill(with, 1250, 900, 1320, 960, 60) // a corner torn off
	dark := drawSheet(800, 600, testQuad, 60, 230, 1, 3)
	pale := drawSheet(800, 600, testQuad, 240, 195, 1, 3) // a light table, and dark things on the paper
	fill(pale, 200, 200, 500, 400, 30)
	two := drawSheet(1600, 800, [4]geom.Point{{X: 850, Y: 100}, {X: 1500, Y: 90}, {X: 1510, Y: 700}, {X: 840, Y: 690}}, 235, 60, 1, 3)
	fill(two, 100, 100, 700, 600, 235) // a smaller sheet beside
	for _, c := range []struct {
		name string
		r    *Raster
		want [4]geom.Point
	}{
		{"sheet", with, [4]geom.Point{{X: 301, Y: 182}, {X: 1302, Y: 221}, {X: 1289, Y: 931}, {X: 274, Y: 998}}},
		{"mat", dark, testQuad},
		{"light table", pale, testQuad},
		{"two sheets", two, [4]geom.Point{{X: 850, Y: 100}, {X: 1500, Y: 90}, {X: 1510, Y: 700}, {X: 840, Y: 690}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := FindFrame(c.r)
			if err != nil {
				t.Fatal(err)
			}
			if d := farthest(got, c.want); d > .2 {
				t.Errorf("a corner is off by %.3f px: %v", d, got)
			}
		})
	}
	for _, size := range [][2]int{{1, 1}, {1, 3000}, {3000, 1}, {640, 480}} {
		for _, v := range []string{"\x00", "\xff"} {
			r := &Raster{W: size[0], H: size[1], Pix: []uint8(strings.Repeat(v, size[0]*size[1]))}
			if c, err := FindFrame(r); err == nil {
				t.Errorf("found %v on a bare picture of %v", c, size)
			}
		}
	}
}

// The corners of a true rectangle come back from any camera, whatever the order of clicks.
func TestTruenessProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		w, h := f("w", 20, 500), f("h", 20, 500)
		// The camera: mm (y up) to px (y down).
		size := math.Max(w, h)
		cam := geom.Homography{A: 1, D: 1, G: f("g", -.3, .3) / size, H: f("h2", -.3, .3) / size}
		turn := f("turn", -math.Pi, math.Pi)
		s := f("scale", 2, 20)
		cam = cam.Then(geom.Rotation(turn, geom.Point{})).Then(geom.Affine{A: s, D: -s, E: 5000, F: 4000})
		mm := [4]geom.Point{{X: -w / 2, Y: h / 2}, {X: w / 2, Y: h / 2}, {X: w / 2, Y: -h / 2}, {X: -w / 2, Y: -h / 2}}
		order := rapid.IntRange(0, 7).Draw(t, "order")
		var px, own [4]geom.Point
		for i := range 4 {
			k := (i + order) % 4
			if order > 3 {
				k = (8 - i - order%4) % 4
			}
			own[i], px[i] = mm[k], cam.Apply(mm[k])
		}
		var edges [4][]geom.Point
		for i := range 4 {
			for k := range 9 {
				edges[i] = append(edges[i], cam.Apply(own[i].Lerp(own[(i+1)%4], float64(k)/8)))
			}
		}
		middle := geom.Pt(f("x", -100, 100), f("y", -100, 100))
		to, rms, err := Trueness(px, edges, own[0].Dist(own[1]), own[1].Dist(own[2]), middle)
		if err != nil {
			t.Fatal(err)
		}
		if rms > 1e-6*size {
			t.Fatalf("residual %g mm", rms)
		}
		// What the camera saw of any place goes where a turn and a move of the truth goes.
		for range 4 {
			p := geom.Pt(f("px", -w/2, w/2), f("py", -h/2, h/2))
			q := geom.Pt(f("qx", -w/2, w/2), f("qy", -h/2, h/2))
			if d := to.Apply(cam.Apply(p)).Dist(to.Apply(cam.Apply(q))) - p.Dist(q); math.Abs(d) > 1e-6*size {
				t.Fatalf("a length is off by %g mm", d)
			}
		}
		var mid geom.Point
		for _, p := range px {
			mid = mid.Add(to.Apply(p).Mul(.25))
		}
		if mid.Dist(middle) > 1e-6*size {
			t.Fatalf("the middle lies at %v, not %v", mid, middle)
		}
		if to.Near(px[0]).Det() >= 0 {
			t.Fatal("mirrored") // y turns over between px and mm
		}
	})
}

func TestTrueness(t *testing.T) {
	sheet := [4]geom.Point{{X: 100, Y: 100}, {X: 1100, Y: 100}, {X: 1100, Y: 1500}, {X: 100, Y: 1500}}
	var edges [4][]geom.Point
	for i := range 4 {
		a, b := sheet[i], sheet[(i+1)%4]
		for k := range 10 {
			off := b.Sub(a).Unit().Left().Mul(math.Pow(-1, float64(k)))
			edges[i] = append(edges[i], a.Lerp(b, float64(k+1)/11).Add(off))
		}
	}
	h, rms, err := Trueness(sheet, edges, 100, 140, geom.Pt(50, 70))
	if err != nil {
		t.Fatal(err)
	}
	// Every point lies 1 px off, and a px is 0.1 mm.
	if math.Abs(rms-.1) > 1e-9 {
		t.Errorf("residual %g mm, not 0.1", rms)
	}
	for px, mm := range map[geom.Point]geom.Point{{X: 100, Y: 1500}: {}, {X: 1100, Y: 100}: {X: 100, Y: 140}, {X: 600, Y: 800}: {X: 50, Y: 70}} {
		if got := h.Apply(px); !got.Near(mm, 1e-9) {
			t.Errorf("%v lies at %v, not %v", px, got, mm)
		}
	}
	f := Frame{Corners: sheet}
	if f.Swapped(100, 140) || !f.Swapped(140, 100) {
		t.Error("width and height swapped are not told")
	}
	for _, size := range [][2]float64{{0, 1}, {-1, 1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, _, err := Trueness(sheet, edges, size[0], size[1], geom.Point{}); err == nil {
			t.Errorf("takes a sheet of %v mm", size)
		}
	}
}

func BenchmarkFitFrame12MP(b *testing.B) {
	c := [4]geom.Point{{X: 301, Y: 182}, {X: 3702, Y: 221}, {X: 3689, Y: 2731}, {X: 274, Y: 2798}}
	r := drawSheet(4000, 3000, c, 235, 60, 1.2, 0)
	b.ResetTimer()
	for b.Loop() {
		if _, err := FitFrame(r, clicked(c, 20)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindFrame12MP(b *testing.B) {
	c := [4]geom.Point{{X: 301, Y: 182}, {X: 3702, Y: 221}, {X: 3689, Y: 2731}, {X: 274, Y: 2798}}
	r := drawSheet(4000, 3000, c, 235, 60, 1.2, 0)
	b.ResetTimer()
	for b.Loop() {
		if _, err := FindFrame(r); err != nil {
			b.Fatal(err)
		}
	}
}

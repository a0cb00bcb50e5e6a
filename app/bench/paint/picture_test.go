package paint

import (
	"image"
	"image/color"
	"math"
	"testing"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/math/f64"

	"hemlet/geom"
)

// ramp is a picture whose colours change slowly, with a corner that is not symmetric.
func ramp(w, h int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetNRGBA(x, y, color.NRGBA{uint8(40 + 180*x/w), uint8(220 - 180*y/h), uint8(60 + 100*x*y/(w*h)), 255})
		}
	}
	return img
}

func painted(t testing.TB, v View, it *Item) *image.RGBA {
	t.Helper()
	p, err := New()
	if err != nil {
		t.Fatal(err)
	}
	dst := image.NewRGBA(image.Rect(0, 0, v.W, v.H))
	pal := testPalette()
	p.Paint(dst, v, &pal, &Scene{Items: []*Item{it}})
	return dst
}

func testPalette() Palette {
	var pal Palette
	for i := range pal {
		pal[i] = color.NRGBA{255, 255, 255, 255}
	}
	return pal
}

// The picture comes out as the resampler of x/image/draw, which is another's work, shows
// it: enlarged and turned as its bilinear one does within a few steps of grey.
func TestPictureAgainstAnotherResampler(t *testing.T) {
	src := ramp(160, 120)
	for name, place := range map[string]geom.Affine{
		"plain":    geom.Scaling(0.5, -0.5).Then(geom.Translation(geom.Pt(-40, 30))),
		"enlarged": geom.Scaling(2, -2).Then(geom.Translation(geom.Pt(-160, 120))),
		"turned":   geom.Scaling(1, -1).Then(geom.Rotation(0.4, geom.Point{})).Then(geom.Translation(geom.Pt(-90, 30))),
	} {
		v := View{W: 300, H: 200, DPR: 1, Scale: 1.3, X: 150, Y: 100}
		got := painted(t, v, &Item{Place: place, Marks: []Mark{Picture{Of: NewPyramid(src), Opacity: 1}}})
		want := image.NewRGBA(got.Rect)
		xdraw.Draw(want, want.Rect, image.White, image.Point{}, xdraw.Src)
		m := place.Then(v.Affine())
		xdraw.ApproxBiLinear.Transform(want, f64.Aff3{m.A, m.C, m.E, m.B, m.D, m.F}, src, src.Rect, xdraw.Over, nil)
		worst, off := 0, 0
		for i := range got.Pix {
			d := int(got.Pix[i]) - int(want.Pix[i])
			if worst = max(worst, d, -d); d > 6 || d < -6 {
				off++
			}
		}
		// Along the rim the two may take another row of pixels.
		if rim := 4 * 2 * (300 + 200) / 5; off > rim {
			t.Errorf("%s: %d values differ by more than 6, the worst by %d", name, off, worst)
		}
	}
}

// Made small, a picture keeps its mean colour: the sizes are means, and fine stripes do
// not flicker.
func TestPictureMadeSmall(t *testing.T) {
	src := image.NewGray(image.Rect(0, 0, 1024, 1024))
	for i := range src.Pix {
		src.Pix[i] = byte(255 * (i % 2))
	}
	v := View{W: 200, H: 200, DPR: 1, Scale: 1, X: 100, Y: 100}
	mm := 150.0 / 1024
	got := painted(t, v, &Item{Place: geom.Scaling(mm, -mm).Then(geom.Translation(geom.Pt(-75, 75))), Marks: []Mark{Picture{Of: NewPyramid(src), Opacity: 1}}})
	for y := 30; y < 170; y++ {
		for x := 30; x < 170; x++ {
			if c := got.RGBAAt(x, y); math.Abs(float64(c.R)-127.5) > 2 {
				t.Fatalf("at (%d, %d) the stripes are %v", x, y, c)
			}
		}
	}
}

// The opacity is a share of the picture, and what is transparent in it shows the ground.
func TestPictureOpacity(t *testing.T) {
	src := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	for y := range 40 {
		for x := range 40 {
			c := color.NRGBA{A: 255}
			if x < 20 {
				c = color.NRGBA{R: 255, A: 0}
			}
			src.SetNRGBA(x, y, c)
		}
	}
	v := View{W: 40, H: 40, DPR: 1, Scale: 1, X: 0, Y: 40}
	place := geom.Scaling(1, -1).Then(geom.Translation(geom.Pt(0, 40)))
	for _, o := range []float64{1, 0.5, 0.25} {
		got := painted(t, v, &Item{Place: place, Marks: []Mark{Picture{Of: NewPyramid(src), Opacity: o}}})
		if c := got.RGBAAt(8, 8); c.R < 253 || c.G < 253 {
			t.Errorf("opacity %v: what is transparent shows %v", o, c)
		}
		if c, want := got.RGBAAt(32, 8), 255*(1-o); math.Abs(float64(c.R)-want) > 3 {
			t.Errorf("opacity %v: black over white is %v, want %v", o, c.R, want)
		}
	}
}

// A part of the view is painted as the whole is.
func TestPictureBoxChangesNothing(t *testing.T) {
	pyramid := NewPyramid(ramp(700, 500))
	v := View{W: 400, H: 300, DPR: 1, Scale: 0.9, X: 130, Y: 180}
	it := &Item{Place: geom.Scaling(0.4, -0.4).Then(geom.Rotation(-0.3, geom.Point{})), Marks: []Mark{Picture{Of: pyramid, Opacity: 0.7}}}
	p, err := New()
	if err != nil {
		t.Fatal(err)
	}
	pal := testPalette()
	whole, parts := image.NewRGBA(image.Rect(0, 0, v.W, v.H)), image.NewRGBA(image.Rect(0, 0, v.W, v.H))
	p.Paint(whole, v, &pal, &Scene{Items: []*Item{it}})
	for x := 0; x < v.W; x += 37 {
		for y := 0; y < v.H; y += 41 {
			p.paint(parts, nil, v, &pal, &Scene{Items: []*Item{it}}, nil, image.Rect(x, y, x+37, y+41).Intersect(whole.Rect))
		}
	}
	for i := range whole.Pix {
		if whole.Pix[i] != parts.Pix[i] {
			t.Fatalf("the pixel at (%d, %d) depends on the box", i/4%v.W, i/4/v.W)
		}
	}
}

// BenchmarkPictureFullScreen shows a scan of 5000 by 7000 grey pixels over a whole screen.
func BenchmarkPictureFullScreen(b *testing.B) {
	src := image.NewGray(image.Rect(0, 0, 5000, 7000))
	for i := range src.Pix {
		src.Pix[i] = byte(i * 7)
	}
	pyramid := NewPyramid(src)
	p, err := New()
	if err != nil {
		b.Fatal(err)
	}
	pal := testPalette()
	dst := image.NewRGBA(image.Rect(0, 0, 1920, 1080))
	mm := 25.4 / 300
	s := &Scene{Items: []*Item{{Place: geom.Scaling(mm, -mm), Marks: []Mark{Picture{Of: pyramid, Opacity: 0.6}}}}}
	v := View{W: 1920, H: 1080, DPR: 1, Scale: 5, X: -10, Y: -10}
	for b.Loop() {
		p.Paint(dst, v, &pal, s)
	}
}

func BenchmarkPyramid(b *testing.B) {
	src := image.NewGray(image.Rect(0, 0, 5000, 7000))
	for b.Loop() {
		NewPyramid(src)
	}
}

// Of a picture that is shown on one side of a line only, the other side stays as it was
// without it, and this side is as if all of it were shown.
func TestPictureOnlyInABox(t *testing.T) {
	src := NewPyramid(ramp(160, 120))
	v := View{W: 300, H: 200, DPR: 1, Scale: 1.3, X: 150, Y: 100}
	place := geom.Scaling(1, -1).Then(geom.Translation(geom.Pt(-80, 60))).Projective()
	whole := painted(t, v, &Item{Marks: []Mark{Picture{Of: src, Place: &place, Opacity: 1}}})
	only := geom.Rect{Min: geom.Pt(-10, -1e7), Max: geom.Pt(1e7, 1e7)}
	half := painted(t, v, &Item{Marks: []Mark{Picture{Of: src, Place: &place, Opacity: 1, Only: &only}}})
	for y := range v.H {
		for x := range v.W {
			want := whole.RGBAAt(x, y)
			if x < 137 { // 150 - 10·1.3
				want = color.RGBA{255, 255, 255, 255}
			}
			if got := half.RGBAAt(x, y); got != want {
				t.Fatalf("pixel (%d, %d) is %v, want %v", x, y, got, want)
			}
		}
	}
}

// A leaning picture is shown wherever it lies in the view, also where the corner of the view
// lies beyond its horizon.
func TestLeaningPictureFarFromTheCorner(t *testing.T) {
	src := NewPyramid(ramp(160, 120))
	place := geom.Homography{A: 1, D: -1, G: -5e-3} // with its horizon 200 mm to the left
	shown := func(x int) (n int) {
		v := View{W: 1200, H: 200, DPR: 1, Scale: 0.5, X: float64(x), Y: 100}
		img := painted(t, v, &Item{Marks: []Mark{Picture{Of: src, Place: &place, Opacity: 1}}})
		for i := 0; i < len(img.Pix); i += 4 {
			if img.Pix[i] != 255 || img.Pix[i+1] != 255 || img.Pix[i+2] != 255 {
				n++
			}
		}
		return n
	}
	if near, far := shown(60), shown(500); near < 5000 || far < near-near/100 {
		t.Errorf("%d pixels are shown near the corner, %d far from it", near, far)
	}
}

// Of a picture that is shown inside a ring only, what lies outside stays as it was without
// it, and what lies inside is as if all of it were shown, leaning or not.
func TestPictureInARing(t *testing.T) {
	src := NewPyramid(ramp(160, 120))
	v := View{W: 300, H: 200, DPR: 1, Scale: 1.3, X: 150, Y: 100}
	upright := geom.Scaling(1, -1).Then(geom.Translation(geom.Pt(-80, 60))).Projective()
	leaning := upright
	leaning.G = 5e-4
	ring := []geom.Point{geom.Pt(20, 10), geom.Pt(140, 30), geom.Pt(90, 60), geom.Pt(120, 110), geom.Pt(15, 100)}
	for name, place := range map[string]geom.Homography{"upright": upright, "leaning": leaning} {
		whole := painted(t, v, &Item{Marks: []Mark{Picture{Of: src, Place: &place, Opacity: 1}}})
		part := painted(t, v, &Item{Marks: []Mark{Picture{Of: src, Place: &place, Opacity: 1, Ring: ring}}})
		back, _ := place.Invert()
		inside := 0
		for y := range v.H {
			for x := range v.W {
				px := back.Apply(v.ToMM(geom.Pt(float64(x)+0.5, float64(y)+0.5)))
				want := color.RGBA{255, 255, 255, 255}
				if geom.Polygon(ring...).Contains(px) {
					want = whole.RGBAAt(x, y)
					inside++
				}
				if _, d := geom.Polygon(ring...).Nearest(px); d < 1e-6 {
					continue // on the line itself
				}
				if got := part.RGBAAt(x, y); got != want {
					t.Fatalf("%s: pixel (%d, %d) is %v, want %v", name, x, y, got, want)
				}
			}
		}
		if inside < 5000 {
			t.Errorf("%s: only %d pixels lie inside", name, inside)
		}
	}
}

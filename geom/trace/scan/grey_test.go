package scan

import (
	"context"
	"errors"
	"image"
	"image/color"
	"math"
	"testing"
)

// The luminance weights are those of ITU-R BT.601: 0.299, 0.587, 0.114.
func TestGreyOfEveryKind(t *testing.T) {
	box := image.Rect(3, 5, 11, 9) // not at the origin
	shade := func(x, y int) color.NRGBA {
		return color.NRGBA{uint8(20 * x), uint8(25 * y), uint8(7 * x * y), uint8(255 - 11*x)}
	}
	opaque := func(x, y int) color.NRGBA { c := shade(x, y); c.A = 255; return c }
	cases := map[string]struct {
		img interface {
			image.Image
			Set(x, y int, c color.Color)
		}
		at  func(x, y int) color.NRGBA
		tol float64
	}{
		"grey":      {image.NewGray(box), opaque, 1},
		"grey 16":   {image.NewGray16(box), opaque, 1},
		"RGBA":      {image.NewRGBA(box), shade, 2},
		"NRGBA":     {image.NewNRGBA(box), shade, 1},
		"RGBA 64":   {image.NewRGBA64(box), shade, 2},
		"NRGBA 64":  {image.NewNRGBA64(box), shade, 2},
		"CMYK":      {image.NewCMYK(box), opaque, 2},
		"alpha":     {image.NewAlpha(box), func(x, y int) color.NRGBA { return color.NRGBA{255, 255, 255, uint8(x * y)} }, 1},
		"palette":   {image.NewPaletted(box, color.Palette{color.White, color.NRGBA{200, 30, 60, 255}, color.NRGBA{0, 0, 0, 128}}), func(x, y int) color.NRGBA { return color.NRGBA{200, 30, 60, 255} }, 1},
		"palette a": {image.NewPaletted(box, color.Palette{color.NRGBA{0, 0, 0, 128}}), func(x, y int) color.NRGBA { return color.NRGBA{0, 0, 0, 128} }, 1},
	}
	for name, c := range cases {
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x < box.Max.X; x++ {
				c.img.Set(x, y, c.at(x, y))
			}
		}
		r, err := Grey(context.Background(), c.img, nil)
		if err != nil || r.W != box.Dx() || r.H != box.Dy() {
			t.Fatal(name, err)
		}
		for y := range r.H {
			for x := range r.W {
				k := c.at(x+box.Min.X, y+box.Min.Y)
				a := float64(k.A) / 255
				want := 255*(1-a) + a*(0.299*float64(k.R)+0.587*float64(k.G)+0.114*float64(k.B))
				if got := float64(r.Pix[y*r.W+x]); math.Abs(got-want) > c.tol {
					t.Errorf("%s at (%d, %d): %g, want %.1f", name, x, y, got, want)
				}
			}
		}
	}
}

func TestGreyOfJPEGPlanes(t *testing.T) {
	m := image.NewYCbCr(image.Rect(2, 2, 8, 6), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = uint8(9 * i)
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 128, 128
	}
	sub := m.SubImage(image.Rect(3, 3, 7, 5))
	r, err := Grey(context.Background(), sub, nil)
	if err != nil {
		t.Fatal(err)
	}
	for y := range 2 {
		for x := range 4 {
			if want := m.YCbCrAt(x+3, y+3).Y; r.Pix[y*4+x] != want {
				t.Errorf("(%d, %d): %d, want %d", x, y, r.Pix[y*4+x], want)
			}
		}
	}
}

func TestGreyRefuses(t *testing.T) {
	for _, box := range []image.Rectangle{{}, image.Rect(0, 0, 0, 9), image.Rect(0, 0, 1<<30, 1<<30)} {
		if _, err := Grey(context.Background(), hollow{box}, nil); err == nil {
			t.Errorf("a picture of %v is read", box)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Grey(ctx, image.NewGray(image.Rect(0, 0, 9, 9)), nil); !errors.Is(err, context.Canceled) {
		t.Error("goes on though given up:", err)
	}
}

// hollow is a picture of a size and nothing else.
type hollow struct{ box image.Rectangle }

func (h hollow) ColorModel() color.Model { return color.GrayModel }
func (h hollow) Bounds() image.Rectangle { return h.box }
func (h hollow) At(_, _ int) color.Color { return color.Gray{} }

// Whatever mixes of paper, printed colour and ink there are, in any light, the colour comes
// out as paper and the ink as ink.
func TestTintIsTakenForPaper(t *testing.T) {
	for _, tint := range []string{"#7fb2d9", "#d98f7f", "#00ffff", "#9fd99a", "#0000c0"} {
		tone, err := ParseTint(tint)
		if err != nil {
			t.Fatal(err)
		}
		img := image.NewRGBA(image.Rect(0, 0, 11, 3))
		for x := range 11 {
			for row, k := range [3][2]float64{{float64(x) / 10, 0}, {float64(x) / 10, 0.5}, {0, float64(x) / 10}} {
				part := func(c float64) uint8 {
					return uint8(math.Round((255*(1-k[0]) + c*k[0]) * (1 - k[1]) * 0.8))
				}
				img.Set(x, row, color.RGBA{part(tone.Colour[0]), part(tone.Colour[1]), part(tone.Colour[2]), 255})
			}
		}
		r, err := Grey(context.Background(), img, &tone)
		if err != nil {
			t.Fatal(err)
		}
		paper := float64(r.Pix[0])
		for x := range 11 {
			for row, want := range [3]float64{paper, paper / 2, paper * (1 - float64(x)/10)} {
				if got := float64(r.Pix[row*11+x]); math.Abs(got-want) > 4 {
					t.Errorf("%s, row %d, %d: %g, want %.1f", tint, row, x, got, want)
				}
			}
		}
	}
}

func TestTintsThatAreNone(t *testing.T) {
	for _, s := range []string{"", "#fff", "#80808", "808080", "#gg0000", "#7fb2d9 ", "#808080", "#ffffff", "#000000", "#858080"} {
		if _, err := ParseTint(s); err == nil {
			t.Errorf("%q is read", s)
		}
	}
}

func TestTintAt(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 60, 60))
	for y := range 60 {
		for x := range 60 {
			c := color.RGBA{240, 232, 210, 255}
			if x == 30 {
				c = color.RGBA{120, 170, 200, 255}
			}
			img.Set(x, y, c)
		}
	}
	got, err := TintAt(img, image.Pt(30, 20))
	if err != nil || got.Colour != [3]float64{120, 170, 200} || math.Abs(got.Paper[2]-210) > 1e-9 {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := TintAt(img, image.Pt(5, 5)); err == nil {
		t.Error("paper is a tint")
	}
	if _, err := TintAt(img, image.Pt(90, 5)); err == nil {
		t.Error("a tint outside the picture")
	}
}

func FuzzParseTint(f *testing.F) {
	f.Add("#7fb2d9")
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseTint(s)
		if err != nil {
			return
		}
		if len(s) != 7 {
			t.Errorf("%q is read as %+v", s, c)
		}
	})
}

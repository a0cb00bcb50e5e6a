package paint

import (
	"image"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// mask sweeps what the raster holds in white over black and returns the coverage
// of each pixel, 0 to 255.
func mask(r *raster) *image.RGBA {
	img := image.NewRGBA(r.box)
	fillSolid(img.Pix, 0xff000000)
	r.sweep(img, ink{0xffffffff, 255})
	return img
}

// total returns the covered area in pixels.
func total(img *image.RGBA) float64 {
	sum := 0
	for i := 0; i < len(img.Pix); i += 4 {
		sum += int(img.Pix[i])
	}
	return float64(sum) / 255
}

func drawPoint(t *rapid.T, lo, hi float64) geom.Point {
	f := rapid.Float64Range(lo, hi)
	return geom.Pt(f.Draw(t, "x"), f.Draw(t, "y"))
}

// The covered area is that of the shoelace formula.
func TestRasterArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawPoint(t, 2, 98), drawPoint(t, 2, 98), drawPoint(t, 2, 98)
		var r raster
		r.begin(image.Rect(0, 0, 100, 100))
		r.polygon([]geom.Point{a, b, c})
		want := math.Abs(b.Sub(a).Cross(c.Sub(a))) / 2
		perimeter := a.Dist(b) + b.Dist(c) + c.Dist(a)
		// Places are rounded to 1/256 pixel, coverage to 1/255 in each pixel of the rim.
		if got := total(mask(&r)); math.Abs(got-want) > perimeter*0.01+0.1 {
			t.Fatalf("area %v, want %v", got, want)
		}
	})
}

// A pixel's coverage is the same whatever part of the picture is looked at.
func TestRasterBoxChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]float64{80, 400, 1e5, 1e7}).Draw(t, "size")
		pts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) geom.Point {
			return drawPoint(t, 32-size, 32+size)
		}), 3, 9).Draw(t, "pts")
		var whole, part raster
		whole.begin(image.Rect(0, 0, 64, 64))
		whole.polygon(pts)
		x := rapid.IntRange(0, 63).Draw(t, "x")
		y := rapid.IntRange(0, 63).Draw(t, "y")
		box := image.Rect(x, y, rapid.IntRange(x+1, 64).Draw(t, "x1"), rapid.IntRange(y+1, 64).Draw(t, "y1"))
		part.begin(box)
		part.polygon(pts)
		want, got := mask(&whole), mask(&part)
		for py := box.Min.Y; py < box.Max.Y; py++ {
			for px := box.Min.X; px < box.Max.X; px++ {
				if want.RGBAAt(px, py) != got.RGBAAt(px, py) {
					t.Fatalf("pixel (%d, %d) of %v: %v, want %v", px, py, box, got.RGBAAt(px, py), want.RGBAAt(px, py))
				}
			}
		}
	})
}

// An edge and the same edge backwards leave nothing.
func TestRasterEdgesCancel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPoint(t, -100, 200), drawPoint(t, -100, 200)
		var r raster
		r.begin(image.Rect(0, 0, 64, 64))
		r.edge(a, b)
		r.edge(b, a)
		if got := total(mask(&r)); got != 0 {
			t.Fatalf("%v pixels are left", got)
		}
	})
}

// A sweep leaves the raster empty for the next path.
func TestRasterIsEmptyAfterSweep(t *testing.T) {
	var r raster
	r.begin(image.Rect(0, 0, 50, 50))
	r.polygon(disc(geom.Pt(25, 25), 30))
	mask(&r)
	for i, c := range r.cells {
		if c != (cell{}) {
			t.Fatalf("cell %d holds %v", i, c)
		}
	}
	r.begin(image.Rect(3, 3, 90, 20))
	if got := total(mask(&r)); got != 0 {
		t.Fatalf("%v pixels from before", got)
	}
}

func TestMix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Uint32().Draw(t, "d") | 0xff000000
		s := rapid.Uint32().Draw(t, "s") | 0xff000000
		a := rapid.Uint32Range(0, 256).Draw(t, "a")
		got := mix(d, s, a)
		for shift := 0; shift < 32; shift += 8 {
			dc, sc, gc := d>>shift&255, s>>shift&255, float64(got>>shift&255)
			want := (float64(sc)*float64(a) + float64(dc)*float64(256-a)) / 256
			if math.Abs(gc-want) > 1 || dc == sc && gc != float64(dc) {
				t.Fatalf("mix(%08x, %08x, %d) = %08x: channel at %d is %v, want %v", d, s, a, got, shift, gc, want)
			}
		}
	})
}

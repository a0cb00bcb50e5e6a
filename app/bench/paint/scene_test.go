package paint

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"hemlet/geom"
)

// hex returns the colour 0xRRGGBB.
func hex(c uint32) color.NRGBA {
	return color.NRGBA{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c), A: 255}
}

// light is a palette for tests.
var light = Palette{
	Bench: hex(0xFDFBF6), Rule: hex(0xE6DFD0), RuleStrong: hex(0xDDD3BF), Cloth: hex(0xF3EAD6),
	Ink: hex(0x24303A), Faint: hex(0x5F6873), Chalk: hex(0x2C6E8F), ChalkTint: hex(0xDCEAF0),
	Pin: hex(0xC8502F), PinTint: hex(0xF8E3DB), PinText: hex(0xA83C1B),
	Moss: hex(0x4B7A47), MossTint: hex(0xE3EDE0), MossText: hex(0x446F40),
	Ochre: hex(0x9A6A12), OchreTint: hex(0xF6EBD2), OchreText: hex(0x875B0C),
	Level: hex(0x7A5C8E), Node: hex(0xFFFFFF), Plate: hex(0x24303A), PlateText: hex(0xFFFFFF),
}

// dark is the other palette for tests.
var dark = Palette{
	Bench: hex(0x171C20), Rule: hex(0x2B333A), RuleStrong: hex(0x38424B), Cloth: hex(0x2E3439),
	Ink: hex(0xE9E4D8), Faint: hex(0x9AA3AB), Chalk: hex(0x7FBAD6), ChalkTint: hex(0x243C48),
	Pin: hex(0xF08A68), PinTint: hex(0x4A2A20), PinText: hex(0xF08A68),
	Moss: hex(0x8CBF86), MossTint: hex(0x26382A), MossText: hex(0x8CBF86),
	Ochre: hex(0xD9A94A), OchreTint: hex(0x40351F), OchreText: hex(0xD9A94A),
	Level: hex(0xB79CCB), Node: hex(0x171C20), Plate: hex(0xE9E4D8), PlateText: hex(0x171C20),
}

func newPainter(t testing.TB) *Painter {
	t.Helper()
	p, err := New()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

var (
	cutLine  = Line{Colour: Of(Ink), Width: 1.6}
	sewLine  = Line{Colour: Of(Ink), Width: 1.1, Dash: Dash{6, 4}}
	fineLine = Line{Colour: Of(Ink), Width: 1.2, Join: Round, Cap: RoundCap}
)

// blob returns a closed outline of n cubics about c, a piece as the bench knows
// them: round here, straighter there.
func blob(c geom.Point, radius float64, n int, seed uint64) geom.Path {
	rnd := rand.New(rand.NewPCG(seed, 7))
	at := func(i int, k float64) geom.Point {
		s, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		return c.Add(geom.Pt(cs, s).Mul(radius * k))
	}
	ks := make([]float64, n)
	for i := range ks {
		ks[i] = 0.75 + 0.5*rnd.Float64()
	}
	var p geom.Path
	for i := range n {
		a, b := at(i, ks[i]), at(i+1, ks[(i+1)%n])
		if i == n-1 {
			b = p[0].P0
		}
		d := b.Sub(a)
		side := d.Left().Mul(0.25 * (rnd.Float64() - 0.3))
		p = append(p, geom.Cubic(a, a.Add(d.Mul(0.3)).Sub(side), a.Add(d.Mul(0.7)).Sub(side), b))
	}
	return p
}

// piece returns an item as a piece of n cubics looks: cloth, cut line, stitching
// line, grain, notches, name.
func piece(c geom.Point, radius float64, n int, seed uint64) *Item {
	cut := blob(c, radius, n, seed)
	sew := blob(c, radius*0.88, n, seed)
	return &Item{Marks: []Mark{
		Shape{Path: cut, Fill: Of(Cloth), Line: cutLine},
		Shape{Path: sew, Line: sewLine},
		Arrow{A: c.Add(geom.Pt(-radius/2, -radius/3)), B: c.Add(geom.Pt(-radius/2, radius/3)), Both: true, Line: fineLine},
		Tick{At: sew[0].P0, Dir: sew[0].P0.Sub(c), Length: 8, Count: 1, Line: cutLine},
		Tick{At: sew[n/2].P0, Dir: sew[n/2].P0.Sub(c), Length: 8, Count: 2, Line: cutLine},
		Text{At: c, Text: "Front yoke", Size: 15, Weight: SemiBold, Colour: Of(Ink), Anchor: Middle, Room: radius * 1.4},
		Text{At: c, DY: 17, Text: "washed linen · cut 2", Size: 12, Colour: Of(Faint), Anchor: Middle, Room: radius * 1.4},
	}}
}

// hundred is an invented table of 100 pieces of 12 cubics each with grid.
func hundred() *Scene {
	s := &Scene{Grid: Metric}
	for i := range 100 {
		s.Items = append(s.Items, piece(geom.Pt(float64(i%12)*95, float64(i/12)*95), 42, 12, uint64(i)))
	}
	return s
}

// extent is the box of hundred.
var extent = geom.Rect{Min: geom.Pt(-55, -55), Max: geom.Pt(11*95+55, 8*95+55)}

// save writes a picture for a person to look at, where PAINT_OUT names a folder.
func save(t testing.TB, name string, img image.Image) {
	t.Helper()
	dir := os.Getenv("PAINT_OUT")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func render(t testing.TB, v View, s *Scene) *image.RGBA {
	t.Helper()
	img := image.NewRGBA(v.bounds())
	newPainter(t).Paint(img, v, &light, s)
	return img
}

// nrgbaAt returns the pixel at (x, y) of an opaque picture.
func nrgbaAt(img *image.RGBA, x, y int) color.NRGBA {
	c := img.RGBAAt(x, y)
	return color.NRGBA(c)
}

// sameBox fails the test at the first pixel of the box in which a and b differ.
func sameBox(t testing.TB, a, b *image.RGBA, box image.Rectangle) bool {
	t.Helper()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if a.RGBAAt(x, y) != b.RGBAAt(x, y) {
				t.Errorf("pixel (%d, %d): %v, want %v", x, y, a.RGBAAt(x, y), b.RGBAAt(x, y))
				return false
			}
		}
	}
	return true
}

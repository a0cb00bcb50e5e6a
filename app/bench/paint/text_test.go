package paint

import (
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"

	"hemlet/assets"
	"hemlet/geom"
)

// The width is that of the font library's own measuring.
func TestTextWidth(t *testing.T) {
	p := newPainter(t)
	_, ttf := assets.Font(assets.SemiBold)
	f, err := opentype.Parse(ttf)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 26, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"Front yoke", "AVAVA To", "61.4 mm", "3⅝ in × 2", "Лампа", ""} {
		want := float64(font.MeasureString(face, s)) / 64 / 2
		if got := p.TextWidth(s, 13, SemiBold, 2); math.Abs(got-want) > 0.02 {
			t.Errorf("%q is %v wide, want %v", s, got, want)
		}
	}
}

// Every anchor puts its part of the text on the point.
func TestAnchors(t *testing.T) {
	text := Text{Text: "mmm", Size: 12, Colour: Of(Ink)}
	for a, want := range map[Anchor][2]int{Start: {40, 75}, Middle: {22, 58}, End: {5, 40}} {
		text.Anchor = a
		box := inked(one(t, text))
		if abs(box.Min.X-want[0]) > 3 || abs(box.Max.X-want[1]) > 3 {
			t.Errorf("anchor %d: %v, want from %d to %d", a, box, want[0], want[1])
		}
		if box.Max.Y != 30 {
			t.Errorf("anchor %d: the baseline is at %d", a, box.Max.Y)
		}
	}
}

func TestRoom(t *testing.T) {
	text := Text{Text: "Front yoke", Size: 15, Weight: SemiBold, Colour: Of(Ink), Anchor: Middle}
	full := inked(one(t, text)).Dx()
	text.Room = 60
	if got := inked(one(t, text)).Dx(); got >= full || got > 60 || got < 45 {
		t.Errorf("in 60 mm: %d pixels, unbounded %d", got, full)
	}
	text.Room = 20
	if got := inked(one(t, text)); !got.Empty() {
		t.Errorf("in 20 mm: %v", got)
	}
	// Cut short rather than left out, for as long as there are 24 units.
	text.Least = 30
	if got := inked(one(t, text)).Dx(); got > 30 || got < 15 {
		t.Errorf("cut short to 30 mm: %d pixels", got)
	}
	text.Least = 20
	if got := inked(one(t, text)); !got.Empty() {
		t.Errorf("cut short to 20 mm: %v", got)
	}
}

// A halo hides what lies behind the letters, and little else.
func TestHalo(t *testing.T) {
	v := NewView(80, 60, 1).scaleAt(geom.Point{}, 1).Centre(geom.Point{})
	line := Shape{Path: geom.Path{geom.Line(geom.Pt(-40, 3), geom.Pt(40, 3))}, Line: Line{Colour: Of(Pin), Width: 4}}
	pins := func(halo Colour) (n int) {
		text := Text{Text: "HHH", Size: 14, Colour: Of(Ink), Anchor: Middle, Halo: halo}
		img := render(t, v, &Scene{Items: []*Item{{Marks: []Mark{line, text}}}})
		for y := range v.H {
			for x := range v.W {
				if nrgbaAt(img, x, y) == light[Pin] {
					n++
				}
			}
		}
		return n
	}
	bare, with := pins(Colour{}), pins(Of(Bench))
	if with > bare-40 || with < 80 {
		t.Errorf("%d pixels of the line are left, %d without a halo", with, bare)
	}
}

// The same letters at places a whole pixel apart look the same, and the masks are
// made once.
func TestGlyphsAreKept(t *testing.T) {
	f, err := newFonts()
	if err != nil {
		t.Fatal(err)
	}
	ts := texts{fonts: f}
	fc := f.face(Regular, 13)
	m := ts.measure(fc, "bust")
	a := ts.lay(nil, fc, m, 10.3, 20, 0)
	n := len(f.glyphs)
	b := ts.lay(nil, fc, m, 17.3, 25, 0)
	if len(f.glyphs) != n || ts.measure(fc, "bust") != m {
		t.Error("letters were made twice")
	}
	for i := range a {
		if a[i].glyph != b[i].glyph || b[i].x-a[i].x != 7 || b[i].y-a[i].y != 5 {
			t.Errorf("letter %d: %+v and %+v", i, a[i], b[i])
		}
	}
}

func TestChordsAreKeptAndLetGo(t *testing.T) {
	var c flats
	p := blob(geom.Pt(0, 0), 40, 12, 1)
	f := c.get(p, 3)
	if c.get(p, 3.9) != f || f.bucket != 2 {
		t.Error("chords were made anew within a bucket")
	}
	n := len(f.pts)
	if c.get(p, 30); len(f.pts) <= n {
		t.Error("a closer look has no more chords")
	}
	for i, q := range f.pts[1:] {
		if d := q.Dist(f.pts[i]); d == 0 || math.Abs(f.cum[i+1]-f.cum[i]-d) > 1e-9 {
			t.Fatalf("chord %d is %v long, the sum grows by %v", i, d, f.cum[i+1]-f.cum[i])
		}
	}
	for range 3 * keepFrames {
		c.nextFrame()
	}
	if len(c.byPath) != 0 {
		t.Errorf("%d paths are kept after they went", len(c.byPath))
	}
}

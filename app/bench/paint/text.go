package paint

import (
	"image"
	"math"
	"strings"

	"golang.org/x/image/math/fixed"

	"hemlet/geom"
)

// smallestText is the size in screen units below which a label is left out
// rather than shrunk to fit its room.
const smallestText = 9.0

// haloWidth is how far, in screen units, a halo reaches beyond its letters.
const haloWidth = 2.0

// Padding of a plate about its text and the radius of its corners, in screen
// units.
const (
	platePadX   = 12.0
	platePadY   = 7.0
	plateRadius = 6.0
)

// mostTexts bounds the lines of text whose letters are kept measured.
const mostTexts = 1 << 13

// textKey names a line of text in a font.
type textKey struct {
	face *face
	text string
}

// measured is a line of text with how far each letter starts from the first.
type measured struct {
	runes []rune
	at    []fixed.Int26_6
	width float64 // pixels
}

// texts keeps lines of text measured: advances and kerning are slow to look up.
type texts struct {
	fonts *fonts
	kept  map[textKey]*measured
}

// measure returns the letters of the text with their places.
func (t *texts) measure(fc *face, text string) *measured {
	key := textKey{fc, text}
	if m := t.kept[key]; m != nil {
		return m
	}
	if t.kept == nil || len(t.kept) >= mostTexts {
		t.kept = map[textKey]*measured{}
	}
	m := &measured{}
	var pen fixed.Int26_6
	prev := rune(-1)
	for _, r := range text {
		if prev >= 0 {
			pen += fc.Kern(prev, r)
		}
		m.runes, m.at = append(m.runes, r), append(m.at, pen)
		a, _ := fc.GlyphAdvance(r)
		pen += a
		prev = r
	}
	m.width = fromFixed(pen)
	t.kept[key] = m
	return m
}

// lay appends the letters with the dot of the first at x, on the baseline y in
// whole pixels.
func (t *texts) lay(dst []placed, fc *face, m *measured, x float64, y int, halo uint8) []placed {
	start := fixed.Int26_6(math.Round(x * 64))
	for i, r := range m.runes {
		// To the nearest place that there are masks for.
		q := int(start+m.at[i]+64/glyphPlaces/2) >> 4
		if g := t.fonts.glyph(fc, r, uint8(q&(glyphPlaces-1)), halo); g != nil {
			dst = append(dst, placed{g, q >> 2, y})
		}
	}
	return dst
}

// fit returns the font and the measured text at the size, shrunk to the room in
// pixels if it must be; false if it does not fit.
func (f *frame) fit(t Text, room float64) (*face, *measured, bool) {
	size := t.Size
	fc := f.fonts.face(t.Weight, f.units(size))
	m := f.texts.measure(fc, t.Text)
	if !(room > 0) || m.width <= room {
		return fc, m, true
	}
	// Whole steps of half a unit keep the number of sizes small.
	size = math.Floor(size*room/m.width*2) / 2
	if size < smallestText {
		return f.cutShort(t)
	}
	fc = f.fonts.face(t.Weight, f.units(size))
	return fc, f.texts.measure(fc, t.Text), true
}

// leastCut is the width in screen units below which a text is not cut short but left
// out.
const leastCut = 24.0

// cutShort returns as much of the text at the smallest size as its least width holds,
// with an ellipsis where that is not all of it.
func (f *frame) cutShort(t Text) (*face, *measured, bool) {
	room := t.Least * f.scale
	if room < f.units(leastCut) {
		return nil, nil, false
	}
	fc := f.fonts.face(t.Weight, f.units(smallestText))
	m := f.texts.measure(fc, t.Text)
	for runes := []rune(t.Text); m.width > room && len(runes) > 1; {
		runes = runes[:len(runes)-1]
		m = f.texts.measure(fc, strings.TrimRight(string(runes), " ")+"…")
	}
	return fc, m, m.width <= room
}

// prepare makes a text ready.
func (t Text) prepare(f *frame) {
	if t.Text == "" {
		return
	}
	at := f.px(t.At).Add(geom.Point{X: f.units(t.DX), Y: f.units(t.DY)})
	if !at.Finite() || math.Max(math.Abs(at.X), math.Abs(at.Y)) > 1<<24 {
		return
	}
	fc, m, ok := f.fit(t, t.Room*f.scale)
	if !ok {
		return
	}
	x := at.X - m.width*[...]float64{Start: 0, Middle: 0.5, End: 1}[min(t.Anchor, End)]
	y := math.Round(at.Y)
	f.plate(t, fc, x, y, m.width)
	if c := f.pal.ink(t.Halo); c.alpha > 0 {
		f.write(c, fc, m, x, int(y), uint8(min(math.Round(f.units(haloWidth)*4), 255)))
	}
	f.write(f.pal.ink(t.Colour), fc, m, x, int(y), 0)
}

// write adds the letters of a text.
func (f *frame) write(c ink, fc *face, m *measured, x float64, y int, halo uint8) {
	if c.alpha == 0 {
		return
	}
	// Letters may lean out of their advances, at most by about their height.
	grow := float64(halo)/4 + fc.ascent
	box := pixelBox(geom.Point{X: x, Y: float64(y)}, geom.Point{X: x + m.width, Y: float64(y)}, grow+1)
	if !f.touch(box) {
		return
	}
	from := len(f.letters)
	f.letters = f.texts.lay(f.letters, fc, m, x, y, halo)
	f.ops = append(f.ops, op{kind: opLetters, box: box, from: from, to: len(f.letters), ink: c})
}

// plate adds the rounded box behind a text.
func (f *frame) plate(t Text, fc *face, x, y, width float64) {
	fill, rim := f.pal.ink(t.Plate), f.pal.ink(t.Rim)
	if fill.alpha == 0 {
		return
	}
	box := image.Rect(
		int(math.Floor(x-f.units(platePadX))), int(math.Floor(y-fc.capHeight-f.units(platePadY))),
		int(math.Ceil(x+width+f.units(platePadX))), int(math.Ceil(y+f.units(platePadY))))
	f.rounded(fill, box, 0)
	if rim.alpha == 0 {
		return
	}
	// A rim of whole pixels, inside the box.
	w := math.Max(math.Round(f.units(1)), 1)
	f.rounded(rim, box, 0)
	f.rounded(fill, box, w)
}

// rounded fills a box with round corners, in from its border by the inset.
func (f *frame) rounded(c ink, box image.Rectangle, inset float64) {
	x0, y0 := float64(box.Min.X)+inset, float64(box.Min.Y)+inset
	x1, y1 := float64(box.Max.X)-inset, float64(box.Max.Y)-inset
	r := math.Min(math.Max(f.units(plateRadius)-inset, 0.5), math.Min(x1-x0, y1-y0)/2)
	var pts []geom.Point
	for i, corner := range [...]geom.Point{{X: x1 - r, Y: y1 - r}, {X: x0 + r, Y: y1 - r}, {X: x0 + r, Y: y0 + r}, {X: x1 - r, Y: y0 + r}} {
		a := float64(i) * math.Pi / 2
		pts = arc(pts, corner, r, a, a+math.Pi/2)
	}
	f.polygon(c, pts...)
}

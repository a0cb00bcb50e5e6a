package paint

import (
	"fmt"
	"image"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"hemlet/assets"
)

// glyphPlaces is how many places within a pixel a glyph is drawn for: letters
// keep their distances without a mask for every 1/64.
const glyphPlaces = 4

// mostGlyphs bounds the masks that are kept, about 8 MB of letters of label size;
// then all are dropped. Zooming does not change text sizes, so that it is not
// reached by working.
const mostGlyphs = 1 << 14

// Weight is how heavy a label is set.
type Weight = assets.Weight

// The weights of labels.
const (
	Regular  = assets.Regular
	SemiBold = assets.SemiBold
	Bold     = assets.Bold
)

// faceKey names a font at a size in 1/64 pixel.
type faceKey struct {
	weight Weight
	size   int
}

// glyphKey names a letter at a place within a pixel, grown by the halo in 1/4
// pixel where it stands for a halo.
type glyphKey struct {
	face  *face
	r     rune
	place uint8
	halo  uint8
}

// face is a font at one size.
type face struct {
	font.Face
	ascent, capHeight float64 // pixels
}

// glyph is the coverage of a letter; left and top lead from the pixel of the dot
// to the mask.
type glyph struct {
	left, top, w, h int
	pix             []byte
}

// fonts makes letters and keeps them.
type fonts struct {
	parsed [Bold + 1]*opentype.Font
	faces  map[faceKey]*face
	glyphs map[glyphKey]*glyph
}

func newFonts() (*fonts, error) {
	f := &fonts{faces: map[faceKey]*face{}, glyphs: map[glyphKey]*glyph{}}
	for w := Regular; w <= Bold; w++ {
		name, ttf := assets.Font(w)
		parsed, err := opentype.Parse(ttf)
		if err != nil {
			return nil, fmt.Errorf("reading font %s: %w", name, err)
		}
		f.parsed[w] = parsed
	}
	return f, nil
}

// another returns the same fonts with letters of their own: what was parsed is only read.
func (f *fonts) another() *fonts {
	return &fonts{parsed: f.parsed, faces: map[faceKey]*face{}, glyphs: map[glyphKey]*glyph{}}
}

// face returns the font at the size in pixels, which is held to 1 to 400.
func (f *fonts) face(w Weight, size float64) *face {
	if w > Bold {
		w = Regular
	}
	if !(size >= 1) {
		size = 1
	}
	key := faceKey{w, int(math.Round(math.Min(size, 400) * 64))}
	if got := f.faces[key]; got != nil {
		return got
	}
	ff, err := opentype.NewFace(f.parsed[w], &opentype.FaceOptions{
		Size: float64(key.size) / 64, DPI: 72, Hinting: font.HintingNone,
	})
	if err != nil {
		// NewFace fails on nothing but options that do not occur here.
		panic(fmt.Sprintf("font at %v px: %v", size, err))
	}
	m := ff.Metrics()
	got := &face{Face: ff, ascent: fromFixed(m.Ascent), capHeight: fromFixed(m.CapHeight)}
	f.faces[key] = got
	return got
}

func fromFixed(x fixed.Int26_6) float64 { return float64(x) / 64 }

// glyph returns the mask of the letter with the dot at place/4 of a pixel, grown
// by halo/4 pixels; nil where it leaves no mark.
func (f *fonts) glyph(fc *face, r rune, place, halo uint8) *glyph {
	key := glyphKey{fc, r, place, halo}
	if g, ok := f.glyphs[key]; ok {
		return g
	}
	if len(f.glyphs) >= mostGlyphs {
		clear(f.glyphs)
	}
	var g *glyph
	if halo > 0 {
		g = f.glyph(fc, r, place, 0).grown(float64(halo) / 4)
	} else {
		g = fc.draw(r, place)
	}
	f.glyphs[key] = g
	return g
}

// draw rasterises the letter.
func (fc *face) draw(r rune, place uint8) *glyph {
	dot := fixed.Point26_6{X: fixed.Int26_6(place) * (64 / glyphPlaces)}
	box, mask, at, _, ok := fc.Glyph(dot, r)
	alpha, isAlpha := mask.(*image.Alpha)
	if !ok || !isAlpha || box.Empty() {
		return nil
	}
	g := &glyph{left: box.Min.X, top: box.Min.Y, w: box.Dx(), h: box.Dy()}
	// The face draws every letter into the same mask: copy it.
	for y := 0; y < g.h; y++ {
		from := alpha.PixOffset(at.X, at.Y+y)
		g.pix = append(g.pix, alpha.Pix[from:from+g.w]...)
	}
	return g
}

// grown returns the mask spread by the radius in pixels: each pixel takes the
// largest coverage in the disc about it, with a soft rim.
func (g *glyph) grown(radius float64) *glyph {
	if g == nil {
		return nil
	}
	n := int(math.Ceil(radius))
	out := &glyph{left: g.left - n, top: g.top - n, w: g.w + 2*n, h: g.h + 2*n}
	out.pix = make([]byte, out.w*out.h)
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			k := min(max(radius+0.5-math.Hypot(float64(dx), float64(dy)), 0), 1)
			if k > 0 {
				out.spread(g, n+dx, n+dy, uint32(k*256))
			}
		}
	}
	return out
}

// spread raises the pixels of out to those of g moved by dx, dy and thinned to
// k/256.
func (out *glyph) spread(g *glyph, dx, dy int, k uint32) {
	for y := 0; y < g.h; y++ {
		row := out.pix[(y+dy)*out.w+dx:]
		for x, a := range g.pix[y*g.w : (y+1)*g.w] {
			if v := byte(uint32(a) * k >> 8); v > row[x] {
				row[x] = v
			}
		}
	}
}

// blit lays the mask in the colour with the dot in pixel (x, y), within clip.
func (g *glyph) blit(dst *image.RGBA, clip image.Rectangle, x, y int, c ink) {
	box := image.Rect(x+g.left, y+g.top, x+g.left+g.w, y+g.top+g.h)
	seen := box.Intersect(clip)
	for py := seen.Min.Y; py < seen.Max.Y; py++ {
		row := g.pix[(py-box.Min.Y)*g.w:]
		at := dst.PixOffset(seen.Min.X, py)
		for px := seen.Min.X; px < seen.Max.X; px++ {
			if a := row[px-box.Min.X]; a != 0 {
				fillPixel(dst.Pix[at:at+4], c, uint32(a))
			}
			at += 4
		}
	}
}

// placed is a letter of a line of text with the pixel of its dot.
type placed struct {
	*glyph
	x, y int
}

package intake

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/draft"
)

const picturesDir = "../../testdata/intake/pictures"

// withPHYs puts a pHYs chunk after the header of a PNG, as ISO/IEC 15948 lays chunks out.
func withPHYs(png []byte, across, down uint32) []byte {
	body := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("pHYs"), across), down)
	return withChunk(png, append(body, 1))
}

// withChunk puts a chunk, its type and data, after the header of a PNG.
func withChunk(png, body []byte) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	chunk = append(chunk, body...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
	const header = 8 + 25 // signature and IHDR
	return append(append(append([]byte(nil), png[:header]...), chunk...), png[header:]...)
}

func pngOf(t testing.TB, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, w, h))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func picture(t testing.TB, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(picturesDir, name))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// said is what an independent reader says of a picture: Pillow 9, which
// testdata/intake/make_pictures.py asked.
type said struct {
	Wide, High int
	DPI        float64
	Spots      [][5]int // column, row, red, green, blue over white
}

func saidOfPictures(t testing.TB) map[string]said {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(picturesDir, "..", "pictures.json"))
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]said{}
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// Every form, depth and orientation is described and seen as an independent reader does.
func TestPicturesAsOthersSeeThem(t *testing.T) {
	all := saidOfPictures(t)
	if len(all) < 45 {
		t.Fatalf("only %d pictures", len(all))
	}
	for name, want := range all {
		content := picture(t, name)
		f, err := DescribePicture("some/"+name, content)
		if err != nil || f.Name != name || f.Wide != want.Wide || f.High != want.High || f.DPI != want.DPI {
			t.Errorf("%s: %+v, %v, want %d by %d at %g", name, f, err, want.Wide, want.High, want.DPI)
			continue
		}
		if got, err := draft.ParsePictureFile(f.String()); err != nil || got != f {
			t.Errorf("%s: the text is read as %+v, %v", name, got, err)
		}
		img, err := DecodePicture(name, content)
		if err != nil || img.Bounds() != image.Rect(0, 0, want.Wide, want.High) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		// Decoders round apart, and smooth the colours of JPEG and WebP differently; a
		// picture turned the wrong way is off by 100 and more at many places.
		most := 2
		switch filepath.Ext(name) {
		case ".jpg", ".webp":
			most = 45
		}
		for _, s := range want.Spots {
			if off := offFrom(img.At(s[0], s[1]), s[2], s[3], s[4]); off > most {
				t.Errorf("%s: at %d, %d it is %v, want %v", name, s[0], s[1], img.At(s[0], s[1]), s[2:])
			}
		}
	}
}

// offFrom returns the largest difference of a colour over white.
func offFrom(c color.Color, red, green, blue int) int {
	r, g, b, a := c.RGBA()
	most := 0.0
	for i, v := range []uint32{r, g, b} {
		over := float64(v+0xffff-a) / 257
		most = max(most, math.Abs(over-float64([]int{red, green, blue}[i])))
	}
	return int(math.Round(most))
}

func TestDPI(t *testing.T) {
	plain := pngOf(t, 30, 20)
	for name, c := range map[string]struct {
		content []byte
		want    float64
	}{
		"none": {plain, 0},
		// 11811 pixels a metre are 299.9994 an inch: what scanners write for 300.
		"300 in metres":          {withPHYs(plain, 11811, 11811), 300},
		"1 for none":             {withPHYs(plain, 1, 1), 0},
		"pixels not square":      {withPHYs(plain, 8031, 3858), 0}, // 204 by 98, as fax has it
		"cut off in the middle":  {withPHYs(plain, 11811, 11811)[:8+25+14], 0},
		"a photograph's unknown": {withChunk(plain, append([]byte("eXIf"), exifBlock(1, 72)...)), 0},
	} {
		h, err := pngHead(c.content)
		if err != nil || h.dpi != c.want {
			t.Errorf("%s: %v, %v, want %g", name, h, err, c.want)
		}
	}
	for _, c := range []struct{ kind, across, down, want float64 }{
		{1, 300, 300, 300}, {2, 118, 118, 299.72}, {0, 1, 1, 0}, {1, 204, 98, 0}, {1, 1, 1, 0},
	} {
		body := append([]byte("JFIF\x00"), 1, 2, byte(c.kind), 0, 0, 0, 0, 0, 0)
		binary.BigEndian.PutUint16(body[8:], uint16(c.across))
		binary.BigEndian.PutUint16(body[10:], uint16(c.down))
		if got := jfifDPI(body); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("JFIF %+v: %g", c, got)
		}
	}
	// A photograph says 72 where it knows nothing; a scanner's other numbers count.
	if got := exifOf(exifBlock(6, 600)); got != (exifFacts{6, 600}) {
		t.Errorf("Exif is read as %+v", got)
	}
}

// exifBlock is an Exif block with an orientation and a resolution, as TIFF 6.0 lays
// directories out.
func exifBlock(turn, dpi uint32) []byte {
	o := binary.BigEndian
	b := append([]byte("MM\x00*"), 0, 0, 0, 8, 0, 3)
	entry := func(tag, kind uint16, value uint32) {
		b = o.AppendUint32(o.AppendUint32(o.AppendUint16(o.AppendUint16(b, tag), kind), 1), value)
	}
	entry(tagOrientation, 3, turn<<16)
	entry(tagAcross, 5, 50)
	entry(tagDown, 5, 50)
	b = append(b, 0, 0, 0, 0)
	return o.AppendUint32(o.AppendUint32(b, dpi), 1)
}

// What is turned eight ways is what the definition of each orientation says, for every
// kind of image, and sharing of colours, and for odd sizes.
func TestTurnImage(t *testing.T) {
	for _, size := range []image.Point{{1, 1}, {1, 7}, {5, 3}, {8, 6}, {67, 41}} {
		for kind := range turnable(size) {
			for o := upright; o <= lastOrientation; o++ {
				from := turnable(size)[kind]
				got := turnImage(turnable(size)[kind], o)
				w, h := size.X, size.Y
				if o.lies() {
					w, h = h, w
				}
				if got.Bounds() != image.Rect(0, 0, w, h) {
					t.Fatalf("%s turned %d: bounds %v", kind, o, got.Bounds())
				}
				for y := range h {
					for x := range w {
						sx, sy := storedAt(o, x, y, size.X, size.Y)
						if got.At(x, y) != from.At(sx, sy) {
							t.Fatalf("%s of %v turned %d: %v at %d, %d, want %v", kind, size, o, got.At(x, y), x, y, from.At(sx, sy))
						}
					}
				}
			}
		}
	}
}

// storedAt returns where a pixel of the turned picture is stored: TIFF 6.0, tag 274, says
// what row 0 and column 0 are.
func storedAt(o orientation, x, y, w, h int) (int, int) {
	switch o {
	case 2: // row 0 is the top, column 0 the right
		return w - 1 - x, y
	case 3: // bottom, right
		return w - 1 - x, h - 1 - y
	case 4: // bottom, left
		return x, h - 1 - y
	case 5: // left, top
		return y, x
	case 6: // right, top
		return y, h - 1 - x
	case 7: // right, bottom
		return w - 1 - y, h - 1 - x
	case 8: // left, bottom
		return w - 1 - y, x
	}
	return x, y
}

// turnable are images of every kind that the decoders make, filled with differing values.
func turnable(size image.Point) map[string]image.Image {
	r := image.Rectangle{Max: size}
	fill := func(pix []uint8) {
		for i := range pix {
			pix[i] = uint8(i*37 + i/251)
		}
	}
	all := map[string]image.Image{}
	grey, grey16 := image.NewGray(r), image.NewGray16(r)
	fill(grey.Pix)
	fill(grey16.Pix)
	all["grey"], all["grey16"] = grey, grey16
	rgba, nrgba := image.NewRGBA(r), image.NewNRGBA(r)
	fill(rgba.Pix)
	fill(nrgba.Pix)
	for i := 3; i < len(rgba.Pix); i += 4 {
		rgba.Pix[i] = 255
	}
	all["rgba"], all["nrgba"] = rgba, nrgba
	rgba64, nrgba64 := image.NewRGBA64(r), image.NewNRGBA64(r)
	fill(rgba64.Pix)
	fill(nrgba64.Pix)
	all["rgba64"], all["nrgba64"] = rgba64, nrgba64
	cmyk := image.NewCMYK(r)
	fill(cmyk.Pix)
	all["cmyk"] = cmyk
	pal := image.NewPaletted(r, color.Palette{color.White, color.Black, color.Gray{90}})
	for i := range pal.Pix {
		pal.Pix[i] = uint8(i*i) % 3
	}
	all["palette"] = pal
	for _, ratio := range []image.YCbCrSubsampleRatio{image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410} {
		// As the decoder of JPEG makes it: cut out of whole blocks.
		whole := image.NewYCbCr(image.Rect(0, 0, (size.X+31)/32*32, (size.Y+31)/32*32), ratio)
		fill(whole.Y)
		fill(whole.Cb)
		fill(whole.Cr)
		all[ratio.String()] = whole.SubImage(r)
	}
	clear := image.NewNYCbCrA(r, image.YCbCrSubsampleRatio420)
	fill(clear.Y)
	fill(clear.Cb)
	fill(clear.A)
	all["nycbcra"] = clear
	return all
}

func TestPictureNotes(t *testing.T) {
	for name, want := range map[string]string{
		"pages.tif": "it holds 3 pictures; only the first is read", "moving.png": "it moves; only its first frame is read", "plain.png": "",
	} {
		if got := strings.Join(PictureNotes(picture(t, name)), "; "); got != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	if got := PictureNotes([]byte("Dear aunt")); got != nil {
		t.Errorf("of a letter: %q", got)
	}
}

func TestDecodePictureStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, name := range []string{"plain.png", "plain.tif", "turn1.jpg", "rgb.bmp", "lossy.webp"} {
		if _, err := DecodePictureContext(ctx, name, picture(t, name)); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The pages of a TIFF are taken apart: the fixture's are in colour, grey and two tones.
func TestPictureParts(t *testing.T) {
	ctx := context.Background()
	whole := picture(t, "pages.tif")
	if n := PictureParts(whole); n != 3 {
		t.Fatalf("%d pages", n)
	}
	for part, want := range []color.Model{color.RGBAModel, color.GrayModel, color.GrayModel} {
		content, err := PicturePart(ctx, "pages.tif", whole, part+1)
		if err != nil {
			t.Fatal(err)
		}
		img, err := DecodePicture("page.png", content)
		if err != nil || img.Bounds() != image.Rect(0, 0, 45, 31) || img.ColorModel() != want {
			t.Errorf("page %d: %v", part+1, err)
		}
		// Within the boot of the drawing all are dark, at its left rim all are light.
		if dark, light := color.GrayModel.Convert(img.At(10, 20)), color.GrayModel.Convert(img.At(1, 1)); part < 2 && (dark.(color.Gray).Y > 100 || light.(color.Gray).Y < 200) {
			t.Errorf("page %d: %v and %v", part+1, dark, light)
		}
	}
	if _, err := PicturePart(ctx, "pages.tif", whole, 4); err == nil || !strings.Contains(err.Error(), "has no page 4; it has 3") {
		t.Error(err)
	}
	single := picture(t, "plain.png")
	if content, err := PicturePart(ctx, "plain.png", single, 1); err != nil || !bytes.Equal(content, single) || PictureParts([]byte("Dear aunt")) != 1 {
		t.Error(err)
	}
}

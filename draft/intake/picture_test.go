package intake

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/jpeg"
	"image/png"
	"testing"

	"hemlet/draft"
)

// withPHYs puts a pHYs chunk after the header of a PNG, as ISO/IEC 15948 lays chunks out.
func withPHYs(png []byte, perMetre uint32) []byte {
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	body := append([]byte("pHYs"), 0, 0, 0, 0, 0, 0, 0, 0, 1)
	binary.BigEndian.PutUint32(body[4:], perMetre)
	binary.BigEndian.PutUint32(body[8:], perMetre)
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

func TestDescribePicture(t *testing.T) {
	plain := pngOf(t, 30, 20)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 16, 8)), nil); err != nil {
		t.Fatal(err)
	}
	// A JFIF segment with 300 dots an inch, as ITU-T T.871 lays it out.
	jfif := append([]byte{0xff, 0xd8, 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 2, 1, 1, 44, 1, 44, 0, 0}, b.Bytes()[2:]...)
	for name, c := range map[string]struct {
		content []byte
		ext     string
		w, h    int
		dpi     float64
	}{
		"plain.png": {plain, "png", 30, 20, 0},
		// 11811 pixels a metre are 299.9994 an inch: what scanners write for 300.
		"scan.png": {withPHYs(plain, 11811), "png", 30, 20, 300},
		"odd.png":  {withPHYs(plain, 1), "png", 30, 20, 0},
		"a.jpg":    {b.Bytes(), "jpg", 16, 8, 0},
		"b.jpeg":   {jfif, "jpg", 16, 8, 300},
	} {
		f, err := DescribePicture("some/"+name, c.content)
		if err != nil || f.Name != name || f.Ext != c.ext || f.Wide != c.w || f.High != c.h || f.DPI != c.dpi {
			t.Errorf("%s: %+v, %v", name, f, err)
			continue
		}
		if got, err := draft.ParsePictureFile(f.String()); err != nil || got != f {
			t.Errorf("%s: the text is read as %+v, %v", name, got, err)
		}
		if img, err := DecodePicture(name, c.content); err != nil || img.Bounds().Dx() != c.w {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, content := range map[string][]byte{"letter.txt": []byte("Dear aunt"), "wide.png": pngOf(t, draft.MaxPixels+1, 1), "empty": nil} {
		if f, err := DescribePicture(name, content); err == nil {
			t.Errorf("%s is taken for %+v", name, f)
		}
	}
	if _, err := DecodePicture("cut.png", plain[:len(plain)-20]); err == nil {
		t.Error("half a picture is read")
	}
}

// Any bytes are described or refused.
func FuzzDescribePicture(f *testing.F) {
	plain := pngOf(f, 3, 2)
	f.Add(plain)
	f.Add(withPHYs(plain, 11811))
	f.Add([]byte{0xff, 0xd8, 0xff, 0xe0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 2, 1, 1, 44, 1, 44, 0, 0})
	f.Fuzz(func(t *testing.T, content []byte) {
		got, err := DescribePicture("x", content)
		if pngDPI(content) < 0 || jpegDPI(content) < 0 {
			t.Fatal("a resolution below 0")
		}
		if err != nil {
			return
		}
		if _, err := draft.ParsePictureFile(got.String()); err != nil {
			t.Fatal(err)
		}
	})
}

package intake

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"image"
	_ "image/jpeg" // forms of pictures that are read
	_ "image/png"
	"math"
	"path/filepath"

	_ "golang.org/x/image/bmp"
	_ "golang.org/x/image/tiff"
	_ "golang.org/x/image/webp"

	"hemlet/draft"
)

// PictureEndings are the endings of the files that are read as pictures.
func PictureEndings() []string {
	return []string{".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".webp"}
}

// DescribePicture tells of the bytes of a picture file what a project notes of it, without
// decoding the pixels. The name is the file's. What is no picture, or has more pixels than
// fit, is an error.
func DescribePicture(name string, content []byte) (draft.PictureFile, error) {
	c, form, err := image.DecodeConfig(bytes.NewReader(content))
	if err != nil {
		return draft.PictureFile{}, fmt.Errorf("%s is no picture that can be read: it is wanted as PNG, JPEG, TIFF, BMP or WebP", name)
	}
	if c.Width < 1 || c.Height < 1 || c.Width > draft.MaxPixels || c.Height > draft.MaxPixels {
		return draft.PictureFile{}, fmt.Errorf("%s has %d by %d pixels; at most %d by %d fit. Make it smaller first", name, c.Width, c.Height, draft.MaxPixels, draft.MaxPixels)
	}
	sum := sha256.Sum256(content)
	f := draft.PictureFile{
		Name: filepath.Base(name), Hash: hex.EncodeToString(sum[:]), Ext: endingOf(form), Wide: c.Width, High: c.Height,
	}
	switch form {
	case "png":
		f.DPI = pngDPI(content)
	case "jpeg":
		f.DPI = jpegDPI(content)
	}
	return f, nil
}

func endingOf(form string) string {
	if form == "jpeg" {
		return "jpg"
	}
	return form
}

// DecodePicture returns the pixels of a picture file that is not larger than fits.
func DecodePicture(name string, content []byte) (image.Image, error) {
	if _, err := DescribePicture(name, content); err != nil {
		return nil, err
	}
	img, _, err := image.Decode(bytes.NewReader(content))
	if err != nil {
		return nil, fmt.Errorf("%s is damaged: %w", name, err)
	}
	return img, nil
}

// soundDPI returns the resolution if it can be meant: some programs write 1 or 0 where
// they know none.
func soundDPI(dpi float64) float64 {
	const least, most = 20, 10_000
	if dpi < least || dpi > most {
		return 0
	}
	// Files in pixels a metre round what was a whole number of dots an inch.
	if whole := math.Round(dpi); math.Abs(dpi-whole) < 0.05 {
		return whole
	}
	return dpi
}

const metresPerInch = draft.MMPerInch / 1000

// pngDPI returns the resolution in the pHYs chunk of a PNG (ISO/IEC 15948, 11.3.5.3), 0
// where there is none.
func pngDPI(content []byte) float64 {
	const head, frame = 8, 12 // the signature; length, type and check sum of a chunk
	for at := head; at+frame <= len(content); {
		n := int(binary.BigEndian.Uint32(content[at:]))
		body := at + 8
		if n < 0 || body+n > len(content) {
			return 0
		}
		switch kind := string(content[at+4 : body]); {
		case kind == "IDAT":
			return 0 // pHYs comes before the pixels
		case kind == "pHYs" && n == 9 && content[body+8] == 1:
			return soundDPI(float64(binary.BigEndian.Uint32(content[body:])) * metresPerInch)
		}
		at = body + n + 4
	}
	return 0
}

// jpegDPI returns the density in the JFIF segment of a JPEG (ITU-T T.871, 10.1), 0 where
// there is none.
func jpegDPI(content []byte) float64 {
	for at := 2; at+4 <= len(content) && content[at] == 0xff; {
		n := int(binary.BigEndian.Uint16(content[at+2:]))
		body := at + 4
		if n < 2 || at+2+n > len(content) || content[at+1] == 0xda {
			return 0
		}
		if content[at+1] == 0xe0 && n >= 14 && string(content[body:body+5]) == "JFIF\x00" {
			density := float64(binary.BigEndian.Uint16(content[body+8:]))
			switch content[body+7] {
			case 1:
				return soundDPI(density)
			case 2:
				return soundDPI(density * draft.MMPerInch / 10)
			}
			return 0
		}
		at += 2 + n
	}
	return 0
}

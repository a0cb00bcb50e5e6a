package intake

import (
	"bytes"
	"errors"
	"fmt"
	"math"

	"hemlet/draft"
)

// pictureForm is a form of picture files.
type pictureForm string

const (
	formPNG  pictureForm = "png"
	formJPEG pictureForm = "jpeg"
	formTIFF pictureForm = "tiff"
	formBMP  pictureForm = "bmp"
	formWebP pictureForm = "webp"
)

// pictureHead is what a picture file tells before any of its pixels is decoded.
type pictureHead struct {
	form pictureForm
	// wide and high are in pixels as they are stored, before the picture is turned.
	wide, high int
	turn       orientation
	// dpi is the resolution, 0 where the file tells none that can be meant.
	dpi float64
	// perPixel is how many bytes of memory decoding takes at most for each pixel.
	perPixel float64
	// holds bounds how many bytes (in the sense of needs) the file can unfold to; needs is
	// how many its pixels take. Both are 0 where the form allows no such bound.
	holds, needs int64
	notes        []string
	tiff         *tiffPage
}

var errNoPicture = errors.New("is no picture that can be read: it is wanted as PNG, JPEG, TIFF, BMP or WebP")

// Bounds of what is decoded, each checked before anything is allocated.
const (
	// mostDecoded bounds the memory that decoding takes, in bytes: with the even and clean
	// pictures that a tracing makes of it, 12,000 x 12,000 pixels stay within 1.5 GB.
	mostDecoded = 1.2e9
	// mostPerByte bounds the pixels that a byte of a file can stand for where the form
	// itself has no bound (one colour takes no bits at all): more than the barest drawing.
	mostPerByte = 1 << 14
)

// readHead reads the head of a picture file, and refuses what is too large, has no pixels,
// or claims more than its bytes can hold.
func readHead(content []byte) (*pictureHead, error) {
	read := headReader(content)
	if read == nil {
		return nil, errNoPicture
	}
	h, err := read(content)
	if err != nil {
		return nil, err
	}
	return h, h.check(len(content))
}

func headReader(content []byte) func([]byte) (*pictureHead, error) {
	starts := func(s string) bool { return bytes.HasPrefix(content, []byte(s)) }
	switch {
	case starts(pngSignature):
		return pngHead
	case starts("\xff\xd8"):
		return jpegHead
	case starts("II*\x00"), starts("MM\x00*"), starts("II+\x00"), starts("MM\x00+"):
		return tiffHead
	case starts("BM"):
		return bmpHead
	case starts("RIFF") && len(content) >= 12 && string(content[8:12]) == "WEBP":
		return webpHead
	}
	return nil
}

func (h *pictureHead) check(bytes int) error {
	pixels := float64(h.wide) * float64(h.high)
	switch {
	case h.wide < 1 || h.high < 1:
		return fmt.Errorf("has %d by %d pixels: there is nothing in it. Scan or save it again", max(h.wide, 0), max(h.high, 0))
	case h.wide > draft.MaxPixels || h.high > draft.MaxPixels:
		return fmt.Errorf("has %d by %d pixels; at most %d by %d fit. Make it smaller first", h.wide, h.high, draft.MaxPixels, draft.MaxPixels)
	case h.needs > h.holds, h.holds == 0 && pixels > mostPerByte*float64(bytes):
		return fmt.Errorf("is damaged: it claims %d by %d pixels, more than its %d bytes can hold. Copy or scan it again", h.wide, h.high, bytes)
	case pixels*h.perPixel > mostDecoded:
		return fmt.Errorf("has %d by %d pixels in a form that takes too much memory to open (%.1f GB). Save it as a grey PNG of 8 bits, or make it smaller",
			h.wide, h.high, pixels*h.perPixel/1e9)
	}
	return nil
}

func (h *pictureHead) ext() string {
	if h.form == formJPEG {
		return "jpg"
	}
	return string(h.form)
}

// turned returns width and height of the picture as it is looked at.
func (h *pictureHead) turned() (wide, high int) {
	if h.turn.lies() {
		return h.high, h.wide
	}
	return h.wide, h.high
}

// soundDPI returns the resolution across and down if it can be meant: some programs write
// 1 or 0 where they know none, and one number cannot tell of pixels that are not square.
func soundDPI(across, down float64) float64 {
	const (
		least, most = 20, 10_000
		rounding    = 0.002 // relative: whole dots a centimetre, rounded apart
	)
	if !(across >= least && across <= most) || !(math.Abs(across-down) <= rounding*across) {
		return 0
	}
	// Files in pixels a metre round what was a whole number of dots an inch.
	if whole := math.Round(across); math.Abs(across-whole) < 0.05 {
		return whole
	}
	return across
}

const metresPerInch = draft.MMPerInch / 1000

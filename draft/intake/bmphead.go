package intake

import (
	"encoding/binary"
	"errors"
)

// bmpHead reads the header of a BMP (the 40 bytes of BITMAPINFOHEADER, which later ones
// begin with): size, depth, resolution in pixels a metre.
func bmpHead(content []byte) (*pictureHead, error) {
	const head, info = 14, 40
	if len(content) < head+info {
		return nil, errors.New("is damaged: it ends before its pixels begin. Copy or scan it again")
	}
	at := func(i int) uint32 { return binary.LittleEndian.Uint32(content[i:]) }
	wide, high := int32(at(18)), int32(at(22))
	if high < 0 && high > -1<<31 {
		high = -high // the top row comes first
	}
	h := &pictureHead{form: formBMP, turn: upright, wide: int(wide), high: int(high)}
	if wide < 1 || high < 1 {
		return h, nil // refused by its size
	}
	h.wide, h.high = bounded(uint32(wide)), bounded(uint32(high))
	bits := int64(binary.LittleEndian.Uint16(content[28:]))
	switch bits {
	case 1, 2, 4, 8:
		h.perPixel = 1
	case 24, 32:
		h.perPixel = 4
	default:
		return nil, errors.New("is a BMP with a number of colours that cannot be read. Save it as PNG")
	}
	row := (int64(h.wide)*bits + 31) / 32 * 4
	h.needs, h.holds = row*int64(h.high), int64(len(content))
	if compression := at(30); compression != 0 && compression != 3 {
		return nil, errors.New("is a compressed BMP. Save it as PNG")
	}
	h.dpi = soundDPI(float64(int32(at(38)))*metresPerInch, float64(int32(at(42)))*metresPerInch)
	return h, nil
}

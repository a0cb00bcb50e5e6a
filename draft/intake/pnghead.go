package intake

import (
	"encoding/binary"
	"fmt"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// deflateMost is how many bytes one byte of a deflated stream unfolds to at most: a match
// of 258 bytes takes two bits at least (RFC 1951).
const deflateMost = 1032

// pngHead reads the chunks of a PNG (ISO/IEC 15948): IHDR, pHYs, eXIf, acTL, and how long
// the IDAT are together.
func pngHead(content []byte) (*pictureHead, error) {
	const head, frame, header = 8, 12, 13 // the signature; length, type and check sum of a chunk; IHDR
	h := &pictureHead{form: formPNG, turn: upright}
	var depth, colour, interlaced byte
	var clear bool
	var packed int64
	for at := head; at+frame <= len(content); {
		n := int64(binary.BigEndian.Uint32(content[at:]))
		kind, body := string(content[at+4:at+8]), content[at+8:]
		whole := n <= int64(len(body))
		body = body[:min(n, int64(len(body)))]
		switch {
		case kind == "IHDR" && n == header && whole:
			h.wide, h.high = bounded(binary.BigEndian.Uint32(body)), bounded(binary.BigEndian.Uint32(body[4:]))
			depth, colour, interlaced = body[8], body[9], body[12]
		case kind == "pHYs" && n == 9 && whole && body[8] == 1:
			h.dpi = soundDPI(float64(binary.BigEndian.Uint32(body))*metresPerInch, float64(binary.BigEndian.Uint32(body[4:]))*metresPerInch)
		case kind == "eXIf" && whole:
			h.turn = exifOf(body).turn
		case kind == "acTL":
			h.notes = append(h.notes, "it moves; only its first frame is read")
		case kind == "tRNS":
			clear = true
		case kind == "IDAT":
			packed += int64(len(body))
		}
		if !whole {
			break
		}
		at += frame + int(n)
	}
	if depth == 0 {
		return nil, fmt.Errorf("is damaged: it has no PNG header. Copy or scan it again")
	}
	row := (int64(h.wide)*int64(pngSamples(colour))*int64(depth) + 7) / 8
	h.needs, h.holds = (row+1)*int64(h.high), packed*deflateMost
	h.perPixel = pngPerPixel(depth, colour, interlaced != 0, clear)
	return h, nil
}

// bounded returns a size as an int that stays one on every machine.
func bounded(n uint32) int { return int(min(n, 1<<30)) }

// Colour types of PNG.
const (
	pngGrey, pngColour, pngPalette, pngGreyAlpha, pngColourAlpha = 0, 2, 3, 4, 6
)

func pngSamples(colour byte) int {
	switch colour {
	case pngColour:
		return 3
	case pngGreyAlpha:
		return 2
	case pngColourAlpha:
		return 4
	}
	return 1
}

// pngPerPixel returns how much memory a pixel takes in the types of image that the
// decoder makes; of an interlaced picture the largest pass is held as well.
func pngPerPixel(depth, colour byte, interlaced, clear bool) float64 {
	bytes := 4.0
	if colour == pngPalette || colour == pngGrey && !clear {
		bytes = 1
	}
	if depth == 16 {
		bytes *= 2
	}
	if interlaced {
		bytes *= 1.5
	}
	return bytes
}

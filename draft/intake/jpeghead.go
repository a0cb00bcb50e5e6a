package intake

import (
	"bytes"
	"encoding/binary"
	"errors"

	"hemlet/draft"
)

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	jpegSOF0, jpegSOF1, jpegSOF2, jpegSOF15 = 0xc0, 0xc1, 0xc2, 0xcf
	jpegDHT, jpegJPG, jpegDAC               = 0xc4, 0xc8, 0xcc
	jpegRST0, jpegSOI, jpegEOI, jpegSOS     = 0xd0, 0xd8, 0xd9, 0xda
	jpegTEM, jpegAPP0, jpegAPP1, jpegAPP14  = 0x01, 0xe0, 0xe1, 0xee
)

// jpegHead reads the segments of a JPEG before its pixels: size (ITU-T T.81, B.2.2), JFIF
// density (ITU-T T.871, 10.1), orientation and resolution in Exif, Adobe's colours.
func jpegHead(content []byte) (*pictureHead, error) {
	h := &pictureHead{form: formJPEG, turn: upright}
	var f jpegFrame
	var err error
	var tagged exifFacts
	eachSegment(content, func(marker byte, body []byte) bool {
		switch {
		case marker == jpegAPP0:
			if dpi := jfifDPI(body); dpi > 0 {
				h.dpi = dpi
			}
		case marker == jpegAPP1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")):
			tagged = exifOf(body[6:])
			h.turn = tagged.turn
		case marker == jpegAPP14 && bytes.HasPrefix(body, []byte("Adobe")) && len(body) >= 12:
			f.adobe = true
		case isFrame(marker) && f.parts == nil:
			err = f.read(marker, body)
		}
		return err == nil
	})
	if err != nil {
		return nil, err
	}
	if f.parts == nil {
		return nil, errors.New("is damaged: it ends before its pixels begin. Copy or scan it again")
	}
	if len(f.parts) == 4 && !f.adobe {
		return nil, errors.New("is a JPEG in printing inks that does not say how they are meant. Save it as an RGB or grey picture")
	}
	if h.dpi == 0 {
		h.dpi = tagged.dpi
	}
	h.wide, h.high = f.wide, f.high
	h.perPixel = f.perPixel()
	// The barest block of 8 by 8 takes a bit for its mean and, unless it comes in several
	// passes, a bit for its end.
	h.needs = int64((f.wide+7)/8) * int64((f.high+7)/8)
	h.holds = 8 * int64(len(content))
	if !f.progressive {
		h.needs *= 2
	}
	return h, nil
}

// eachSegment calls f with the segments before the pixels, until it returns false.
func eachSegment(content []byte, f func(marker byte, body []byte) bool) {
	for at := 2; at+4 <= len(content); {
		if content[at] != 0xff || content[at+1] == 0xff || content[at+1] == 0 {
			at++ // fill bytes, or stray ones that other programs pass over
			continue
		}
		marker := content[at+1]
		if marker == jpegSOS || marker == jpegEOI {
			return
		}
		if marker == jpegTEM || marker >= jpegRST0 && marker <= jpegSOI {
			at += 2 // these stand alone
			continue
		}
		n := int(binary.BigEndian.Uint16(content[at+2:]))
		if n < 2 || at+2+n > len(content) || !f(marker, content[at+4:at+2+n]) {
			return
		}
		at += 2 + n
	}
}

func isFrame(marker byte) bool {
	return marker >= jpegSOF0 && marker <= jpegSOF15 && marker != jpegDHT && marker != jpegJPG && marker != jpegDAC
}

// jfifDPI returns the density in a JFIF segment, 0 where there is none.
func jfifDPI(body []byte) float64 {
	if len(body) < 12 || string(body[:5]) != "JFIF\x00" {
		return 0
	}
	across, down := float64(binary.BigEndian.Uint16(body[8:])), float64(binary.BigEndian.Uint16(body[10:]))
	switch body[7] {
	case 1:
		return soundDPI(across, down)
	case 2:
		const perCm = draft.MMPerInch / 10
		return soundDPI(across*perCm, down*perCm)
	}
	return 0
}

// jpegFrame is what the frame header says.
type jpegFrame struct {
	wide, high         int
	parts              [][2]int // how finely each component is sampled, across and down
	progressive, adobe bool
}

func (f *jpegFrame) read(marker byte, body []byte) error {
	switch {
	case marker > jpegSOF2:
		return errors.New("is a JPEG of a rare kind (lossless or arithmetic). Save it as an ordinary JPEG or as PNG")
	case len(body) < 6 || len(body) < 6+3*int(body[5]):
		return errors.New("is damaged: its JPEG header is cut short. Copy or scan it again")
	case body[0] != 8:
		return errors.New("is a JPEG of more than 8 bits a colour. Save it with 8 bits, or as PNG")
	case body[5] != 1 && body[5] != 3 && body[5] != 4:
		return errors.New("is a JPEG with a number of colours that cannot be read. Save it as an RGB or grey picture")
	}
	f.high, f.wide = int(binary.BigEndian.Uint16(body[1:])), int(binary.BigEndian.Uint16(body[3:]))
	f.progressive = marker == jpegSOF2
	for i := range int(body[5]) {
		s := body[6+3*i+1]
		f.parts = append(f.parts, [2]int{int(s >> 4), int(s & 15)})
	}
	return nil
}

// perPixel returns how much memory a pixel takes: its planes, the coefficients that a
// picture in several passes keeps until the end, and what four inks, or planes that are
// RGB already, are joined to.
func (f *jpegFrame) perPixel() float64 {
	most := [2]int{1, 1}
	for _, p := range f.parts {
		most[0], most[1] = max(most[0], p[0]), max(most[1], p[1])
	}
	planes := 0.0
	for _, p := range f.parts {
		planes += float64(p[0]*p[1]) / float64(most[0]*most[1])
	}
	sum := planes
	if f.progressive {
		const coefficient = 4 // bytes
		sum += coefficient * planes
	}
	if len(f.parts) == 4 || f.adobe && len(f.parts) == 3 {
		sum += 4
	}
	return sum
}

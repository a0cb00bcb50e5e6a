package intake

import (
	"bytes"
	"encoding/binary"
	"errors"
)

var errWebP = errors.New("is damaged: it is no whole WebP. Copy or save it again")

// webpHead reads the chunks of a WebP (RFC 9649): size, orientation and resolution in
// Exif, and whether the sizes that it tells agree.
func webpHead(content []byte) (*pictureHead, error) {
	const riff, frame = 12, 8
	w := webpChunks{h: &pictureHead{form: formWebP, turn: upright}}
	for at := riff; at+frame <= len(content); {
		n := int64(binary.LittleEndian.Uint32(content[at+4:]))
		body := content[at+frame:]
		body = body[:min(n, int64(len(body)))]
		if err := w.take(string(content[at:at+4]), body); err != nil {
			return nil, err
		}
		next := int64(at) + frame + n + n&1
		if next > int64(len(content)) {
			break
		}
		at = int(next)
	}
	if w.picture == [2]int{} || w.canvas != [2]int{} && w.canvas != w.picture {
		return nil, errWebP
	}
	w.h.wide, w.h.high = w.picture[0], w.picture[1]
	return w.h, nil
}

type webpChunks struct {
	h               *pictureHead
	canvas, picture [2]int
}

func (w *webpChunks) take(kind string, body []byte) error {
	const alphaBytes = 5 // a pixel's: packed without loss, its values come as four bytes first
	switch {
	case kind == "VP8X" && len(body) >= 10:
		if body[0]&2 != 0 {
			return errors.New("is a moving WebP. Save the picture that you mean as PNG")
		}
		w.canvas = [2]int{1 + little24(body[4:]), 1 + little24(body[7:])}
	case kind == "ALPH":
		w.h.perPixel += alphaBytes
	case kind == "VP8 " && w.picture == [2]int{}:
		return w.lossy(body)
	case kind == "VP8L" && w.picture == [2]int{}:
		return w.lossless(body)
	case kind == "EXIF":
		facts := exifOf(bytes.TrimPrefix(body, []byte("Exif\x00\x00")))
		w.h.turn, w.h.dpi = facts.turn, facts.dpi
	}
	return nil
}

// lossy reads the header of a key frame (RFC 6386, 9.1).
func (w *webpChunks) lossy(body []byte) error {
	if len(body) < 10 || body[0]&1 != 0 || string(body[3:6]) != "\x9d\x01\x2a" {
		return errWebP
	}
	const size = 1<<14 - 1
	w.picture = [2]int{int(binary.LittleEndian.Uint16(body[6:])) & size, int(binary.LittleEndian.Uint16(body[8:])) & size}
	if w.picture[0] == 0 || w.picture[1] == 0 {
		return errWebP
	}
	w.h.perPixel += 2
	// The modes of a block of 16 by 16 have fixed probabilities (RFC 6386, 11.2), by which
	// even the likeliest take more than a bit.
	w.h.needs = int64((w.picture[0]+15)/16) * int64((w.picture[1]+15)/16)
	w.h.holds = 8 * int64(len(body))
	return nil
}

// lossless reads the header of a picture without loss (RFC 9649, 3.4).
func (w *webpChunks) lossless(body []byte) error {
	if len(body) < 5 || body[0] != 0x2f {
		return errWebP
	}
	const size = 1<<14 - 1
	bits := binary.LittleEndian.Uint32(body[1:])
	w.picture = [2]int{1 + int(bits&size), 1 + int(bits>>14&size)}
	w.h.perPixel += 8 // the pixels, and what undoes a transform
	return nil
}

func little24(b []byte) int { return int(b[0]) | int(b[1])<<8 | int(b[2])<<16 }

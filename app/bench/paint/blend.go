package paint

import "encoding/binary"

// mix returns d with a share of s laid over it, a from 0 to 256. Both are opaque
// pixels; equal colours mix to themselves.
func mix(d, s, a uint32) uint32 {
	const odd, even = 0xff00ff00, 0x00ff00ff
	b := 256 - a
	lo := ((s&even)*a + (d&even)*b) >> 8 & even
	hi := ((s>>8&even)*a + (d>>8&even)*b) & odd
	return lo | hi
}

// share turns an opacity of 0 to 255 into one of 0 to 256.
func share(a uint32) uint32 { return a + a>>7 }

// fillSpan lays the colour with coverage cov (0 to 255) on a run of pixels.
func fillSpan(pix []byte, c ink, cov uint32) {
	a := share(c.alpha * cov / 255)
	if a >= 256 {
		fillSolid(pix, c.rgba)
		return
	}
	if a == 0 {
		return
	}
	for len(pix) >= 4 {
		d := binary.LittleEndian.Uint32(pix)
		binary.LittleEndian.PutUint32(pix, mix(d, c.rgba, a))
		pix = pix[4:]
	}
}

// fillPixel is fillSpan for one pixel: the rims of what is painted are made of such.
func fillPixel(pix []byte, c ink, cov uint32) {
	a := share(c.alpha * cov / 255)
	binary.LittleEndian.PutUint32(pix, mix(binary.LittleEndian.Uint32(pix), c.rgba, a))
}

// fillSolid sets every pixel of the run.
func fillSolid(pix []byte, rgba uint32) {
	pair := uint64(rgba) | uint64(rgba)<<32
	for len(pix) >= 32 {
		binary.LittleEndian.PutUint64(pix, pair)
		binary.LittleEndian.PutUint64(pix[8:], pair)
		binary.LittleEndian.PutUint64(pix[16:], pair)
		binary.LittleEndian.PutUint64(pix[24:], pair)
		pix = pix[32:]
	}
	for len(pix) >= 4 {
		binary.LittleEndian.PutUint32(pix, rgba)
		pix = pix[4:]
	}
}

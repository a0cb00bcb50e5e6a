package paint

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"
)

// Pyramid is a picture in several sizes, each half as large as the one before, so that
// it can be shown at any scale at the cost of the pixels that are seen.
type Pyramid struct {
	// W and H are the size in pixels of the picture itself.
	W, H   int
	levels []level
}

// level is the picture in one size: grey where it has no colour, at a quarter of the
// memory, else premultiplied colours.
type level struct {
	w, h   int
	grey   []byte
	rgba   []uint32
	opaque bool
}

// mostPixels bounds the largest size that is kept, for a scan may have more pixels than
// memory should hold: 36 million, which is A3 at 400 an inch.
const mostPixels = 36 << 20

// NewPyramid makes the sizes of a picture. It takes a moment and is not meant for the
// window's own goroutine.
func NewPyramid(img image.Image) *Pyramid {
	b := img.Bounds()
	p := &Pyramid{W: b.Dx(), H: b.Dy()}
	base := levelOf(img)
	for base.w*base.h > mostPixels {
		base = base.half()
	}
	p.levels = append(p.levels, base)
	for base.w > 1 && base.h > 1 {
		base = base.half()
		p.levels = append(p.levels, base)
	}
	return p
}

// levelOf takes the pixels of a picture.
func levelOf(img image.Image) level {
	b := img.Bounds()
	l := level{w: b.Dx(), h: b.Dy(), opaque: true}
	if g, ok := img.(*image.Gray); ok {
		l.grey = make([]byte, l.w*l.h)
		for y := range l.h {
			copy(l.grey[y*l.w:(y+1)*l.w], g.Pix[y*g.Stride:])
		}
		return l
	}
	row := image.NewRGBA(image.Rect(0, 0, l.w, 1))
	rgba := make([]uint32, l.w*l.h)
	coloured := false
	for y := range l.h {
		draw.Draw(row, row.Rect, image.NewUniform(color.Transparent), image.Point{}, draw.Src)
		draw.Draw(row, row.Rect, img, image.Pt(b.Min.X, b.Min.Y+y), draw.Src)
		for x := range l.w {
			r, g, bl, a := row.Pix[4*x], row.Pix[4*x+1], row.Pix[4*x+2], row.Pix[4*x+3]
			rgba[y*l.w+x] = uint32(r) | uint32(g)<<8 | uint32(bl)<<16 | uint32(a)<<24
			coloured = coloured || r != g || g != bl
			l.opaque = l.opaque && a == 255
		}
	}
	if coloured || !l.opaque {
		l.rgba = rgba
		return l
	}
	l.grey = make([]byte, len(rgba))
	for i, c := range rgba {
		l.grey[i] = byte(c)
	}
	return l
}

// half returns the picture at half the size: each pixel is the mean of four.
func (l level) half() level {
	h := level{w: max(l.w/2, 1), h: max(l.h/2, 1), opaque: l.opaque}
	if l.grey != nil {
		h.grey = make([]byte, h.w*h.h)
	} else {
		h.rgba = make([]uint32, h.w*h.h)
	}
	for y := range h.h {
		y0, y1 := min(2*y, l.h-1)*l.w, min(2*y+1, l.h-1)*l.w
		for x := range h.w {
			x0, x1 := min(2*x, l.w-1), min(2*x+1, l.w-1)
			if l.grey != nil {
				sum := int(l.grey[y0+x0]) + int(l.grey[y0+x1]) + int(l.grey[y1+x0]) + int(l.grey[y1+x1])
				h.grey[y*h.w+x] = byte((sum + 2) / 4)
				continue
			}
			h.rgba[y*h.w+x] = mean(l.rgba[y0+x0], l.rgba[y0+x1], l.rgba[y1+x0], l.rgba[y1+x1])
		}
	}
	return h
}

func mean(a, b, c, d uint32) uint32 {
	const even = 0x00ff00ff
	lo := (a&even + b&even + c&even + d&even + 0x00020002) >> 2 & even
	hi := (a>>8&even + b>>8&even + c>>8&even + d>>8&even + 0x00020002) >> 2 & even
	return lo | hi<<8
}

// levelFor returns the size to show where a pixel of the picture covers scale pixels of
// the screen, and how many pixels of the picture one of that size covers.
func (p *Pyramid) levelFor(scale float64) (*level, float64, float64) {
	i := 0
	// The first level may be smaller than the picture itself.
	for i+1 < len(p.levels) && float64(p.W)/float64(p.levels[i+1].w)*scale <= 1 {
		i++
	}
	l := &p.levels[i]
	return l, float64(p.W) / float64(l.w), float64(p.H) / float64(l.h)
}

// fine is the fraction that is kept of a place in a picture, in bits: over the widest
// screen the error of a step adds up to less than a thousandth of a pixel.
const fine = 24

// span lays a run of pixels of the screen on: the first shows the place (u, v) of the
// level, each next one a step of (du, dv) farther, all in 1/2^24 pixel and measured from
// the middle of the first pixel.
func (l *level) span(pix []byte, u, v, du, dv int64, opacity uint32) {
	if l.grey != nil && dv == 0 && v >= 0 && v < int64(l.h-1)<<fine {
		// Upright: the two rows are the same all along, and between the borders nothing
		// has to be looked at twice.
		n := len(pix) / 4
		from, to := inside(float64(u), float64(du), float64(int64(l.w-1)<<fine), n)
		from, to = min(from+1, n), max(to-1, 0) // a pixel of slack for the rounding
		if from < to {
			l.spanAny(pix[:4*from], u, v, du, dv, opacity)
			l.greyRow(pix[4*from:4*to], u+int64(from)*du, v, du, opacity)
			l.spanAny(pix[4*to:], u+int64(to)*du, v, du, dv, opacity)
			return
		}
	}
	l.spanAny(pix, u, v, du, dv, opacity)
}

func (l *level) spanAny(pix []byte, u, v, du, dv int64, opacity uint32) {
	for ; len(pix) >= 4; pix = pix[4:] {
		i, right, down, fx, fy := l.corner(u, v)
		if g := l.grey; g != nil {
			over(pix, greyBetween(g[i], g[i+right], g[i+down], g[i+down+right], fx, fy), opacity, true)
		} else {
			top := mix(l.rgba[i], l.rgba[i+right], fx)
			low := mix(l.rgba[i+down], l.rgba[i+down+right], fx)
			over(pix, mix(top, low, fy), opacity, l.opaque)
		}
		u, v = u+du, v+dv
	}
}

// greyBetween returns the colour among four grey pixels, at shares in 1/256.
func greyBetween(a, b, c, d byte, fx, fy uint32) uint32 {
	top := uint32(a)*(256-fx) + uint32(b)*fx
	low := uint32(c)*(256-fx) + uint32(d)*fx
	return (top*(256-fy)+low*fy)>>16*0x010101 | 0xff000000
}

// greyRow is span along a row of grey pixels, all of it between the borders.
func (l *level) greyRow(pix []byte, u, v, du int64, opacity uint32) {
	y := int(v >> fine)
	fy := uint32(v>>(fine-8)) & 0xff
	r0, r1 := l.grey[y*l.w:(y+1)*l.w], l.grey[(y+1)*l.w:(y+2)*l.w]
	for len(pix) >= 4 {
		x := int(u >> fine)
		fx := uint32(u>>(fine-8)) & 0xff
		a, b := r0[x:x+2:x+2], r1[x:x+2:x+2]
		c := greyBetween(a[0], a[1], b[0], b[1], fx, fy)
		binary.LittleEndian.PutUint32(pix, mix(binary.LittleEndian.Uint32(pix), c, opacity))
		pix = pix[4:]
		u += du
	}
}

// corner returns the pixel at a place, how far on those at its right and below it lie, 0
// at the border, and the shares of these in 1/256.
func (l *level) corner(u, v int64) (i, right, down int, fx, fy uint32) {
	u, v = min(max(u, 0), int64(l.w-1)<<fine), min(max(v, 0), int64(l.h-1)<<fine)
	x, y := int(u>>fine), int(v>>fine)
	if x < l.w-1 {
		right = 1
	}
	if y < l.h-1 {
		down = l.w
	}
	return y*l.w + x, right, down, uint32(u>>(fine-8)) & 0xff, uint32(v>>(fine-8)) & 0xff
}

// over lays a premultiplied colour over a pixel with the opacity of 0 to 256.
func over(pix []byte, c, opacity uint32, opaque bool) {
	d := binary.LittleEndian.Uint32(pix)
	if opaque {
		d = mix(d, c, opacity)
	} else {
		const even = 0x00ff00ff
		rest := 256 - share(c>>24)*opacity>>8
		lo := (c&even*opacity>>8)&even + (d&even*rest>>8)&even
		hi := (c>>8&even*opacity>>8)&even + (d>>8&even*rest>>8)&even
		d = lo | hi<<8
	}
	binary.LittleEndian.PutUint32(pix, d|0xff000000)
}

// inside returns the numbers k from 0 to n for which a + k*step lies from 0 to limit, as
// a half-open range.
func inside(a, step, limit float64, n int) (from, to int) {
	if step == 0 {
		if a < 0 || a >= limit {
			return 0, 0
		}
		return 0, n
	}
	lo, hi := -a/step, (limit-a)/step
	if lo > hi {
		lo, hi = hi, lo
	}
	from = int(math.Ceil(max(lo, 0)))
	to = int(math.Ceil(min(hi, float64(n))))
	return from, max(to, from)
}

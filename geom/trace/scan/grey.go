package scan

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
)

// MostPixels is the largest picture that is read: one of 12,000 by 12,000 pixels, and some
// more for odd shapes.
const MostPixels = 160_000_000

// errEmpty is the error of Grey for a picture of no size.
var errEmpty = errors.New("the picture has no pixels")

// Grey returns the luminance of a picture: 0.299 red + 0.587 green + 0.114 blue of its
// stored (gamma-coded) values, as ITU-R BT.601 weighs them and JPEG stores them. What is
// transparent lies over white; of 16 bits the upper eight count. Where without is given, the
// printed colour that it tells is taken for paper: see Tint.
//
// It fails for a picture without pixels or of more than MostPixels, and when ctx ends.
func Grey(ctx context.Context, img image.Image, without *Tint) (*Raster, error) {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	if w <= 0 || h <= 0 {
		return nil, errEmpty
	}
	if w > MostPixels/h {
		return nil, fmt.Errorf("a picture of %d by %d pixels is more than can be followed", w, h)
	}
	row := greyRow(img)
	if without != nil {
		row = without.row(img)
	}
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	err := bands(ctx, h, func(y0, y1 int) {
		for y := y0; y < y1; y++ {
			row(b.Min.Y+y, r.Pix[y*w:(y+1)*w])
		}
	})
	if err != nil {
		return nil, err
	}
	return r, nil
}

// Image returns the picture as an image, over the same memory.
func (r *Raster) Image() *image.Gray {
	return &image.Gray{Pix: r.Pix, Stride: r.W, Rect: image.Rect(0, 0, r.W, r.H)}
}

// rowFunc writes the grey values of row y of a picture.
type rowFunc func(y int, dst []uint8)

// luma returns the luminance of a colour.
func luma(r, g, b uint8) uint8 {
	// The weights of BT.601 in 1/65536, rounded so that white stays white.
	return uint8((19595*uint32(r) + 38470*uint32(g) + 7471*uint32(b) + 1<<15) >> 16)
}

// greyRow returns what reads a row of img: directly where the kind of picture stores grey,
// by way of its colours elsewhere.
func greyRow(img image.Image) rowFunc {
	x0 := img.Bounds().Min.X
	switch m := img.(type) {
	case *image.Gray:
		return func(y int, dst []uint8) { copy(dst, m.Pix[m.PixOffset(x0, y):]) }
	case *image.YCbCr:
		return func(y int, dst []uint8) { copy(dst, m.Y[m.YOffset(x0, y):]) }
	case *image.Gray16:
		return func(y int, dst []uint8) {
			src := m.Pix[m.PixOffset(x0, y):]
			for i := range dst {
				dst[i] = src[2*i]
			}
		}
	case *image.Paletted:
		var table [256]uint8
		for i, c := range m.Palette[:min(len(m.Palette), 256)] {
			table[i] = luma(overWhite(c))
		}
		return func(y int, dst []uint8) {
			for i, p := range m.Pix[m.PixOffset(x0, y):][:len(dst)] {
				dst[i] = table[p]
			}
		}
	}
	colours := colourRow(img)
	return func(y int, dst []uint8) {
		colours(y, len(dst), func(i int, r, g, b uint8) { dst[i] = luma(r, g, b) })
	}
}

// colourFunc calls each for the first n pixels of row y of a picture, with their colours
// over white.
type colourFunc func(y, n int, each func(i int, r, g, b uint8))

// overWhite returns a colour laid over white.
func overWhite(c color.Color) (r, g, b uint8) {
	pr, pg, pb, pa := c.RGBA()
	white := 0xffff - pa
	return uint8(min(pr+white, 0xffff) >> 8), uint8(min(pg+white, 0xffff) >> 8), uint8(min(pb+white, 0xffff) >> 8)
}

// straight lays a part of a colour that alpha does not yet weigh over white.
func straight(c, a uint8) uint8 {
	return 255 - uint8((uint32(255-c)*uint32(a)+127)/255)
}

// premultiplied lays a part of a colour that alpha already weighs over white.
func premultiplied(c, a uint8) uint8 { return uint8(min(uint32(c)+uint32(255-a), 255)) }

// colourRow returns what reads the colours of a row of img.
func colourRow(img image.Image) colourFunc {
	x0 := img.Bounds().Min.X
	switch m := img.(type) {
	case *image.RGBA:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i, s := 0, m.Pix[m.PixOffset(x0, y):]; i < n; i, s = i+1, s[4:] {
				each(i, premultiplied(s[0], s[3]), premultiplied(s[1], s[3]), premultiplied(s[2], s[3]))
			}
		}
	case *image.NRGBA:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i, s := 0, m.Pix[m.PixOffset(x0, y):]; i < n; i, s = i+1, s[4:] {
				each(i, straight(s[0], s[3]), straight(s[1], s[3]), straight(s[2], s[3]))
			}
		}
	case *image.RGBA64:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i, s := 0, m.Pix[m.PixOffset(x0, y):]; i < n; i, s = i+1, s[8:] {
				each(i, premultiplied(s[0], s[6]), premultiplied(s[2], s[6]), premultiplied(s[4], s[6]))
			}
		}
	case *image.NRGBA64:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i, s := 0, m.Pix[m.PixOffset(x0, y):]; i < n; i, s = i+1, s[8:] {
				each(i, straight(s[0], s[6]), straight(s[2], s[6]), straight(s[4], s[6]))
			}
		}
	case *image.CMYK:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i, s := 0, m.Pix[m.PixOffset(x0, y):]; i < n; i, s = i+1, s[4:] {
				r, g, b := color.CMYKToRGB(s[0], s[1], s[2], s[3])
				each(i, r, g, b)
			}
		}
	case *image.YCbCr:
		return func(y, n int, each func(i int, r, g, b uint8)) {
			for i := range n {
				at, c := m.YOffset(x0+i, y), m.COffset(x0+i, y)
				r, g, b := color.YCbCrToRGB(m.Y[at], m.Cb[c], m.Cr[c])
				each(i, r, g, b)
			}
		}
	}
	return func(y, n int, each func(i int, r, g, b uint8)) {
		for i := range n {
			r, g, b := overWhite(img.At(x0+i, y))
			each(i, r, g, b)
		}
	}
}

package scan

import (
	"context"
	"image"
)

// Light tells how a picture was lit.
type Light struct {
	S     float64 // px per mm; 0 where unknown
	Dark  bool    // the shapes are light, on a dark ground
	Local bool    // the light changes over short ways, as at the edge of a shadow
}

// Even returns the picture as if evenly lit, from 0 for full ink to Paper for bare paper,
// softened by a Gaussian of Soft(l.S). With l.Dark the light shapes are the ink.
//
// The light is what lightens the brighter of the two, paper or light shapes: the medians of
// that in blocks of 4 mm, through which a quadratic surface is laid that leaves out what
// does not fit in; where it does not fit, or with l.Local, the medians themselves, of
// smaller blocks. The picture is divided by it. Then the level of the ink is found, so that
// half of Paper is half ink.
//
// It fails for a picture of no size and when ctx ends. A picture without ink comes out as
// all paper.
func Even(ctx context.Context, r *Raster, l Light) (*Field, error) {
	if r == nil || r.W <= 0 || r.H <= 0 || len(r.Pix) < r.W*r.H {
		return nil, errEmpty
	}
	light, err := lightOf(ctx, r, l)
	if err != nil {
		return nil, err
	}
	ink := inkLevel(r, light, l.S)
	f := &Field{W: r.W, H: r.H, V: make([]uint16, r.W*r.H), Ink: ink, Dark: l.Dark}
	scale, from := float32(1/(1-ink)), float32(-ink/(1-ink))
	if l.Dark {
		scale, from = -scale, 1-from
	}
	row := func(y int, dst []float32) {
		light(y, dst)
		for x, p := range r.Pix[y*r.W : (y+1)*r.W] {
			dst[x] = float32(p)/dst[x]*scale + from
		}
	}
	err = soften(ctx, r.W, r.H, gaussian(Soft(l.S)), row, func(y int, src []float32) {
		out := f.V[y*f.W : (y+1)*f.W]
		for x, v := range src {
			out[x] = uint16(min(max(v*Paper+0.5, 0), Unread-1))
		}
	})
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Image returns the field as a grey picture: black for ink, white for paper.
func (f *Field) Image() *image.Gray {
	img := image.NewGray(image.Rect(0, 0, f.W, f.H))
	for i, v := range f.V {
		img.Pix[i] = uint8(min(uint32(v)*255/Paper, 255))
	}
	return img
}

// surface writes the grey value of bare paper along row y; always above 0.
type surface func(y int, dst []float32)

// Sides of the blocks whose paper is measured.
const (
	blockMM      = 4.0 // mm: many times a pen, less than a hand's shadow
	localBlockMM = 2.0 // mm: a shadow's edge is no wider
	leastBlockPx = 12  // px: enough for a median
	leastBlocks  = 6   // across the shorter side of a picture
)

// roughFit is the share of the light by which a tenth of the blocks may miss a quadratic
// surface: a level off by a fortieth moves the edge of a filled shape by 0.01 mm.
const roughFit = 0.025

// lightOf measures the light of a picture.
func lightOf(ctx context.Context, r *Raster, l Light) (surface, error) {
	if !l.Local {
		b, err := measureBlocks(ctx, r, l, blockMM)
		if err != nil {
			return nil, err
		}
		q, miss := b.quadratic()
		if miss <= roughFit {
			return q, nil
		}
	}
	b, err := measureBlocks(ctx, r, l, localBlockMM)
	if err != nil {
		return nil, err
	}
	return b.smooth(), nil
}

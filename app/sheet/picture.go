package sheet

import (
	"image"

	"hemlet/app/bench/paint"
)

// Painter paints small pictures of drawings, one at a time.
type Painter struct{ painter *paint.Painter }

// NewPainter returns a painter of small pictures.
func NewPainter() (*Painter, error) {
	p, err := paint.New()
	if err != nil {
		return nil, err
	}
	return &Painter{p}, nil
}

// Picture returns the layers fitted to w by h pixels, dpr of them to a screen unit,
// with a margin in screen units, on the ground colour of the palette.
func (p *Painter) Picture(pal *paint.Palette, w, h int, dpr, margin float64, layers ...*Layer) *image.RGBA {
	s := &Sheet{shown: layers, items: map[*Layer]*paint.Item{}}
	v := paint.NewView(w, h, dpr).Fit(s.bounds(), margin)
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	p.painter.Paint(img, v, pal, s.stillScene())
	return img
}

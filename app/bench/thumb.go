package bench

import (
	"image"

	"hemlet/app/bench/paint"
	"hemlet/draft"
)

// Thumbs paints small pictures of pieces, one at a time.
type Thumbs struct{ painter *paint.Painter }

// NewThumbs returns a painter of small pictures.
func NewThumbs() (*Thumbs, error) {
	p, err := paint.New()
	if err != nil {
		return nil, err
	}
	return &Thumbs{p}, nil
}

// thumbMargin is what is left free round the piece, in screen units.
const thumbMargin = 4

// Paint returns a picture of the piece of w by h pixels, dpr of them to a screen
// unit, on the ground colour of the palette.
func (t *Thumbs) Paint(s *draft.Slots, p *draft.Piece, pal *paint.Palette, w, h int, dpr float64) *image.RGBA {
	b := newBody(s, p)
	v := paint.NewView(w, h, dpr).Fit(b.outline().Transform(b.place).Bounds(), thumbMargin)
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	line := paint.Line{Colour: paint.Of(paint.Ink), Width: 1.3, Join: paint.Round}
	item := &paint.Item{Place: b.place, Marks: []paint.Mark{
		paint.Shape{Path: b.outline(), Fill: paint.Of(paint.Cloth), Line: line},
	}}
	t.painter.Paint(img, v, pal, &paint.Scene{Items: []*paint.Item{item}})
	return img
}

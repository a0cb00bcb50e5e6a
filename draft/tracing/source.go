package tracing

import (
	"context"
	"fmt"
	"image"

	"hemlet/draft"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
)

// Source is a picture that is to be followed.
type Source struct {
	Picture *draft.Picture
	// Load returns its pixels, upright. They are asked for once and not kept.
	Load func() (image.Image, error)
}

// sheet reads a picture for the tracer.
func (s Settings) sheet(ctx context.Context, src Source) (trace.Sheet, error) {
	img, err := src.Load()
	if err != nil {
		return trace.Sheet{}, err
	}
	b := img.Bounds()
	if b.Empty() {
		return trace.Sheet{}, fmt.Errorf("%s has no pixels", src.Picture.Name)
	}
	var sheet trace.Sheet
	sheet.Map, sheet.Region = src.Picture.As(b.Dx(), b.Dy())
	if sheet.Raster, err = scan.Grey(ctx, img, s.Tint); err != nil {
		return trace.Sheet{}, fmt.Errorf("%s: %w", src.Picture.Name, err)
	}
	if s.Squares {
		if sheet.Raster, err = withoutSquares(ctx, sheet.Raster); err != nil {
			return trace.Sheet{}, fmt.Errorf("%s: its squares are to be taken out: %w", src.Picture.Name, err)
		}
	}
	return sheet, nil
}

// withoutSquares returns the picture without the printed lines of its squared paper.
func withoutSquares(ctx context.Context, r *scan.Raster) (*scan.Raster, error) {
	grid, err := scan.FindGrid(ctx, r)
	if err != nil {
		return nil, err
	}
	return scan.Ungrid(ctx, r, grid)
}

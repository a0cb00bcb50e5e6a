package tracing

import (
	"context"
	"fmt"
	"image"

	"hemlet/draft"
	"hemlet/geom"
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
	m, err := mapOf(src.Picture, img.Bounds())
	if err != nil {
		return trace.Sheet{}, err
	}
	sheet := trace.Sheet{Map: m, Region: src.Picture.Crop}
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

// mapOf returns the map from the pixels of the image, which may be of another size than
// was noted of the picture, to mm.
func mapOf(pic *draft.Picture, b image.Rectangle) (geom.Homography, error) {
	if b.Empty() {
		return geom.Homography{}, fmt.Errorf("%s has no pixels", pic.Name)
	}
	if pic.Wide == 0 || pic.High == 0 || b.Dx() == pic.Wide && b.Dy() == pic.High {
		return pic.Place, nil
	}
	m, ok := pic.Place.After(geom.Scaling(float64(pic.Wide)/float64(b.Dx()), float64(pic.High)/float64(b.Dy())))
	if !ok {
		return geom.Homography{}, fmt.Errorf("%s has no place", pic.Name)
	}
	return m, nil
}

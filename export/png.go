package export

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"math"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"

	"hemlet/draft"
	"hemlet/geom"
)

// DefaultDPI is the resolution of a picture in pixels per inch where none is asked
// for; a sheet that would be too large at it gets less.
const DefaultDPI = 100

// maxPixels bounds each side of a picture.
const maxPixels = 12000

// previewPixels bounds each side of a picture whose resolution nobody asked for.
const previewPixels = 6000

// pixelTolerance is how far chords may stray from a curve in a picture, in pixels.
const pixelTolerance = 0.05

func writePNG(ctx context.Context, w io.Writer, p *draft.Project, o Options, report *Report) error {
	sheet, err := laySheet(ctx, p, o)
	if err != nil {
		return err
	}
	report.ofSheet(sheet)
	dpi := o.DPI
	if dpi == 0 {
		side := math.Max(sheet.Box.W(), sheet.Box.H())
		dpi = math.Min(DefaultDPI, math.Max(1, math.Floor(previewPixels/side*draft.MMPerInch)))
	}
	img, to, err := surface(sheet.Box.W(), sheet.Box.H(), dpi)
	if err != nil {
		return err
	}
	to.strokePath(squareAt(sheet.Scale, ScaleMM), squareLook, 0)
	to.write(Text{At: sheet.Scale.Add(geom.Pt(ScaleMM/2, -4)), Size: 3, Anchor: Middle, Words: "50 mm square"})
	for _, l := range sheet.Pieces {
		if err := ctx.Err(); err != nil {
			return err
		}
		to.piece(l, sheet.Box)
	}
	report.leftOut(sheet.Pieces)
	return encodePNG(w, img, dpi)
}

// RenderPage returns a picture of a page of the plan, for a preview.
func (p *Plan) RenderPage(i int, dpi float64) (image.Image, error) {
	page := p.Pages[i]
	img, to, err := surface(page.Width, page.Height, dpi)
	if err != nil {
		return nil, err
	}
	p.draw(to, page)
	return img, nil
}

// surface returns a white picture of a size in mm and the pen that draws on it.
func surface(w, h, dpi float64) (*image.RGBA, pen, error) {
	if !(dpi > 0) || math.IsInf(dpi, 0) {
		return nil, pen{}, fmt.Errorf("a resolution of %g pixels per inch makes no picture", dpi)
	}
	perMM := dpi / draft.MMPerInch
	if side := math.Max(w, h) * perMM; side > maxPixels {
		return nil, pen{}, fmt.Errorf("%.0f x %.0f mm at %g pixels per inch would be a picture of %.0f pixels a side; at most %d fit, which is %.0f pixels per inch", w, h, dpi, side, maxPixels, math.Floor(maxPixels/math.Max(w, h)*draft.MMPerInch))
	}
	width, height := int(w*perMM+0.5), int(h*perMM+0.5)
	if width == 0 || height == 0 {
		return nil, pen{}, errors.New("the picture would have no pixels; give it more pixels per inch")
	}
	fonts, err := newLettering()
	if err != nil {
		return nil, pen{}, err
	}
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for i := range img.Pix {
		img.Pix[i] = 0xff
	}
	resolution := canvas.DPI(dpi)
	to := rasterizer.FromImage(img, resolution, canvas.LinearColorSpace{})
	return img, pen{to: to, fonts: fonts, place: geom.Identity, flatten: pixelTolerance / perMM}, nil
}

// encodePNG writes the picture with its resolution.
func encodePNG(w io.Writer, img image.Image, dpi float64) error {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	// Signature and IHDR take 33 bytes; pHYs must stand before the image data (ISO
	// 15948, 11.3.5.3). Unit 1 is the metre.
	const head = 33
	const perMetre = 1000 / draft.MMPerInch
	chunk := []byte("pHYs")
	n := uint32(math.Round(dpi * perMetre))
	chunk = binary.BigEndian.AppendUint32(chunk, n)
	chunk = binary.BigEndian.AppendUint32(chunk, n)
	chunk = append(chunk, 1)
	out := append([]byte(nil), b.Bytes()[:head]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	out = append(out, b.Bytes()[head:]...)
	_, err := w.Write(out)
	return err
}

package intake

import (
	"image"
	"image/draw"
	"slices"
)

// orientation says how stored pixels are turned and mirrored to be looked at, by the
// numbers of tag 274 of TIFF 6.0, which Exif took over: where row 0 and column 0 lie.
type orientation uint8

const (
	upright         orientation = 1 // top, left
	lastOrientation orientation = 8
)

// lies tells whether rows become columns.
func (o orientation) lies() bool { return o >= 5 }

// mirrored tells what is reversed, after rows became columns where the picture lies: from
// left to right, and from top to bottom.
func (o orientation) mirrored() (across, down bool) {
	switch o {
	case 2, 6:
		return true, false
	case 3, 7:
		return true, true
	case 4, 8:
		return false, true
	}
	return false, false
}

// turnImage returns the picture as it is looked at, in the same kind of image. The one
// that is given is used up: where rows stay rows they are reversed in place.
func turnImage(img image.Image, o orientation) image.Image {
	if o <= upright {
		return img
	}
	b := img.Bounds()
	r := b
	if o.lies() {
		r = image.Rect(0, 0, b.Dy(), b.Dx())
	}
	p := plane{wide: b.Dx(), high: b.Dy()}
	turned := func(pix []uint8, stride, bytes int) ([]uint8, int) {
		p.pix, p.stride, p.bytes = pix, stride, bytes
		q := p.turned(o)
		return q.pix, q.stride
	}
	switch m := img.(type) {
	case *image.Gray:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 1)
		m.Rect = r
	case *image.Gray16:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 2)
		m.Rect = r
	case *image.Paletted:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 1)
		m.Rect = r
	case *image.RGBA:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 4)
		m.Rect = r
	case *image.NRGBA:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 4)
		m.Rect = r
	case *image.CMYK:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 4)
		m.Rect = r
	case *image.RGBA64:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 8)
		m.Rect = r
	case *image.NRGBA64:
		m.Pix, m.Stride = turned(m.Pix, m.Stride, 8)
		m.Rect = r
	case *image.YCbCr:
		turnColours(m, o)
	case *image.NYCbCrA:
		m.A, m.AStride = turned(m.A, m.AStride, 1)
		turnColours(&m.YCbCr, o)
	default:
		plain := image.NewRGBA(b)
		draw.Draw(plain, b, img, b.Min, draw.Src)
		return turnImage(plain, o)
	}
	return img
}

// plane is a rectangle of values of a number of bytes each.
type plane struct {
	pix                       []uint8
	wide, high, stride, bytes int
}

func (p plane) turned(o orientation) plane {
	if o.lies() {
		p = p.transposed()
	}
	across, down := o.mirrored()
	if across {
		for y := range p.high {
			p.reverse(p.row(y))
		}
	}
	if down {
		for y := range p.high / 2 {
			a, b := p.row(y), p.row(p.high-1-y)
			for i := range a {
				a[i], b[i] = b[i], a[i]
			}
		}
	}
	return p
}

func (p plane) row(y int) []uint8 { return p.pix[y*p.stride:][:p.wide*p.bytes] }

func (p plane) reverse(row []uint8) {
	if p.bytes == 1 {
		slices.Reverse(row)
		return
	}
	for i, j := 0, len(row)-p.bytes; i < j; i, j = i+p.bytes, j-p.bytes {
		for k := range p.bytes {
			row[i+k], row[j+k] = row[j+k], row[i+k]
		}
	}
}

// transposed returns the plane with rows and columns exchanged, block by block: a column
// at a time would miss the cache at every value.
func (p plane) transposed() plane {
	const block = 32
	q := plane{wide: p.high, high: p.wide, stride: p.high * p.bytes, bytes: p.bytes}
	q.pix = make([]uint8, q.stride*q.high)
	for y0 := 0; y0 < p.high; y0 += block {
		for x0 := 0; x0 < p.wide; x0 += block {
			for y := y0; y < min(y0+block, p.high); y++ {
				for x := x0; x < min(x0+block, p.wide); x++ {
					from, to := y*p.stride+x*p.bytes, x*q.stride+y*p.bytes
					copy(q.pix[to:to+p.bytes], p.pix[from:from+p.bytes])
				}
			}
		}
	}
	return q
}

// turnColours turns a picture of brightness and coarser colours. Where its colours would
// no longer lie in step with its pixels they are made as fine as these first.
func turnColours(m *image.YCbCr, o orientation) {
	wide, high := m.Rect.Dx(), m.Rect.Dy()
	across, down := chromaSteps(m.SubsampleRatio)
	ratio, fits := m.SubsampleRatio, true
	if o.lies() {
		ratio, fits = transposedRatio(m.SubsampleRatio)
	}
	lies := o.lies()
	a, d := o.mirrored()
	alongX, alongY := a, d // as seen before rows became columns
	if lies {
		alongX, alongY = d, a
	}
	if alongX && wide%across != 0 || alongY && high%down != 0 || !fits {
		finestChroma(m)
		across, down, ratio = 1, 1, image.YCbCrSubsampleRatio444
	}
	y := plane{m.Y, wide, high, m.YStride, 1}.turned(o)
	m.Y, m.YStride = y.pix, y.stride
	cw, ch := (wide+across-1)/across, (high+down-1)/down
	cb := plane{m.Cb, cw, ch, m.CStride, 1}.turned(o)
	cr := plane{m.Cr, cw, ch, m.CStride, 1}.turned(o)
	m.Cb, m.Cr, m.CStride = cb.pix, cr.pix, cb.stride
	m.SubsampleRatio = ratio
	m.Rect = image.Rect(0, 0, y.wide, y.high)
}

// chromaSteps returns how many pixels across and down share a colour.
func chromaSteps(r image.YCbCrSubsampleRatio) (across, down int) {
	switch r {
	case image.YCbCrSubsampleRatio422:
		return 2, 1
	case image.YCbCrSubsampleRatio420:
		return 2, 2
	case image.YCbCrSubsampleRatio440:
		return 1, 2
	case image.YCbCrSubsampleRatio411:
		return 4, 1
	case image.YCbCrSubsampleRatio410:
		return 4, 2
	}
	return 1, 1
}

// transposedRatio returns the ratio after rows became columns, and whether there is one.
func transposedRatio(r image.YCbCrSubsampleRatio) (image.YCbCrSubsampleRatio, bool) {
	switch r {
	case image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio420:
		return r, true
	case image.YCbCrSubsampleRatio422:
		return image.YCbCrSubsampleRatio440, true
	case image.YCbCrSubsampleRatio440:
		return image.YCbCrSubsampleRatio422, true
	}
	return r, false
}

// finestChroma gives every pixel colours of its own.
func finestChroma(m *image.YCbCr) {
	wide, high := m.Rect.Dx(), m.Rect.Dy()
	for _, c := range []*[]uint8{&m.Cb, &m.Cr} {
		fine := make([]uint8, wide*high)
		for y := range high {
			for x := range wide {
				fine[y*wide+x] = (*c)[m.COffset(m.Rect.Min.X+x, m.Rect.Min.Y+y)]
			}
		}
		*c = fine
	}
	m.CStride, m.SubsampleRatio = wide, image.YCbCrSubsampleRatio444
}

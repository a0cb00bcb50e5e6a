package intake

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"slices"

	"golang.org/x/image/ccitt"
	"golang.org/x/image/draw"

	"hemlet/draft"
)

// Content returns the picture as a picture file: the JPEG that the PDF holds where that
// is what is seen, else a PNG. It is turned, or says that it is, as the page shows it.
func (pic *PDFPicture) Content(ctx context.Context) (content []byte, err error) {
	defer calmly(pic.where(), &err)
	if pic.Says != "" {
		return nil, fmt.Errorf("%s %s", pic.where(), pic.Says)
	}
	if pic.Ext == "jpg" {
		content, err = pic.jpeg(ctx)
		if err != nil {
			return nil, named(pic.where(), err)
		}
		return content, nil
	}
	img, err := pic.pixels(ctx)
	if err != nil {
		return nil, named(pic.where(), err)
	}
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&stoppableWriter{ctx, &b}, turnImage(img, pic.turn)); err != nil {
		return nil, named(pic.where(), err)
	}
	return withResolution(b.Bytes(), pic.DPI), nil
}

// Thumbnail returns the picture scaled down to at most so many pixels on its longer side.
func (pic *PDFPicture) Thumbnail(ctx context.Context, most int) (_ image.Image, err error) {
	defer calmly(pic.where(), &err)
	if pic.Says != "" {
		return nil, fmt.Errorf("%s %s", pic.where(), pic.Says)
	}
	img, err := pic.pixels(ctx)
	if err != nil {
		return nil, named(pic.where(), err)
	}
	b := img.Bounds()
	share := min(1, float64(most)/float64(max(b.Dx(), b.Dy())))
	small := image.NewRGBA(image.Rect(0, 0, max(1, int(share*float64(b.Dx()))), max(1, int(share*float64(b.Dy())))))
	draw.BiLinear.Scale(small, small.Bounds(), img, b, draw.Src, nil)
	return turnImage(small, pic.turn), nil
}

type stoppableWriter struct {
	ctx context.Context
	w   io.Writer
}

func (s *stoppableWriter) Write(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.w.Write(p)
}

// withResolution puts a pHYs chunk into a PNG (ISO/IEC 15948, 11.3.5.3).
func withResolution(file []byte, dpi float64) []byte {
	if dpi == 0 {
		return file
	}
	const header = len(pngSignature) + 25 // with IHDR
	perMetre := uint32(math.Round(dpi / metresPerInch))
	body := []byte("pHYs")
	body = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(body, perMetre), perMetre)
	body = append(body, 1)
	chunk := append(binary.BigEndian.AppendUint32(nil, uint32(len(body)-4)), body...)
	return slices.Insert(file, header, binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))...)
}

// mostPacked bounds what lies around a JPEG in a PDF, in bytes: what picture files may be.
const mostPacked = 256 << 20

// jpegBytes returns the JPEG that a stream holds.
func (f *pdfFile) jpegBytes(s *pdfStream) ([]byte, error) {
	if names, _ := f.filters(s.dict); len(names) == 1 {
		return s.raw, nil
	}
	r, _, err := f.filtered(s)
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(io.LimitReader(r, mostPacked+1))
	if len(data) > mostPacked {
		return nil, fmt.Errorf("is larger than %d MiB", mostPacked>>20)
	}
	return data, err
}

// plainJPEG tells whether the JPEG in a stream, read as a file, shows what a page would:
// pages take inks as they are, files by custom the other way round.
func (f *pdfFile) plainJPEG(s *pdfStream) bool {
	parts := f.parts(s)
	inverted := f.inverted(s, max(1, parts))
	if parts == 4 {
		return inverted
	}
	return !inverted
}

// parts returns how many colours the JPEG in a stream has, 0 where that is not known.
func (f *pdfFile) parts(s *pdfStream) int {
	data := s.raw
	if names, _ := f.filters(s.dict); len(names) > 1 {
		r, _, err := f.filtered(s)
		if err != nil {
			return 0
		}
		const head = 64 << 10
		data, _ = io.ReadAll(io.LimitReader(r, head))
	}
	n := 0
	if len(data) < 2 {
		return 0
	}
	eachSegment(data, func(marker byte, body []byte) bool {
		if isFrame(marker) && len(body) > 5 {
			n = int(body[5])
			return false
		}
		return true
	})
	return n
}

// jpeg returns the JPEG with the orientation that the page gives it: that which it may
// have had itself counts for nothing on a page.
func (pic *PDFPicture) jpeg(ctx context.Context) ([]byte, error) {
	pic.pdf.mu.Lock()
	pic.pdf.file.ctx = ctx
	content, err := pic.pdf.file.jpegBytes(pic.stream)
	pic.pdf.mu.Unlock()
	if err != nil {
		return nil, damage(err)
	}
	h, err := readHead(content)
	if err != nil {
		return nil, err
	}
	if h.form != formJPEG {
		return nil, damage(errors.New("it is no JPEG"))
	}
	if h.turn == pic.turn {
		return slices.Clone(content), nil
	}
	return turnedJPEG(content, pic.turn), nil
}

// turnedJPEG returns a JPEG that says how it is turned, in Exif after what else it tells
// of itself at its beginning.
func turnedJPEG(content []byte, turn orientation) []byte {
	out := []byte{0xff, jpegSOI}
	exif := jpegExif(turn)
	at := 2
	for at+4 <= len(content) && content[at] == 0xff && (content[at+1] == jpegAPP0 || content[at+1] == jpegAPP1) {
		n := 2 + int(binary.BigEndian.Uint16(content[at+2:]))
		if at+n > len(content) {
			break
		}
		if content[at+1] == jpegAPP0 {
			out = append(out, content[at:at+n]...)
		}
		at += n
	}
	return append(append(out, exif...), withoutExif(content[at:])...)
}

// withoutExif takes the Exif out of what follows in a JPEG.
func withoutExif(rest []byte) []byte {
	var out []byte
	for len(rest) >= 4 && rest[0] == 0xff && rest[1] >= jpegSOF0 && rest[1] != jpegSOS {
		n := 2 + int(binary.BigEndian.Uint16(rest[2:]))
		if n > len(rest) {
			break
		}
		if rest[1] != jpegAPP1 {
			out = append(out, rest[:n]...)
		}
		rest = rest[n:]
	}
	return append(out, rest...)
}

// jpegExif is a segment that holds an orientation (TIFF 6.0, tag 274) and nothing else.
func jpegExif(turn orientation) []byte {
	b := append([]byte{0xff, jpegAPP1, 0, 34}, "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01"...)
	b = binary.BigEndian.AppendUint16(b, tagOrientation)
	return append(b, 0, 3, 0, 0, 0, 1, 0, byte(turn), 0, 0, 0, 0, 0, 0)
}

// pixels decodes the picture as it is stored.
func (pic *PDFPicture) pixels(ctx context.Context) (image.Image, error) {
	pic.pdf.mu.Lock()
	defer pic.pdf.mu.Unlock()
	f := pic.pdf.file
	f.ctx, f.work = ctx, pdfWorkBase
	if jpegFilter(pic.filter.name) {
		content, err := f.jpegBytes(pic.stream)
		if err != nil {
			return nil, damage(err)
		}
		h, err := readHead(content)
		if err != nil {
			return nil, err
		}
		img, err := h.decode(ctx, content)
		if err != nil {
			return nil, damage(err)
		}
		if !f.plainJPEG(pic.stream) {
			img = negative(img)
		}
		return img, nil
	}
	return f.raster(pic.stream, pic.filter)
}

// negative returns a picture with every value the other way round; inks become RGB.
func negative(img image.Image) image.Image {
	switch m := img.(type) {
	case *image.Gray:
		invert(m.Pix)
		return m
	case *image.CMYK:
		invert(m.Pix)
		return m
	}
	m := image.NewRGBA(img.Bounds())
	draw.Draw(m, m.Rect, img, m.Rect.Min, draw.Src)
	for i := range m.Pix {
		if i%4 != 3 {
			m.Pix[i] = ^m.Pix[i]
		}
	}
	return m
}

func invert(pix []uint8) {
	for i := range pix {
		pix[i] = ^pix[i]
	}
}

// inverted tells whether a stream's values are meant the other way round.
func (f *pdfFile) inverted(s *pdfStream, parts int) bool {
	d := f.numbers(first(s.dict, "Decode", "D"), 2*parts)
	return d != nil && d[0] > d[1]
}

// raster decodes a picture that is written value by value, or as fax.
func (f *pdfFile) raster(s *pdfStream, filter pdfFilter) (image.Image, error) {
	wide, high := f.whole(first(s.dict, "Width", "W"), 0), f.whole(first(s.dict, "Height", "H"), 0)
	if wide < 1 || high < 1 || wide > draft.MaxPixels || high > draft.MaxPixels {
		return nil, errors.New("has no size that fits")
	}
	bits := f.whole(first(s.dict, "BitsPerComponent", "BPC"), 8)
	colours := &pdfColours{kind: coloursGrey, parts: 1}
	fax := faxFilter(filter.name)
	mask, _ := f.get(first(s.dict, "ImageMask", "IM")).(bool)
	if mask || fax {
		bits = 1
	}
	if !mask && s.dict["ColorSpace"] != nil {
		var err error
		if colours, err = f.colours(s.dict["ColorSpace"], 0); err != nil {
			return nil, err
		}
	}
	if !slices.Contains([]int{1, 2, 4, 8, 16}, bits) {
		return nil, fmt.Errorf("has %d bits a colour, which cannot be read. Save the page as PNG", bits)
	}
	r, last, err := f.filtered(s)
	if err != nil {
		return nil, damage(err)
	}
	row := (wide*colours.parts*bits + 7) / 8
	if f.holds(s, wide)*float64(len(s.raw)) < float64(row)*float64(high) {
		return nil, fmt.Errorf("is damaged: it claims %d by %d pixels, more than its %d bytes can hold. Scan it again", wide, high, len(s.raw))
	}
	if fax {
		if r, row, err = f.fax(r, last.parms, wide, high); err != nil {
			return nil, err
		}
	} else if last.name != "" {
		return nil, fmt.Errorf("is packed as %s, which cannot be read. Save the page as PNG", last.name)
	}
	return colours.picture(&stoppable{f.ctx, r}, wide, high, row, bits, f.inverted(s, colours.parts))
}

// holds returns how many bytes each byte of a stream can unfold to.
func (f *pdfFile) holds(s *pdfStream, wide int) float64 {
	names, _ := f.filters(s.dict)
	times := 1.0
	for _, name := range names {
		switch name {
		case "FlateDecode", "Fl":
			times *= deflateMost
		case "LZWDecode", "LZW":
			times *= 4096
		case "RunLengthDecode", "RL":
			times *= 64
		case "CCITTFaxDecode", "CCF":
			times *= 8 * float64(wide+7) / 8 // a white row takes one bit
		}
	}
	return times
}

// fax returns the rows of a picture that is packed as a fax packs it.
func (f *pdfFile) fax(r io.Reader, parms pdfDict, wide, high int) (io.Reader, int, error) {
	k, _ := f.number(parms["K"])
	columns := f.whole(parms["Columns"], 1728)
	black, _ := f.get(parms["BlackIs1"]).(bool)
	align, _ := f.get(parms["EncodedByteAlign"]).(bool)
	kind := ccitt.Group3
	switch {
	case k < 0:
		kind = ccitt.Group4
	case k > 0:
		return nil, 0, errors.New("is packed in the second manner of fax group 3, which cannot be read. Save the page as PNG")
	}
	if columns < wide || columns > draft.MaxPixels {
		return nil, 0, errors.New("is damaged: its rows are not as wide as it says. Scan it again")
	}
	return ccitt.NewReader(r, ccitt.MSB, kind, columns, high, &ccitt.Options{Invert: black, Align: align}), (columns + 7) / 8, nil
}

// Kinds of colours.
const (
	coloursGrey = iota
	coloursInk  // one, dark where it is full
	coloursRGB
	coloursInks
	coloursListed
)

// pdfColours says how the values of a picture become colours (ISO 32000-1, 8.6).
type pdfColours struct {
	kind, parts int
	list        color.Palette
}

func (f *pdfFile) colours(v any, depth int) (*pdfColours, error) {
	v = f.get(v)
	a, _ := v.(pdfArray)
	name, _ := v.(pdfName)
	if len(a) > 0 {
		name, _ = f.get(a[0]).(pdfName)
	}
	switch name {
	case "DeviceGray", "G", "CalGray":
		return &pdfColours{kind: coloursGrey, parts: 1}, nil
	case "DeviceRGB", "RGB", "CalRGB":
		return &pdfColours{kind: coloursRGB, parts: 3}, nil
	case "DeviceCMYK", "CMYK":
		return &pdfColours{kind: coloursInks, parts: 4}, nil
	case "Separation":
		return &pdfColours{kind: coloursInk, parts: 1}, nil
	case "ICCBased":
		if len(a) > 1 {
			switch f.whole(f.dict(a[1])["N"], 0) {
			case 1:
				return &pdfColours{kind: coloursGrey, parts: 1}, nil
			case 3:
				return &pdfColours{kind: coloursRGB, parts: 3}, nil
			case 4:
				return &pdfColours{kind: coloursInks, parts: 4}, nil
			}
		}
	case "Indexed", "I":
		if len(a) == 4 && depth == 0 {
			return f.listed(a)
		}
	}
	return nil, errors.New("is in colours that cannot be read. Save the page as PNG")
}

// listed reads a list of colours.
func (f *pdfFile) listed(a pdfArray) (*pdfColours, error) {
	base, err := f.colours(a[1], 1)
	if err != nil {
		return nil, err
	}
	var table []byte
	switch v := f.get(a[3]).(type) {
	case pdfText:
		table = v
	case *pdfStream:
		if table, err = f.unpack(v); err != nil {
			return nil, damage(err)
		}
	}
	c := &pdfColours{kind: coloursListed, parts: 1}
	for n := min(f.whole(a[2], 0), 255); n >= 0 && len(table) >= base.parts; n-- {
		c.list = append(c.list, base.colour(table))
		table = table[base.parts:]
	}
	for len(c.list) < 256 {
		c.list = append(c.list, color.Black)
	}
	return c, nil
}

// colour returns the colour of values of a byte each.
func (c *pdfColours) colour(v []byte) color.Color {
	switch c.kind {
	case coloursInk:
		return color.Gray{^v[0]}
	case coloursRGB:
		return color.RGBA{v[0], v[1], v[2], 255}
	case coloursInks:
		r, g, b := color.CMYKToRGB(v[0], v[1], v[2], v[3])
		return color.RGBA{r, g, b, 255}
	}
	return color.Gray{v[0]}
}

// picture reads rows of so many bytes into the smallest kind of image that holds them.
func (c *pdfColours) picture(r io.Reader, wide, high, row, bits int, inverted bool) (image.Image, error) {
	bounds := image.Rect(0, 0, wide, high)
	var img image.Image
	var put func(y int, values []byte)
	switch c.kind {
	case coloursGrey, coloursInk:
		m := image.NewGray(bounds)
		inverted = inverted != (c.kind == coloursInk)
		img, put = m, func(y int, values []byte) { copy(m.Pix[y*m.Stride:], values) }
	case coloursListed:
		m := image.NewPaletted(bounds, c.list)
		img, put = m, func(y int, values []byte) { copy(m.Pix[y*m.Stride:], values) }
	case coloursRGB:
		m := image.NewRGBA(bounds)
		img, put = m, func(y int, values []byte) {
			line := m.Pix[y*m.Stride:]
			for i, j := 0, 0; i < len(values); i, j = i+3, j+4 {
				line[j], line[j+1], line[j+2], line[j+3] = values[i], values[i+1], values[i+2], 255
			}
		}
	case coloursInks:
		m := image.NewCMYK(bounds)
		img, put = m, func(y int, values []byte) { copy(m.Pix[y*m.Stride:], values) }
	}
	packed, values := make([]byte, row), make([]byte, wide*c.parts)
	for y := range high {
		if _, err := io.ReadFull(r, packed); err != nil {
			return nil, damage(err)
		}
		spread(values, packed, bits, c.kind != coloursListed, inverted)
		put(y, values)
	}
	return img, nil
}

// spread writes values of any number of bits as a byte each: stretched to all 255, or as
// they are.
func spread(values, packed []byte, bits int, stretched, inverted bool) {
	most := 1<<min(bits, 8) - 1
	times := 1
	if stretched {
		times = 255 / most
	}
	for i := range values {
		var v int
		switch bits {
		case 8:
			v = int(packed[i])
		case 16:
			v = int(packed[2*i])
		default:
			v = int(packed[i*bits/8]) >> (8 - bits - i*bits%8) & most
		}
		if inverted {
			v = most - v
		}
		values[i] = byte(v * times)
	}
}

package intake

import (
	"bytes"
	"compress/lzw"
	"compress/zlib"
	"encoding/ascii85"
	"errors"
	"fmt"
	"io"

	tifflzw "golang.org/x/image/tiff/lzw"
)

// pdfFilter is a filter of a stream that only a reader of pictures can undo.
type pdfFilter struct {
	name  pdfName
	parms pdfDict
}

const pdfMostFilters = 8

// filtered returns a stream's bytes with its filters undone, up to the first that packs
// pictures: that one comes back. Nothing is unfolded before it is read.
func (f *pdfFile) filtered(s *pdfStream) (io.Reader, pdfFilter, error) {
	names, parms := f.filters(s.dict)
	var r io.Reader = bytes.NewReader(s.raw)
	if len(names) > pdfMostFilters {
		return nil, pdfFilter{}, errors.New("it has too many filters")
	}
	for i, name := range names {
		var p pdfDict
		if i < len(parms) {
			p = f.dict(parms[i])
		}
		var err error
		switch name {
		case "FlateDecode", "Fl":
			if r, err = zlib.NewReader(r); err == nil {
				r, err = f.predicted(r, p)
			}
		case "LZWDecode", "LZW":
			r = f.lzw(r, p)
			r, err = f.predicted(r, p)
		case "ASCII85Decode", "A85":
			r = ascii85.NewDecoder(&upTo{r: r, end: '~'})
		case "ASCIIHexDecode", "AHx":
			r = &hexReader{r: &upTo{r: r, end: '>'}}
		case "RunLengthDecode", "RL":
			r = &runReader{r: r}
		case "Crypt":
			return nil, pdfFilter{}, errPDFLocked
		default:
			if i != len(names)-1 {
				return nil, pdfFilter{}, fmt.Errorf("it is packed as %s and again", name)
			}
			return r, pdfFilter{name, p}, nil
		}
		if err != nil {
			return nil, pdfFilter{}, err
		}
	}
	return r, pdfFilter{}, nil
}

// filters returns the names of a stream's filters and what each is told.
func (f *pdfFile) filters(d pdfDict) ([]pdfName, pdfArray) {
	filter, parms := f.get(first(d, "Filter", "F")), f.get(first(d, "DecodeParms", "DP"))
	if name, ok := filter.(pdfName); ok {
		return []pdfName{name}, pdfArray{parms}
	}
	list, _ := filter.(pdfArray)
	var names []pdfName
	for _, v := range list {
		name, _ := f.get(v).(pdfName)
		names = append(names, name)
	}
	all, _ := parms.(pdfArray)
	return names, all
}

// first returns the first of several entries that is there.
func first(d pdfDict, keys ...pdfName) any {
	for _, k := range keys {
		if v, ok := d[k]; ok {
			return v
		}
	}
	return nil
}

// lzw reads LZW, whose codes grow one step early unless it is told otherwise.
func (f *pdfFile) lzw(r io.Reader, p pdfDict) io.Reader {
	if f.whole(p["EarlyChange"], 1) == 0 {
		return lzw.NewReader(r, lzw.MSB, 8)
	}
	return tifflzw.NewReader(r, tifflzw.MSB, 8)
}

// predicted undoes the prediction of each byte from its neighbours (ISO 32000-1, 7.4.4.4).
func (f *pdfFile) predicted(r io.Reader, p pdfDict) (io.Reader, error) {
	kind := f.whole(p["Predictor"], 1)
	if kind <= 1 {
		return r, nil
	}
	const most = 1 << 20 // bits of a row, beyond any picture that fits
	colours, bits, columns := f.whole(p["Colors"], 1), f.whole(p["BitsPerComponent"], 8), f.whole(p["Columns"], 1)
	if colours < 1 || colours > 32 || bits < 1 || bits > 16 || columns < 1 || columns > most {
		return nil, errors.New("its prediction makes no sense")
	}
	q := &predictor{r: r, step: max(1, colours*bits/8)}
	q.row = make([]byte, (colours*bits*columns+7)/8)
	q.above = make([]byte, len(q.row))
	if kind == 2 {
		if bits != 8 {
			return nil, errors.New("its prediction is of a rare kind")
		}
		q.plain = true
	}
	return q, nil
}

// predictor undoes the filters of PNG (ISO/IEC 15948, 9), one for each row, or the plain
// difference to the left of TIFF.
type predictor struct {
	r          io.Reader
	row, above []byte
	step       int
	plain      bool
	left       []byte // of the row, not yet read
}

func (p *predictor) Read(b []byte) (int, error) {
	if len(p.left) == 0 {
		if err := p.next(); err != nil {
			return 0, err
		}
	}
	n := copy(b, p.left)
	p.left = p.left[n:]
	return n, nil
}

func (p *predictor) next() error {
	p.row, p.above = p.above, p.row
	kind := [1]byte{1}
	if !p.plain {
		if _, err := io.ReadFull(p.r, kind[:]); err != nil {
			return err
		}
	}
	if _, err := io.ReadFull(p.r, p.row); err != nil {
		return err
	}
	p.undo(kind[0])
	p.left = p.row
	return nil
}

func (p *predictor) undo(kind byte) {
	for i := range p.row {
		var left, corner byte
		if i >= p.step {
			left, corner = p.row[i-p.step], p.above[i-p.step]
		}
		switch kind {
		case 1:
			p.row[i] += left
		case 2:
			p.row[i] += p.above[i]
		case 3:
			p.row[i] += byte((int(left) + int(p.above[i])) / 2)
		case 4:
			p.row[i] += paeth(left, p.above[i], corner)
		}
	}
}

func paeth(left, above, corner byte) byte {
	a, b, c := int(left), int(above), int(corner)
	pa, pb, pc := distance(b, c), distance(a, c), distance(a+b, 2*c)
	switch {
	case pa <= pb && pa <= pc:
		return left
	case pb <= pc:
		return above
	}
	return corner
}

func distance(a, b int) int { return max(a-b, b-a) }

// upTo reads up to a sign that ends the data.
type upTo struct {
	r     io.Reader
	end   byte
	ended bool
}

func (u *upTo) Read(b []byte) (int, error) {
	if u.ended {
		return 0, io.EOF
	}
	n, err := u.r.Read(b)
	if i := bytes.IndexByte(b[:n], u.end); i >= 0 {
		u.ended = true
		return i, io.EOF
	}
	return n, err
}

// hexReader reads pairs of hexadecimal digits.
type hexReader struct {
	r    io.Reader
	half byte
	odd  bool
}

func (h *hexReader) Read(b []byte) (int, error) {
	if len(b) == 0 {
		return 0, nil
	}
	in := make([]byte, min(len(b), 4096))
	n, err := h.r.Read(in)
	out := 0
	for _, c := range in[:n] {
		var v byte
		switch {
		case c >= '0' && c <= '9':
			v = c - '0'
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			v = c | 0x20 - 'a' + 10
		default:
			continue
		}
		if h.odd {
			b[out] = h.half<<4 | v
			out++
		}
		h.half, h.odd = v, !h.odd
	}
	if err == io.EOF && h.odd && out < len(b) {
		b[out] = h.half << 4
		out++
		h.odd = false
	}
	return out, err
}

// runReader reads runs of bytes (ISO 32000-1, 7.4.5).
type runReader struct {
	r    io.Reader
	left []byte
}

func (r *runReader) Read(b []byte) (int, error) {
	if len(r.left) == 0 {
		if err := r.next(); err != nil {
			return 0, err
		}
	}
	n := copy(b, r.left)
	r.left = r.left[n:]
	return n, nil
}

func (r *runReader) next() error {
	var one [1]byte
	if _, err := io.ReadFull(r.r, one[:]); err != nil {
		return err
	}
	const end = 128
	n := int(one[0])
	switch {
	case n == end:
		return io.EOF
	case n < end:
		r.left = make([]byte, n+1)
		_, err := io.ReadFull(r.r, r.left)
		return err
	}
	if _, err := io.ReadFull(r.r, one[:]); err != nil {
		return err
	}
	r.left = bytes.Repeat(one[:], 257-n)
	return nil
}

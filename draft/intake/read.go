package intake

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"

	"golang.org/x/text/encoding/unicode"
	"hemlet/draft"
)

// Options steer the reading.
type Options struct {
	// UnitMM is how many millimetres one unit of the file's own coordinates is;
	// 0 lets the file say. For SVG the unit is that of the outermost viewBox.
	UnitMM float64
	// EveryVertex judges each vertex of a polyline by its own turn alone. Without
	// it a run of many short chords that bends evenly is taken for a sampled
	// curve and has no corners; its vertices are kept either way.
	EveryVertex bool
}

// Read reads a drawing; what kind it is shows in its content, whatever its name.
// name is only used in messages. Every error is an *Error with the place in the
// file; when ctx is done it wraps ctx's error.
func Read(ctx context.Context, name string, r io.Reader, opts Options) (*Drawing, error) {
	if opts.UnitMM < 0 || opts.UnitMM > draft.MaxCoordinate || opts.UnitMM != opts.UnitMM {
		return nil, &Error{File: name, Err: fmt.Errorf("one unit cannot be %g mm", opts.UnitMM)}
	}
	data, err := readBounded(r)
	if err == nil {
		data, err = plainText(data)
	}
	if err != nil {
		return nil, placed(name, Source{}, err)
	}
	return readText(ctx, name, data, opts)
}

// readText chooses the reader by the first characters: XML starts with an angle
// bracket, DXF with a group code.
func readText(ctx context.Context, name string, data []byte, opts Options) (*Drawing, error) {
	d := &Drawing{Name: name, everyVertex: opts.EveryVertex}
	head := bytes.TrimLeft(data[:min(len(data), 4096)], " \t\r\n")
	var err error
	switch {
	case len(head) == 0:
		err = errors.New("the file is empty")
	case bytes.Contains(data[:min(len(data), 64)], []byte("Binary DXF\r\n\x1a")):
		err = errors.New("this is a binary DXF; save it as ASCII DXF and import that")
	case head[0] == '<':
		err = readSVG(ctx, d, data, opts)
	case bytes.IndexByte(head, 0) >= 0:
		err = errors.New("this is neither SVG nor ASCII DXF: it holds binary data")
	case head[0] >= '0' && head[0] <= '9':
		d.Format = DXF
		err = readDXF(ctx, d, data, opts)
	default:
		err = errors.New("this is neither SVG nor ASCII DXF")
	}
	if err != nil {
		return nil, placed(name, Source{}, err)
	}
	return d, nil
}

// readBounded reads all of r, and no more than a text file may hold.
func readBounded(r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, draft.MaxTextBytes+1))
	if err != nil {
		return nil, err
	}
	if len(data) > draft.MaxTextBytes {
		return nil, fmt.Errorf("the file is larger than %d MiB", draft.MaxTextBytes>>20)
	}
	return data, nil
}

// plainText unpacks a compressed SVG and turns UTF-16 into UTF-8; the limit
// holds for the result.
func plainText(data []byte) ([]byte, error) {
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(bytes.NewReader(data))
		if err != nil {
			return nil, fmt.Errorf("compressed file: %w", err)
		}
		if data, err = readBounded(z); err != nil {
			return nil, fmt.Errorf("compressed file: %w", err)
		}
	}
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return data[3:], nil
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		dec := unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM).NewDecoder()
		return readBounded(dec.Reader(bytes.NewReader(data)))
	}
	return data, nil
}

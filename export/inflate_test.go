package export

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"regexp"
	"testing"
)

// inflatePages returns the drawing of every page of a PDF as text.
func inflatePages(t *testing.T, data []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	for {
		from := bytes.Index(data, []byte("stream\n"))
		if from < 0 {
			return out.Bytes()
		}
		data = data[from+len("stream\n"):]
		to := bytes.Index(data, []byte("\nendstream"))
		if to < 0 {
			t.Fatal("a stream does not end")
		}
		if r, err := zlib.NewReader(bytes.NewReader(data[:to])); err == nil {
			text, err := io.ReadAll(r)
			if err != nil {
				t.Fatal(err)
			}
			// Pages begin by setting the millimetre; fonts and their maps do not.
			if bytes.HasPrefix(text, []byte("2.8346")) {
				out.Write(text)
				out.WriteByte('\n')
			}
		}
		data = data[to+len("\nendstream"):]
	}
}

var (
	streamOf   = regexp.MustCompile(`(?s)stream\n(.*?)\nendstream`)
	lengthOf   = regexp.MustCompile(`/Length \d+`)
	idOf       = regexp.MustCompile(`/ID\[.*?\]`)
	offsetOf   = regexp.MustCompile(`(?m)^\d{10} \d{5} n `)
	tableStart = regexp.MustCompile(`startxref\n\d+`)
)

// unstamped returns a PDF with its streams inflated, the time taken out of its fonts,
// and with it what depends on how small they are when compressed: lengths of streams,
// places of objects, and the sum that names the file.
func unstamped(t *testing.T, data []byte) []byte {
	t.Helper()
	fonts := 0
	out := streamOf.ReplaceAllFunc(data, func(stream []byte) []byte {
		body := streamOf.FindSubmatch(stream)[1]
		r, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			return stream
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if unstampFont(text) {
			fonts++
		}
		return text
	})
	if fonts == 0 {
		t.Fatal("no font is found in the file: this shows nothing")
	}
	for _, depends := range []*regexp.Regexp{lengthOf, idOf, offsetOf, tableStart} {
		out = depends.ReplaceAll(out, nil)
	}
	return out
}

// unstampFont clears the time of change in an OpenType font, and the sums over it, in
// the head table and in its entry of the table of tables (ISO 14496-22, 4.5 and 5.2.2).
// It reports whether there is such a font.
func unstampFont(font []byte) bool {
	if !bytes.HasPrefix(font, []byte{0, 1, 0, 0}) && !bytes.HasPrefix(font, []byte("OTTO")) {
		return false
	}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		entry := font[12+16*i:]
		if string(entry[:4]) == "head" {
			head := font[binary.BigEndian.Uint32(entry[8:]):]
			clear(entry[4:8])
			clear(head[8:12])
			clear(head[28:36])
			return true
		}
	}
	return false
}

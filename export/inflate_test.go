package export

import (
	"bytes"
	"compress/zlib"
	"io"
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

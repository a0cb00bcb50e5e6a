package intake

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"hemlet/draft"
)

// garment is an SVG of n pieces of 12 curves and lines each, with names and
// nested groups as drawing programs write them.
func garment(n int) []byte {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<g id="layer%d" transform="translate(%d %d) rotate(%d)"><title>Piece %d</title>`, i, i%20*10, i/20*10, i, i)
		b.WriteString(`<path id="path1" style="fill:none;stroke:#000;stroke-width:0.2" d="m 0,0 58.123456,2.345678 4.2,43.1` +
			` c -12.1,0 -17.2,5.1 -17.3,15.2 0,8.3 2.4,15.5 5.1,22.3 l -28.4,10.2 c 0,-10 -10,-17 -22,-17 s -2,-9 0,-20 q 4,-9 0,-20` +
			` t 0,-10 a 3,3 0 0 1 0,-6 h 1 v -2 z"/></g>`)
	}
	return []byte(page(b.String()))
}

func BenchmarkSVG200Pieces(b *testing.B) {
	data := garment(200)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		d, err := Read(context.Background(), "bench.svg", bytes.NewReader(data), Options{})
		if err != nil {
			b.Fatal(err)
		}
		outlines, _, err := d.Outlines(draft.StitchDrawn)
		if err != nil || len(outlines) != 200 {
			b.Fatal(len(outlines), err)
		}
	}
}

// BenchmarkDXF200Pieces reads pieces of 400 chords each, as exports of curves
// have them, on layers of their own.
func BenchmarkDXF200Pieces(b *testing.B) {
	var s strings.Builder
	for i := range 200 {
		fmt.Fprintf(&s, "0\nPOLYLINE\n8\nP%d\n66\n1\n70\n1\n", i)
		for _, g := range regular(400, 30) {
			fmt.Fprintf(&s, "0\nVERTEX\n8\nP%d\n10\n%.6f\n20\n%.6f\n30\n0.0\n", i, g.P0.X, g.P0.Y)
		}
		s.WriteString("0\nSEQEND\n8\n0\n")
	}
	data := []byte("0\nSECTION\n2\nENTITIES\n" + s.String() + "0\nENDSEC\n0\nEOF\n")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		d, err := Read(context.Background(), "bench.dxf", bytes.NewReader(data), Options{UnitMM: 1})
		if err != nil {
			b.Fatal(err)
		}
		outlines, _, err := d.Outlines(draft.StitchDrawn)
		if err != nil || len(outlines) != 200 {
			b.Fatal(len(outlines), err)
		}
	}
}

package tracer

import (
	"context"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/follow"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// A live answer across a sheet of A3 (ISO 216) at 300 dots an inch: the bar is 50 ms, from
// where the pointer is to the way that is drawn.
func BenchmarkLiveWay(b *testing.B) {
	p := bib().Transform(geom.Scaling(4.5, 4.5))
	sheet, moved := tracetest.Lay(p)
	sheet.W, sheet.H = 420, 297
	sheet = sheet.Draw(tracetest.Black, 0.6, moved...)
	pic, err := tracetest.Scan{DPI: 300, Blur: 0.7, Noise: 3, Seed: 5}.See(sheet)
	if err != nil {
		b.Fatal(err)
	}
	raster, err := scan.Grey(context.Background(), pic.Image, nil)
	if err != nil {
		b.Fatal(err)
	}
	made, err := trace.Prepare(context.Background(), []trace.Sheet{{Raster: raster, Map: pic.Map}}, trace.Options{Manner: trace.Drawn}, nil)
	if err != nil {
		b.Fatal(err)
	}
	guide := follow.NewGuide(made.Field, made.S)
	if err := guide.Prepare(context.Background()); err != nil {
		b.Fatal(err)
	}
	g, _ := newGuiding(guide, made, nil, func() {})
	o := moved[0].Outline
	stops := []stop{{at: o[0].P0, px: g.back.Apply(o[0].P0)}, {at: o[1].P0, px: g.back.Apply(o[1].P0)}}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		to := o[2+i%3].At(0.5)
		a := question{g: g, stops: stops, over: true, at: to}.answer()
		if len(a.live) < 10 {
			b.Fatal("no way")
		}
	}
}

package trace_test

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"runtime"
	"runtime/metrics"
	"testing"
	"time"

	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/scan"
	"hemlet/geom/trace/tracetest"
)

// a3 returns an A3 sheet, across, with four pieces.
func a3(t testing.TB, manner trace.Manner) tracetest.Sheet {
	s := tracetest.Sheet{W: 420, H: 297, Paper: tracetest.White}
	for i, p := range specimens(t, 4) {
		b := p.Outline.Bounds()
		k := min(180/b.W(), 120/b.H())
		m := geom.Translation(b.Min.Mul(-1)).Then(geom.Scaling(k, k)).Then(geom.Translation(geom.Pt(20+200*float64(i%2), 15+140*float64(i/2))))
		if p = p.Transform(m); manner == trace.Filled {
			s = s.Fill(tracetest.Black, p)
		} else {
			s = s.Draw(tracetest.Black, .6, p)
		}
	}
	return s
}

// peak samples the memory that the program holds of the system, in bytes, until done.
func peak(done <-chan struct{}) <-chan uint64 {
	out := make(chan uint64, 1)
	go func() {
		s := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		var most uint64
		for {
			metrics.Read(s)
			most = max(most, s[0].Value.Uint64()-s[1].Value.Uint64())
			select {
			case <-done:
				out <- most
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	return out
}

// BenchmarkA3 goes from a JPEG file of an A3 sheet at 300 dpi to its outlines: decode,
// even, follow, fit. peak-MB is what the program holds at most, with everything.
func BenchmarkA3(b *testing.B) {
	for _, manner := range []trace.Manner{trace.Filled, trace.Drawn} {
		b.Run(manner.String(), func(b *testing.B) {
			pic, err := tracetest.Plain(300, 1).See(a3(b, manner))
			if err != nil {
				b.Fatal(err)
			}
			var file bytes.Buffer
			if err := jpeg.Encode(&file, pic.Image, &jpeg.Options{Quality: 90}); err != nil {
				b.Fatal(err)
			}
			m := pic.Map
			pic = tracetest.Picture{}
			runtime.GC()
			done := make(chan struct{})
			most := peak(done)
			for b.Loop() {
				img, _, err := image.Decode(bytes.NewReader(file.Bytes()))
				if err != nil {
					b.Fatal(err)
				}
				r, err := scan.Grey(context.Background(), img, nil)
				if err != nil {
					b.Fatal(err)
				}
				res, err := trace.Trace(context.Background(), []trace.Sheet{{Raster: r, Map: m}}, trace.Options{Manner: manner}, nil)
				if err != nil || len(res.Outlines) != 4 {
					b.Fatalf("%d outlines, %v, %v", len(res.Outlines), res.Says, err)
				}
			}
			close(done)
			b.ReportMetric(float64(<-most)/1e6, "peak-MB")
		})
	}
}

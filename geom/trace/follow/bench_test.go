package follow

import (
	"context"
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// sheetA3 returns a sheet of A3 at 300 dpi with 48 outlines of about 40 mm, filled or drawn.
func sheetA3(drawn bool) *scan.Field {
	f := &scan.Field{W: 3508, H: 4961, V: make([]uint16, 3508*4961)}
	step := func(x float64) float64 { return (1 + math.Erf(x/(1.2*math.Sqrt2))) / 2 }
	for y := range f.H {
		for x := range f.W {
			p := geom.Pt(math.Mod(float64(x)+0.5, 584)-290, math.Mod(float64(y)+0.5, 620)-310)
			d := p.Len() - 220*(1+0.15*math.Sin(3*p.Angle()))
			v := step(d)
			if drawn {
				v = 1 - step(d+3.5) + step(d-3.5)
			}
			f.V[y*f.W+x] = uint16(scan.Paper * v)
		}
	}
	return f
}

func BenchmarkEdgesA3(b *testing.B) {
	f := sheetA3(false)
	b.ReportAllocs()
	for b.Loop() {
		if got, err := Edges(context.Background(), f, Options{S: dpi300, Least: 4}); err != nil || len(got.Shapes) != 48 {
			b.Fatal(len(got.Shapes), err)
		}
	}
}

func BenchmarkStrokesA3(b *testing.B) {
	f := sheetA3(true)
	b.ReportAllocs()
	for b.Loop() {
		if got, err := Strokes(context.Background(), f, Options{S: dpi300, Least: 4, Gap: 1}); err != nil || len(got.Shapes) != 48 {
			b.Fatal(len(got.Shapes), err)
		}
	}
}

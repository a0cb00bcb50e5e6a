package follow

import (
	"context"
	"sync"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// bigNest is an A3 sheet at 300 dpi with four sizes of a long skirt that cross each other,
// and a path along it from one corner of the sheet to the opposite one.
var bigNest = sync.OnceValues(func() (*scan.Field, [2]geom.Point) {
	const s = px300
	w, h := 3508, 4961
	sh := newSheet(w, h)
	var ends [2]geom.Point
	for k := range 4 {
		d := 9 * float64(k)
		p := smoothRing(
			geom.Pt(20+d, 20+d), geom.Pt(140, 28+2*d), geom.Pt(270-d, 18+d), geom.Pt(250+d/2, 120+d),
			geom.Pt(278-d, 210), geom.Pt(262-d, 395-d), geom.Pt(150, 380-d/2), geom.Pt(30+d, 402-d), geom.Pt(48-d/2, 200+d),
		).Transform(geom.Scaling(s, s))
		sh.stroke(p, 0.4*s, 0.08*s, 1-0.15*float64(k))
		if k == 1 {
			ends = [2]geom.Point{p[0].P0, p[5].P0}
		}
	}
	return sh.field(0.03, 9), ends
})

// BenchmarkPathAcrossA3 is one answer for a pointer that moves at the far corner of a large
// sheet.
func BenchmarkPathAcrossA3(b *testing.B) {
	f, ends := bigNest()
	g := NewGuide(f, px300)
	ctx := context.Background()
	if err := g.Prepare(ctx); err != nil {
		b.Fatal(err)
	}
	i := 0.0
	for b.Loop() {
		i++
		way, err := g.Path(ctx, ends[0], ends[1].Add(geom.Pt(i/10, -i/7)))
		if err != nil || way.Straight && i < 100 {
			b.Fatal(err, way.Straight)
		}
	}
}

// BenchmarkFirstPathAcrossA3 is one answer after a click: nothing is known yet of the ways
// from there.
func BenchmarkFirstPathAcrossA3(b *testing.B) {
	f, ends := bigNest()
	g := NewGuide(f, px300)
	ctx := context.Background()
	if err := g.Prepare(ctx); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		g.tree = nil
		if _, err := g.Path(ctx, ends[0], ends[1]); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPrepareA3 reads the ink of a large sheet.
func BenchmarkPrepareA3(b *testing.B) {
	f, _ := bigNest()
	for b.Loop() {
		if err := NewGuide(f, px300).Prepare(context.Background()); err != nil {
			b.Fatal(err)
		}
	}
}

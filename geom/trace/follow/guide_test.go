package follow

import (
	"context"
	"math"
	"testing"

	"hemlet/geom"
)

// garment is an outline in mm with corners at every node, like a bodice front.
func garment() geom.Path {
	pt := geom.Pt
	return geom.Path{
		geom.Line(pt(0, 0), pt(0, 130)),
		geom.Cubic(pt(0, 130), pt(18, 131), pt(34, 142), pt(38, 162)),
		geom.Line(pt(38, 162), pt(86, 150)),
		geom.Cubic(pt(86, 150), pt(72, 128), pt(78, 104), pt(104, 96)),
		geom.Cubic(pt(104, 96), pt(98, 66), pt(96, 34), pt(100, 6)),
		geom.Cubic(pt(100, 6), pt(66, 2), pt(34, 0), pt(0, 0)),
	}
}

// toPixels maps mm, y up, to pixels of a sheet.
func toPixels(s float64, h int) geom.Affine {
	return geom.Affine{A: s, D: -s, E: 15 * s, F: float64(h) - 15*s}
}

func TestPathFollowsOneLine(t *testing.T) {
	s := px300
	w, h := int(135*s), int(195*s)
	p := garment().Transform(toPixels(s, h))
	sh := newSheet(w, h)
	sh.stroke(p, 0.5*s, 0.08*s, 1)
	g := NewGuide(sh.field(0.02, 1), s)
	var all []geom.Point
	for i, seg := range p {
		way, err := g.Path(context.Background(), seg.P0.Add(geom.Pt(3, -4)), seg.P3.Add(geom.Pt(-2, 3)))
		if err != nil {
			t.Fatal(err)
		}
		if way.Straight || way.Bare > 0 {
			t.Errorf("way %d: straight %v, %v px bare", i, way.Straight, way.Bare)
		}
		all = append(all, way.Pts...)
	}
	d := distances(all, p)
	t.Logf("median %.4f p95 %.4f largest %.4f mm", share(d, .5)/s, share(d, .95)/s, share(d, 1)/s)
	if share(d, .5) > 0.02*s || share(d, .95) > 0.15*s {
		t.Errorf("off by %.4f mm median, %.4f p95", share(d, .5)/s, share(d, .95)/s)
	}
}

// twoSizes draws a garment in two sizes over each other, in the two orders, turned against
// each other so that they cross at small angles.
func twoSizes(k int, s float64, h int) (a, b geom.Path) {
	to := toPixels(s, h)
	a = garment().Transform(to)
	turn := geom.Rotation(0.07+0.012*float64(k%7), geom.Pt(50+4*float64(k%5), 70+6*float64(k%3)))
	size := geom.Translation(geom.Pt(-50, -75)).Then(geom.Scaling(1.02+.004*float64(k%4), .97)).Then(geom.Translation(geom.Pt(50, 75)))
	b = garment().Transform(size.Then(turn)).Transform(to)
	return a, b
}

func TestGuideTellsTwoSizesApart(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	s := px300
	w, h := int(135*s), int(195*s)
	crossings, wrong := 0, 0
	var all []float64
	for k := range 7 {
		a, b := twoSizes(k, s, h)
		sh := newSheet(w, h)
		sh.stroke(a, 0.5*s, 0.08*s, 1)
		sh.stroke(b, 0.5*s, 0.08*s, 0.9)
		f := sh.field(0.02, uint64(k))
		g := NewGuide(f, s)
		met := len(a.Intersections(b))
		crossings += 2 * met
		for name, p := range map[string]geom.Path{"first": a, "second": b} {
			var stops []Stop
			for _, seg := range p {
				stops = append(stops, Stop{At: seg.P0, Corner: true}, Stop{At: seg.At(0.5)})
			}
			line, err := g.Line(context.Background(), true, stops...)
			if err != nil {
				t.Fatal(err)
			}
			d := distances(line.Pts, p)
			all = append(all, d...)
			if n := len(d); d[n-1] > 0.8*s {
				wrong++
				t.Logf("nest %d, %s: %d crossings, off by %.2f mm, p95 %.3f", k, name, met, d[n-1]/s, share(d, .95)/s)
			}
		}
	}
	d := sorted(all)
	t.Logf("%d crossings; median %.4f p95 %.4f p99 %.4f largest %.3f mm", crossings, share(d, .5)/s, share(d, .95)/s, share(d, .99)/s, share(d, 1)/s)
	if crossings < 50 || wrong > 0 || share(d, .5) > 0.02*s || share(d, .95) > 0.15*s {
		t.Errorf("%d crossings, %d lines went astray, median %.4f, p95 %.4f mm", crossings, wrong, share(d, .5)/s, share(d, .95)/s)
	}
}

func TestSnap(t *testing.T) {
	s := px300
	sh := newSheet(400, 300)
	sh.stroke(geom.Path{geom.Line(geom.Pt(20, 100.3), geom.Pt(380, 100.3))}, 0.5*s, 1, 1)
	g := NewGuide(sh.field(0, 1), s)
	p, ok, err := g.Snap(context.Background(), geom.Pt(200, 110), 15)
	if err != nil || !ok || math.Abs(p.Y-100.3) > 0.05 || math.Abs(p.X-200) > 1 {
		t.Errorf("snapped to %v, %v, %v", p, ok, err)
	}
	if p, ok, _ := g.Snap(context.Background(), geom.Pt(200, 200), 15); ok || p != geom.Pt(200, 200) {
		t.Errorf("snapped over bare paper to %v", p)
	}
}

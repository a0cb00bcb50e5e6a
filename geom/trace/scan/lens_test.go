package scan

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func TestLensProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Lens{rapid.IntRange(1, 12000).Draw(t, "w"), rapid.IntRange(1, 12000).Draw(t, "h"), rapid.Float64Range(-.1, .1).Draw(t, "bend")}
		p := geom.Pt(float64(l.W)*rapid.Float64Range(0, 1).Draw(t, "x"), float64(l.H)*rapid.Float64Range(0, 1).Draw(t, "y"))
		if d := l.Bent(l.Straight(p)).Dist(p); d > 1e-6 {
			t.Fatalf("%v comes back %g px off", p, d)
		}
	})
	// By its definition the corner of a picture moves outward by Bend.
	l := Lens{800, 600, .02}
	if got := l.Straight(geom.Pt(800, 600)); !got.Near(geom.Pt(808, 606), 1e-9) {
		t.Errorf("the corner lies at %v", got)
	}
}

// bentSheet draws a sheet as a lens with a bend shows it.
func bentSheet(w, h int, c [4]geom.Point, bend float64) *Raster {
	r := &Raster{W: w, H: h, Pix: make([]uint8, w*h)}
	l := Lens{w, h, bend}
	var lines [4]edgeLine
	for i := range 4 {
		lines[i] = lineThrough(c[i], c[(i+1)%4])
	}
	for j := range h {
		for i := range w {
			p := l.Straight(geom.Pt(float64(i)+.5, float64(j)+.5))
			in := 1.0
			for _, e := range lines {
				in *= softStep(e.off(p), 1.2)
			}
			r.Pix[j*w+i] = uint8(math.Round(60 + 175*in))
		}
	}
	return r
}

func TestFrameTellsTheLens(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	const w, h = 2000, 1500
	// As straight lines would have it; the lens pulls the corners in.
	c := [4]geom.Point{{X: 141, Y: 122}, {X: 1862, Y: 131}, {X: 1849, Y: 1371}, {X: 154, Y: 1398}}
	for _, bend := range []float64{0, .002, .005, .02, -.01} {
		r := bentSheet(w, h, c, bend)
		l := Lens{w, h, bend}
		var clicks [4]geom.Point
		for i := range c {
			clicks[i] = l.Bent(c[i])
		}
		f, err := FitFrame(r, clicked(clicks, 4))
		if err != nil {
			t.Errorf("bend %g: %v", bend, err)
			continue
		}
		if math.Abs(f.Bend-bend) > 5e-4 {
			t.Errorf("bend %g is told as %g", bend, f.Bend)
			continue
		}
		// An edge of half length a, d off the middle of a picture of half diagonal R, bows by
		// Bend d a²/R², and a parabola lies 2/(3√5) of its bow off its best line: here 89 and
		// 65 px times Bend for the long and the short edges.
		if want := 78 * math.Abs(bend); bend != 0 && math.Abs(f.RMS-want) > .1*want+.02 {
			t.Errorf("bend %g: rms %.3f px, not about %.3f", bend, f.RMS, want)
		}
		straight, err := Straighten(context.Background(), r, f.Bend)
		if err != nil {
			t.Fatal(err)
		}
		f, err = FitFrame(straight, clicked(c, 4))
		if err != nil {
			t.Errorf("bend %g straightened: %v", bend, err)
			continue
		}
		if d := farthest(f.Corners, c); d > .3 || f.Bend != 0 || f.RMS > .3 {
			t.Errorf("bend %g straightened: a corner is %.3f px off, rms %.3f, bend %g", bend, d, f.RMS, f.Bend)
		}
	}
}

func TestStraightenRefuses(t *testing.T) {
	r := drawSheet(80, 60, testQuad, 240, 240, 1, 0)
	for _, bend := range []float64{1, -1, math.NaN(), math.Inf(1)} {
		if _, err := Straighten(context.Background(), r, bend); err == nil {
			t.Errorf("takes a bend of %g", bend)
		}
	}
	if _, err := Straighten(context.Background(), &Raster{W: 4}, 0); err == nil {
		t.Error("takes an empty picture")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Straighten(ctx, r, .01); err != context.Canceled {
		t.Errorf("given up: %v", err)
	}
}

func BenchmarkStraighten12MP(b *testing.B) {
	r := &Raster{W: 4000, H: 3000, Pix: make([]uint8, 4000*3000)}
	for b.Loop() {
		if _, err := Straighten(context.Background(), r, .01); err != nil {
			b.Fatal(err)
		}
	}
}

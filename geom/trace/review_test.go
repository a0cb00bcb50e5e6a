package trace

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func square(x0, y0, x1, y1 float64) geom.Path {
	return geom.Polygon(geom.Pt(x0, y0), geom.Pt(x1, y0), geom.Pt(x1, y1), geom.Pt(x0, y1))
}

func TestReviewAgainstClosedForms(t *testing.T) {
	ink := [][]geom.Point{square(0, 0, 100, 80).Flatten(1)}
	for _, c := range []struct {
		name          string
		path          geom.Path
		median, worst float64
		at            geom.Point
		sign          float64
	}{
		{"on the ink", square(0, 0, 100, 80), 0, 0, geom.Point{}, 0},
		{"half a millimetre outside", square(-.5, -.5, 100.5, 80.5), .5, math.Hypot(.5, .5), geom.Pt(-.5, -.5), 1},
		{"half a millimetre inside", square(.5, .5, 99.5, 79.5), .5, math.Hypot(.5, .5), geom.Pt(0, 0), -1},
		// The path keeps within 7.1 mm of the ink, but the ink's corner is further off.
		{"a corner cut off", geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 80), geom.Pt(10, 80), geom.Pt(0, 70)), 0, math.Hypot(5, 5), geom.Pt(0, 80), 0},
	} {
		d := Review(c.path, ink)
		if math.Abs(d.Median-c.median) > 1e-9 || math.Abs(d.Largest-c.worst) > 1e-9 || c.worst > 0 && d.At.Dist(c.at) > 1e-6 {
			t.Errorf("%s: median %g, largest %g at %v", c.name, d.Median, d.Largest, d.At)
		}
		for _, s := range d.Samples {
			if c.sign != 0 && s.By*c.sign < .4 {
				t.Errorf("%s: %g at %v", c.name, s.By, s.At)
				break
			}
		}
	}
}

func TestReviewOfNothing(t *testing.T) {
	if d := Review(square(0, 0, 1, 1), nil); d.Largest != 0 || d.Samples != nil {
		t.Errorf("without ink: %+v", d)
	}
	if d := Review(nil, [][]geom.Point{{{X: 1}, {X: 2}}}); d.Largest != 0 || d.Samples != nil {
		t.Errorf("without a path: %+v", d)
	}
	if d := Review(square(0, 0, 1, 1), [][]geom.Point{{{X: 3}, {X: 3}}}); math.Abs(d.Largest-math.Hypot(3, 1)) > 1e-9 {
		t.Errorf("ink without length: %+v", d.Largest)
	}
}

func TestNearestIsThatOfAllChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pt := rapid.Custom(func(t *rapid.T) geom.Point {
			return geom.Pt(rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-20, 20).Draw(t, "y"))
		})
		line := rapid.SliceOfN(pt, 2, 40).Draw(t, "line")
		p := pt.Draw(t, "p").Mul(rapid.Float64Range(0, 5).Draw(t, "out"))
		got, _, _ := newChains([][]geom.Point{line}).nearest(p)
		want := math.Inf(1)
		for i := 1; i < len(line); i++ {
			_, d := geom.Line(line[i-1], line[i]).Nearest(p)
			want = math.Min(want, d)
		}
		if math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("%g, want %g", got, want)
		}
	})
}

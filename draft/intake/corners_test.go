package intake

import (
	"fmt"
	"math"
	"testing"

	"hemlet/geom"
	"pgregory.net/rapid"
)

// corners returns the corner nodes.
func corners(path geom.Path, everyVertex bool) map[geom.Point]bool {
	at := map[geom.Point]bool{}
	for i, c := range cornersOf(path, nil, everyVertex) {
		if c {
			at[path[i].P0] = true
		}
	}
	return at
}

// turned returns the closed path of straight sides that turns at its start by
// each angle, in degrees; the last side closes it.
func turned(sides []float64, turns []float64) geom.Path {
	var pts []geom.Point
	p, dir := geom.Point{}, 0.0
	for i, s := range sides {
		dir += turns[i] * math.Pi / 180
		p = p.Add(geom.Pt(math.Cos(dir), math.Sin(dir)).Mul(s))
		pts = append(pts, p)
	}
	return geom.Polygon(pts...)
}

func regular(n int, r float64) geom.Path {
	var pts []geom.Point
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		pts = append(pts, geom.Pt(r*math.Cos(a), r*math.Sin(a)))
	}
	return geom.Polygon(pts...)
}

func TestCornersOfPolygons(t *testing.T) {
	for _, c := range []struct {
		name  string
		path  geom.Path
		every bool
		want  int
	}{
		{"triangle", regular(3, 20), false, 3},
		{"square", regular(4, 20), false, 4},
		{"octagon", regular(8, 20), false, 8},
		{"twelve sides are sides", regular(12, 20), false, 12},
		{"sixteen chords are a circle", regular(16, 20), false, 0},
		{"sixteen sides when told so", regular(16, 20), true, 16},
		{"a circle of many chords", regular(200, 20), false, 0},
		{"a tiny circle", regular(24, 1), false, 0},
		{"a vertex in a straight side", geom.Polygon(geom.Pt(0, 0), geom.Pt(5, 0), geom.Pt(10, 0), geom.Pt(0, 10)), false, 3},
		{"a slight bend", geom.Polygon(geom.Pt(0, 0), geom.Pt(50, -2), geom.Pt(100, 0), geom.Pt(0, 100)), false, 3},
		{"a real bend", geom.Polygon(geom.Pt(0, 0), geom.Pt(50, -8), geom.Pt(100, 0), geom.Pt(0, 100)), false, 4},
		{"two bends beside each other", turned([]float64{100, 20, 20, 100, 60}, []float64{0, 20, 20, 90, 60}), false, 5},
	} {
		if got := corners(c.path, c.every); len(got) != c.want {
			t.Errorf("%s: %d corners, want %d", c.name, len(got), c.want)
		}
	}
}

// front is half a bodice front made up for the test: straight sides, a neck and
// an armhole of curves that meet smoothly or at corners.
func front() geom.Path {
	p := geom.Pt
	return geom.Path{
		geom.Line(p(0, 0), p(58, 2)),
		geom.Line(p(58, 2), p(62, 45)),
		geom.Cubic(p(62, 45), p(50, 45), p(45, 50), p(45, 60)),
		geom.Cubic(p(45, 60), p(45, 68), p(47, 75), p(50, 82)),
		geom.Line(p(50, 82), p(22, 92)),
		geom.Cubic(p(22, 92), p(22, 82), p(12, 75), p(0, 75)),
		geom.Line(p(0, 75), p(0, 0)),
	}
}

// Sampling a curve neither loses its corners nor makes new ones.
func TestCornersSurviveSampling(t *testing.T) {
	for _, scale := range []float64{1. / 3, 1, 5} {
		path := front().Transform(geom.Scaling(scale, scale))
		want := corners(path, false)
		if len(want) != 6 {
			t.Fatalf("the outline itself has %d corners", len(want))
		}
		check := func(how string, sample func(geom.Segment) []geom.Point) {
			var pts []geom.Point
			for _, s := range path {
				q := sample(s)
				pts = append(pts, q[:len(q)-1]...)
			}
			got := corners(geom.Polygon(pts...), false)
			for p := range want {
				if !got[p] {
					t.Errorf("scale %.2g, %s: the corner at %v is lost", scale, how, p)
				}
			}
			if len(got) != len(want) {
				t.Errorf("scale %.2g, %s: %d corners, want %d", scale, how, len(got), len(want))
			}
		}
		for _, tol := range []float64{0.001, 0.005, 0.02, 0.05} {
			check(fmt.Sprintf("chords within %g mm", tol*scale), func(s geom.Segment) []geom.Point { return s.Flatten(tol * scale) })
		}
		for _, n := range []int{8, 12, 20, 60} {
			check(fmt.Sprintf("%d chords a segment", n), func(s geom.Segment) []geom.Point {
				pts := []geom.Point{s.P0}
				for i := 1; i < n; i++ {
					pts = append(pts, s.At(float64(i)/float64(n)))
				}
				return append(pts, s.P3)
			})
		}
	}
}

// The corners do not depend on where the outline starts, which way round it is
// drawn, how large it is or how it lies.
func TestCornersGoWithTheOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "n")
		pts := make([]geom.Point, n)
		for i := range pts {
			r := rapid.Float64Range(20, 30).Draw(t, "r")
			a := 2 * math.Pi * float64(i) / float64(n)
			pts[i] = geom.Pt(r*math.Cos(a), r*math.Sin(a))
		}
		path := geom.Polygon(pts...)
		want := len(corners(path, false))
		k := rapid.IntRange(0, n-1).Draw(t, "start")
		if got := len(corners(append(path[k:n:n], path[:k]...), false)); got != want {
			t.Errorf("%d corners when started at %d, else %d", got, k, want)
		}
		if got := len(corners(path.Reverse(), false)); got != want {
			t.Errorf("%d corners when reversed, else %d", got, want)
		}
		if got := len(corners(path.Transform(geom.Scaling(-16, 16)), false)); got != want {
			t.Errorf("%d corners when enlarged and mirrored, else %d", got, want)
		}
	})
}

func TestCleaned(t *testing.T) {
	p := geom.Pt
	for _, c := range []struct {
		name   string
		path   geom.Path
		closed bool
		n      int
		shut   bool
	}{
		{"double points", geom.Path{geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 10)), geom.Line(p(0, 10), p(0, 0))}, true, 3, true},
		{"a cubic without length", geom.Path{geom.Cubic(p(1, 1), p(1, 1), p(1, 1), p(1, 1))}, true, 0, false},
		{"a loop on one point stays", geom.Path{geom.Cubic(p(0, 0), p(10, 10), p(-10, 10), p(0, 0))}, true, 1, true},
		{"a closing stub", geom.Path{geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 10)), geom.Line(p(0, 10), p(0.004, 0)), geom.Line(p(0.004, 0), p(0, 0))}, true, 3, true},
		{"a short side is no stub", geom.Path{geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 10)), geom.Line(p(0, 10), p(0.02, 0)), geom.Line(p(0.02, 0), p(0, 0))}, true, 4, true},
		{"collinear points stay", geom.Path{geom.Line(p(0, 0), p(5, 0)), geom.Line(p(5, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 10)), geom.Line(p(0, 10), p(0, 0))}, true, 4, true},
		{"open", geom.Path{geom.Line(p(0, 0), p(10, 0)), geom.Line(p(10, 0), p(0, 10))}, false, 2, false},
	} {
		before := append(geom.Path(nil), c.path...)
		got, shut := cleaned(c.path, c.closed)
		if len(got) != c.n || shut != c.shut {
			t.Errorf("%s: %d segments, closed %v, want %d, %v", c.name, len(got), shut, c.n, c.shut)
		}
		for i := range before {
			if before[i] != c.path[i] {
				t.Errorf("%s: the path given was changed", c.name)
			}
		}
	}
	straight := geom.Path{geom.Cubic(p(0, 0), p(1, 1), p(8, 8), p(10, 10)), geom.Cubic(p(10, 10), p(12, 10), p(-4, 10), p(0, 10)), geom.Line(p(0, 10), p(0, 0))}
	got, _ := cleaned(straight, true)
	if !got[0].Straight || got[1].Straight {
		t.Errorf("a straight cubic and one that overshoots: %v", got)
	}
}

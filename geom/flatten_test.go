package geom

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// farthest returns the largest distance of a sample of the segment from the chain.
func farthest(s Segment, chain []Point) float64 {
	const n = 997
	worst := 0.0
	for i := range n + 1 {
		q := s.At(float64(i) / n)
		best := math.Inf(1)
		for k := 1; k < len(chain); k++ {
			_, d := nearestOnLine(chain[k-1], chain[k], q)
			best = math.Min(best, d)
		}
		worst = math.Max(worst, best)
	}
	return worst
}

func TestFlattenKeepsTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawSize(t)
		s := drawSegment(t, size)
		tol := size * math.Pow(10, rapid.Float64Range(-4, 0).Draw(t, "log tolerance"))
		slack := 1e-12 * size
		for name, chain := range map[string][]Point{
			"Flatten":    s.Flatten(tol),
			"AppendFlat": s.AppendFlat([]Point{s.P0}, tol),
		} {
			if chain[0] != s.P0 || chain[len(chain)-1] != s.P3 {
				t.Fatalf("%s: ends %v", name, chain)
			}
			if d := farthest(s, chain); d > tol+slack {
				t.Fatalf("%s: %v deviates by %g from %v, tolerance %g", name, s, d, chain, tol)
			}
			for k := 1; k < len(chain); k++ { // and the chords from the curve
				m := chain[k-1].Lerp(chain[k], 0.5)
				if _, d := s.Nearest(m); d > tol+slack {
					t.Fatalf("%s: chord %d of %v is %g off, tolerance %g", name, k, s, d, tol)
				}
			}
		}
		got, want := RectOf(s.Flatten(tol)...), s.Bounds()
		if !got.Min.Near(want.Min, slack) || !got.Max.Near(want.Max, slack) {
			t.Fatalf("%v: chain bounds %v, want %v", s, got, want)
		}
	})
}

// A chord of h on a circle of radius r is off by h²/8r; the count may not be far
// above what that asks for.
func TestFlattenIsFrugal(t *testing.T) {
	r, tol := 100.0, 0.005
	ideal := 2 * math.Pi * r / math.Sqrt(8*r*tol)
	if n := len(circle(Pt(0, 0), r).Flatten(tol)); float64(n) > 1.25*ideal+5 {
		t.Errorf("%d corners, a circle needs %.0f", n, ideal)
	}
}

func TestFlattenPaths(t *testing.T) {
	c := circle(Pt(3, 4), 5)
	pts := c.Flatten(0.01)
	if pts[0] != pts[len(pts)-1] || pts[0] != c.Start() {
		t.Error("a closed path's chain does not close")
	}
	if (Path{}).Flatten(1) != nil || len((Path{}).AppendFlat(nil, 1)) != 0 {
		t.Error("the empty path has corners")
	}
	buf := make([]Point, 0, 4096)
	if n := testing.AllocsPerRun(10, func() { c.AppendFlat(buf, 0.01) }); n != 0 {
		t.Errorf("AppendFlat into room enough allocates %g times", n)
	}
}

func TestFlattenBadTolerance(t *testing.T) {
	s := Cubic(Pt(0, 0), Pt(0, 50), Pt(50, 100), Pt(100, 100))
	for _, tol := range []float64{0, -1, math.NaN(), 1e-300, math.Inf(1)} {
		chain := s.AppendFlat(nil, tol)
		if len(chain) > maxChords || len(chain) == 0 {
			t.Errorf("tolerance %g: %d chords", tol, len(chain))
		}
		if tol <= 0 && len(chain) != maxChords {
			t.Errorf("tolerance %g: %d chords", tol, len(chain))
		}
	}
	for _, s := range wild() {
		s.Flatten(0.01)
	}
}

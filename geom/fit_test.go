package geom

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// sampled returns points at equal lengths along the path, each moved by Gaussian
// noise of sigma mm across and along.
func sampled(p Path, step, sigma float64, rng *rand.Rand) []Point {
	tape := p.Tape()
	n := int(math.Ceil(tape.Length() / step))
	pts := make([]Point, n+1)
	for i := range pts {
		pts[i] = p.At(tape.At(tape.Length() * float64(i) / float64(n)))
		if sigma > 0 && i > 0 && i < n {
			pts[i] = pts[i].Add(Pt(rng.NormFloat64()*sigma, rng.NormFloat64()*sigma))
		}
	}
	return pts
}

// offBy returns the largest distance between two curves, sampled both ways.
func offBy(p, q Path) float64 {
	worst := 0.0
	for _, pair := range [2][2]Path{{p, q}, {q, p}} {
		tape := pair[0].Tape()
		for i := range 501 {
			_, d := pair[1].Nearest(pair[0].At(tape.At(tape.Length() * float64(i) / 500)))
			worst = math.Max(worst, d)
		}
	}
	return worst
}

// garmentEdges are eight edges as garments have them, 40 to 300 mm: invented for
// these tests, with the shapes that a bodice, a sleeve and a collar show.
func garmentEdges() []Path {
	return []Path{
		{Cubic(Pt(0, 0), Pt(40, 0), Pt(70, 30), Pt(75, 80))},                                                       // neckline
		{Cubic(Pt(0, 0), Pt(0, 45), Pt(25, 70), Pt(70, 75))},                                                       // armhole
		{Cubic(Pt(0, 0), Pt(60, 110), Pt(110, 120), Pt(150, 130))},                                                 // half a sleeve cap
		{Cubic(Pt(0, 0), Pt(30, -4), Pt(70, 6), Pt(110, 0))},                                                       // waist with a swing
		{Cubic(Pt(0, 0), Pt(12, 60), Pt(28, 130), Pt(20, 210))},                                                    // hip
		{Cubic(Pt(0, 0), Pt(100, -3), Pt(200, -3), Pt(300, 2))},                                                    // hem
		{Cubic(Pt(0, 0), Pt(20, 2), Pt(35, 8), Pt(42, 20)), Cubic(Pt(42, 20), Pt(49, 32), Pt(52, 50), Pt(40, 66))}, // collar
		{Cubic(Pt(0, 0), Pt(25, 0), Pt(25, 60), Pt(50, 60))},                                                       // S of a two-piece sleeve
	}
}

// One cubic comes back as one cubic, and the same one.
func TestFitRecoversCubic(t *testing.T) {
	for i, p := range garmentEdges() {
		if len(p) > 1 {
			continue
		}
		for _, f := range []Fit{
			{Tol: 0.01},
			{Tol: 0.01, Start: p[0].Tangent(0), End: p[0].Tangent(1)},
		} {
			got, err := f.Points(sampled(p, 0.5, 0, nil))
			if err != nil || len(got) != 1 {
				t.Errorf("edge %d: %d cubics, %v", i, len(got), err)
				continue
			}
			if d := offBy(p, got); d > 1e-3 {
				t.Errorf("edge %d: %g mm off", i, d)
			}
			if got.Start() != p.Start() || got.End() != p.End() {
				t.Errorf("edge %d: ends moved", i)
			}
			if f.Start != (Point{}) && !got[0].Tangent(0).Near(f.Start, 1e-9) {
				t.Errorf("edge %d: leaves by %v, wanted %v", i, got[0].Tangent(0), f.Start)
			}
		}
	}
}

// The measured figures on tracing: eight true edges from noisy points need 12 or
// 13 cubics by least squares, whatever the noise up to 0.06 mm, at 0.07 to 0.11
// mm; the aim is at most 15 and 0.15 mm.
func TestFitNoisyEdges(t *testing.T) {
	for _, sigma := range []float64{0, 0.01, 0.03, 0.06} {
		rng := rand.New(rand.NewPCG(7, 11))
		total, worst := 0, 0.0
		for i, p := range garmentEdges() {
			f := Fit{Tol: 0.07, Noise: sigma}
			got, err := f.Points(sampled(p, 0.25, sigma, rng))
			if err != nil {
				t.Errorf("sigma %g edge %d: %v", sigma, i, err)
				continue
			}
			total += len(got)
			worst = math.Max(worst, offBy(p, got))
			smooth(t, got)
		}
		t.Logf("sigma %.2f: %d cubics, %.4f mm off", sigma, total, worst)
		if total > 15 || worst > 0.15 {
			t.Errorf("sigma %g: %d cubics, %g mm off", sigma, total, worst)
		}
	}
}

// smooth checks that the joints of a fit have no corner and no gap.
func smooth(t testing.TB, p Path) {
	t.Helper()
	for i := 1; i < len(p); i++ {
		a, b := p[i-1].Tangent(1), p[i].Tangent(0)
		if p[i-1].P3 != p[i].P0 || a.Dot(b) < 0 || math.Abs(a.Cross(b)) > 1e-9 {
			t.Errorf("joint %d: %v %v, directions %v %v", i, p[i-1].P3, p[i].P0, a, b)
		}
	}
}

// A circle needs, for a relative radial error e, about (2.7e-4/e)^(1/6) quarters,
// four cubics being 2.7e-4 off (the classic figure for the quarter circle); half
// a circle of 50 mm to 0.02 mm wants 2.
func TestFitArc(t *testing.T) {
	half := func(u float64) Point { return direct(math.Pi * u).Mul(50) }
	for _, c := range []struct {
		tol  float64
		most int
	}{{1, 1}, {0.02, 2}, {0.001, 4}, {1e-5, 8}} {
		p, err := Fit{Tol: c.tol, Start: Pt(0, 1), End: Pt(0, -1)}.Curve(half)
		if err != nil || len(p) > c.most {
			t.Errorf("tolerance %g: %d cubics, %v", c.tol, len(p), err)
			continue
		}
		for i := range 1000 {
			for _, s := range p {
				if d := math.Abs(s.At(float64(i)/999).Len() - 50); d > c.tol*1.01 {
					t.Fatalf("tolerance %g: %g off", c.tol, d)
				}
			}
		}
		smooth(t, p)
	}
}

// A spiral and a wave: curves that no cubic is.
func TestFitTranscendental(t *testing.T) {
	for name, at := range map[string]func(float64) Point{
		"spiral": func(u float64) Point { return direct(4 * math.Pi * u).Mul(20 + 60*u) },
		"wave":   func(u float64) Point { return Pt(200*u, 15*math.Sin(6*math.Pi*u)) },
	} {
		p, err := Fit{Tol: 0.05}.Curve(at)
		if err != nil || len(p) > 10 {
			t.Errorf("%s: %d cubics, %v", name, len(p), err)
			continue
		}
		smooth(t, p)
		for i := range 2001 {
			if _, d := p.Nearest(at(float64(i) / 2000)); d > 0.0501 {
				t.Fatalf("%s: %g off", name, d)
			}
		}
	}
}

// Whatever smooth chain the points come from, the fit keeps its tolerance.
func TestFitKeepsTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := drawPlainSize(t)
		n := rapid.IntRange(1, 3).Draw(t, "cubics")
		var p Path
		at, dir := Pt(0, 0), Pt(1, 0)
		for range n {
			turn := rapid.Float64Range(-1.2, 1.2).Draw(t, "turn")
			to := at.Add(direct(dir.Angle() + turn/2).Mul(size))
			next := direct(dir.Angle() + turn)
			h := size * rapid.Float64Range(0.25, 0.45).Draw(t, "handle")
			p = append(p, Cubic(at, at.Add(dir.Mul(h)), to.Sub(next.Mul(h)), to))
			at, dir = to, next
		}
		tol := size * math.Pow(10, rapid.Float64Range(-4.5, -2).Draw(t, "log tolerance"))
		got, err := Fit{Tol: tol}.Points(sampled(p, size/200, 0, nil))
		if err != nil {
			t.Fatalf("%v: %v", p, err)
		}
		if d := offBy(p, got); d > 1.2*tol+1e-4*size {
			t.Fatalf("%v: %d cubics are %g off, tolerance %g", p, len(got), d, tol)
		}
		if len(got) > 3*n {
			t.Fatalf("%v: %d cubics for %d", p, len(got), n)
		}
	})
}

func TestFitDegenerate(t *testing.T) {
	line := []Point{Pt(0, 0), Pt(1, 1), Pt(2, 2), Pt(5, 5), Pt(9, 9)}
	for name, pts := range map[string][]Point{
		"two points": {Pt(0, 0), Pt(30, 40)},
		"three":      {Pt(0, 0), Pt(10, 5), Pt(20, 0)},
		"on a line":  line,
		"repeated":   {Pt(0, 0), Pt(0, 0), Pt(5, 5), Pt(5, 5), Pt(9, 9), Pt(9, 9)},
	} {
		p, err := Fit{Tol: 0.01}.Points(pts)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if p.Start() != pts[0] || p.End() != pts[len(pts)-1] {
			t.Errorf("%s: ends %v %v", name, p.Start(), p.End())
		}
		for _, q := range pts {
			if _, d := p.Nearest(q); d > 0.01 {
				t.Errorf("%s: %v is %g off", name, q, d)
			}
		}
	}
	if p, _ := (Fit{Tol: 0.01}).Points(line); len(p) != 1 || math.Abs(p.Length()-9*math.Sqrt2) > 1e-9 {
		t.Errorf("line: %v", p)
	}
	nan := math.NaN()
	for name, c := range map[string]struct {
		f   Fit
		pts []Point
	}{
		"no points":       {Fit{Tol: 1}, nil},
		"one point":       {Fit{Tol: 1}, []Point{Pt(1, 1)}},
		"all one":         {Fit{Tol: 1}, []Point{Pt(1, 1), Pt(1, 1), Pt(1, 1)}},
		"not a number":    {Fit{Tol: 1}, []Point{Pt(1, 1), Pt(nan, 1), Pt(2, 1)}},
		"infinite":        {Fit{Tol: 1}, []Point{Pt(1, 1), Pt(math.Inf(1), 1)}},
		"huge":            {Fit{Tol: 1}, []Point{Pt(1, 1), Pt(1e300, 1)}},
		"no tolerance":    {Fit{}, line},
		"bad tolerance":   {Fit{Tol: nan}, line},
		"too few allowed": {Fit{Tol: 1e-3, Most: 1}, sampled(Path{garmentEdges()[6][0], garmentEdges()[6][1]}, 1, 0, nil)},
	} {
		_, err := c.f.Points(c.pts)
		var e *FitError
		if !errors.As(err, &e) || e.Error() == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Handles must not flip or loop where the points say little.
func TestFitStaysTame(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for i, p := range garmentEdges() {
		pts := sampled(p, 2, 0.05, rng)
		got, err := Fit{Tol: 0.2, Noise: 0.05}.Points(pts)
		if err != nil {
			t.Errorf("edge %d: %v", i, err)
			continue
		}
		if err := got.Simple(); err != nil {
			t.Errorf("edge %d: %v", i, err)
		}
		if l, want := got.Length(), p.Length(); math.Abs(l-want) > 2e-3*want {
			t.Errorf("edge %d: length %g want %g", i, l, want)
		}
	}
}

func BenchmarkFit(b *testing.B) {
	pts := sampled(garmentEdges()[6], 0.25, 0.03, rand.New(rand.NewPCG(1, 2)))
	for b.Loop() {
		if _, err := (Fit{Tol: 0.07, Noise: 0.03}).Points(pts); err != nil {
			b.Fatal(err)
		}
	}
}

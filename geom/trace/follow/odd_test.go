package follow

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// speckled returns a field whose values come of f, by pixel.
func speckled(w, h int, f func(x, y int) float64) *scan.Field {
	out := &scan.Field{W: w, H: h, V: make([]uint16, w*h)}
	for y := range h {
		for x := range w {
			out.V[y*w+x] = uint16(min(max(f(x, y), 0), 1) * scan.Paper)
		}
	}
	return out
}

func TestOddFields(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for name, f := range map[string]*scan.Field{
		"black":        speckled(300, 200, func(_, _ int) float64 { return 0 }),
		"white":        speckled(300, 200, func(_, _ int) float64 { return 1 }),
		"one pixel":    speckled(1, 1, func(_, _ int) float64 { return 0 }),
		"one row":      speckled(400, 1, func(x, _ int) float64 { return float64(x / 7 % 2) }),
		"one column":   speckled(1, 400, func(_, y int) float64 { return float64(y / 7 % 2) }),
		"noise":        speckled(400, 300, func(_, _ int) float64 { return rng.Float64() }),
		"chequered":    speckled(200, 200, func(x, y int) float64 { return float64((x + y) % 2) }),
		"coarse noise": softNoise(500, 500, 2),
		"not read":     {W: 20, H: 20, V: unread(400)},
	} {
		for _, o := range []Options{{}, {S: dpi300, Least: 4, Gap: 2}, {S: 1, Gap: 50, KeepSmall: true}, {S: math.Inf(1), Gap: math.Inf(1)}, {S: math.NaN(), Least: math.NaN(), Level: math.NaN(), Gap: math.NaN()}, {S: 1e300, Least: 1e300}, {S: -1, Gap: -1, Least: -1, Level: -1}} {
			for kind, do := range map[string]func(context.Context, *scan.Field, Options) (Found, error){"edges": Edges, "strokes": Strokes} {
				found, err := do(context.Background(), f, o)
				if err != nil && !errors.Is(err, errTangled) {
					t.Errorf("%s of %s: %v", kind, name, err)
				}
				finite(t, found)
			}
		}
	}
	for _, f := range []*scan.Field{nil, {}} {
		if _, err := Edges(context.Background(), f, Options{}); err == nil {
			t.Error("edges of nothing")
		}
		if _, err := Strokes(context.Background(), f, Options{}); err == nil {
			t.Error("strokes of nothing")
		}
	}
}

func unread(n int) []uint16 {
	v := make([]uint16, n)
	for i := range v {
		v[i] = scan.Unread
	}
	return v
}

// softNoise returns noise whose patches are about r px wide: a tangle of lines.
func softNoise(w, h, r int) *scan.Field {
	rng := rand.New(rand.NewPCG(5, 6))
	v := make([]float64, w*h)
	for i := range v {
		v[i] = rng.Float64()
	}
	return speckled(w, h, func(x, y int) float64 {
		sum, n := 0.0, 0.0
		for j := max(y-r, 0); j <= min(y+r, h-1); j++ {
			for i := max(x-r, 0); i <= min(x+r, w-1); i++ {
				sum += v[j*w+i]
				n++
			}
		}
		return 0.5 + (sum/n-0.5)*2*float64(r)
	})
}

// finite holds that no point is NaN or infinite.
func finite(t *testing.T, found Found) {
	t.Helper()
	check := func(l Line) {
		for _, p := range l.Pts {
			if !p.Finite() || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
				t.Fatalf("a point at %v", p)
			}
		}
		if math.IsNaN(l.Blur+l.Noise+l.Width) || math.IsInf(l.Blur+l.Noise+l.Width, 0) {
			t.Fatalf("blur %g, noise %g, width %g", l.Blur, l.Noise, l.Width)
		}
	}
	for _, s := range found.Shapes {
		check(s.Outline)
		for _, l := range append(s.Inner, s.Holes...) {
			check(l)
		}
	}
	for _, l := range found.Open {
		check(l.Line)
	}
	for _, l := range found.Cut {
		check(l)
	}
}

func TestGivesUp(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	f := softNoise(300, 300, 2)
	if _, err := Edges(ctx, f, Options{S: dpi300}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	if _, err := Strokes(ctx, f, Options{S: dpi300}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// A quarter turn of the picture turns what is found.
func TestTurnedPicture(t *testing.T) {
	outline := pts(40, 40, 330, 60, 300, 260, 60, 240, 40, 40)
	mark := pts(150, 100, 180, 200)
	f := penned(380, 300, 7, 1.2, toLines(outline, mark))
	g := &scan.Field{W: f.H, H: f.W, V: make([]uint16, len(f.V))}
	for y := range f.H {
		for x := range f.W {
			g.V[x*g.W+(f.H-1-y)] = f.V[y*f.W+x]
		}
	}
	turn := func(p geom.Point) geom.Point { return geom.Pt(float64(f.H)-p.Y, p.X) }
	for kind, do := range map[string]func(context.Context, *scan.Field, Options) (Found, error){"edges": Edges, "strokes": Strokes} {
		a, err := do(context.Background(), f, Options{S: dpi300, Least: 1})
		if err != nil {
			t.Fatal(err)
		}
		b, err := do(context.Background(), g, Options{S: dpi300, Least: 1})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Shapes) != len(b.Shapes) || len(a.Shapes) == 0 || len(a.Shapes[0].Inner) != len(b.Shapes[0].Inner) {
			t.Fatalf("%s: %d shapes and %d", kind, len(a.Shapes), len(b.Shapes))
		}
		var turned []geom.Point
		for _, p := range a.Shapes[0].Outline.Pts {
			turned = append(turned, turn(p))
		}
		turned = append(turned, turned[0])
		if d := offBy(b.Shapes[0].Outline.Pts, toLines(turned)); d > 0.3 {
			t.Errorf("%s: turned lines are %.3f px apart", kind, d)
		}
	}
}

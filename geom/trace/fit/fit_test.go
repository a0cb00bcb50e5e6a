package fit

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// ring returns points along a closed path at steps of about step mm, with Gaussian
// noise of sigma mm.
func ring(p geom.Path, step, sigma float64, rng *rand.Rand) []geom.Point {
	tape := p.Tape()
	n := int(math.Ceil(tape.Length() / step))
	pts := make([]geom.Point, n)
	for i := range pts {
		pts[i] = p.At(tape.At(tape.Length() * float64(i) / float64(n)))
		if sigma > 0 {
			pts[i] = pts[i].Add(geom.Pt(rng.NormFloat64()*sigma, rng.NormFloat64()*sigma))
		}
	}
	return pts
}

// circle is a circle as four cubics, 0.027 % of its radius off (the usual 0.5523).
func circle(o geom.Point, r float64) geom.Path {
	const k = 0.5522847498
	at := func(x, y float64) geom.Point { return o.Add(geom.Pt(x, y).Mul(r)) }
	return geom.Path{
		geom.Cubic(at(1, 0), at(1, k), at(k, 1), at(0, 1)), geom.Cubic(at(0, 1), at(-k, 1), at(-1, k), at(-1, 0)),
		geom.Cubic(at(-1, 0), at(-1, -k), at(-k, -1), at(0, -1)), geom.Cubic(at(0, -1), at(k, -1), at(1, -k), at(1, 0)),
	}
}

// far returns the largest distance between two paths, sampled both ways.
func far(p, q geom.Path) float64 {
	worst := 0.0
	for _, pair := range [2][2]geom.Path{{p, q}, {q, p}} {
		tape := pair[0].Tape()
		for i := range 400 {
			_, d := pair[1].Nearest(pair[0].At(tape.At(tape.Length() * float64(i) / 400)))
			worst = math.Max(worst, d)
		}
	}
	return worst
}

// checkCurve checks what every result promises: flags for all segments, closed or
// joined without a gap, no crossing, and smooth to rounding where no corner is told.
func checkCurve(t rapid.TB, c Curve, closed bool) {
	t.Helper()
	if len(c.Path) != len(c.Corner) || len(c.Path) == 0 {
		t.Fatalf("%d segments, %d flags", len(c.Path), len(c.Corner))
	}
	if closed != c.Path.Closed() {
		t.Errorf("closed: %v", c.Path.Closed())
	}
	if closed && c.Path.Area() <= 0 {
		t.Error("the outline runs clockwise")
	}
	if err := c.Path.Simple(); err != nil {
		t.Error(err)
	}
	for i := range c.Path {
		if i > 0 && c.Path[i].P0 != c.Path[i-1].P3 {
			t.Errorf("a gap before segment %d", i)
		}
		if i == 0 && !closed || c.Corner[i] {
			continue
		}
		if turn := turnBefore(c.Path, i); math.Abs(turn) > 1e-6 {
			t.Errorf("segment %d goes on smoothly, but turns by %g", i, turn)
		}
	}
}

// A polygon comes back as its lines, with its corners, wherever it lies, however
// large it is, and whichever way round its points run.
func TestPolygonsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "corners")
		size := rapid.Float64Range(20, 300).Draw(t, "size")
		turned := rapid.Float64Range(0, 6.28).Draw(t, "turned")
		var pts []geom.Point
		for i := range n {
			a := turned + 2*math.Pi*(float64(i)+rapid.Float64Range(-0.2, 0.2).Draw(t, "angle"))/float64(n)
			pts = append(pts, direct(a).Mul(size*rapid.Float64Range(0.8, 1).Draw(t, "radius")).Add(geom.Pt(500, -200)))
		}
		truth := geom.Polygon(pts...)
		for i := range truth {
			if math.Abs(turnBefore(truth, i)) < 10*degree {
				t.Skip("a corner of less than 10 degrees")
			}
		}
		seed := rapid.Uint64().Draw(t, "seed")
		line := ring(truth, 0.1, 0.003, rand.New(rand.NewPCG(seed, 2)))
		if rapid.Bool().Draw(t, "clockwise") {
			reverse(line)
		}
		c, err := Closed(context.Background(), line, Options{Blur: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		checkCurve(t, c, true)
		if len(c.Path) != n {
			t.Fatalf("%d segments of %d", len(c.Path), n)
		}
		for i, s := range c.Path {
			if !s.Straight || !c.Corner[i] {
				t.Errorf("segment %d: straight %v, corner %v", i, s.Straight, c.Corner[i])
			}
		}
		if d := far(c.Path, truth); d > 0.01 {
			t.Errorf("%g mm off", d)
		}
	})
}

// The vertices alone are points enough for a polygon.
func TestBareVertices(t *testing.T) {
	pts := []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 130, Y: 60}, {X: 0, Y: 80}}
	c, err := Closed(context.Background(), pts, Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkCurve(t, c, true)
	if d := far(c.Path, geom.Polygon(pts...)); len(c.Path) != 4 || d > 0.05 {
		t.Errorf("%d segments, %g mm off", len(c.Path), d)
	}
}

// An outline without corners: a circle needs four cubics within 0.027 % of its radius
// (the classic figure), and gets no corner.
func TestCircle(t *testing.T) {
	for _, r := range []float64{5, 20, 150} {
		truth := circle(geom.Pt(30, 40), r)
		c, err := Closed(context.Background(), ring(truth, 0.1, 0.003, rand.New(rand.NewPCG(1, 2))), Options{Blur: 0.1})
		if err != nil {
			t.Errorf("radius %g: %v", r, err)
			continue
		}
		checkCurve(t, c, true)
		for i := range c.Corner {
			if c.Corner[i] {
				t.Errorf("radius %g: a corner at %.2f", r, c.Path[i].P0)
			}
		}
		if d := far(c.Path, truth); d > 0.02 || len(c.Path) > 6 {
			t.Errorf("radius %g: %d segments, %g mm off", r, len(c.Path), d)
		}
	}
}

// A moved, turned and scaled line gives the moved, turned and scaled path, if what
// the options count in mm is scaled as well.
func TestMovedLines(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	all := outlines(t)
	const blur = 0.2
	for k, m := range []geom.Affine{
		geom.Rotation(1, geom.Point{}),
		geom.Scaling(0.1, 0.1).Then(geom.Translation(geom.Pt(300, -200))),
		geom.Scaling(3, 3).Then(geom.Rotation(-2.5, geom.Point{})),
	} {
		scale := math.Sqrt(m.Det())
		for i := range 2 {
			o := all[(30*i+7*k)%len(all)]
			pts := followed(o.Outline, blur, 0.003, 0.2, rand.New(rand.NewPCG(3, 4)))
			moved := make([]geom.Point, len(pts))
			for i, p := range pts {
				moved[i] = m.Apply(p)
			}
			a, err := Closed(context.Background(), pts, Options{Blur: blur})
			if err != nil {
				t.Fatal(err)
			}
			b, err := Closed(context.Background(), moved, Options{Blur: blur * scale, Tol: DefaultTol * scale})
			if err != nil {
				t.Fatal(err)
			}
			if d := far(a.Path.Transform(m), b.Path) / scale; len(a.Path) != len(b.Path) || d > 0.05 {
				t.Errorf("%s: %d and %d segments, %g mm apart", o.Name, len(a.Path), len(b.Path), d)
			}
		}
	}
}

// Specks and notch ticks on an edge are passed over.
func TestSpecks(t *testing.T) {
	truth := geom.Polygon(geom.Pt(0, 0), geom.Pt(120, 0), geom.Pt(120, 80), geom.Pt(0, 80))
	for _, high := range []float64{0.15, 0.3, 0.5} {
		rng := rand.New(rand.NewPCG(5, 6))
		pts := ring(truth, 0.1, 0.003, rng)
		for _, at := range []int{300, 650, 1500, 2600, 3100} {
			// A half round of the height, as long as it is wide.
			n := int(high / 0.1)
			for k := -n; k <= n; k++ {
				up := math.Sqrt(math.Max(0, high*high-0.01*float64(k*k)))
				dir := pts[at+n+2].Sub(pts[at-n-2]).Unit().Left()
				pts[at+k] = pts[at+k].Sub(dir.Mul(up))
			}
		}
		c, err := Closed(context.Background(), pts, Options{Blur: 0.1})
		if err != nil {
			t.Errorf("%g mm: %v", high, err)
			continue
		}
		if d := far(c.Path, truth); len(c.Path) != 4 || d > 0.05 {
			t.Errorf("%g mm: %d segments, %g mm off", high, len(c.Path), d)
		}
	}
}

// Corners that are told are corners, even on a straight or round line.
func TestGivenCorners(t *testing.T) {
	truth := circle(geom.Pt(0, 0), 30)
	pts := ring(truth, 0.1, 0.003, rand.New(rand.NewPCG(7, 8)))
	told := []int{200, 1000}
	for _, clockwise := range []bool{false, true} {
		if clockwise {
			reverse(pts)
		}
		c, err := Closed(context.Background(), pts, Options{Blur: 0.1, Corners: told})
		if err != nil {
			t.Fatal(err)
		}
		checkCurve(t, c, true)
		for _, k := range told {
			near := math.Inf(1)
			for i := range c.Path {
				if c.Corner[i] {
					near = math.Min(near, c.Path[i].P0.Dist(pts[k]))
				}
			}
			if near > 0.3 {
				t.Errorf("clockwise %v: the corner told at %.2f is %g mm away", clockwise, pts[k], near)
			}
		}
		if d := far(c.Path, truth); d > 0.05 {
			t.Errorf("%g mm off", d)
		}
	}
	// Indices that are none are passed over.
	if _, err := Closed(context.Background(), pts, Options{Corners: []int{-1, len(pts), 5}, Tips: []Tip{{At: -3}, {At: 1 << 40}}}); err != nil {
		t.Error(err)
	}
}

// An open line runs from its first to its last point.
func TestOpen(t *testing.T) {
	truth := geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(60, 0)), geom.Cubic(geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(90, 60), geom.Pt(130, 60))}
	tape := truth.Tape()
	rng := rand.New(rand.NewPCG(9, 10))
	var pts []geom.Point
	for s := 0.0; s < tape.Length(); s += 0.1 {
		pts = append(pts, truth.At(tape.At(s)).Add(geom.Pt(0, rng.NormFloat64()*0.003)))
	}
	pts = append(pts, truth.End())
	c, err := Open(context.Background(), pts, Options{Blur: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	checkCurve(t, c, false)
	if d := far(c.Path, truth); len(c.Path) != 2 || d > 0.03 || !c.Path[0].Straight || !c.Corner[0] || !c.Corner[1] {
		t.Errorf("%d segments, %g mm off, corners %v", len(c.Path), d, c.Corner)
	}
	two, err := Open(context.Background(), []geom.Point{{X: 1, Y: 2}, {X: 8, Y: 3}}, Options{})
	if err != nil || len(two.Path) != 1 || !two.Path[0].Straight || far(two.Path, geom.Path{geom.Line(geom.Pt(1, 2), geom.Pt(8, 3))}) > 1e-3 {
		t.Errorf("two points: %v, %v", two, err)
	}
}

// Lines that are none are refused, and say why.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, pts := range map[string][]geom.Point{
		"nothing":       nil,
		"one point":     {{X: 1, Y: 1}},
		"one repeated":  {{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}},
		"two points":    {{X: 1, Y: 1}, {X: 2, Y: 1}},
		"not a number":  {{X: 1, Y: nan}, {X: 2, Y: 1}, {X: 2, Y: 2}},
		"infinite":      {{X: 1, Y: 1}, {X: inf, Y: 1}, {X: 2, Y: 2}},
		"too far away":  {{X: 1, Y: 1}, {X: 1e9, Y: 1}, {X: 2, Y: 2}},
		"no area":       {{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 100, Y: 0}, {X: 20, Y: 0}},
		"a figure of 8": {{X: 0, Y: 0}, {X: 100, Y: 100}, {X: 100, Y: 0}, {X: 0, Y: 90}},
	} {
		if c, err := Closed(context.Background(), pts, Options{}); err == nil {
			t.Errorf("%s: %v", name, c)
		}
	}
	if _, err := Open(context.Background(), []geom.Point{{X: 1, Y: 1}, {X: 1, Y: 1}}, Options{}); err == nil {
		t.Error("an open line of one point")
	}
}

// Whatever the points, there is an answer, and it keeps its promises.
func TestAnyPoints(t *testing.T) {
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 11))
		size := []float64{1e-3, 3, 200}[rng.IntN(3)]
		pts := make([]geom.Point, 1+rng.IntN(16))
		for i := range pts {
			pts[i] = geom.Pt(rng.Float64(), rng.Float64()).Mul(size)
			if i > 0 && rng.IntN(8) == 0 {
				pts[i] = pts[rng.IntN(i)]
			}
		}
		o := Options{Tol: []float64{0, 0.02, 5}[rng.IntN(3)], Blur: []float64{0, 0.1, 3}[rng.IntN(3)], Pen: []float64{0, 0.6, 10}[rng.IntN(3)]}
		if c, err := Closed(context.Background(), pts, o); err == nil {
			checkCurve(t, c, true)
		}
		if c, err := Open(context.Background(), pts, o); err == nil {
			checkCurve(t, c, false)
		}
		if t.Failed() {
			t.Fatalf("seed %d: %v in %v", seed, o, pts)
		}
	}
}

// knot is a closed line of crooked spikes, such as a run of specks along an edge leaves.
func knot(seed uint64) []geom.Point {
	rng := rand.New(rand.NewPCG(seed, 1))
	const spikes, inner = 90, 12.0
	var pts []geom.Point
	for i := range spikes {
		a, r := 2*math.Pi*float64(i)/spikes, inner+3*rng.Float64()
		pts = append(pts, direct(a).Mul(inner), direct(a).Mul(r), direct(a+0.03).Mul(r))
	}
	return pts
}

// No number that is none comes about, however wild the line and what is told of it: it
// would be refused at the end, with a path that need not have been lost.
func TestUnknownsStayFinite(t *testing.T) {
	look := func(t rapid.TB, pts []geom.Point, o Options) {
		t.Helper()
		var none *geom.NotFiniteError
		c, err := Closed(context.Background(), pts, o)
		if errors.As(err, &none) {
			t.Fatal(err)
		}
		if err == nil {
			checkCurve(t, c, true)
		}
		if c, err = Open(context.Background(), pts, o); errors.As(err, &none) {
			t.Fatal(err)
		}
		if err == nil {
			checkCurve(t, c, false)
		}
	}
	for _, seed := range []uint64{2, 14, 17} { // these did
		look(t, knot(seed), Options{Tol: 0.2, Blur: 0.5, Noise: 0.09})
	}
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 12))
		size := []float64{1e-3, 3, 200}[rng.IntN(3)]
		pts := make([]geom.Point, 1+rng.IntN(24))
		for i := range pts {
			switch rng.IntN(4) {
			case 0:
				pts[i] = pts[rng.IntN(i+1)]
			case 1:
				pts[i] = geom.Pt(rng.Float64(), rng.Float64()).Mul(size)
			default:
				pts[i] = direct(2 * math.Pi * float64(i) / float64(len(pts))).Mul(size * (1 + 0.2*rng.Float64()))
			}
		}
		o := Options{
			Tol: []float64{0, 0.02, 5}[rng.IntN(3)], Blur: []float64{0, 0.1, 3, 50}[rng.IntN(4)],
			Pen: []float64{0, 0.6, 10}[rng.IntN(3)], Noise: []float64{0, 0.1, 4}[rng.IntN(3)],
		}
		for range rng.IntN(4) {
			o.Tips = append(o.Tips, Tip{At: rng.IntN(len(pts)), P: pts[rng.IntN(len(pts))]})
			o.Corners = append(o.Corners, rng.IntN(len(pts)))
		}
		look(t, pts, o)
	}
}

// Joints that fall together, and unknowns of which nothing is said, move nothing to
// where no number is.
func TestChainOfNoLength(t *testing.T) {
	p := geom.Pt(3, 4)
	c := &chain{
		joints: []joint{{p: p, corner: true}, {p: p}, {p: p}, {p: geom.Pt(9, 4), corner: true}},
		spans:  []span{{out: 1, in: 1}, {}, {straight: true}},
		noise:  1e-3, huber: 1e-2,
	}
	for i := range 20 {
		c.samples = append(c.samples, sample{p: p.Add(geom.Pt(float64(i)*0.3, 0.01)), w: 1, span: min(2, i/6)})
	}
	c.solve(solveSteps)
	c.merge(1)
	c.solve(solveSteps)
	for i, s := range c.segs {
		if !s.P0.Finite() || !s.P1.Finite() || !s.P2.Finite() || !s.P3.Finite() {
			t.Errorf("segment %d: %v", i, s)
		}
	}
}

// Small outlines of a doll's scale keep their shape.
func TestTinyOutlines(t *testing.T) {
	for _, size := range []float64{3, 6} {
		k := size / 100
		truth := geom.Polygon(geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 70), geom.Pt(0, 90)).Transform(geom.Scaling(k, k))
		c, err := Closed(context.Background(), ring(truth, 0.04, 0.001, rand.New(rand.NewPCG(1, 9))), Options{Blur: 0.04})
		if err != nil {
			t.Errorf("%g mm: %v", size, err)
			continue
		}
		checkCurve(t, c, true)
		if d := far(c.Path, truth); len(c.Path) != 4 || d > 0.05 {
			t.Errorf("%g mm: %d segments, %g mm off", size, len(c.Path), d)
		}
	}
}

// A hundred thousand points are walked in steps, and a wild line of them ends.
func TestManyPoints(t *testing.T) {
	big := circle(geom.Pt(0, 0), 400)
	if c, err := Closed(context.Background(), ring(big, big.Length()/1e5, 0.002, rand.New(rand.NewPCG(2, 2))), Options{Blur: 0.1}); err != nil || far(c.Path, big) > 0.05 {
		t.Error(err)
	}
	rng := rand.New(rand.NewPCG(3, 3))
	wild := make([]geom.Point, 100000)
	for i := range wild {
		a := 2 * math.Pi * float64(i) / float64(len(wild))
		wild[i] = direct(a).Mul(100 + 3*rng.NormFloat64())
	}
	ctx, stop := context.WithTimeout(context.Background(), 2*time.Second)
	defer stop()
	if c, err := Closed(ctx, wild, Options{Blur: 0.1}); err == nil {
		checkCurve(t, c, true)
	}
}

// A cancelled fit says so.
func TestCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	pts := followed(outlines(t)[0].Outline, 0.1, 0.003, 0.1, rand.New(rand.NewPCG(1, 1)))
	if _, err := Closed(ctx, pts, Options{Blur: 0.1}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func BenchmarkScribble(b *testing.B) {
	rng := rand.New(rand.NewPCG(4, 4))
	pts := make([]geom.Point, 60)
	for i := range pts {
		pts[i] = geom.Pt(200*rng.Float64(), 200*rng.Float64())
	}
	for b.Loop() {
		Closed(context.Background(), pts, Options{Blur: 0.1})
	}
}

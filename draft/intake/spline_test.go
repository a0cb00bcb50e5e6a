package intake

import (
	"math"
	"sort"
	"testing"

	"hemlet/geom"
	"pgregory.net/rapid"
)

// basis is the B-spline basis function by the recursion of Cox and de Boor,
// which the reader does not use.
func basis(knots []float64, i, p int, u float64) float64 {
	if p == 0 {
		if knots[i] <= u && u < knots[i+1] {
			return 1
		}
		return 0
	}
	v := 0.0
	if d := knots[i+p] - knots[i]; d > 0 {
		v += (u - knots[i]) / d * basis(knots, i, p-1, u)
	}
	if d := knots[i+p+1] - knots[i+1]; d > 0 {
		v += (knots[i+p+1] - u) / d * basis(knots, i+1, p-1, u)
	}
	return v
}

func (b *bspline) direct(u float64) geom.Point {
	var h homogeneous
	for i, c := range b.control {
		n := basis(b.knots, i, b.degree, u)
		h.x, h.y, h.w = h.x+n*c.x, h.y+n*c.y, h.w+n*c.w
	}
	return h.point()
}

// randomSpline draws a spline with single and repeated knots, clamped or not.
func randomSpline(t *rapid.T, maxDegree int, rational bool) *bspline {
	p := rapid.IntRange(1, maxDegree).Draw(t, "degree")
	n := rapid.IntRange(p+1, p+6).Draw(t, "control points")
	b := &bspline{degree: p, rational: rational}
	for range n {
		w := 1.0
		if rational {
			w = rapid.Float64Range(0.3, 3).Draw(t, "weight")
		}
		x, y := rapid.Float64Range(-100, 100).Draw(t, "x"), rapid.Float64Range(-100, 100).Draw(t, "y")
		b.control = append(b.control, homogeneous{x * w, y * w, w})
	}
	for range n + p + 1 {
		b.knots = append(b.knots, float64(rapid.IntRange(0, 12).Draw(t, "knot")))
	}
	sort.Float64s(b.knots)
	if rapid.Bool().Draw(t, "clamped") {
		for i := range p {
			b.knots[i], b.knots[n+1+i] = b.knots[p], b.knots[n]
		}
	}
	if b.check() != nil {
		t.Skip("no length")
	}
	return b
}

// spans returns the knot spans that have a length.
func (b *bspline) spans() (out [][2]float64) {
	for k := b.degree; k < len(b.control); k++ {
		if b.knots[k] < b.knots[k+1] {
			out = append(out, [2]float64{b.knots[k], b.knots[k+1]})
		}
	}
	return out
}

func TestSplinesUpToDegree3AreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomSpline(t, 3, false)
		path, err := b.cubics(splineTolerance, 1000)
		if err != nil {
			t.Fatal(err)
		}
		spans := b.spans()
		if len(path) != len(spans) {
			t.Fatalf("%d segments for %d spans", len(path), len(spans))
		}
		for i, s := range spans {
			// A spline may tear where a knot is repeated more often than its degree;
			// the path then closes the gap, so that its handles alone are compared.
			for _, v := range []float64{0.1, 0.5, 0.9} {
				if d := path[i].At(v).Dist(b.direct(s[0] + v*(s[1]-s[0]))); d > 1e-9 && !b.tears() {
					t.Errorf("span %d at %g: %g off", i, v, d)
				}
			}
		}
	})
}

// tears reports whether an inner knot is repeated more often than the degree.
func (b *bspline) tears() bool {
	for i := 1; i+b.degree < len(b.knots)-1; i++ {
		if b.knots[i] == b.knots[i+b.degree] && b.knots[i] > b.knots[b.degree] && b.knots[i] < b.knots[len(b.control)] {
			return true
		}
	}
	return false
}

func TestOtherSplinesAreWithinTolerance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := randomSpline(t, 7, true)
		if b.tears() {
			t.Skip("torn")
		}
		path, err := b.cubics(splineTolerance, 100_000)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range b.spans() {
			for i := range 9 {
				p := b.direct(s[0] + (float64(i)+0.5)/9*(s[1]-s[0]))
				if _, d := path.Nearest(p); !(d <= splineTolerance) {
					t.Errorf("%v: %g mm off", p, d)
				}
			}
		}
	})
}

// Through points of a line the spline is the line; through points of a circle,
// with its end tangents, it comes as close as the fourth power of their step.
func TestThrough(t *testing.T) {
	line := through([]geom.Point{{X: 0}, {X: 1, Y: 1}, {X: 5, Y: 5}, {X: 6, Y: 6}}, geom.Point{}, geom.Point{})
	for _, s := range line {
		for _, v := range []float64{0.2, 0.7} {
			if p := s.At(v); math.Abs(p.X-p.Y) > 1e-12 {
				t.Errorf("off the line at %v", p)
			}
		}
	}
	const n = 24
	var pts []geom.Point
	for i := 0; i <= n; i++ {
		a := math.Pi / 2 * float64(i) / n
		pts = append(pts, geom.Pt(100*math.Cos(a), 100*math.Sin(a)))
	}
	worst := 0.0
	for _, s := range through(pts, geom.Pt(0, 1), geom.Pt(-1, 0)) {
		for i := range 9 {
			worst = max(worst, math.Abs(s.At(float64(i)/8).Len()-100))
		}
	}
	if worst > 1e-3 {
		t.Errorf("%g mm off a circle of 100 mm through 25 points of its quarter", worst)
	}
}

package geom

import (
	"math"

	"pgregory.net/rapid"
)

// drawPoint draws a point within size mm of the origin, now and then on a
// coarse grid, so that points coincide and line up.
func drawPoint(t *rapid.T, size float64, label string) Point {
	c := rapid.Float64Range(-1, 1)
	x, y := c.Draw(t, label+" x"), c.Draw(t, label+" y")
	if rapid.IntRange(0, 3).Draw(t, label+" on grid") == 0 {
		x, y = math.Round(x*4)/4, math.Round(y*4)/4
	}
	return Point{x * size, y * size}
}

// drawCubic draws a cubic of any kind: plain, with zero-length handles, all on
// one line, with a cusp, with a loop, a single point.
func drawCubic(t *rapid.T, size float64) Segment {
	p := func(l string) Point { return drawPoint(t, size, l) }
	a, b, c, d := p("P0"), p("P1"), p("P2"), p("P3")
	switch rapid.IntRange(0, 9).Draw(t, "kind") {
	case 0:
		b = a
	case 1:
		c = d
	case 2:
		b, c = a, d
	case 3: // on one line, handles anywhere on it
		s := rapid.Float64Range(-2, 3)
		b, c = a.Lerp(d, s.Draw(t, "share 1")), a.Lerp(d, s.Draw(t, "share 2"))
	case 4: // a cusp: the handles cross so that the derivative vanishes inside
		return cuspAt(a, d, b.Sub(a), rapid.Float64Range(0.2, 0.8).Draw(t, "cusp at"))
	case 5: // a loop: ends meet
		d = a
	case 6:
		if rapid.IntRange(0, 5).Draw(t, "point") == 0 {
			b, c, d = a, a, a
		}
	}
	return Cubic(a, b, c, d)
}

// drawPlain draws a segment of any kind on a grid of a thousandth of the size, so
// that nothing about it is as small as a tolerance.
func drawPlain(t *rapid.T, size float64) Segment {
	s := drawSegment(t, 1)
	grid := func(p Point) Point {
		return Point{math.Round(p.X*1000) / 1000 * size, math.Round(p.Y*1000) / 1000 * size}
	}
	if s.Straight {
		return Line(grid(s.P0), grid(s.P3))
	}
	return Cubic(grid(s.P0), grid(s.P1), grid(s.P2), grid(s.P3))
}

// drawPlainSize draws a size in mm from 10 mm to 100 m.
func drawPlainSize(t *rapid.T) float64 {
	return math.Round(math.Pow(10, rapid.Float64Range(1, 5).Draw(t, "log size")))
}

// cuspAt returns a cubic from a to d whose derivative vanishes at parameter u:
// with Bernstein weights of the derivative, (1-u)² v0 + 2u(1-u) v1 + u² v2 = 0
// for the three handle vectors, of which v0 is given.
func cuspAt(a, d, v0 Point, u float64) Segment {
	w0, w1, w2 := (1-u)*(1-u), 2*u*(1-u), u*u
	// v0 + v1 + v2 = d - a and w0 v0 + w1 v1 + w2 v2 = 0.
	sum := d.Sub(a).Sub(v0)
	v1 := v0.Mul(-w0).Sub(sum.Mul(w2)).Mul(1 / (w1 - w2))
	if math.Abs(w1-w2) < 0.05 {
		v1 = sum.Mul(0.5)
	}
	return Cubic(a, a.Add(v0), a.Add(v0).Add(v1), d)
}

// drawSize draws the size of a figure in mm, from 0.1 mm to 100 m.
func drawSize(t *rapid.T) float64 {
	return math.Pow(10, rapid.Float64Range(-1, 5).Draw(t, "log size"))
}

// drawSegment draws a cubic of any kind or a line.
func drawSegment(t *rapid.T, size float64) Segment {
	if rapid.IntRange(0, 4).Draw(t, "straight") == 0 {
		return Line(drawPoint(t, size, "from"), drawPoint(t, size, "to"))
	}
	return drawCubic(t, size)
}

// wild is a segment for every kind of number that must not hang or panic.
func wild() []Segment {
	nan, inf := math.NaN(), math.Inf(1)
	odd := []Point{{nan, 0}, {0, nan}, {inf, 0}, {0, -inf}, {inf, -inf}, {1e308, -1e308}, {1e200, 1e200}, {5e-324, 0}, {}}
	var all []Segment
	for _, p := range odd {
		for i := range 4 {
			c := [4]Point{{0, 0}, {10, 20}, {30, -20}, {40, 0}}
			c[i] = p
			all = append(all, Cubic(c[0], c[1], c[2], c[3]))
		}
		all = append(all, Cubic(p, p, p, p), Line(p, Pt(1, 1)), Line(Pt(1, 1), p), Line(p, p))
	}
	return all
}

// circle returns the circle by four cubics with handles of the length that makes
// the middle of each quarter exact: 4/3 (√2 - 1) of the radius. It runs
// counter-clockwise from (r, 0).
func circle(c Point, r float64) Path {
	k := 4. / 3 * (math.Sqrt2 - 1) * r
	at := []Point{{r, 0}, {0, r}, {-r, 0}, {0, -r}}
	p := make(Path, 4)
	for i, a := range at {
		b := at[(i+1)%4]
		p[i] = Cubic(c.Add(a), c.Add(a).Add(a.Left().Unit().Mul(k)), c.Add(b).Sub(b.Left().Unit().Mul(k)), c.Add(b))
	}
	return p
}

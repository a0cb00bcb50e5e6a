package trace

import (
	"math"
	"testing"

	"hemlet/geom"
)

// rounded returns a closed square of side mm whose corners are arcs of radius r.
func rounded(side, r float64) []geom.Point {
	var out []geom.Point
	for k := range 4 {
		turn := geom.Rotation(float64(k)*math.Pi/2, geom.Point{})
		mid := geom.Pt(side/2-r, -side/2+r)
		for i := range 9 {
			sin, cos := math.Sincos(-math.Pi/2 + float64(i)*math.Pi/16)
			out = append(out, turn.Apply(mid.Add(geom.Pt(r*cos, r*sin))))
		}
		for y := -side/2 + r + 0.1; y < side/2-r; y += 0.1 {
			out = append(out, turn.Apply(geom.Pt(side/2, y)))
		}
	}
	return append(out, out[0])
}

func TestSharpenedAgainstClosedForms(t *testing.T) {
	const side, pen = 30.0, 0.6
	sharp := square(-side/2, -side/2, side/2, side/2)
	for _, c := range []struct {
		name        string
		r           float64
		least, most float64 // what is then said of a path with sharp corners
	}{
		{"a pen's corner", 0.25, 0, 1e-6},
		// What nobody drew sharp is told: an arc misses its corner by r (√2 - 1).
		{"drawn round", 3, 3*(math.Sqrt2-1) - 0.1, 3*(math.Sqrt2-1) + 0.1},
	} {
		ink := rounded(side, c.r)
		got := Sharpened(sharp, ink, 0, pen)
		if got[0] != got[len(got)-1] {
			t.Errorf("%s: does not close", c.name)
		}
		if d := Review(sharp, [][]geom.Point{got}); d.Largest < c.least || d.Largest > c.most {
			t.Errorf("%s: off by %g, not between %g and %g", c.name, d.Largest, c.least, c.most)
		}
	}
}

// A corner between two bent sides comes where their circles cross.
func TestSharpenedBetweenArcs(t *testing.T) {
	const r, far = 20.0, 15.0 // two circles about (±far, 0) cross at (0, √(r² - far²))
	tip := geom.Pt(0, math.Sqrt(r*r-far*far))
	var ink []geom.Point
	at := func(cx, a float64) geom.Point {
		sin, cos := math.Sincos(a)
		return geom.Pt(cx+r*cos, r*sin)
	}
	a0 := math.Acos(far / r)
	const gone = 0.02 // radians: 0.4 mm
	for a := 0.1; a < a0-gone; a += 0.005 {
		ink = append(ink, at(-far, a))
	}
	for a := math.Pi - a0 + gone; a < math.Pi-0.1; a += 0.005 {
		ink = append(ink, at(far, a))
	}
	cubic := func(from, mid, to geom.Point) geom.Segment { // only its ends and directions count
		return geom.Cubic(from, from.Lerp(mid, 0.66), to.Add(mid.Sub(to).Mul(0.66)), to)
	}
	path := geom.Path{cubic(ink[0], at(-far, a0/2).Mul(1.02), tip), cubic(tip, at(far, math.Pi-a0/2).Mul(1.02), ink[len(ink)-1])}
	got := Sharpened(path, ink, 0, 0.8)
	near := math.Inf(1)
	for _, p := range got {
		near = math.Min(near, p.Dist(tip))
	}
	if near > 0.01 {
		t.Errorf("the nearest point of the ink to the corner lies %.3f mm off", near)
	}
	if got[0] != ink[0] || got[len(got)-1] != ink[len(ink)-1] {
		t.Error("the ends have moved")
	}
}

func TestSharpenedLeavesWhatHasNoCorners(t *testing.T) {
	ink := rounded(30, 5)
	for name, path := range map[string]geom.Path{
		"none":     nil,
		"straight": {geom.Line(geom.Pt(0, 0), geom.Pt(5, 0)), geom.Line(geom.Pt(5, 0), geom.Pt(9, 0.1))},
		"tiny":     square(0, 0, 0.2, 0.2),
	} {
		got := Sharpened(path, ink, 0.05, 0.6)
		if len(got) != len(ink) {
			t.Errorf("%s: %d points of %d", name, len(got), len(ink))
		}
	}
	if got := Sharpened(square(0, 0, 9, 9), nil, 0.05, 0.6); len(got) != 0 {
		t.Errorf("no ink: %v", got)
	}
	if got := Sharpened(square(0, 0, 9, 9), []geom.Point{{X: 1}}, 0.05, 0.6); len(got) != 1 {
		t.Errorf("one point: %v", got)
	}
}

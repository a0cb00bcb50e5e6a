package trace

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/follow"
)

func TestPolygonKeepsWithinItsTolerance(t *testing.T) {
	var pts []geom.Point
	for i := range 2000 {
		s, c := math.Sincos(-float64(i) * math.Pi / 1000)
		pts = append(pts, geom.Pt(80*c, 50*s))
	}
	p := polygon(pts, .1)
	if p.Area() <= 0 || p.Simple() != nil || len(p) > 150 {
		t.Fatalf("%d lines, area %g, %v", len(p), p.Area(), p.Simple())
	}
	for _, q := range pts {
		if _, d := p.Nearest(q); d > .1+1e-9 {
			t.Fatalf("%v lies %g mm off", q, d)
		}
	}
}

// Where no curve is found, straight lines cover the ink, and the result says of which
// outline: here a disc with crooked spikes, too close for what its blur lets tell.
func TestPlainLinesAreTold(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	const spikes, inner = 90, 12.0
	at := func(angle, r float64) geom.Point {
		s, c := math.Sincos(angle)
		return geom.Pt(c*r+50, s*r+40)
	}
	var pts []geom.Point
	for i := range spikes {
		a, r := 2*math.Pi*float64(i)/spikes, inner+3*rng.Float64()
		pts = append(pts, at(a, inner), at(a, r), at(a+.03, r))
	}
	disc := follow.Line{Closed: true, Blur: .5, Noise: .09, Pts: pts}
	box := follow.Line{Closed: true, Blur: .1, Pts: []geom.Point{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100, Y: 90}, {X: 0, Y: 90}}}
	j := job{m: geom.Plane, s: 1}
	o := Options{}.withDefaults()
	res, err := j.fit(context.Background(), follow.Found{Shapes: []follow.Shape{{Outline: disc}, {Outline: box, Holes: []follow.Line{disc}}, {Outline: box}}}, o, func(float64, string) {})
	if err != nil || len(res.Outlines) != 3 {
		t.Fatalf("%d outlines, %v", len(res.Outlines), err)
	}
	if n := len(res.Outlines[0].Path); n < 200 || res.Outlines[0].Off.Largest > o.Tol {
		t.Errorf("%d lines, %g mm off", n, res.Outlines[0].Off.Largest)
	}
	if n := len(res.Outlines[1].Path); n != 4 || len(res.Outlines[1].Holes) != 1 {
		t.Errorf("the box round the hole has %d segments and %d holes", n, len(res.Outlines[1].Holes))
	}
	if len(res.Says) != 2 {
		t.Fatalf("%q", res.Says)
	}
	for i, what := range []string{"outline", "hole"} {
		if s := res.Says[i]; !strings.Contains(s, "the "+what+" about (50, 40) mm") || !strings.Contains(s, "straight lines") {
			t.Errorf("%q", s)
		}
	}
}

// Curves that lead far out of the box round their line are not taken for it.
func TestAstray(t *testing.T) {
	pts := []geom.Point{geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(10, 10), geom.Pt(0, 10)}
	if astray(geom.Polygon(pts...), pts) {
		t.Error("a square strays from its own corners")
	}
	far := geom.Path{geom.Line(pts[0], pts[1]), geom.Cubic(pts[1], geom.Pt(60, 10), geom.Pt(10, 40), pts[3]), geom.Line(pts[3], pts[0])}
	if !astray(far, pts) {
		t.Error("a curve of four times the width does not stray")
	}
}

package trace

import (
	"math"
	"testing"

	"hemlet/geom"
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

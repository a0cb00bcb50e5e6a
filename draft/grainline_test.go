package draft

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

func TestUprightGrainOfARectangle(t *testing.T) {
	g := grainAlong(geom.Polygon(geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(50, 100), geom.Pt(0, 100)), upright)
	if g == nil || !g.From.Near(geom.Pt(34, 20), 1e-9) || !g.To.Near(geom.Pt(34, 80), 1e-9) {
		t.Errorf("grain %+v, want from (34, 20) to (34, 80)", g)
	}
}

// Whatever the outline, the grain line runs as wanted and has cloth all along it.
func TestGrainLineLiesInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// A comb of random teeth: many hollows, always simple.
		n := rapid.IntRange(2, 8).Draw(t, "teeth")
		pts := []geom.Point{geom.Pt(0, -10), geom.Pt(float64(n*10), -10)}
		for i := n; i >= 0; i-- {
			pts = append(pts, geom.Pt(float64(i*10), rapid.Float64Range(0, 90).Draw(t, "y")))
		}
		outline := geom.Polygon(pts...)
		angle := rapid.Float64Range(-4, 4).Draw(t, "angle")
		g := grainAlong(outline, angle)
		if g == nil {
			t.Fatal("no grain")
		}
		along := geom.Pt(math.Cos(angle), math.Sin(angle))
		if way := g.To.Sub(g.From); way.Dot(along) <= 0 || math.Abs(way.Cross(along)) > 1e-9*way.Len() {
			t.Fatalf("grain %+v does not run at %g", g, angle)
		}
		for i := 0; i <= 20; i++ {
			if at := g.From.Lerp(g.To, float64(i)/20); !outline.Contains(at) {
				t.Fatalf("grain %+v leaves the cloth at %v", g, at)
			}
		}
	})
}

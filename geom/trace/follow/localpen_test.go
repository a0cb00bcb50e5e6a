package follow

import (
	"testing"

	"hemlet/geom"
)

// In a photograph a pen draws wider near the camera than far from it: its line is followed
// up to its corners all the same.
func TestAPenThatWidens(t *testing.T) {
	const w, h, mean = 900, 500, 7.0
	corners := pts(60, 60, 840, 60, 840, 440, 60, 440, 60, 60)
	box := toLines(corners)
	wide := func(p geom.Point) float64 { return mean * (1 + 0.6*(p.X/w-0.5)) } // 5.1 to 8.7 px
	f := penned(w, h, mean, 1.0, func(p geom.Point) float64 { return box(p) * mean / wide(p) })
	found := strokesOf(t, f, Options{})
	if len(found.Shapes) != 1 || len(found.Open) != 0 {
		t.Fatalf("%d shapes, %d open", len(found.Shapes), len(found.Open))
	}
	line := found.Shapes[0].Outline.Pts
	for _, c := range corners[:4] {
		near := 0
		for _, p := range line {
			if d := p.Dist(c); d > mean && d < 4*mean {
				near++
			}
		}
		if near < 3*mean {
			t.Errorf("beside the corner at %v the line has but %d points", c, near)
		}
	}
	if d := offBy(line, box); d > 0.3 {
		t.Errorf("off by %.2f px", d)
	}
}

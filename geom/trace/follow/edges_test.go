package follow

import (
	"context"
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// drawn returns a field of w by h px whose ink is told by its signed distance to the edge,
// below 0 inside, softened by sigma as a straight edge would be.
func drawn(w, h int, sigma float64, dist func(p geom.Point) float64) *scan.Field {
	f := &scan.Field{W: w, H: h, V: make([]uint16, w*h)}
	for y := range h {
		for x := range w {
			d := dist(geom.Pt(float64(x)+0.5, float64(y)+0.5))
			f.V[y*w+x] = uint16(math.Round(scan.Paper * (1 + math.Erf(d/(sigma*math.Sqrt2))) / 2))
		}
	}
	return f
}

func disc(at geom.Point, r float64) func(geom.Point) float64 {
	return func(p geom.Point) float64 { return p.Dist(at) - r }
}

func TestDiscEdge(t *testing.T) {
	at := geom.Pt(61.3, 58.8)
	f := drawn(120, 120, 1.2, disc(at, 40))
	found, err := Edges(context.Background(), f, Options{S: 300 / 25.4, Least: 1})
	if err != nil || len(found.Shapes) != 1 || found.Specks+len(found.Cut) != 0 {
		t.Fatalf("%+v, %v", found, err)
	}
	line := found.Shapes[0].Outline
	worst, mean := 0.0, 0.0
	for _, p := range line.Pts {
		d := p.Dist(at) - 40
		worst, mean = max(worst, math.Abs(d)), mean+d/float64(len(line.Pts))
	}
	if worst > 0.02 || math.Abs(mean) > 0.005 {
		t.Errorf("off by up to %.4f px, %.4f in the mean", worst, mean)
	}
	if math.Abs(line.Blur-1.2) > 0.1 {
		t.Errorf("blur %.3f px, want 1.2", line.Blur)
	}
	if line.Noise > 0.01 {
		t.Errorf("noise %.4f px on a clean disc", line.Noise)
	}
	if a := signedArea(line.Pts); a > 0 {
		t.Errorf("area %.1f: not counter-clockwise on screen", a)
	}
}

package follow

import (
	"context"
	"math"
	"testing"

	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// toned returns a disc of light, softened by a Gaussian of sigma px and stored as its power
// 1/power with ink of the given light, as scan.Even would make a field of it.
func toned(t *testing.T, sigma, power, ink float64, dark bool) *scan.Field {
	t.Helper()
	r := &scan.Raster{W: 600, H: 600, Pix: make([]uint8, 600*600)}
	for y := range r.H {
		for x := range r.W {
			d := geom.Pt(float64(x)+0.5, float64(y)+0.5).Dist(geom.Pt(300.3, 299.8)) - 200
			if dark {
				d = -d
			}
			light := ink + (1-ink)*(1+math.Erf(d/(sigma*math.Sqrt2)))/2
			r.Pix[y*r.W+x] = uint8(math.Round(230 * math.Pow(light, 1/power)))
		}
	}
	f, err := scan.Even(context.Background(), r, scan.Light{S: dpi300, Dark: dark})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The edge is found where the light is half, whatever power of it was stored.
func TestEdgeOfStoredPowers(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector; run without -short")
	}
	for _, power := range []float64{1, 1.8, 2.4} {
		for _, ink := range []float64{0.02, 0.1} {
			for _, dark := range []bool{false, true} {
				if dark && ink < 0.1 {
					continue // a dark ground as black as that is rare, and scans take their time
				}
				f := toned(t, 1, power, ink, dark)
				found, err := Edges(context.Background(), f, Options{S: dpi300, Least: 1})
				if err != nil || len(found.Shapes) != 1 {
					t.Fatal(found, err)
				}
				off := 0.0
				l := found.Shapes[0].Outline.Pts
				for _, p := range l {
					off += (p.Dist(geom.Pt(300.3, 299.8)) - 200) / float64(len(l))
				}
				if math.Abs(off) > 0.06 {
					t.Errorf("power %g, ink %g, dark ground %v: the edge is off by %+.3f px", power, ink, dark, off)
				}
			}
		}
	}
}

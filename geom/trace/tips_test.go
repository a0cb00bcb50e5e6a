package trace

import (
	"math"
	"testing"

	"hemlet/geom"
)

// dartLine walks down one leg of a dart to where its strokes run into one, and back up the
// other: legs of 40 mm at the given angle (radians) with their tip at the origin, pointing
// down.
func dartLine(angle, pen float64) (outline []geom.Point, merge geom.Point) {
	s, c := math.Sincos(angle / 2)
	from := pen / 2 / s
	for d := 40.0; d > from; d -= .1 {
		outline = append(outline, geom.Pt(-d*s, d*c))
	}
	merge = geom.Pt(0, from*c)
	for d := from; d < 40; d += .1 {
		outline = append(outline, geom.Pt(d*s, d*c))
	}
	// Round the top, far from the dart.
	for x := 40 * s; x > -40*s; x -= .1 {
		outline = append(outline, geom.Pt(x, 40*c+5))
	}
	return append(outline, outline[0]), merge
}

func TestTips(t *testing.T) {
	const pen = .6
	for _, deg := range []float64{4, 6, 10} {
		outline, merge := dartLine(deg*math.Pi/180, pen)
		stroke := []geom.Point{merge, merge.Mul(.5), {}}
		known, mark := tips(outline, [][]geom.Point{stroke}, pen)
		if len(known) != 1 || mark[0] || known[0].P != (geom.Point{}) || outline[known[0].At].Dist(merge) > 1 {
			t.Errorf("%g°: tips %v, marks %v", deg, known, mark)
		}
		if known, _ = tips(outline, [][]geom.Point{reversed(stroke)}, pen); len(known) != 1 {
			t.Errorf("%g°, the other way round: tips %v", deg, known)
		}
		for name, line := range map[string][]geom.Point{
			"a mark that goes on past the tip": {merge, geom.Pt(0, -30)},
			"a mark aside":                     {merge, merge.Add(geom.Pt(2, -1))},
			"a mark elsewhere":                 {geom.Pt(0, 20), geom.Pt(0, 14)},
			"a closed line":                    {merge, geom.Pt(1, 0), geom.Pt(-1, 0), merge},
		} {
			if known, mark := tips(outline, [][]geom.Point{line}, pen); len(known) > 0 || !mark[0] {
				t.Errorf("%g°, %s: tips %v", deg, name, known)
			}
		}
	}
	// A corner that is no dart.
	outline, merge := dartLine(math.Pi/3, pen)
	if known, _ := tips(outline, [][]geom.Point{{merge, {}}}, pen); len(known) > 0 {
		t.Errorf("60°: tips %v", known)
	}
}

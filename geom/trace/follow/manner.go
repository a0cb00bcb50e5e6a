package follow

import (
	"context"
	"math"

	"hemlet/geom/trace/scan"
)

// thinMM is the width of ink, in mm, below which it was drawn with a pen and not filled.
const thinMM = 2.5

// IsDrawing reports whether a picture is a line drawing rather than filled or cut-out
// shapes: whether most of the ink that is whole, by area, is less than 2.5 mm wide, twice
// its area over the length of its edges. It fails without a field and when ctx ends.
func IsDrawing(ctx context.Context, f *scan.Field, o Options) (bool, error) {
	if f == nil || f.W <= 0 || f.H <= 0 {
		return false, errNoField
	}
	o = o.sound()
	cs, _, err := contours(ctx, f, o.level(), leastSpeckPx)
	if err != nil {
		return false, err
	}
	area, edge := make([]float64, len(cs)), make([]float64, len(cs))
	for i, c := range cs {
		of := i
		if c.area < 0 {
			of = c.parent
		}
		if of < 0 {
			continue
		}
		area[of] += c.area
		for k, p := range c.pts {
			edge[of] += p.Dist(c.pts[(k+1)%len(c.pts)])
		}
	}
	thin, filled := 0.0, 0.0
	for i, c := range cs {
		if c.area < 0 || c.cut || edge[i] == 0 {
			continue
		}
		if 2*area[i]/edge[i] < thinMM*math.Max(o.S, 1) {
			thin += area[i]
		} else {
			filled += area[i]
		}
	}
	return thin > filled, nil
}

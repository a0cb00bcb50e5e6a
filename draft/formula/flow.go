package formula

import (
	"math"

	"hemlet/geom"
)

// flowOf draws a smooth line down (or up) through points that keeps between each two
// neighbours across: it swings neither wider nor narrower than both. Taken as x over
// y, it is the monotone piecewise cubic of Fritsch and Carlson (SIAM Journal on
// Numerical Analysis 17, 1980) with the slopes of Fritsch and Butland (SIAM Journal
// on Scientific and Statistical Computing 5, 1984): upright where x turns back, else
// the weighted harmonic mean of the slopes before and after; at the ends the slope of
// the chord. What lies beyond a point therefore never bends the line before it to the
// other side.
func flowOf(a []any) (Value, error) {
	p := make([]geom.Point, len(a))
	for i, v := range a {
		p[i] = pt(v)
	}
	down := p[len(p)-1].Y < p[0].Y
	for i := 1; i < len(p); i++ {
		if (p[i].Y < p[i-1].Y) != down || p[i].Y == p[i-1].Y {
			return nil, failf("flow goes down or up from point to point, and point %d lies no %s than the one before", i+1, lower(down))
		}
	}
	slopes := flowSlopes(p)
	path := make(geom.Path, len(p)-1)
	for i := range path {
		third := (p[i+1].Y - p[i].Y) / 3
		path[i] = geom.Cubic(p[i],
			geom.Pt(p[i].X+slopes[i]*third, p[i].Y+third),
			geom.Pt(p[i+1].X-slopes[i+1]*third, p[i+1].Y-third), p[i+1])
	}
	if len(path) == 1 {
		path[0] = geom.Line(p[0], p[1])
	}
	return Curve{path}, nil
}

func lower(down bool) string {
	if down {
		return "lower"
	}
	return "higher"
}

// flowSlopes returns dx/dy at each point.
func flowSlopes(p []geom.Point) []float64 {
	n := len(p)
	chord := make([]float64, n-1)
	high := make([]float64, n-1)
	for i := range chord {
		high[i] = math.Abs(p[i+1].Y - p[i].Y)
		chord[i] = (p[i+1].X - p[i].X) / (p[i+1].Y - p[i].Y)
	}
	m := make([]float64, n)
	m[0], m[n-1] = chord[0], chord[n-2]
	for i := 1; i < n-1; i++ {
		if before, after := chord[i-1], chord[i]; before*after > 0 {
			u, v := 2*high[i]+high[i-1], high[i]+2*high[i-1]
			m[i] = (u + v) / (u/before + v/after)
		}
	}
	return m
}

package formula

import (
	"math"

	"hemlet/geom"
)

const (
	// steepest is how far, in radians, the end of a level line may lie to either
	// side of the point straight below u: at a quarter turn the line would run up
	// or down there and be level no more.
	steepest = 85 * math.Pi / 180
	// sweepSteps is how many parts of that range are tried for one in which the
	// length lies: 5 degrees each, in which it grows.
	sweepSteps = 34
	// sweepError is the share of the length to which it is met: well below the
	// error of 1e-9 that is promised, and above the rounding of a length.
	sweepError = 1e-13
	// sweepSearch bounds the search in one part; bisection alone would need 50.
	sweepSearch = 100
)

// levelLine is a family of cubics that leave c to the right and end square to the
// line from u to the end. Their figures are relative to c, with u turned over to the
// right.
type levelLine struct {
	u      geom.Point
	radius float64
}

// at returns the cubic that ends in the direction f from level, in radians. Its
// handles are a third of the chord.
func (l levelLine) at(f float64) geom.Segment {
	s, c := math.Sincos(f)
	end := geom.Pt(l.u.X+l.radius*s, l.u.Y-l.radius*c)
	third := end.Len() / 3
	return geom.Cubic(geom.Point{}, geom.Pt(third, 0), geom.Pt(end.X-third*c, end.Y-third*s), end)
}

// miss returns by how much the cubic is too long.
func (l levelLine) miss(f, long float64) float64 { return l.at(f).Length() - long }

// sweepOf draws the level line. Turning the end from below upwards makes the line
// longer, at last about as fast as the end travels; where more than one has the
// length, which takes an end that turns back past c, the one that is turned up most
// is taken, so that the line moves smoothly with the body.
func sweepOf(a []any) (Value, error) {
	c, long, u, radius := pt(a[0]), mm(a[1]), pt(a[2]), mm(a[3])
	switch {
	case !(long > 0):
		return nil, failf("a level line cannot be %s long", sayMM(long))
	case !(radius > 0):
		return nil, failf("the radius of sweep must be above 0, and this is %s", sayMM(radius))
	}
	side := 1.0
	if u.X < c.X {
		side = -1
	}
	l := levelLine{geom.Pt(side*(u.X-c.X), u.Y-c.Y), radius}
	f, err := l.solve(long)
	if err != nil {
		return nil, err
	}
	s := l.at(f)
	place := geom.Scaling(side, 1).Then(geom.Translation(c))
	return oneStretch(s.Transform(place)), nil
}

// solve returns the direction in which the line ends that has the length.
func (l levelLine) solve(long float64) (float64, error) {
	hi := steepest
	above := l.miss(hi, long)
	if above < 0 {
		return 0, l.unreached(long+above, long)
	}
	nearest := above
	for i := sweepSteps - 1; i >= 0; i-- {
		lo := steepest * (2*float64(i)/sweepSteps - 1)
		below := l.miss(lo, long)
		if below <= 0 {
			return l.search(lo, hi, below, above, long), nil
		}
		hi, above = lo, below
		nearest = min(nearest, below)
	}
	return 0, l.unreached(long+nearest, long)
}

// unreached says that no line has the length, and which comes nearest.
func (l levelLine) unreached(nearest, long float64) error {
	return failf("the level line cannot be %s long and end square at %s from u: the nearest is %s", sayMM(long), sayMM(l.radius), sayMM(nearest))
}

// search returns the direction between lo and hi with the length, by secant steps
// kept in the bracket (the Illinois variant of regula falsi); every fourth halves
// it.
func (l levelLine) search(lo, hi, below, above, long float64) float64 {
	b, a := below, above // weighted by the method, unlike the misses themselves
	side := 0
	for i := range sweepSearch {
		f := hi - a*(hi-lo)/(a-b)
		if i%4 == 3 || !(f > lo && f < hi) {
			f = 0.5 * (lo + hi)
		}
		if f <= lo || f >= hi {
			break
		}
		switch m := l.miss(f, long); {
		case math.Abs(m) <= sweepError*long:
			return f
		case m < 0:
			lo, b, below = f, m, m
			if side < 0 {
				a /= 2
			}
			side = -1
		default:
			hi, a, above = f, m, m
			if side > 0 {
				b /= 2
			}
			side = 1
		}
	}
	if -below < above {
		return lo
	}
	return hi
}

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
	// length lies: 10 degrees each, in which it grows or has its one lowest place.
	sweepSteps = 17
	// sweepError is the share of the length to which it is met: well below the
	// error of 1e-9 that is promised, and above the rounding of a length.
	sweepError = 1e-13
	// sweepSlack is the share of the length by which the nearest line may miss it and
	// is still taken: a tenth of the promise.
	sweepSlack = 1e-10
	// lowestWidth is how near, in radians, the direction of the shortest line is
	// found: its length then is off by the square of that.
	lowestWidth = 1e-7
	// lowestSteps bounds that search; about ten are usual, golden sections alone
	// would need 32.
	lowestSteps = 60
	// golden is (√5 - 1) / 2.
	golden = 0.6180339887498949
	// sweepSearch bounds the search in one part; bisection alone would need 50.
	sweepSearch = 100
)

// levelLine is a family of cubics that leave c to the right and end square to the
// line from u to the end, but for the lean by which they turn up further. Their figures
// are relative to c, with u turned over to the right.
type levelLine struct {
	u      geom.Point
	radius float64
	lean   float64 // in radians
}

// levelLineOf returns the family from c to the side on which u lies, without a lean.
func levelLineOf(c, u geom.Point, radius float64) levelLine {
	return levelLine{u: geom.Pt(sweepSide(c, u)*(u.X-c.X), u.Y-c.Y), radius: radius}
}

// sweepSide is 1 where u lies to the right of c or straight above it, -1 to the left.
func sweepSide(c, u geom.Point) float64 {
	if u.X < c.X {
		return -1
	}
	return 1
}

// at returns the cubic whose end lies in the direction f, in radians, from straight below
// u, and which ends in that direction from level but for the lean. Its handles are a third
// of the chord.
func (l levelLine) at(f float64) geom.Segment {
	s, c := math.Sincos(f)
	end := geom.Pt(l.u.X+l.radius*s, l.u.Y-l.radius*c)
	third := end.Len() / 3
	s, c = math.Sincos(f + l.lean)
	return geom.Cubic(geom.Point{}, geom.Pt(third, 0), geom.Pt(end.X-third*c, end.Y-third*s), end)
}

// miss returns by how much the cubic is too long.
func (l levelLine) miss(f, long float64) float64 { return l.at(f).Length() - long }

// sweepOf draws the level line. Turning the end from below upwards makes the line
// longer, about as fast as the end travels, wherever it runs more or less level; it is
// longest at the steepest. Where more than one has the length, which takes an end that
// turns back past c, the one that is turned up most is taken, so that the line moves
// smoothly with the body.
func sweepOf(a []any) (Value, error) {
	c, long, u, radius := pt(a[0]), mm(a[1]), pt(a[2]), mm(a[3])
	if err := checkSweep(long, radius); err != nil {
		return nil, err
	}
	return levelLineOf(c, u, radius).drawn(c, u, long)
}

func checkSweep(long, radius float64) error {
	switch {
	case !(long > 0):
		return failf("a level line cannot be %s long", sayMM(long))
	case !(radius > 0):
		return failf("the radius of sweep must be above 0, and this is %s", sayMM(radius))
	}
	return nil
}

// drawn returns the line that is so long, from c to the side on which u lies.
func (l levelLine) drawn(c, u geom.Point, long float64) (Value, error) {
	f, err := l.solve(long)
	if err != nil {
		return nil, err
	}
	s := l.at(f)
	place := geom.Scaling(sweepSide(c, u), 1).Then(geom.Translation(c))
	return oneStretch(s.Transform(place)), nil
}

// solve returns the direction in which the line ends that has the length: it goes
// down from the steepest until the line is short enough. A line that only gets long
// enough by turning its end down far below level is none.
func (l levelLine) solve(long float64) (float64, error) {
	hi := lineAt{steepest, l.miss(steepest, long)}
	if hi.miss < 0 {
		return l.settle(hi, long)
	}
	before, shortest := hi, hi
	for i := sweepSteps - 1; i >= 0; i-- {
		f := steepest * (2*float64(i)/sweepSteps - 1)
		lo := lineAt{f, l.miss(f, long)}
		if lo.miss > hi.miss && before.miss >= hi.miss { // a lowest place lies between
			low := l.lowest(lo.f, before.f, long)
			if low.miss <= 0 {
				return l.search(low, before, long), nil
			}
			shortest = shorter(shortest, low)
		}
		if lo.miss <= 0 {
			return l.search(lo, hi, long), nil
		}
		shortest = shorter(shortest, lo)
		before, hi = hi, lo
	}
	low := l.lowest(hi.f, before.f, long) // it may lie just above the last
	if low.miss <= 0 {
		return l.search(low, before, long), nil
	}
	return l.settle(shorter(shortest, low), long)
}

func shorter(a, b lineAt) lineAt {
	if b.miss < a.miss {
		return b
	}
	return a
}

// settle takes the nearest line that there is, if it is as near as lengths are good,
// and says that no line has the length otherwise.
func (l levelLine) settle(nearest lineAt, long float64) (float64, error) {
	if math.Abs(nearest.miss) <= sweepSlack*long {
		return nearest.f, nil
	}
	return 0, failf("the level line cannot be %s long and end square at %s from u: the nearest is %s", sayMM(long), sayMM(l.radius), sayMM(long+nearest.miss))
}

// lineAt is a direction in which the line may end, and by how much it is too long
// then.
type lineAt struct{ f, miss float64 }

// lowest returns the shortest line of those that end between two directions, or the
// first that is found to be short enough, by Brent's method: parabolas through the
// three shortest, and golden sections where these do not serve (Brent 1973, Algorithms
// for minimization without derivatives, chapter 5).
func (l levelLine) lowest(lo, hi, long float64) lineAt {
	line := func(f float64) lineAt { return lineAt{f, l.miss(f, long)} }
	best := line(hi - golden*(hi-lo))
	second, third := best, best
	step, before := 0.0, 0.0 // the last step, and the one before
	for range lowestSteps {
		middle := 0.5 * (lo + hi)
		if best.miss <= 0 || math.Abs(best.f-middle) <= 2*lowestWidth-0.5*(hi-lo) {
			break
		}
		next, ok := vertex(best, second, third)
		move := next - best.f
		if ok && math.Abs(move) < 0.5*math.Abs(before) && next > lo && next < hi {
			before, step = step, move
		} else {
			before = lo - best.f
			if best.f < middle {
				before = hi - best.f
			}
			step = (1 - golden) * before
		}
		if math.Abs(step) < lowestWidth {
			step = math.Copysign(lowestWidth, step)
		}
		tried := line(best.f + step)
		if tried.miss > best.miss {
			if tried.f < best.f {
				lo = tried.f
			} else {
				hi = tried.f
			}
			if tried.miss <= second.miss || second.f == best.f {
				second, third = tried, second
			} else if tried.miss <= third.miss || third.f == best.f || third.f == second.f {
				third = tried
			}
			continue
		}
		if tried.f < best.f {
			hi = best.f
		} else {
			lo = best.f
		}
		best, second, third = tried, best, second
	}
	return best
}

// vertex returns where the parabola through three lines is lowest, or false where
// they lie on none that opens upwards.
func vertex(a, b, c lineAt) (f float64, ok bool) {
	r := (a.f - b.f) * (a.miss - c.miss)
	q := (a.f - c.f) * (a.miss - b.miss)
	d := 2 * (q - r)
	if d == 0 {
		return 0, false
	}
	return a.f - ((a.f-c.f)*q-(a.f-b.f)*r)/d, true
}

// search returns the direction between two others with the length, the first too
// short and the second too long, by secant steps kept in the bracket (the Illinois
// variant of regula falsi); every fourth halves it.
func (l levelLine) search(lo, hi lineAt, long float64) float64 {
	if lo.miss == 0 {
		return lo.f
	}
	a, b := hi.miss, lo.miss // weighted by the method, unlike the misses themselves
	side := 0
	for i := range sweepSearch {
		f := hi.f - a*(hi.f-lo.f)/(a-b)
		if i%4 == 3 || !(f > lo.f && f < hi.f) {
			f = 0.5 * (lo.f + hi.f)
		}
		if f <= lo.f || f >= hi.f {
			break
		}
		switch m := l.miss(f, long); {
		case math.Abs(m) <= sweepError*long:
			return f
		case m < 0:
			lo, b = lineAt{f, m}, m
			if side < 0 {
				a /= 2
			}
			side = -1
		default:
			hi, a = lineAt{f, m}, m
			if side > 0 {
				b /= 2
			}
			side = 1
		}
	}
	if -lo.miss < hi.miss {
		return lo.f
	}
	return hi.f
}

package formula

import (
	"math"

	"hemlet/geom"
)

const (
	// trueError is the share of the side to which its length is met.
	trueError = 1e-12
	// trueSlack is the share that is promised.
	trueSlack = 1e-9
	// trueSteps bounds the search; about six are usual.
	trueSteps = 80
	// trueGrowth is by how much the radius grows while the side is too short.
	trueGrowth = 1.1
)

// sweepTrueOf draws the level line of sweep at such a distance from the last of the
// points that the line of flow through them and its end has the length side. The
// curve grows with the distance, about as fast; where sweep has no line at a distance,
// it is too small (see sweepRoomOf).
func sweepTrueOf(a []any) (Value, error) { return sweepTrue(pt(a[0]), mm(a[1]), mm(a[2]), 0, a[3:]) }

const (
	// steepestLean is how far, in radians, a level line may lean from square: beyond that, it
	// would not be level any more.
	steepestLean = 45 * math.Pi / 180
	// leanHalvings is how often a lean is halved before the line is drawn without one.
	leanHalvings = 3
)

// sweepLeaningOf draws such a line that ends turned up by an angle from square. Of two
// that meet in a seam, one may lean as much as the other leans the other way: both then
// run on smoothly over the seam, and neither bends more than it must. Where no line leans
// so far, which takes a body that changes faster than flat cloth can follow, it leans less.
func sweepLeaningOf(a []any) (Value, error) {
	lean := a[3].(Angle).Rad
	if !(math.Abs(lean) <= steepestLean) {
		return nil, failf("a level line leans at most 45 degrees, and this is %.4g", lean*180/math.Pi)
	}
	c, long, side, points := pt(a[0]), mm(a[1]), mm(a[2]), a[4:]
	for range leanHalvings {
		if line, err := sweepTrue(c, long, side, lean, points); err == nil {
			return line, nil
		}
		lean /= 2
	}
	return sweepTrue(c, long, side, 0, points)
}

func sweepTrue(c geom.Point, long, side, lean float64, points []any) (Value, error) {
	radius, err := restOf(points, side)
	if err != nil {
		return nil, err
	}
	t := trueSearch{c: c, long: long, side: side, lean: lean, points: points, hi: math.Inf(1)}
	var last error
	for i := range trueSteps {
		line, miss, err := t.try(radius)
		if err != nil {
			last = err
			t.lo, t.missLo = radius, math.NaN()
			radius = t.next(radius)
			continue
		}
		if math.Abs(miss) <= trueError*side {
			return line, nil
		}
		if miss < 0 {
			t.lo, t.missLo = radius, miss
		} else {
			t.hi, t.missHi = radius, miss
		}
		if t.hi-t.lo <= trueError*side {
			if math.Abs(miss) <= trueSlack*side {
				return line, nil
			}
			break // the line leaps here from one end to another
		}
		guess := radius - miss
		if i%3 == 2 { // halve where the curve does not grow as fast as the distance
			guess = math.NaN()
		}
		radius = t.next(guess)
	}
	if last != nil {
		return nil, last
	}
	return nil, failf("no level line of %s ends where the side is %s long", sayMM(long), sayMM(side))
}

// trueSearch is a search for the radius: at lo the side is too short or there is no
// line, at hi it is too long.
type trueSearch struct {
	c              geom.Point
	long, side     float64
	lean           float64
	points         []any
	lo, hi         float64
	missLo, missHi float64
}

// next returns the radius to try: the guess, if it lies between lo and hi, or else
// what lies between them.
func (t *trueSearch) next(guess float64) float64 {
	if math.IsInf(t.hi, 1) {
		if grown := t.lo * trueGrowth; !(guess > grown) {
			return grown
		}
		return guess
	}
	if guess > t.lo && guess < t.hi && !math.IsNaN(t.missLo) {
		return guess
	}
	return (t.lo + t.hi) / 2
}

// try returns the line at that radius, and by how much the curve through the points
// and its end is longer than the side.
func (t *trueSearch) try(radius float64) (line Value, miss float64, err error) {
	if line, err = t.line(radius); err != nil {
		return nil, 0, err
	}
	end := Point{geom.Path(line.(Curve).Path).End()}
	v, err := flowOf(append(append([]any(nil), t.points...), end))
	if err != nil {
		return nil, 0, err
	}
	return line, v.(Curve).Path.Length() - t.side, nil
}

// line returns the level line at that radius.
func (t *trueSearch) line(radius float64) (Value, error) {
	u := pt(t.points[len(t.points)-1])
	if err := checkSweep(t.long, radius); err != nil {
		return nil, err
	}
	l := levelLineOf(t.c, u, radius)
	l.lean = t.lean
	return l.drawn(t.c, u, t.long)
}

// restOf returns what is left of the side beyond the points.
func restOf(points []any, side float64) (float64, error) {
	rest := side
	if len(points) > 1 {
		v, err := flowOf(points)
		if err != nil {
			return 0, err
		}
		rest -= v.(Curve).Path.Length()
	}
	if !(rest > 0) {
		return 0, failf("the way along the points is longer than the side, %s", sayMM(side))
	}
	return rest, nil
}

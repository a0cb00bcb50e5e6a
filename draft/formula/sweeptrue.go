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
func sweepTrueOf(a []any) (Value, error) {
	side, points := mm(a[2]), a[3:]
	radius, err := restOf(points, side)
	if err != nil {
		return nil, err
	}
	t := trueSearch{c: a[0], long: a[1], side: side, points: points, hi: math.Inf(1)}
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
	return nil, failf("no level line of %s ends where the side is %s long", sayMM(mm(a[1])), sayMM(side))
}

// trueSearch is a search for the radius: at lo the side is too short or there is no
// line, at hi it is too long.
type trueSearch struct {
	c, long        any
	side           float64
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
	if line, err = sweepOf([]any{t.c, t.long, t.points[len(t.points)-1], Length{radius}}); err != nil {
		return nil, 0, err
	}
	end := Point{geom.Path(line.(Curve).Path).End()}
	v, err := flowOf(append(append([]any(nil), t.points...), end))
	if err != nil {
		return nil, 0, err
	}
	return line, v.(Curve).Path.Length() - t.side, nil
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

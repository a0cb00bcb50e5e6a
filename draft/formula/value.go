package formula

import (
	"math"

	"hemlet/geom"
)

// Kind is what a value is.
type Kind int

const (
	NumberKind Kind = iota // a bare number: a share, a count
	LengthKind
	AreaKind
	AngleKind
	TruthKind // holds, or does not hold
	PointKind
	CurveKind // an open line of one or more straight or curved stretches
)

// String returns the kind as people read it: "length".
func (k Kind) String() string {
	return [...]string{"number", "length", "area", "angle", "yes or no", "point", "curve"}[k]
}

// The values of a formula. They are structs, so that no operator of the expression
// library applies to them unless this package says so.
type (
	// Number is a bare number.
	Number = float64
	// Truth is yes or no.
	Truth = bool
	// Length is in mm.
	Length struct{ MM float64 }
	// Area is in mm².
	Area struct{ MM2 float64 }
	// Angle is in radians, counter-clockwise.
	Angle struct{ Rad float64 }
	// Point is a place on the sheet in mm, y up.
	Point struct{ At geom.Point }
	// Curve is an open line, in its direction of travel.
	Curve struct{ Path geom.Path }
)

// Value is one of Number, Truth, Length, Area, Angle, Point, Curve.
type Value = any

// KindOf returns the kind of a value; it panics on a value of another type.
func KindOf(v Value) Kind {
	switch v.(type) {
	case Number:
		return NumberKind
	case Truth:
		return TruthKind
	case Length:
		return LengthKind
	case Area:
		return AreaKind
	case Angle:
		return AngleKind
	case Point:
		return PointKind
	case Curve:
		return CurveKind
	}
	panic("formula: a value of no known kind")
}

// kindOf returns the kind of a value, or false for a value of another type.
func kindOf(v Value) (Kind, bool) {
	switch v.(type) {
	case Number, Truth, Length, Area, Angle, Point, Curve:
		return KindOf(v), true
	}
	return 0, false
}

// article returns the kind with its article: "an area".
func (k Kind) article() string {
	switch k {
	case AreaKind, AngleKind:
		return "an " + k.String()
	}
	return "a " + k.String()
}

const (
	// maxCoordinate bounds every coordinate and length, in mm: 100 m, as in a
	// project.
	maxCoordinate = 100_000
	// maxStretches bounds the stretches of one curve, far beyond any edge, so that
	// curves joined to themselves step after step end in an error.
	maxStretches = 1000
)

// sound returns an error where a value is not finite, or a length or a place is
// beyond what can be drawn.
func sound(v Value) error {
	switch v := v.(type) {
	case Point:
		return soundPoint(v.At)
	case Curve:
		switch {
		case len(v.Path) == 0:
			return fail("this is a curve without a stretch")
		case len(v.Path) > maxStretches:
			return failf("this curve has more than %d stretches", maxStretches)
		}
		for _, s := range v.Path {
			for _, p := range [4]geom.Point{s.P0, s.P1, s.P2, s.P3} {
				if err := soundPoint(p); err != nil {
					return err
				}
			}
		}
		return nil
	case Truth:
		return nil
	case Length:
		if math.Abs(v.MM) > maxCoordinate {
			return fail("this is longer than the 100 m that a project holds")
		}
	}
	if x := magnitude(v); math.IsNaN(x - x) {
		return fail("this is beyond all bounds")
	}
	return nil
}

// soundPoint returns an error where a point is not finite or farther out than
// maxCoordinate.
func soundPoint(p geom.Point) error {
	if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate) {
		return fail("this lies beyond the 100 m that a project holds")
	}
	return nil
}

// magnitude returns the figure of a number, length, area or angle; it panics on
// another value.
func magnitude(v Value) float64 {
	switch v := v.(type) {
	case Number:
		return v
	case Length:
		return v.MM
	case Area:
		return v.MM2
	case Angle:
		return v.Rad
	}
	panic("formula: a value without a figure")
}

// quantity returns the value of that kind with that figure; it panics on a kind
// that has none.
func quantity(k Kind, x float64) Value {
	switch k {
	case NumberKind:
		return Number(x)
	case LengthKind:
		return Length{x}
	case AreaKind:
		return Area{x}
	case AngleKind:
		return Angle{x}
	}
	panic("formula: a kind without a figure")
}

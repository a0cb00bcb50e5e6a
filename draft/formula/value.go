package formula

import "hemlet/geom"

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
type Value any

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

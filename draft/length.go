package draft

import (
	"fmt"
	"math"
)

// ParseLength reads a length in which every figure has its unit (mm, cm, in, or
// the inch mark) and returns it in mm: "6mm", "1/4in", "3 1/2in", "2*(4cm + 3mm)".
// This is how scripts write lengths; a bare number is an error that says so. The
// result lies within MaxCoordinate. Errors are of type *TextError.
//
// The sum may hold + - * / and parentheses. A figure is a decimal with point or
// comma, a fraction, a whole number and a fraction, or a percentage; a share
// ("50%") only multiplies or divides. "1,000" is refused because half the world
// reads it as one and half as a thousand.
func ParseLength(text string) (float64, error) {
	return parseMM(text, 0)
}

// Parse reads a length as ParseLength does, with bare numbers in the unit u, as a
// person types it into a field whose unit is on show.
func (u Unit) Parse(text string) (float64, error) {
	return parseMM(text, u.MM())
}

// parseMM gives a bare number the size bare, in mm, or refuses it where bare is 0.
func parseMM(text string, bare float64) (float64, error) {
	v, err := evaluate(text, lengthWords, bare)
	if err != nil {
		return 0, err
	}
	switch {
	case v.kind == measured:
	case v.kind == bareNumber && bare != 0:
		v.x *= bare
	case v.kind == bareNumber:
		return 0, &TextError{text, 0, fmt.Sprintf("%s has no unit; write mm, cm or in after it, such as %smm", v.source(text), v.source(text))}
	default:
		return 0, &TextError{text, 0, "this makes a share, and a length is wanted"}
	}
	if !(math.Abs(v.x) <= MaxCoordinate) {
		return 0, &TextError{text, 0, "this is more than the 100 m that a project holds"}
	}
	return v.x + 0, nil
}

// ParseNumber reads a number without a unit, such as the ratio of a seam: "1.5",
// "3/2", "103%", or the quotient of two lengths, "231mm / 22cm". Errors are of
// type *TextError.
func ParseNumber(text string) (float64, error) {
	v, err := evaluate(text, lengthWords, 0)
	if err != nil {
		return 0, err
	}
	if v.kind == measured {
		return 0, &TextError{text, 0, "this is a length, and a number is wanted"}
	}
	return v.x + 0, nil
}

// maxDegrees bounds an angle, in degrees: a hundred turns, far beyond any use and
// far below where float64 loses the fraction.
const maxDegrees = 36_000

// ParseAngle reads an angle and returns it in degrees; "45", "45deg", "45°" and
// "360/7" are the same kind of thing. Errors are of type *TextError.
func ParseAngle(text string) (float64, error) {
	v, err := evaluate(text, angleWords, 1)
	if err != nil {
		return 0, err
	}
	if v.kind == share {
		return 0, &TextError{text, 0, "this makes a share, and an angle is wanted"}
	}
	if !(math.Abs(v.x) <= maxDegrees) {
		return 0, &TextError{text, 0, "this is more than a hundred turns"}
	}
	return v.x + 0, nil
}

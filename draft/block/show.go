package block

import (
	"fmt"
	"math"

	"hemlet/draft/formula"
)

// show returns a value as an error shows it: "12.5 mm", "(3, 40) mm", "35°".
func show(v formula.Value) string {
	switch v := v.(type) {
	case formula.Number:
		return formula.Figure(v, 4)
	case formula.Length:
		return formula.Figure(v.MM, 2) + " mm"
	case formula.Area:
		return formula.Figure(v.MM2, 1) + " mm²"
	case formula.Angle:
		return formula.Figure(v.Rad*180/math.Pi, 2) + "°"
	case formula.Truth:
		if v {
			return "yes"
		}
		return "no"
	case formula.Point:
		return fmt.Sprintf("(%s, %s) mm", formula.Figure(v.At.X, 2), formula.Figure(v.At.Y, 2))
	case formula.Curve:
		length := 0.0
		for _, s := range v.Path {
			length += s.Length()
		}
		return "a curve of " + formula.Figure(length, 2) + " mm"
	}
	return "nothing"
}

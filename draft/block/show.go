package block

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hemlet/draft/formula"
)

// show returns a value as an error shows it: "12.5 mm", "(3, 40) mm", "35°".
func show(v formula.Value) string {
	switch v := v.(type) {
	case formula.Number:
		return round(v, 4)
	case formula.Length:
		return round(v.MM, 2) + " mm"
	case formula.Area:
		return round(v.MM2, 1) + " mm²"
	case formula.Angle:
		return round(v.Rad*180/math.Pi, 2) + "°"
	case formula.Truth:
		if v {
			return "yes"
		}
		return "no"
	case formula.Point:
		return fmt.Sprintf("(%s, %s) mm", round(v.At.X, 2), round(v.At.Y, 2))
	case formula.Curve:
		length := 0.0
		for _, s := range v.Path {
			length += s.Length()
		}
		return "a curve of " + round(length, 2) + " mm"
	}
	return "nothing"
}

// round returns a figure with at most so many decimals.
func round(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

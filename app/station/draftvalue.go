package station

import (
	"math"
	"regexp"
	"slices"
	"strconv"

	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/draft/formula"
)

// showValue returns a value of a formula as people read it, lengths in the unit.
func showValue(v formula.Value, u draft.Unit) string {
	switch v := v.(type) {
	case formula.Number:
		return formula.Figure(v, 4)
	case formula.Length:
		return u.Format(v.MM)
	case formula.Area:
		return u.FormatArea(v.MM2)
	case formula.Angle:
		return formula.Figure(v.Rad*180/math.Pi, 1) + "°"
	case formula.Truth:
		if v {
			return "yes"
		}
		return "no"
	case formula.Point:
		return "at " + u.FormatBare(v.At.X) + ", " + u.Format(v.At.Y)
	case formula.Curve:
		return u.Format(v.Path.Length()) + " long"
	}
	return ""
}

// sameValue reports whether two values of a choice are the same.
func sameValue(a, b formula.Value) bool { return a == b }

// readChoice reads what was typed for a choice: a length with or without its unit, or
// a number.
func readChoice(c block.Choice, text string, u draft.Unit) (formula.Value, error) {
	if c.Kind == formula.NumberKind {
		x, err := draft.ParseNumber(text)
		return x, err
	}
	mm, err := u.Parse(text)
	return formula.Length{MM: mm}, err
}

// writeChoice returns a value of a choice as acts take it, to the last figure.
func writeChoice(v formula.Value) string {
	switch v := v.(type) {
	case formula.Length:
		return strconv.FormatFloat(v.MM, 'f', -1, 64) + " mm"
	case formula.Number:
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return ""
}

var nameInFormula = regexp.MustCompile(`[A-Za-z][A-Za-z0-9_]*`)

// readBy lists the names in a formula that are among the known ones, each once, in the
// order in which they come.
func readBy(text string, known func(string) bool) []string {
	var out []string
	for _, name := range nameInFormula.FindAllString(text, -1) {
		if known(name) && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

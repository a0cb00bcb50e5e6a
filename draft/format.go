package draft

import (
	"math"
	"strconv"
	"strings"
)

// InchParts is the finest fraction of an inch that is shown: 32nds, the finest
// marks on a tailor's rule.
const InchParts = 32

// Step returns the difference in mm between two neighbouring lengths as the unit
// shows them: 0.1 mm, 0.01 cm, 0.001 in or 1/32 in.
func (u Unit) Step() float64 {
	switch u {
	case Inch:
		return MMPerInch / 1000
	case InchFraction:
		return MMPerInch / InchParts
	default:
		return 0.1
	}
}

// Symbol returns the unit as it stands behind a number: mm, cm or in.
func (u Unit) Symbol() string {
	switch u {
	case Centimetre:
		return "cm"
	case Inch, InchFraction:
		return "in"
	default:
		return "mm"
	}
}

// Format returns a length of mm millimetres with the unit, to the nearest Step and
// without needless zeros: "61.4 mm", "3 1/2 in". Parse reads it back.
func (u Unit) Format(mm float64) string { return u.FormatBare(mm) + " " + u.Symbol() }

// FormatSmall returns a length as Format does, but one too small to show as one
// Step: what is told as wrong is never told as 0.
func (u Unit) FormatSmall(mm float64) string { return u.Format(max(mm, u.Step())) }

// FormatAtMost returns a length rounded up to the next Step: what moves by 0.14 mm does not
// move by at most 0.1 mm.
func (u Unit) FormatAtMost(mm float64) string {
	return u.FormatSmall(math.Ceil(mm/u.Step()-shareSlack) * u.Step())
}

// trueWithin is how far, in mm, a length on paper may be from what it stands for:
// the thickness of a chalk line does not show it.
const trueWithin = 0.05

// FormatTrue returns a length as Format does where that reads back as the length,
// within 0.05 mm, and otherwise in millimetres: on paper nothing tells that 1/4 in
// stands for 6 mm, and a maker measures by it.
func (u Unit) FormatTrue(mm float64) string {
	text := u.Format(mm)
	if back, err := ParseLength(text); err != nil || math.Abs(back-mm) > trueWithin {
		return Millimetre.Format(mm)
	}
	return text
}

// FormatBare returns the same as Format without the unit, for a field that shows its
// unit beside it. What is not a finite number becomes "?". It is rounded: text that a
// person has not touched must not be taken back as a new length.
func (u Unit) FormatBare(mm float64) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "?"
	}
	switch u {
	case Centimetre:
		return decimal(mm/10, 2)
	case Inch:
		return decimal(mm/MMPerInch, 3)
	case InchFraction:
		return fraction(mm / MMPerInch)
	default:
		return decimal(mm, 1)
	}
}

// FormatArea returns an area of mm2 square millimetres: in mm², from 1 cm² on in
// cm², or in in².
func (u Unit) FormatArea(mm2 float64) string {
	const mm2PerCM2 = 100
	switch {
	case math.IsNaN(mm2) || math.IsInf(mm2, 0):
		return "?"
	case u == Inch || u == InchFraction:
		return decimal(mm2/(MMPerInch*MMPerInch), 2) + " in²"
	case u == Millimetre && math.Abs(mm2) < mm2PerCM2:
		return decimal(mm2, 1) + " mm²"
	default:
		return decimal(mm2/mm2PerCM2, 1) + " cm²"
	}
}

// decimal returns x with at most the number of places, and never "-0".
func decimal(x float64, places int) string {
	s := strconv.FormatFloat(x, 'f', places, 64)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// fraction returns a number of inches as a whole number and a reduced fraction.
func fraction(inches float64) string {
	parts := math.Round(math.Abs(inches) * InchParts)
	whole, over := math.Floor(parts/InchParts), int(math.Mod(parts, InchParts))
	bottom := InchParts
	for over%2 == 0 && bottom > 1 {
		over, bottom = over/2, bottom/2
	}
	var words []string
	if whole != 0 || over == 0 {
		words = append(words, strconv.FormatFloat(whole, 'f', 0, 64))
	}
	if over != 0 {
		words = append(words, strconv.Itoa(over)+"/"+strconv.Itoa(bottom))
	}
	s := strings.Join(words, " ")
	if inches < 0 && parts != 0 {
		return "-" + s
	}
	return s
}

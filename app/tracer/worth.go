package tracer

import (
	"math"
	"strconv"

	"hemlet/app/control"
	"hemlet/draft"
)

// exactly writes a small length with one more figure than lengths usually have: what is
// told of an error is finer than what anybody cuts.
func exactly(mm float64, u draft.Unit) string {
	places := map[draft.Unit]int{draft.Millimetre: 2, draft.Centimetre: 3}
	n, ok := places[u]
	if !ok {
		n = 4
	}
	least := math.Pow10(-n) * u.MM() // what is less than can be told is not nothing
	return strconv.FormatFloat(max(mm, least)/u.MM(), 'f', n, 64) + " " + u.Symbol()
}

// How much what is true in a picture may be off, in mm, for each word (common practice,
// no source): the finest cut follows its line to a tenth or two; on cloth a stitching line
// is kept to half a millimetre.
const (
	offFine   = 0.15
	offCloth  = 0.5
	offCoarse = 1.2
)

// worth says, in a sentence, what it means that what a picture shows is off by so many mm.
func worth(mm float64) (string, control.Level) {
	switch {
	case mm <= offFine:
		return "Good for anything, a doll's sleeve too.", control.Holds
	case mm <= offCloth:
		return "Good for cloth.", control.Holds
	case mm <= offCoarse:
		return "Good for large pieces, coarse for a doll's.", control.LookAgain
	}
	return "Too coarse to sew by: place the marks more exactly.", control.Problem
}

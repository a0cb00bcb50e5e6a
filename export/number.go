package export

import (
	"math"
	"strconv"
	"strings"
)

// places is how many decimals of a millimetre a file carries: the grid of the
// document, so that a piece that is read back lies on the same grid.
const places = 6

// number returns v with as many decimals as it needs, places at most, and never
// an exponent, which some readers do not take.
func number(v float64) string { return decimals(v, places) }

func decimals(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.IndexByte(s, '.') >= 0 {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// onGrid rounds v to the decimals that files carry.
func onGrid(v float64) float64 {
	const perMM = 1e6
	return math.Round(v*perMM)/perMM + 0
}

package formula

import (
	"math"
	"strconv"
)

// Figure returns a number as people read it, rounded to at most so many decimals:
// "12.5", "3".
func Figure(x float64, decimals int) string {
	step := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*step)/step+0, 'f', -1, 64) // + 0 turns -0 into 0
}

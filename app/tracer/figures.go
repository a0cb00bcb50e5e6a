package tracer

import (
	"fmt"
	"math"

	"hemlet/draft"
)

// fineLength writes a small distance in mm with two figures after the point, whatever the
// unit: in inches a tenth of a millimetre has no fraction that anyone knows.
func fineLength(mm float64, unit draft.Unit) string {
	mm = math.Abs(mm)
	switch {
	case mm >= 10:
		return unit.Format(mm)
	case mm < 0.005:
		return "less than 0.01 mm"
	}
	return fmt.Sprintf("%.2f mm", mm)
}

// offMeans says what being off by so many mm means at the machine.
func offMeans(mm, tol float64) string {
	switch {
	case mm <= 0.1:
		return "thinner than a thread"
	case mm <= tol:
		return "within what you asked for"
	case mm <= 0.5:
		return "about the width of a pencil line: look whether it is the ink that is uneven"
	case mm <= 1:
		return "it can be seen at a small scale: look at it, and correct the piece on the bench if the ink is right"
	default:
		return "too much to pass over: look at it before you go on"
	}
}

// plainLength writes a length in the unit where that reads back as the length, and in mm
// to a hundredth elsewhere: tolerances are finer than the steps of the units.
func plainLength(mm float64, u draft.Unit) string {
	text := u.Format(mm)
	if back, err := u.Parse(text); err == nil && math.Abs(back-mm) <= readsBack*mm {
		return text
	}
	return fmt.Sprintf("%.3g mm", math.Round(mm*100)/100)
}

// readsBack is the share by which a length may be rounded when it is shown.
const readsBack = 0.01

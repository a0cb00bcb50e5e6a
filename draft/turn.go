package draft

import "math"

// turnsPerDegree is the grid of the turns of pieces, in steps a degree: 1e-9
// degrees move the far corner of a 100 m piece by less than two micrometres. The
// project file has turns in degrees, and the grid lets them come back unchanged.
const turnsPerDegree = 1e9

// TurnDegrees returns a turn of rad radians in degrees, on the grid.
func TurnDegrees(rad float64) float64 {
	deg := rad * (180 / math.Pi)
	if !(math.Abs(deg)*turnsPerDegree < 1<<53) {
		return deg
	}
	return math.Round(deg*turnsPerDegree) / turnsPerDegree
}

// TurnRadians returns a turn of deg degrees in radians. It undoes TurnDegrees: from
// any turn on the grid to degrees and back it is the same float64.
func TurnRadians(deg float64) float64 { return deg * (math.Pi / 180) }

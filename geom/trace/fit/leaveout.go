package fit

import "math"

const (
	// leaveBlur is the number of sigmas from an edge beyond which its blur is not
	// felt: at 3.5 the half level has moved by less than 0.1 % of sigma.
	leaveBlur = 3.5
	// leaveMost is the longest way in sigmas and half pens that is left out beside
	// a corner, reached at about 4 degrees: thinner than that, the two sides blur
	// into one anyway.
	leaveMost = 60
)

// leaveOut returns how far from a corner, in mm along its legs, the points are not
// where the legs are. Turn is the change of direction there, in radians. The blur
// of one leg reaches the other where they are within some sigmas across; in a blunt
// corner it reaches as far along the leg. A pen of round tip fills an acute corner
// up to where its inner edges meet.
func leaveOut(turn, blur, pen float64) float64 {
	inner := math.Pi - math.Min(math.Abs(turn), math.Pi)
	across := 1.0
	if inner < math.Pi/2 {
		across = math.Sin(inner)
	}
	least := 1.0 / leaveMost
	away := leaveBlur * blur / math.Max(across, leaveBlur*least)
	if pen > 0 {
		away += pen / 2 / math.Max(math.Tan(inner/2), least)
	}
	return away
}

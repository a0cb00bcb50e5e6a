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

// LeaveOut returns how far from a corner, in mm along its legs, the points are not
// where the legs are. Turn is the change of direction there, in radians. The blur
// of one leg reaches the other where they are within some sigmas across; in a blunt
// corner it reaches as far along the leg. A pen of round tip fills an acute corner
// up to where its inner edges meet.
func LeaveOut(turn, blur, pen float64) float64 {
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

const (
	// acuteTurn is the turn from which what is left out beside a corner is measured
	// anew once the fit knows the turn better: the arms read the tip of a dart as
	// wider than it is.
	acuteTurn = 120 * degree
	// acuteRounds is how often; the turn settles in two or three.
	acuteRounds = 4
	// acuteLeast is the least number of samples that a run keeps.
	acuteLeast = 12
)

// trim leaves out the samples that are nearer to an acute corner than its turn, as
// now fitted, lets them be believed, and fits anew.
func (f *fitter) trim(c *chain) {
	for range acuteRounds {
		changed := false
		for j := range c.joints {
			b, a := c.before(j), c.after(j)
			turn := c.turnAt(j)
			if !c.joints[j].corner || b < 0 || a < 0 || math.Abs(turn) < acuteTurn {
				continue
			}
			away := LeaveOut(turn, f.e.blur, f.o.Pen)
			for _, i := range [2]int{b, a} {
				changed = c.leave(i, j, away) || changed
			}
		}
		if !changed {
			return
		}
		c.settle()
	}
}

// leave leaves out the samples of span i within away mm of joint j, as long as
// enough are left, and tells whether there were any.
func (c *chain) leave(i, j int, away float64) bool {
	live, near := 0, 0
	inside := func(s *sample) bool { return s.span == i && s.w > 0 && s.p.Dist(c.joints[j].p) < away }
	for q := range c.samples {
		s := &c.samples[q]
		if s.span == i && s.w > 0 {
			live++
			if inside(s) {
				near++
			}
		}
	}
	if near == 0 || live-near < acuteLeast {
		return false
	}
	for q := range c.samples {
		if s := &c.samples[q]; inside(s) {
			s.w = 0
		}
	}
	return true
}

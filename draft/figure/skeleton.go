package figure

import (
	"cmp"
	"math"
	"slices"
)

// level is a height of the trunk at which it is measured round.
type level struct {
	name string
	y    float64
	ring
}

// skeleton is what the outlines of both views are drawn over. All is in mm.
type skeleton struct {
	*source
	top float64 // of the head, without ears

	headW, headD, headH float64
	chin                float64
	neckY               float64 // of the nape and of the neck's sides
	pitY                float64 // of the pit of the neck
	neck                ring
	tipX, tipY          float64 // of the shoulder
	armpitY             float64
	levels              []level // downward
	crotch, knee, ankle float64
	upperArm, elbow     float64 // half widths
	wrist, hand         float64
	armLength, handLong float64
	thigh, kneeR        float64
	ankleR              float64
	foot                float64 // its length
}

// The heights of what was not measured, as shares of the way between two places that
// are known.
const (
	bustShare   = 0.44 // of the bust, from the waist to the nape
	armpitShare = 0.57 // of the armpit, likewise
	bellyShare  = 0.42 // of the belly, from the waist down to the fork
	hipShare    = 0.72 // of the hip, likewise
	kneeShare   = 0.58 // of the knee, from the ground to the fork
)

func newSkeleton(s *source, own []string) *skeleton {
	k := &skeleton{source: s, top: s.scale}
	d := depths[s.build]
	k.neckY = within(s.get("neck_height"), 0.3*k.top, 0.97*k.top)
	k.neck = roundOf(s.get("neck_base_girth"), d.neck)
	k.crotch = within(s.get("inside_leg"), 0.04*k.top, 0.6*k.neckY)
	k.placeShoulder()
	k.placeLevels(d, own)
	k.placeHead(d)
	k.sizeLimbs()
	return k
}

// within holds a value between two others; where they cross the lower one counts.
func within(v, lo, hi float64) float64 { return max(lo, min(v, hi)) }

func (k *skeleton) placeShoulder() {
	length, drop := k.get("shoulder_length"), k.get("shoulder_drop")
	drop = within(drop, 0, min(0.9*length, 0.3*(k.neckY-k.crotch)))
	k.tipX = k.neck.w + math.Sqrt(length*length-drop*drop)
	k.tipY = k.neckY - max(drop, 0.01*k.top)
	k.pitY = max(k.neckY-0.9*k.neck.w, k.neckY-0.1*(k.neckY-k.crotch))
}

// waistY returns where the waist lies.
func (k *skeleton) waistY() float64 {
	y, ok := k.height("waist_height")
	if !ok {
		y = k.neckY - k.get("back_waist_length")
	}
	trunk := k.neckY - k.crotch
	return within(y, k.crotch+0.12*trunk, k.neckY-0.2*trunk)
}

// placeLevels lays the levels of the trunk between the shoulder and the fork, in the
// order of their heights and never two at one height.
func (k *skeleton) placeLevels(d depthShares, own []string) {
	waist := k.waistY()
	// fall returns the height of a level below the waist.
	fall := func(name string, share float64) float64 {
		if y, ok := k.given(name + "_height"); ok {
			return y
		}
		if mm, ok := k.down("waist_to_" + name); ok {
			return waist - mm
		}
		if y, ok := k.height(name + "_height"); ok {
			return y
		}
		return waist - share*(waist-k.crotch)
	}
	bust, ok := k.height("bust_height")
	if !ok {
		bust = waist + bustShare*(k.neckY-waist)
	}
	k.levels = []level{
		{"bust", bust, k.ring("bust", d.bust)},
		{"waist", waist, k.ring("waist", d.waist)},
		{"belly", fall("belly", bellyShare), k.ring("belly", d.belly)},
		{"hip", fall("hip", hipShare), k.ring("hip", d.hip)},
	}
	for _, name := range own {
		if l, ok := k.ownLevel(name, d); ok {
			k.levels = append(k.levels, l)
		}
	}
	slices.SortStableFunc(k.levels, func(a, b level) int { return cmp.Compare(b.y, a.y) })
	spread(k.levels, k.crotch+0.06*(k.tipY-k.crotch), k.tipY-0.12*(k.tipY-k.crotch), 0.03*k.top)
	armpit := waist + armpitShare*(k.neckY-waist)
	if mm, ok := k.given("armscye_depth"); ok {
		armpit = k.neckY - mm
	}
	k.armpitY = within(armpit, k.at("waist").y+0.2*(k.tipY-k.at("waist").y), k.tipY-0.15*(k.tipY-k.at("waist").y))
}

// ownLevel returns a level that the user named, if its height and its girth are known.
func (k *skeleton) ownLevel(name string, d depthShares) (level, bool) {
	y, ok := k.given(name + "_height")
	if !ok {
		return level{}, false
	}
	front, okFront := k.given(name + "_arc_front")
	back, okBack := k.given(name + "_arc_back")
	girth, ok := k.given(name + "_girth")
	switch {
	case okFront && okBack:
		girth = front + back
	case ok && okFront:
		back = girth - front
	case ok && okBack:
		front = girth - back
	case ok:
		front, back = girth/2, girth/2
	case okFront || okBack:
		girth = 2 * max(front, back)
		front, back = girth/2, girth/2
	default:
		return level{}, false
	}
	return level{name, y, ringOf(girth, d.waist, front, back)}, true
}

// spread moves levels, which run downward, apart and between two heights.
func spread(levels []level, lo, hi, gap float64) {
	gap = min(gap, (hi-lo)/float64(len(levels)+1))
	above := hi + gap
	for i := range levels {
		levels[i].y = min(levels[i].y, above-gap)
		above = levels[i].y
	}
	below := lo - gap
	for i := len(levels) - 1; i >= 0; i-- {
		levels[i].y = max(levels[i].y, below+gap)
		below = levels[i].y
	}
}

// at returns the level of that name.
func (k *skeleton) at(name string) level {
	for _, l := range k.levels {
		if l.name == name {
			return l
		}
	}
	return level{}
}

func (k *skeleton) lowest() level { return k.levels[len(k.levels)-1] }

// placeHead makes the head as high as there is room from the chin to the top, and no
// longer or flatter than a head can look; the rest is neck.
func (k *skeleton) placeHead(d depthShares) {
	r := roundOf(k.get("head_girth"), d.head)
	k.headW, k.headD = r.w, r.front
	tallest, least := 1.5, 0.95
	if k.build != Upright {
		tallest = 1.1
	}
	k.headH = within(0.95*(k.top-k.neckY), least*2*k.headW, tallest*2*k.headW)
	k.headH = min(k.headH, k.top-k.at("bust").y)
	k.chin = k.top - k.headH
}

// roundR returns half the width of a limb that measures so much round.
func roundR(girth float64) float64 { return girth / (2 * math.Pi) }

// slim keeps a limb from being wider than it is long.
func slim(r, length float64) float64 { return min(r, 0.45*length) }

func (k *skeleton) sizeLimbs() {
	k.armLength = k.get("arm_length")
	k.upperArm = slim(roundR(k.get("upper_arm_girth")), k.armLength)
	k.elbow = slim(roundR(k.get("elbow_girth")), k.armLength)
	k.wrist = slim(roundR(k.get("wrist_girth")), k.armLength)
	k.hand = k.get("hand_girth") / (2 * halfOval(1, 0.4)) // a hand is flat
	k.handLong = 0.9 * k.get("hand_girth")
	k.knee = kneeShare * k.crotch
	k.foot = k.get("foot_length")
	k.ankle = min(0.28*k.foot, 0.32*k.crotch)
	half := k.lowest().w
	if hip := k.at("hip"); hip.w > half {
		half = hip.w
	}
	// Thighs are deeper than wide where they press on one another.
	k.thigh = min(0.94*roundR(k.get("thigh_girth")), 0.49*half)
	k.kneeR = min(roundR(k.get("knee_girth")), 1.15*k.thigh)
	k.ankleR = min(roundR(k.get("ankle_girth")), 1.15*k.thigh)
}

// calfHalf returns half the width of the calf under a knee: fuller than the straight
// way to the ankle, on a leg that is long enough to have one.
func (k *skeleton) calfHalf(knee float64) float64 {
	straight := k.ankleR + 0.62*(knee-k.ankleR)
	long := within((k.knee-k.ankle)/(4*knee)-0.5, 0, 1)
	return straight + long*max(knee-straight, 0)
}

package bodytest

import (
	"math"
	"math/rand/v2"

	"hemlet/draft/body"
)

// Odd returns the measures of a random odd body: of a puppet, a doll, an animal that
// stands, or a person of unusual build, from 100 mm to 2 m high. Heads run from a
// tenth of the height to half of it, bellies up to three times as wide as the
// shoulders, necks from a stalk to none at all, shoulders from narrow to broad, level
// to steep, legs from stumps to stilts.
//
// The body is always one that could stand there: levels follow each other from the
// top, a girth is more than twice a width, arcs add up to the girth, the armhole
// ends above the waist. The bust girth, the waist girth and the back waist length
// are always given, each of the others in about half of the bodies, from nearly all
// of them to none.
func Odd(r *rand.Rand) body.Given {
	g := Whole(r)
	share := r.Float64()
	for _, m := range body.Catalogue() { // in this order, so that a seed gives one body
		if !needed[m.Name] && r.Float64() >= share {
			delete(g, m.Name)
		}
	}
	return g
}

var needed = map[string]bool{"bust_girth": true, "waist_girth": true, "back_waist_length": true}

// Whole returns an odd body as Odd does, with every measure given.
func Whole(r *rand.Rand) body.Given {
	b := builder{r, body.Given{}}
	b.heights()
	b.girths()
	b.widths()
	b.arcs()
	b.limbs()
	return b.g
}

// builder makes up one body.
type builder struct {
	r *rand.Rand
	g body.Given
}

// from returns a random figure from least to most, even on a logarithmic scale, so
// that twice and half come equally often.
func (b builder) from(least, most float64) float64 {
	return least * math.Exp(b.r.Float64()*math.Log(most/least))
}

// heights settles what lies at which height, from the crown down.
func (b builder) heights() {
	g := b.g
	g["stature"] = b.from(100, 2000)
	g["neck_height"] = g["stature"] * (1 - b.from(0.1, 0.5))
	neck := g["neck_height"]
	torso := neck * b.from(0.18, 0.75) // nape to waist
	g["waist_height"] = neck - torso
	g["back_waist_length"] = torso * b.from(1, 1.08)
	waist := g["waist_height"]
	toHip := min(torso*b.from(0.15, 0.7), 0.7*waist)
	g["waist_to_hip"] = toHip
	g["hip_height"] = waist - toHip
	g["waist_to_belly"] = toHip * b.from(0.15, 0.95)
	g["belly_height"] = waist - g["waist_to_belly"]
	g["inside_leg"] = g["hip_height"] * b.from(0.4, 0.98)
	g["armscye_depth"] = g["back_waist_length"] * b.from(0.22, 0.65)
	bustDrop := max(torso*b.from(0.35, 0.8), g["armscye_depth"]/1.05)
	g["bust_height"] = neck - min(bustDrop, 0.9*torso)
}

// girths settles what the tape goes round, and the front length that follows.
func (b builder) girths() {
	g := b.g
	bust := g["back_waist_length"] * b.from(1.1, 5)
	g["bust_girth"] = bust
	g["waist_girth"] = bust * b.from(0.5, 1.8)
	around := max(bust, g["waist_girth"])
	g["waist_girth"] = b.near(g["waist_girth"], bust, g["back_waist_length"]-g["armscye_depth"])
	g["belly_girth"] = b.near(g["waist_girth"]*b.from(0.95, 1.7), g["waist_girth"], g["waist_to_belly"])
	g["hip_girth"] = b.near(around*b.from(0.5, 1.5), g["belly_girth"], g["waist_to_hip"]-g["waist_to_belly"])
	g["neck_base_girth"] = bust * b.from(0.15, 0.7)
	g["head_girth"] = (g["stature"] - g["neck_height"]) * b.from(1.6, 3.2)
	straight := g["back_waist_length"] * b.from(0.65, 1.15)
	g["front_waist_length"] = math.Hypot(straight, max(0, g["waist_girth"]-bust)*b.from(0.1, 0.4))
}

// near returns a girth that is no farther from the one above or below it than a body
// that slopes by 45 degrees all round allows over that height: 2 pi times it. Beyond,
// it is a shelf and no garment of a front and a back follows it.
func (b builder) near(girth, other, height float64) float64 {
	return min(max(girth, other-2*math.Pi*height), other+2*math.Pi*height)
}

// widths settles what goes across, and the shoulders between.
func (b builder) widths() {
	g, bust := b.g, b.g["bust_girth"]
	g["back_width"] = bust * b.from(0.22, 0.46)
	g["front_width"] = min(g["back_width"]*b.from(0.6, 1.15), 0.88*bust-g["back_width"])
	g["bust_point_distance"] = min(bust*b.from(0.1, 0.28), 0.8*g["front_width"])
	shoulder := min(g["back_width"]*b.from(0.08, 0.5), 0.7*g["back_waist_length"])
	g["shoulder_length"] = shoulder
	g["shoulder_drop"] = min(shoulder*math.Sin(b.r.Float64()*math.Pi/4+0.02), 0.5*g["armscye_depth"])
}

// arcs settles how much of each girth lies in front and behind: a body that stands out
// in front or behind does so at all levels, at some more than at others.
func (b builder) arcs() {
	share := b.from(0.38, 0.56)
	for _, level := range body.Levels {
		girth := b.g[body.GirthOf(level)]
		back := girth * share * b.from(0.88, 1.12)
		if level == "bust" {
			back = min(max(back, 1.05*b.g["back_width"]), 0.65*girth)
		}
		b.g[body.ArcBackOf(level)] = back
		b.g[body.ArcFrontOf(level)] = girth - back
	}
}

// limbs settles arms, legs, and what animals have besides.
func (b builder) limbs() {
	g, stature := b.g, b.g["stature"]
	g["upper_arm_girth"] = min(g["bust_girth"]*b.from(0.1, 0.45), 2.6*g["armscye_depth"])
	g["armscye_girth"] = 1.3 * g["upper_arm_girth"]
	g["body_rise"] = g["waist_height"] - g["inside_leg"]
	g["elbow_girth"] = g["upper_arm_girth"] * b.from(0.6, 1.1)
	g["wrist_girth"] = g["elbow_girth"] * b.from(0.4, 1)
	g["hand_girth"] = g["wrist_girth"] * b.from(0.9, 2.5)
	g["arm_length"] = stature * b.from(0.12, 0.6)
	g["thigh_girth"] = g["hip_girth"] * b.from(0.2, 0.65)
	g["knee_girth"] = g["thigh_girth"] * b.from(0.5, 1)
	g["ankle_girth"] = g["knee_girth"] * b.from(0.4, 1)
	g["foot_length"] = stature * b.from(0.06, 0.4)
	g["heel_girth"] = max(g["foot_length"]*b.from(0.8, 1.8), g["ankle_girth"])
	g["muzzle_girth"] = g["head_girth"] * b.from(0.2, 0.8)
	g["muzzle_length"] = g["head_girth"] * b.from(0.08, 0.5)
	g["ear_height"] = g["head_girth"] * b.from(0.08, 0.9)
	g["ear_girth"] = g["ear_height"] * b.from(0.2, 1.5)
	g["tail_girth"] = g["hip_girth"] * b.from(0.03, 0.6)
	g["tail_length"] = stature * b.from(0.03, 1)
}

package body

import (
	"maps"
	"math"
	"slices"
	"strings"
)

// What no body can have, and what few have. The bounds are wide enough for every
// puppet; they are common practice, no source, unless said otherwise.
const (
	// arcsDiffer is by what share of the girth front and back may miss it and still
	// be the wobble of a tape; arcsWrong, from where it cannot.
	arcsDiffer, arcsWrong = 0.02, 0.05
	// armholeDeep is the share of the back length from which the armhole leaves
	// hardly a side seam.
	armholeDeep = 0.8
	// widthWrong is how many times a width a girth must be at the least. Flat things
	// have 2; a tape along a round back has less, in ANSUR II 1.98 once.
	widthWrong = 1.9
	// noArms is the share of the bust girth from which back and chest leave no room
	// for arms between them. The ANSUR II survey has 0.50 at most for the back alone.
	noArms = 0.97
	// seatHangs is how many times as high as the seat the crotch may be. ANSUR II has
	// 1.04 at most.
	seatHangs = 1.1
	// lengthShort is the share of a straight fall below which a length along the
	// body cannot be; 1 but for the care with which heights are taken. ANSUR II has
	// 0.93 at the least for the back.
	lengthShort = 0.9
	// lengthLong is how many times the fall a length along the back is asked about.
	lengthLong = 1.8
	// frontShort and frontLong bound the front length over the back length; a belly
	// as far out as the back is long comes to 1.6.
	frontShort, frontLong = 0.4, 2.5
	// shoulderWide is the share of the back width from which one shoulder is asked
	// about; people have 0.36.
	shoulderWide = 0.9
	// smallBody and largeBody, in mm, bound the stature of what costumes are made
	// for: figures of 1:48 and giants on stilts lie between.
	smallBody, largeBody = 30.0, 4000.0
)

// consequences tells what the figures contradict.
func (c *inquiry) consequences() {
	c.widths()
	c.allArcs()
	c.heights()
	c.lengths()
	c.necks()
	c.shares()
}

// has returns the measures by name, and whether all were taken.
func (c *inquiry) has(names ...string) ([]float64, bool) {
	v := make([]float64, len(names))
	for i, name := range names {
		if v[i] = c.given[name]; v[i] == 0 {
			return nil, false
		}
	}
	return v, true
}

// widths holds what goes across against what goes round.
func (c *inquiry) widths() {
	for _, width := range []string{"back_width", "front_width", "bust_point_distance"} {
		v, ok := c.has("bust_girth", width)
		if ok && v[0] < 2*v[1] {
			level := LookAgain
			if v[0] < widthWrong*v[1] {
				level = Problem
			}
			c.follows(level, "girth below twice width", []string{"bust_girth", width}, c.suggest(width),
				"Take both again.",
				"The measure %s, is less than twice %s, and nothing is narrower round than there and back.", c.is("bust_girth"), c.is(width))
		}
	}
	v, ok := c.has("bust_girth", "back_width", "front_width")
	if ok && v[1]+v[2] > noArms*v[0] && v[0] >= 2*v[1] && v[0] >= 2*v[2] {
		c.follows(LookAgain, "no room for arms", []string{"bust_girth", "back_width", "front_width"}, nil,
			"Take both from arm crease to arm crease.",
			"Back and front, %s and %s across, leave no room for the arms in a bust of %s.", c.format(v[1]), c.format(v[2]), c.format(v[0]))
	}
}

// allArcs holds front and back against the girth at every level, those that a maker
// named among them.
func (c *inquiry) allArcs() {
	levels := map[string]bool{}
	for name := range c.given {
		for _, suffix := range []string{ArcFrontOf(""), ArcBackOf("")} {
			if level, ok := strings.CutSuffix(name, suffix); ok && level != "" {
				levels[level] = true
			}
		}
	}
	for _, level := range slices.Sorted(maps.Keys(levels)) {
		c.arcs(level)
	}
}

func (c *inquiry) arcs(level string) {
	girth, front, back := GirthOf(level), ArcFrontOf(level), ArcBackOf(level)
	all := c.given[girth]
	if all == 0 {
		return
	}
	sum := c.given[front] + c.given[back]
	switch {
	case c.given[front] == 0 || c.given[back] == 0:
		arc := front
		if c.given[back] > 0 {
			arc = back
		}
		if sum >= all {
			c.follows(Problem, "arc above girth", []string{girth, arc}, c.suggest(arc),
				"Take it from side seam to side seam only.",
				"The measure %s, is no less than the whole way round, %s.", c.is(arc), c.format(all))
		}
	case !ArcsAgree(all, c.given[front], c.given[back]):
		level := LookAgain
		if math.Abs(sum-all) > arcsWrong*all {
			level = Problem
		}
		c.follows(level, "arcs and girth", []string{girth, front, back}, map[string]float64{girth: sum},
			"Take the three again at one level, have front and back share it, or clear one of them.",
			"Front and back, %s and %s, come to %s, but the measure %s is %s.",
			c.format(c.given[front]), c.format(c.given[back]), c.format(sum), quoted(girth), c.format(all))
		for i := range c.slips {
			if s := &c.slips[i]; s.Key == "arcs and girth "+strings.Join([]string{girth, front, back}, " ") {
				s.Or = map[string]float64{front: all * c.given[front] / sum, back: all * c.given[back] / sum}
			}
		}
	}
}

// ArcsAgree reports whether front and back come to the girth, but for the wobble of a tape;
// all in mm.
func ArcsAgree(girth, front, back float64) bool {
	return math.Abs(front+back-girth) <= arcsDiffer*girth
}

// heights holds the levels against each other, from the top down.
func (c *inquiry) heights() {
	order := []string{"stature", "neck_height", "bust_height", "waist_height", "hip_height", "inside_leg"}
	for i, upper := range order {
		for _, lower := range order[i+1:] {
			v, ok := c.has(upper, lower)
			if !ok {
				continue
			}
			level, reach := Problem, 1.0
			if lower == "inside_leg" && upper == "hip_height" || lower == "neck_height" {
				level, reach = LookAgain, seatHangs // or a head that is carried low
			}
			if v[1] > reach*v[0] {
				c.follows(level, "out of order", []string{upper, lower}, c.suggest(lower, upper),
					"Take both from the ground again.",
					"The measure %s, lies above %s.", c.is(lower), c.is(upper))
			}
			break // the next one down is compared with the nearest above it
		}
	}
	if v, ok := c.has("waist_height", "belly_height"); ok && v[1] > v[0] {
		c.follows(LookAgain, "out of order", []string{"waist_height", "belly_height"}, c.suggest("belly_height"),
			"The belly is taken below the ribbon at the waist.",
			"The measure %s, lies above %s.", c.is("belly_height"), c.is("waist_height"))
	}
	if v, ok := c.has("back_waist_length", "neck_height", "waist_height"); ok && v[1] > v[2] {
		c.fall(v[0], v[1]-v[2])
	}
}

// fall holds the back length against the heights at its ends.
func (c *inquiry) fall(length, fall float64) {
	names := []string{"back_waist_length", "neck_height", "waist_height"}
	switch suggest := map[string]float64{names[0]: fall / 0.967}; { // as the catalogue estimates it
	case length < lengthShort*fall:
		c.follows(Problem, "shorter than its fall", names, suggest,
			"Take it again along the back, or the heights.",
			"The measure %s, is shorter than the straight way down of %s between the two heights.", c.is(names[0]), c.format(fall))
	case length > lengthLong*fall:
		c.follows(LookAgain, "longer than its fall", names, suggest,
			"If the back is not that bent, take the three again.",
			"The measure %s, is long for the straight way down of %s between the two heights.", c.is(names[0]), c.format(fall))
	}
}

// lengths holds the lengths of the body against each other.
func (c *inquiry) lengths() {
	if v, ok := c.has("armscye_depth", "back_waist_length"); ok {
		names := []string{"armscye_depth", "back_waist_length"}
		switch {
		case v[0] >= v[1]:
			c.follows(Problem, "armhole below waist", names, c.suggest(names[0]),
				"Take both from the nape down.",
				"The armpits would lie below the waist: %s, and %s.", c.is(names[0]), c.is(names[1]))
		case v[0] > armholeDeep*v[1]:
			c.follows(LookAgain, "armhole near waist", names, c.suggest(names[0]),
				"If the arms do not sit that low, take both again.",
				"The armpits lie close above the waist: %s, and %s.", c.is(names[0]), c.is(names[1]))
		}
	}
	if v, ok := c.has("front_waist_length", "back_waist_length"); ok && (v[0] < frontShort*v[1] || v[0] > frontLong*v[1]) {
		c.follows(LookAgain, "front and back apart", []string{"front_waist_length", "back_waist_length"}, c.suggest("front_waist_length"),
			"Take both to the same ribbon at the waist.",
			"Front and back hardly belong to one body: %s, and %s.", c.is("front_waist_length"), c.is("back_waist_length"))
	}
	if v, ok := c.has("waist_to_belly", "waist_to_hip"); ok && v[0] > 1.3*v[1] {
		c.follows(LookAgain, "belly below hips", []string{"waist_to_belly", "waist_to_hip"}, c.suggest("waist_to_belly"),
			"Take both down from the ribbon at the waist.",
			"The belly would lie well below the hips: %s, and %s.", c.is("waist_to_belly"), c.is("waist_to_hip"))
	}
	if v, ok := c.has("stature", "back_waist_length", "inside_leg"); ok && v[1] < v[0] && v[2] < v[0] && v[1]+v[2] > v[0] {
		c.follows(LookAgain, "longer than the body", []string{"stature", "back_waist_length", "inside_leg"}, nil,
			"Take the three again.",
			"Back and legs, %s and %s, are longer together than the whole body, %s.", c.format(v[1]), c.format(v[2]), c.format(v[0]))
	}
}

// necks holds neck and shoulders against their neighbours.
func (c *inquiry) necks() {
	if v, ok := c.has("shoulder_drop", "shoulder_length"); ok && v[0] >= v[1] {
		c.follows(Problem, "steeper than upright", []string{"shoulder_drop", "shoulder_length"}, c.suggest("shoulder_drop"),
			"Take the fall straight down from the neck to the tip.",
			"The shoulder cannot fall further than it is long: %s, and %s.", c.is("shoulder_drop"), c.is("shoulder_length"))
	}
	if v, ok := c.has("shoulder_length", "back_width"); ok && v[0] > shoulderWide*v[1] {
		c.follows(LookAgain, "shoulder wider than back", []string{"shoulder_length", "back_width"}, c.suggest("shoulder_length"),
			"Take the shoulder from the neck to its tip only.",
			"One shoulder is nearly as long as the whole back is wide: %s, and %s.", c.is("shoulder_length"), c.is("back_width"))
	}
	if v, ok := c.has("neck_base_girth", "bust_girth"); ok && v[0] > v[1] {
		c.follows(LookAgain, "neck wider than bust", []string{"neck_base_girth", "bust_girth"}, c.suggest("neck_base_girth"),
			"If it is not, take the neck at its root again.",
			"The neck is thicker than the body below it: %s, and %s.", c.is("neck_base_girth"), c.is("bust_girth"))
	}
}

// shares holds every measure against the stature, or where that was not taken
// against what the others say of it, and lengths that cannot be longer than the whole.
func (c *inquiry) shares() {
	stature := c.given["stature"]
	ts := c.traits()
	for _, m := range theCatalogue().measures {
		v, ok := c.given[m.Name]
		if !ok || m.Name == "stature" || c.told(m.Name) {
			continue
		}
		names, beside, sizes := []string{"stature", m.Name}, "a stature of "+c.format(stature), []float64{stature}
		if stature == 0 {
			names, beside = names[1:], "what else was taken"
			if sizes = c.sizes(ts, m.Name); len(sizes) == 0 {
				continue
			}
		}
		switch {
		case m.Kind == Height: // told by heights, where they contradict
		case v < m.Least*slices.Min(sizes):
			c.follows(LookAgain, "small share", names, c.suggest(m.Name),
				"If the body is not built like that, take it again.",
				"The measure %s, is very small for %s.", c.is(m.Name), beside)
		case m.Name == "back_waist_length" && stature > 0 && v >= stature:
			c.follows(Problem, "longer than the body", names, c.suggest(m.Name),
				"Take both again.",
				"The measure %s, is longer than the whole body, %s.", c.is(m.Name), c.format(stature))
		case v > m.Most*slices.Max(sizes):
			c.follows(LookAgain, "large share", names, c.suggest(m.Name),
				"If the body is not built like that, take it again.",
				"The measure %s, is very large for %s.", c.is(m.Name), beside)
		}
	}
}

// size asks about bodies that are too small or too large for any costume, as they
// are where a whole list is in another unit.
func (c *inquiry) size() {
	ts := c.traits()
	if len(ts) == 0 {
		return
	}
	sizes := c.sizes(ts)
	size := slices.Max(sizes)
	if size >= smallBody {
		if size = slices.Min(sizes); size <= largeBody {
			return
		}
	}
	names := make([]string, len(ts))
	for i, t := range ts {
		names[i] = t.name
	}
	c.tell(LookAgain, "size", names, nil,
		"Look whether they are in the unit that was meant.",
		"By its measures the whole body would be about %s tall.", c.format(size))
	c.slips[len(c.slips)-1].Key = "size"
}

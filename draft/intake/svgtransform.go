package intake

import (
	"math"

	"hemlet/geom"
)

// parseTransform reads a list of transforms: the first in the list is the last
// that a point goes through.
func parseTransform(s string) (geom.Affine, error) {
	c := scanner{s: s}
	m := geom.Identity
	for c.space(); !c.done(); c.comma() {
		name := c.word()
		c.space()
		if !c.take('(') {
			return m, c.errorf("expected a transform such as translate(10 20), found %s", c.found())
		}
		args, err := c.arguments()
		if err != nil {
			return m, err
		}
		t, ok := transformOf(name, args)
		if !ok {
			return m, c.errorf("%s with %d numbers is not a transform", name, len(args))
		}
		if m = t.Then(m); !finite(m) {
			return m, c.errorf("the number is out of range")
		}
	}
	return m, nil
}

// arguments reads up to six numbers and the closing bracket. A unit of degrees
// or pixels, which style sheets write, changes nothing.
func (c *scanner) arguments() ([]float64, error) {
	var args []float64
	for c.space(); !c.take(')'); c.comma() {
		if len(args) == 6 {
			return nil, c.errorf("a transform takes at most 6 numbers")
		}
		v, err := c.number()
		if err != nil {
			return nil, err
		}
		if unit := c.word(); unit != "" && unit != "deg" && unit != "px" {
			return nil, c.errorf("the unit %q is not read in transforms", unit)
		}
		args = append(args, v)
	}
	return args, nil
}

func transformOf(name string, a []float64) (geom.Affine, bool) {
	n := len(a)
	switch {
	case name == "matrix" && n == 6:
		return geom.Affine{A: a[0], B: a[1], C: a[2], D: a[3], E: a[4], F: a[5]}, true
	case (name == "translate" || name == "translateX") && n == 1:
		return geom.Translation(geom.Pt(a[0], 0)), true
	case name == "translateY" && n == 1:
		return geom.Translation(geom.Pt(0, a[0])), true
	case name == "translate" && n == 2:
		return geom.Translation(geom.Pt(a[0], a[1])), true
	case name == "scale" && n == 1:
		return geom.Scaling(a[0], a[0]), true
	case name == "scale" && n == 2:
		return geom.Scaling(a[0], a[1]), true
	case name == "scaleX" && n == 1:
		return geom.Scaling(a[0], 1), true
	case name == "scaleY" && n == 1:
		return geom.Scaling(1, a[0]), true
	case name == "rotate" && n == 1:
		return turnDegrees(a[0], geom.Point{}), true
	case name == "rotate" && n == 3:
		return turnDegrees(a[0], geom.Pt(a[1], a[2])), true
	case name == "skewX" && n == 1:
		return geom.Affine{A: 1, C: math.Tan(a[0] * math.Pi / 180), D: 1}, true
	case name == "skewY" && n == 1:
		return geom.Affine{A: 1, B: math.Tan(a[0] * math.Pi / 180), D: 1}, true
	}
	return geom.Identity, false
}

// turnDegrees is a turn about c; quarter turns are exact, so that what was
// square stays square.
func turnDegrees(deg float64, c geom.Point) geom.Affine {
	quarter := map[float64][2]float64{0: {0, 1}, 90: {1, 0}, 180: {0, -1}, 270: {-1, 0}}
	sc, ok := quarter[math.Mod(math.Mod(deg, 360)+360, 360)]
	if !ok {
		return geom.Rotation(deg*math.Pi/180, c)
	}
	s, k := sc[0], sc[1]
	return geom.Affine{A: k, B: s, C: -s, D: k, E: c.X - k*c.X + s*c.Y, F: c.Y - s*c.X - k*c.Y}
}

func finite(m geom.Affine) bool {
	return geom.Pt(m.A, m.B).Finite() && geom.Pt(m.C, m.D).Finite() && geom.Pt(m.E, m.F).Finite()
}

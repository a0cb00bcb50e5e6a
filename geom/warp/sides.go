package warp

import (
	"math"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

const (
	// leastTurn is the sine of the angle below which two sides of a control polygon do
	// not turn either way.
	leastTurn = 1e-3
	// slightTurn is the angle in radians below which a run of a curve that turns against
	// the rest is none: a hundredth of a degree, which nobody sees, and which is not to
	// grow into a wave.
	slightTurn = 2e-4
	// keptTurn is the share of its turn that a control polygon keeps.
	keptTurn = 0.01
	// outdone is how many times as much one end of a curve goes on turning at least as
	// the other turns slightly against it: its run then takes no more than a tenth of that
	// end's turn.
	outdone = 4
)

// sides are the sides to which a curve turns at its start and at its end: 1 to the left, -1
// to the right, both 0 where it is straight. Unlike ones are those of a curve with an
// inflection.
type sides [2]float64

// sidesOf returns the sides of the cubic with these sides of its control polygon. An end that
// hardly turns counts as turning like the other, and so does a run that turns by less than
// slight, in radians, against a longer one.
func sidesOf(head, middle, tail geom.Point, slight float64) sides {
	s := sides{sideOf(head, middle), sideOf(middle, tail)}
	if s[0]*s[1] < 0 {
		first, second := runsOf(head, middle, tail)
		if math.Abs(first) < math.Min(math.Abs(second), slight) {
			s[0] = 0
		} else if math.Abs(second) < slight {
			s[1] = 0
		}
	}
	if s[0] == 0 {
		s[0] = s[1]
	}
	if s[1] == 0 {
		s[1] = s[0]
	}
	return s
}

// sideOf returns 1 where v turns to the left of u, -1 where it turns to the right, and 0
// where it hardly turns.
func sideOf(u, v geom.Point) float64 {
	sin := u.Cross(v)
	if math.Abs(sin) <= leastTurn*u.Len()*v.Len() {
		return 0
	}
	return math.Copysign(1, sin)
}

// runsOf returns the angles in radians by which a cubic turns up to its inflection and from
// there on, given a control polygon that turns to one side and then to the other. The
// inflection is where the cross product of the first two derivatives vanishes, which is
// (1-t)² h×m + t(1-t) h×k + t² m×k for the sides h, m and k of the polygon.
func runsOf(head, middle, tail geom.Point) (first, second float64) {
	a, b, c := head.Cross(middle), head.Cross(tail), middle.Cross(tail)
	// With r = t/(1-t): a + b r + c r² = 0, a and c of unlike signs, so that one root
	// is above 0.
	q := -(b + math.Copysign(math.Sqrt(b*b-4*a*c), b)) / 2
	r := math.Max(q/c, a/q)
	if math.IsInf(r, 0) || math.IsNaN(r) {
		return angle(head, middle), angle(middle, tail)
	}
	d := head.Add(middle.Mul(2 * r)).Add(tail.Mul(r * r))
	return angle(head, d), angle(d, tail)
}

// angle returns the angle in radians by which v is turned from u, to the left above 0.
func angle(u, v geom.Point) float64 { return math.Atan2(u.Cross(v), u.Dot(v)) }

// polygon returns the sides of the control polygon of a curved stretch.
func (b *body) polygon(i int) (head, middle, tail mix) {
	c := b.control(0, i)
	return mix{{c[1], 1}, {c[0], -1}}, mix{{c[2], 1}, {c[1], -1}}, mix{{c[3], 1}, {c[2], -1}}
}

// sides returns the sides to which a stretch turns in the shape as it is.
func (b *body) sides(i int) sides {
	if b.shape.stretch(0, i).Straight {
		return sides{}
	}
	head, middle, tail := b.polygon(i)
	return sidesOf(head.of(b), middle.of(b), tail.of(b), slightTurn)
}

// guardTurns makes the rules that a curved stretch goes on turning to its sides, or where the
// shape says so turns to others.
func (m *model) guardTurns(k, i int) {
	b := m.bodies[k]
	head, middle, tail := b.polygon(i)
	ends := [2][2]mix{{head, middle}, {middle, tail}}
	was := b.sides(i)
	to := was
	if b.shape.turned != nil {
		to = b.shape.turned[i]
	}
	var turn, size [2]float64
	for e, uv := range ends {
		p, q := uv[0].of(b).Mul(m.scale), uv[1].of(b).Mul(m.scale)
		size[e] = math.Max(p.Len(), q.Len())
		turn[e] = to[e] * p.Cross(q) / size[e] // a height in mm
		if p.Len()*q.Len() == 0 {
			to[e] = 0
		}
	}
	for e, uv := range ends {
		if to[e] == 0 {
			continue
		}
		least := keptTurn * turn[e]
		switch {
		case to[e] != was[e]:
			least = 0
		case to[e] != sideOf(uv[0].of(b), uv[1].of(b)):
			least = math.Min(0, turn[e]) // it may stay as straight as it is
		case to == was && turn[1-e] < 0:
			// The other end turns slightly the other way, which shows as little as this end
			// turns more.
			least = math.Max(least, math.Min(turn[e], -outdone*turn[1-e]))
		}
		m.guards = append(m.guards, &product{Block: k, U: uv[0], V: uv[1], K: sqp.Cross.Mul(to[e] / size[e]), C: least})
	}
}

package regular

import (
	"math"

	"hemlet/geom"
)

// rule is one number that a suggestion wants to be 0, in mm, and the unknowns that it
// depends on.
type rule struct {
	vars []int
	miss func(z []float64) float64
}

// wrapped returns an angle brought into (-π, π].
func wrapped(a float64) float64 { return a - 2*math.Pi*math.Ceil((a-math.Pi)/(2*math.Pi)) }

// nearestTurn returns the multiple of step that is nearest to an angle.
func nearestTurn(a, step float64) float64 { return step * math.Round(a/step) }

// leaving and arriving return the directions, in radians, in which an edge leaves its start
// and arrives at its end.
func (m *model) leaving(i int, z []float64) float64 {
	p := m.at(i, z)
	return p[0].Tangent(0).Angle()
}

func (m *model) arriving(i int, z []float64) float64 {
	p := m.at(i, z)
	return p[len(p)-1].Tangent(1).Angle()
}

// heading returns the direction of the line between an edge's ends.
func (m *model) heading(i int, z []float64) float64 {
	e := &m.edges[i]
	return point(z, 2*e.to).Sub(point(z, 2*e.from)).Angle()
}

// turnAt returns the angle by which the outline turns at a corner.
func (m *model) turnAt(c int, z []float64) float64 {
	return wrapped(m.leaving(m.after(c), z) - m.arriving(m.before(c), z))
}

// turnRule wants the turn at a corner to be an angle.
// Angles count as the way at the outline's size, so that rules that follow from each
// other do so to the last digit.
func (m *model) turnRule(c int, to float64) rule {
	return rule{
		vars: append(m.vars(m.before(c)), m.vars(m.after(c))...),
		miss: func(z []float64) float64 { return m.size * wrapped(m.turnAt(c, z)-to) },
	}
}

// headingRule wants an edge to run at an angle.
func (m *model) headingRule(i int, to float64) rule {
	return rule{
		vars: m.vars(i)[:4],
		miss: func(z []float64) float64 { return m.size * wrapped(m.heading(i, z)-to) },
	}
}

// parallelRule wants two edges to run at an angle to each other.
func (m *model) parallelRule(i, j int, to float64) rule {
	return rule{
		vars: append(m.vars(i)[:4:4], m.vars(j)[:4]...),
		miss: func(z []float64) float64 { return m.size * wrapped(m.heading(i, z)-m.heading(j, z)-to) },
	}
}

// lengthAt returns the length of an edge.
func (m *model) lengthAt(i int, z []float64) float64 {
	sum := 0.0
	for _, s := range m.at(i, z) {
		sum += s.Length()
	}
	return sum
}

// equalRule wants two edges to be equally long.
func (m *model) equalRule(i, j int) rule {
	return rule{
		vars: append(m.vars(i), m.vars(j)...),
		miss: func(z []float64) float64 { return m.lengthAt(i, z) - m.lengthAt(j, z) },
	}
}

// alongRule wants two corners to lie equally far along a direction.
func (m *model) alongRule(c, d int, dir geom.Point) rule {
	return rule{
		vars: []int{2 * c, 2*c + 1, 2 * d, 2*d + 1},
		miss: func(z []float64) float64 { return point(z, 2*c).Sub(point(z, 2*d)).Dot(dir) },
	}
}

// rules returns what a suggestion wants of a model whose edges have been made ready for
// it, adding the unknowns of its axis.
func (m *model) rules(s Suggestion) []rule {
	z := m.start
	switch s.Kind {
	case Square:
		return []rule{m.turnRule(s.Corners[0], nearestSquare(m.turnAt(s.Corners[0], z)))}
	case Smooth:
		return []rule{m.turnRule(s.Corners[0], 0)}
	case OnFold:
		var out []rule
		for _, c := range s.Corners {
			out = append(out, m.turnRule(c, nearestSquare(m.turnAt(c, z))))
		}
		return out
	case Upright, Level:
		to := s.Up.Angle()
		if s.Kind == Level {
			to += math.Pi / 2
		}
		i := s.Edges[0]
		return []rule{m.headingRule(i, to+nearestTurn(wrapped(m.heading(i, z)-to), math.Pi))}
	case Parallel:
		i, j := s.Edges[0], s.Edges[1]
		return []rule{m.parallelRule(i, j, nearestTurn(wrapped(m.heading(i, z)-m.heading(j, z)), math.Pi))}
	case Equal:
		return []rule{m.equalRule(s.Edges[0], s.Edges[1])}
	case Abreast:
		return []rule{m.alongRule(s.Corners[0], s.Corners[1], s.Up)}
	case InLine:
		return []rule{m.alongRule(s.Corners[0], s.Corners[1], s.Up.Left())}
	case Symmetric:
		return m.mirrorRules(s.pairing)
	}
	return nil // Straight is built into the edge
}

// smoothJoints are the rules that keep smooth what is smooth: the nodes that count as
// corners only because the outline, as it was, has none.
func (m *model) smoothJoints(as *model) []rule {
	var out []rule
	for c, meant := range m.meant {
		if meant || m.before(c) < 0 || m.after(c) < 0 {
			continue
		}
		if math.Abs(as.turnAt(c, as.start)) < smoothJoint {
			out = append(out, m.turnRule(c, 0))
		}
	}
	return out
}

// smoothJoint is the largest turn in radians of a node that is meant to be smooth: what
// rounding leaves of it, and less than anyone sees.
const smoothJoint = 1e-3

// nearestSquare returns a right angle to the side to which the outline turns.
func nearestSquare(turn float64) float64 { return math.Copysign(math.Pi/2, turn) }

package warp

import (
	"math"
	"slices"
)

const (
	// sharp is the angle in radians by which an outline turns at a node where one line
	// ends and the next begins for the eye, thirty degrees.
	sharp = math.Pi / 6
	// plainTurn is the angle in radians below which a run of a curve counts as straight:
	// 0.03 mm of hollow on 100 mm, a third of a pencil line.
	plainTurn = 2.5e-3
)

// calmed returns the problem with the loose curves of m held to a side, so that no line of an
// outline turns to and fro more often than it did: of all ways to do so the one that takes
// least back of how the lines turn at z. It is nil if none does so more often at z.
func (m *model) calmed(z [][]float64) *Problem {
	q, x, wavy := *m.p, m.prog.At(z), false
	q.Shapes = slices.Clone(q.Shapes)
	for k, b := range m.bodies {
		s := &q.Shapes[k]
		if len(s.Loose) == 0 {
			continue
		}
		s.Loose, s.turned = nil, make([]sides, len(s.Nodes))
		for _, line := range b.lines() {
			was, now, by := b.turns(line, x[k])
			most := changes(was)
			wavy = wavy || changes(now) > most
			for i, side := range calmest(by, most) {
				s.turned[line[i/2]][i%2] = side
			}
		}
	}
	if !wavy {
		return nil
	}
	return &q
}

// calmer reports whether the solution z, whose lines are calm, is as good otherwise as that of
// another model: no outline crosses itself, and no span is missed by more.
func (m *model) calmer(z [][]float64, other *model, was [][]float64) bool {
	return m.sound(z) && m.worstMiss(z) <= other.worstMiss(was)
}

// lines parts an outline at its sharp corners, and returns the curves of each line in order.
func (b *body) lines() [][]int {
	n := len(b.shape.Nodes)
	corner := func(i int) bool {
		in, out := b.tail(b.shape.prev(i)).of(b), b.head(i).of(b)
		return !b.shape.Nodes[i].Smooth && math.Abs(angle(in, out)) > sharp
	}
	first := 0
	for first < n-1 && !corner(first) {
		first++
	}
	var list [][]int
	for j := range n {
		i := (first + j) % n
		if j == 0 || corner(i) {
			list = append(list, nil)
		}
		if b.sides(i) != (sides{}) {
			list[len(list)-1] = append(list[len(list)-1], i)
		}
	}
	return list
}

// turns returns the sides to which a line turns in the shape as it was and at the
// coordinates x, and by which angles in radians at x, of each of its curves for its start and
// its end.
func (b *body) turns(line []int, x []float64) (was, now, by []float64) {
	for _, i := range line {
		before := b.sides(i)
		head, middle, tail := b.polygon(i)
		u, v, w := head.At(x), middle.At(x), tail.At(x)
		after := sidesOf(u, v, w, plainTurn)
		was, now = append(was, before[:]...), append(now, after[:]...)
		by = append(by, angle(u, v), angle(v, w))
	}
	return was, now, by
}

// changes counts how often a list of sides changes from one to the other.
func changes(list []float64) int {
	n, last := 0, 0.0
	for _, side := range list {
		if side*last < 0 {
			n++
		}
		if side != 0 {
			last = side
		}
	}
	return n
}

// calmest returns the sides, 1 for left and -1 for right, that change at most so often and
// against which least of the given turns goes: the sum of the sizes of those to the other
// side is least.
func calmest(by []float64, most int) []float64 {
	// The cost up to a place by the number of changes and the side there, 0 for left.
	type costs [][2]float64
	none := func() costs {
		c := make(costs, most+1)
		for n := range c {
			c[n] = [2]float64{math.Inf(1), math.Inf(1)}
		}
		return c
	}
	cost := none()
	cost[0] = [2]float64{}
	turned := make([][][2]bool, len(by)) // whether the cheapest way there changes just there
	for j, v := range by {
		next := none()
		turned[j] = make([][2]bool, most+1)
		for n := range cost {
			for k := range cost[n] {
				from := cost[n][k]
				if j > 0 && n > 0 && cost[n-1][1-k] < from {
					from, turned[j][n][k] = cost[n-1][1-k], true
				}
				next[n][k] = from + math.Max(0, -sideNamed(k)*v)
			}
		}
		cost = next
	}
	n, k := 0, 0
	for i := range cost {
		for side, c := range cost[i] {
			if c < cost[n][k] {
				n, k = i, side
			}
		}
	}
	out := make([]float64, len(by))
	for j := len(by) - 1; j >= 0; j-- {
		out[j] = sideNamed(k)
		if turned[j][n][k] {
			n, k = n-1, 1-k
		}
	}
	return out
}

// sideNamed returns 1 for side 0, the left, and -1 for side 1.
func sideNamed(k int) float64 { return float64(1 - 2*k) }

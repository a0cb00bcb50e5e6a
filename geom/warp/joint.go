package warp

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
	"hemlet/geom/sqp"
)

const (
	// kinkLeft is the angle in radians up to which a line may run on across a seam otherwise
	// than it did, two degrees: a kink of five is the first that shows.
	kinkLeft = math.Pi / 90
	// kinkMost is the angle beyond which it is no line that could run on.
	kinkMost = math.Pi / 2
	// The turn of a line's end that would have its curve turn to another side is tried again
	// by the factor lessTurn less, mostTries times in all: down to an eighth of it.
	lessTurn, mostTries = 0.75, 8
	// keptMiss is the factor by which spans that cannot be met may be missed more for the
	// sake of a line.
	keptMiss = 1.05
)

// trued turns the ends of lines so that they run on across seams as they did, and puts right
// what that changes of what is wanted. It returns z where nothing is to be turned, or
// where turning leads to worse.
func (m *model) trued(ctx context.Context, z [][]float64, r *Result) ([][]float64, error) {
	if !m.fits() {
		return z, nil
	}
	was, missed, start := m.bases(), m.worstMiss(z), &sqp.Start{Z: z, Met: m.prog.Worst(z) <= met}
	if !m.turnLines(z) {
		return z, nil
	}
	m.prog.Start = start
	next, err := m.follow(ctx, r)
	m.prog.Start = nil
	if ended := ctx.Err(); ended != nil {
		return nil, fmt.Errorf("warp: %w", ended)
	}
	if err != nil || !m.sound(next) || m.torn(next) || m.worstMiss(next) > missed*keptMiss {
		m.rebase(was)
		return z, nil
	}
	return next, nil
}

// torn reports whether a seam does not hold at z.
func (m *model) torn(z [][]float64) bool {
	x := m.prog.At(z)
	return slices.ContainsFunc(m.seams, func(g *goal) bool { return math.Abs(g.Value(x)) > straightness })
}

// bases returns the coordinates of all shapes where nothing is changed, to be put back.
func (m *model) bases() [][]float64 {
	list := make([][]float64, len(m.bodies))
	for k, b := range m.bodies {
		list[k] = slices.Clone(b.base)
	}
	return list
}

func (m *model) rebase(to [][]float64) {
	for k, b := range m.bodies {
		copy(b.base, to[k])
	}
}

// turnLines turns the ends of all lines by what they run on otherwise across their seams, by
// coordinates where nothing is changed, and reports whether any was turned. An end that is in
// two joints, as that of a half front which is sewn to both sides of a back, is turned for the
// first; the other side of the second then takes the rest, which is what the first's took.
func (m *model) turnLines(z [][]float64) bool {
	had := make(map[lineEnd]bool)
	for _, j := range m.p.Joints {
		x := m.prog.At(z)
		if kink := m.kink(j, x); math.Abs(kink) >= kinkLeft && math.Abs(kink) <= kinkMost {
			m.turnLine(j, x, kink, had)
		}
	}
	return len(had) > 0
}

// kink returns by how much more in radians the corners of a joint turn together at the
// coordinates x than they did; 0 where one has a handle without length, which no line leaves
// by.
func (m *model) kink(j Joint, x [][]float64) float64 {
	sum := 0.0
	for _, c := range j {
		b := m.bodies[c.Shape]
		in, out := b.tail(b.shape.prev(c.Node)), b.head(c.Node)
		if in.of(b).Len() <= leastLength || out.of(b).Len() <= leastLength {
			return 0
		}
		sum += angle(in.At(x[c.Shape]), out.At(x[c.Shape])) - angle(in.of(b), out.of(b))
	}
	return sum
}

// turnLine takes a kink from the line that runs on across a joint. What the seams have
// turned, its ends take up evenly, each counted from where it was: so a hem goes up or down
// alike in front and behind.
func (m *model) turnLine(j Joint, x [][]float64, kink float64, had map[lineEnd]bool) {
	ends := m.lineEnds(j, had)
	own := 0.0
	for _, e := range ends {
		own += m.turnedBy(e, x[e.shape])
	}
	even := (own - kink) / float64(len(ends))
	for _, e := range ends {
		if had[e] {
			continue // named twice
		}
		if m.turnEnd(e, x[e.shape], even-m.turnedBy(e, x[e.shape])) {
			had[e] = true
		}
	}
}

// lineEnd is the end of a line at a joint, with a handle that can be turned.
type lineEnd struct {
	shape, stretch int
	leaves         bool
}

// lineEnds returns the ends of a joint that can be turned and were not yet, in order; one that
// is named twice is there twice.
func (m *model) lineEnds(j Joint, had map[lineEnd]bool) []lineEnd {
	var ends []lineEnd
	for _, c := range j {
		b := m.bodies[c.Shape]
		if !c.Comes && !c.Leaves || b.shape.Nodes[c.Node].Smooth {
			continue
		}
		e := lineEnd{c.Shape, c.Node, c.Leaves}
		if c.Comes {
			e.stretch = b.shape.prev(c.Node)
		}
		if b.sides(e.stretch) != (sides{}) && !had[e] { // what is straight stays so
			ends = append(ends, e)
		}
	}
	return ends
}

// turnedBy returns by how much in radians the end of a line has turned, counted as the turn
// of the outline at its corner is: to the left above 0 where the line leaves it.
func (m *model) turnedBy(e lineEnd, x []float64) float64 {
	b := m.bodies[e.shape]
	head, _, tail := b.polygon(e.stretch)
	if e.leaves {
		return angle(head.of(b), head.At(x))
	}
	return -angle(tail.of(b), tail.At(x))
}

// turnEnd turns an end further by an angle counted as turnedBy counts, or by as much of it as
// lets its curve turn to the sides to which it is to turn.
func (m *model) turnEnd(e lineEnd, x []float64, by float64) bool {
	b := m.bodies[e.shape]
	head, middle, tail := b.polygon(e.stretch)
	u, v, w := head.At(x), middle.At(x), tail.At(x)
	line := u.Add(v).Add(w)
	for range mostTries {
		p, q := u, w
		if e.leaves {
			p = geom.Rotation(by, geom.Point{}).ApplyVector(u)
		} else {
			q = geom.Rotation(-by, geom.Point{}).ApplyVector(w)
		}
		if !m.mayTurn(e, sidesOf(u, v, w, slightTurn), sidesOf(p, line.Sub(p).Sub(q), q, slightTurn)) {
			by *= lessTurn
			continue
		}
		c := b.control(0, e.stretch)
		shift(b.base, c[1], p.Sub(u))
		shift(b.base, c[2], w.Sub(q))
		return true
	}
	return false
}

// shift moves a point of the coordinates x.
func shift(x []float64, point int, by geom.Point) {
	x[2*point] += by.X
	x[2*point+1] += by.Y
}

// mayTurn reports whether the curve of a line's end, which turns to some sides now, may turn to
// others.
func (m *model) mayTurn(e lineEnd, now, to sides) bool {
	b := m.bodies[e.shape]
	may := b.sides(e.stretch)
	switch {
	case slices.Contains(b.shape.Loose, e.stretch):
		may = now
	case b.shape.turned != nil:
		may = b.shape.turned[e.stretch]
	}
	return to == may || to == sides{}
}

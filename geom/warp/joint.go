package warp

import (
	"context"
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
	// The turn of a line's end that would have its curve turn to another side is made less
	// by the factor lessTurn, up to mostLess times.
	lessTurn, mostLess = 0.75, 8
)

// trued turns the ends of lines so that they run on across seams as they did, and puts right
// what that changes of what is wanted. It returns z where nothing is to be turned, or
// where turning leads to worse.
func (m *model) trued(ctx context.Context, z [][]float64, r *Result) ([][]float64, error) {
	was, missed := m.bases(), m.worstMiss(z)
	if !m.fits() || !m.turnLines(z) {
		return z, nil
	}
	m.prog.Start = &sqp.Start{Z: z, Met: missed == 0}
	next, err := m.follow(ctx, r)
	if ctx.Err() != nil {
		return nil, err
	}
	if err != nil || !m.sound(next) || m.worstMiss(next) > missed {
		m.rebase(was)
		return z, nil
	}
	return next, nil
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
// coordinates where nothing is changed, and reports whether any was turned.
func (m *model) turnLines(z [][]float64) bool {
	x, some := m.prog.At(z), false
	for _, j := range m.p.Joints {
		kink := 0.0
		for _, c := range j {
			b := m.bodies[c.Shape]
			in, out := b.tail(b.shape.prev(c.Node)), b.head(c.Node)
			kink += angle(in.At(x[c.Shape]), out.At(x[c.Shape])) - angle(in.of(b), out.of(b))
		}
		if math.Abs(kink) < kinkLeft || math.Abs(kink) > kinkMost {
			continue
		}
		some = m.turnLine(j, x, kink) || some
	}
	return some
}

// turnLine takes a kink from the line that runs on across a joint. What the seams have
// turned, its ends take up evenly, each counted from where it was: so a hem goes up or down
// alike in front and behind.
func (m *model) turnLine(j Joint, x [][]float64, kink float64) bool {
	ends := m.lineEnds(j)
	own, times := 0.0, 0
	for _, e := range ends {
		own += float64(e.times) * m.turnedBy(e, x[e.shape])
		times += e.times
	}
	some := false
	for _, e := range ends {
		even := (own - kink) / float64(times)
		some = m.turnEnd(e, x[e.shape], even-m.turnedBy(e, x[e.shape])) || some
	}
	return some
}

// lineEnd is the end of a line at a joint, with a handle that can be turned.
type lineEnd struct {
	shape, stretch int
	leaves         bool
	times          int // how often it is in the joint
}

// lineEnds returns the ends of a joint that can be turned, each once.
func (m *model) lineEnds(j Joint) []lineEnd {
	var list []lineEnd
	for _, c := range j {
		if !c.Comes && !c.Leaves {
			continue
		}
		b := m.bodies[c.Shape]
		e := lineEnd{shape: c.Shape, stretch: c.Node, leaves: c.Leaves, times: 1}
		if c.Comes {
			e.stretch = b.shape.prev(c.Node)
		}
		if b.sides(e.stretch) == (sides{}) {
			continue // it is straight, and stays so
		}
		k := slices.IndexFunc(list, func(o lineEnd) bool { return o.shape == e.shape && o.stretch == e.stretch && o.leaves == e.leaves })
		if k < 0 {
			list = append(list, e)
		} else {
			list[k].times++
		}
	}
	return list
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
	for range mostLess {
		p, q := u, w
		if e.leaves {
			p = geom.Rotation(by, geom.Point{}).ApplyVector(u)
		} else {
			q = geom.Rotation(-by, geom.Point{}).ApplyVector(w)
		}
		if !m.mayTurn(e, sidesOf(u, v, w, plainTurn), sidesOf(p, line.Sub(p).Sub(q), q, slightTurn)) {
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

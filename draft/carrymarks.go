package draft

import (
	"math"

	"hemlet/geom"
)

// What a hand has put on a piece goes with its outline when that follows a block or
// another piece: a fold goes with the hem that has grown beyond it, the end of a slit
// with its point. Each place moves by the mean of the ways of the outline's points,
// weighted by its mean value coordinates in the polygon of those points, which reproduce
// every affine change, and on the line between two points their ways in proportion
// (Hormann and Floater 2006, "Mean value coordinates for arbitrary planar polygons").

// withOutline moves places from one outline to another.
type withOutline struct {
	at, by []geom.Point
	still  bool
}

// movedFrom returns how places on the piece p move when its outline becomes that of q.
func movedFrom(p, q *Piece) *withOutline {
	w := &withOutline{still: true}
	for i := range p.Edges {
		for _, n := range p.Edges[i].Nodes {
			to, _, _ := q.Node(n.ID)
			if to == nil {
				continue
			}
			by := to.At.Sub(n.At)
			w.at, w.by = append(w.at, n.At), append(w.by, by)
			w.still = w.still && by == (geom.Point{})
		}
	}
	return w
}

// wayAt returns by how much the place x moves.
func (w *withOutline) wayAt(x geom.Point) geom.Point {
	n := len(w.at)
	if w.still || n == 0 {
		return geom.Point{}
	}
	type corner struct {
		s       geom.Point
		r, a, d float64
	}
	c := make([]corner, n)
	nearest := 0
	for i := range c {
		c[i].s = w.at[i].Sub(x)
		c[i].r = c[i].s.Len()
		if c[i].r <= Grid {
			return w.by[i]
		}
		if c[i].r < c[nearest].r {
			nearest = i
		}
	}
	for i := range c {
		next := c[(i+1)%n]
		c[i].a, c[i].d = c[i].s.Cross(next.s)/2, c[i].s.Dot(next.s)
		if math.Abs(c[i].a) <= Grid*(c[i].r+next.r) && c[i].d < 0 { // on the line between them
			return w.by[i].Mul(next.r).Add(w.by[(i+1)%n].Mul(c[i].r)).Mul(1 / (c[i].r + next.r))
		}
	}
	var sum geom.Point
	total, size := 0.0, 0.0
	for i := range c {
		before, after := c[(i+n-1)%n], c[(i+1)%n]
		weight := 0.0
		if before.a != 0 {
			weight += (before.r - before.d/c[i].r) / before.a
		}
		if c[i].a != 0 {
			weight += (after.r - c[i].d/c[i].r) / c[i].a
		}
		sum, total, size = sum.Add(w.by[i].Mul(weight)), total+weight, size+math.Abs(weight)
	}
	const least = 1e-6 // of the weights: beyond the outline they may cancel
	if math.Abs(total) <= least*size {
		return w.by[nearest]
	}
	return sum.Mul(1 / total)
}

// line returns the line moved with the outline; it shares no memory with the other.
func (w *withOutline) line(l Line) Line {
	if w.still {
		return l
	}
	l.Nodes = append([]Node(nil), l.Nodes...)
	for i := range l.Nodes {
		n := &l.Nodes[i]
		by := w.wayAt(n.At)
		handle := func(h geom.Point) geom.Point {
			if h == (geom.Point{}) {
				return h
			}
			return h.Add(w.wayAt(n.At.Add(h))).Sub(by)
		}
		n.In, n.Out = handle(n.In), handle(n.Out)
		if n.Smooth {
			n.In, n.Out = inOneLine(n.In, n.Out)
		}
		n.At = n.At.Add(by)
	}
	return l
}

// inOneLine turns two handles of a smooth point back into one line, each with the length
// that it has.
func inOneLine(in, out geom.Point) (geom.Point, geom.Point) {
	if in == (geom.Point{}) || out == (geom.Point{}) {
		return in, out
	}
	way := out.Unit().Sub(in.Unit()).Unit()
	if way == (geom.Point{}) {
		return in, out
	}
	return way.Mul(-in.Len()), way.Mul(out.Len())
}

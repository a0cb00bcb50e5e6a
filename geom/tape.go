package geom

import (
	"math"
	"sort"
)

// Tape is a path with the arc length to each of its nodes, for many questions
// about one path. It holds the path's slice; the path must not change under it.
// All lengths are mm and as accurate as Segment.Length.
type Tape struct {
	path Path
	ends []float64 // arc length to the end of each segment
}

// Tape measures the path.
func (p Path) Tape() Tape {
	ends := make([]float64, len(p))
	sum := 0.0
	for i, s := range p {
		sum += s.Length()
		ends[i] = sum
	}
	return Tape{p, ends}
}

// Path returns the measured path.
func (t Tape) Path() Path { return t.path }

// Length returns the length of the whole path, 0 for an empty one.
func (t Tape) Length() float64 {
	if len(t.ends) == 0 {
		return 0
	}
	return t.ends[len(t.ends)-1]
}

// nodeSnap is the share of the whole length within which a distance along a
// path is taken to mean the node there. Lengths are good to 1e-9, and a sliver
// of that size has no use as a segment.
const nodeSnap = 1e-10

// At returns the place at distance d along the path, held within 0 and Length;
// at a node it is the end of the segment before. The path must not be empty.
func (t Tape) At(d float64) Place {
	if !(d > 0) {
		return Place{}
	}
	i := sort.SearchFloat64s(t.ends, d)
	if i == len(t.ends) {
		return Place{len(t.ends) - 1, 1}
	}
	return t.within(i, d)
}

// within returns the place at distance d, which falls on segment i.
func (t Tape) within(i int, d float64) Place {
	start := 0.0
	if i > 0 {
		start = t.ends[i-1]
	}
	snap := nodeSnap * t.Length()
	switch {
	case t.ends[i]-d <= snap:
		return Place{i, 1}
	case d-start <= snap:
		return Place{i, 0}
	}
	return Place{i, t.path[i].atLength(d-start, t.ends[i]-start)}
}

// To returns the arc length from the start of the path to the place.
func (t Tape) To(at Place) float64 {
	start := 0.0
	if at.Seg > 0 {
		start = t.ends[at.Seg-1]
	}
	switch at.T {
	case 0:
		return start
	case 1:
		return t.ends[at.Seg]
	}
	return start + t.path[at.Seg].LengthTo(at.T)
}

// Node returns the arc length at the start of segment i, or the whole length
// for i = the number of segments.
func (t Tape) Node(i int) float64 {
	if i == 0 {
		return 0
	}
	return t.ends[i-1]
}

// Between returns the part of the path from distance d0 to distance d1.
//
// On an open path both are held within the path, and with d0 > d1 the part runs
// backwards. On a closed path distances count round and round: the part always
// runs forward, from d0 through the start if need be; d1 - d0 of the whole
// length or more gives one full round that starts at d0. The part is empty if
// d0 equals d1 or exceeds it by whole rounds, the path has no length, or a distance is not a number. Distances
// within 1e-10 of the path's length from a node mean the node.
func (t Tape) Between(d0, d1 float64) Path {
	total := t.Length()
	if !(total > 0) || math.IsInf(total, 0) || math.IsNaN(d0-d0) || math.IsNaN(d1-d1) || d0 == d1 {
		return nil
	}
	if !t.path.Closed() {
		if d0 > d1 {
			return t.Between(d1, d0).Reverse()
		}
		return t.forward(math.Max(d0, 0), math.Min(d1, total))
	}
	span := d1 - d0
	if span < 0 {
		if span = math.Mod(span, total); span < 0 {
			span += total
		}
	}
	d0 = positiveMod(d0, total)
	if span >= total*(1-nodeSnap) {
		return append(t.forward(d0, total), t.forward(0, d0)...)
	}
	if d1 = d0 + span; d1 <= total {
		return t.forward(d0, d1)
	}
	return append(t.forward(d0, total), t.forward(0, d1-total)...)
}

// positiveMod returns x reduced to [0, m).
func positiveMod(x, m float64) float64 {
	x = math.Mod(x, m)
	if x < 0 {
		x += m
	}
	if x >= m {
		return 0
	}
	return x
}

// forward returns the part from d0 to d1 with 0 <= d0 <= d1 <= Length.
func (t Tape) forward(d0, d1 float64) Path {
	if !(d0 < d1) {
		return nil
	}
	a, b := t.At(d0), t.At(d1)
	if d1 >= t.Length() {
		b = Place{len(t.path) - 1, 1} // past closing slivers that add no length
	}
	if a.T == 1 && a.Seg < b.Seg {
		a = Place{a.Seg + 1, 0}
	}
	return t.path.Part(a, b)
}

// Length returns the arc length of the path in mm, with a relative error below
// 1e-9; 0 for an empty path.
func (p Path) Length() float64 {
	sum := 0.0
	for _, s := range p {
		sum += s.Length()
	}
	return sum
}

// AtLength returns the place at distance d mm along the path, held within 0 and
// Length. The path must not be empty. For many such questions about one path
// measure it once, with Tape.
func (p Path) AtLength(d float64) Place { return p.Tape().At(d) }

// Between returns the part of the path from d0 to d1 mm along it, as
// Tape.Between does.
func (p Path) Between(d0, d1 float64) Path { return p.Tape().Between(d0, d1) }

package draft

import "hemlet/geom"

// capPath returns the line from the dart's start mouth to its end mouth along
// which the stitching line of the edge runs across the folded dart: laid flat
// again, it juts out (or dips in) so that the sewn and pressed dart ends level
// with the edge. before and after are the stretches of the edge on either side.
//
// Fold the dart shut and press it to one side: the half of the wedge on that side
// lies on the piece, mirrored about its leg, and must end where the edge there
// ends. So that half's end is the edge mirrored about the leg, cut off at the fold
// of the wedge, and the other half's is its mirror image about the fold. (Common
// practice, no source; the construction follows from folding paper.)
func (d Dart) capPath(before, after geom.Path, from, to geom.Point) geom.Path {
	straight := geom.Path{geom.Line(from, to)}
	c, ok := d.creases(from, to)
	if !ok {
		return straight
	}
	before = before.Reverse()
	switch d.Press {
	case PressToStart:
		if half, ok := c.half(c.first, c.middle, before); ok {
			return joinEnd(unfoldCap(half, c.middle), to)
		}
	case PressToEnd:
		if half, ok := c.half(c.last, c.middle, after); ok {
			return joinEnd(unfoldCap(half, c.middle), from).Reverse()
		}
	case PressOpen:
		a, okA := c.openHalf(c.first, before)
		b, okB := c.openHalf(c.last, after)
		if okA && okB {
			return append(joinEnd(a, b.End()), b.Reverse()...)
		}
	}
	return straight
}

// creases are the lines along which a dart or pleat is folded: the first and the last
// are sewn onto each other or laid there, the middle one lies between. Each runs from
// inside the piece out through the edge.
type creases struct {
	first, middle, last geom.Segment
	fold                Fold
	// reach is how far an edge is taken to run on beyond its end, in mm.
	reach float64
}

// creases returns the lines along which the dart is folded, false where it has no
// width or no length.
func (d Dart) creases(from, to geom.Point) (creases, bool) {
	c := creases{fold: d.Fold, reach: capReach * from.Dist(to)}
	if d.Fold == Wedge {
		a, b := from.Sub(d.Apex).Unit(), to.Sub(d.Apex).Unit()
		fold := a.Add(b).Unit()
		if a == (geom.Point{}) || b == (geom.Point{}) || fold == (geom.Point{}) {
			return c, false
		}
		c.first, c.last = geom.Line(d.Apex, from), geom.Line(d.Apex, to)
		c.middle = geom.Line(d.Apex, d.Apex.Add(fold.Mul(from.Dist(d.Apex))))
		return c, true
	}
	middle := from.Lerp(to, 0.5)
	in := d.Apex.Sub(middle)
	if in.Len() == 0 || from == to {
		return c, false
	}
	c.first, c.middle, c.last = geom.Line(from.Add(in), from), geom.Line(d.Apex, middle), geom.Line(to.Add(in), to)
	return c, true
}

// openHalf returns the end of the half of an open fold next to the leg, from the mouth to
// the middle. A dart is slashed along its middle and each half turned back onto its own
// side. A pleat is folded halfway between leg and middle and comes back to where the legs
// meet.
func (c creases) openHalf(leg geom.Segment, edge geom.Path) (geom.Path, bool) {
	if c.fold == Wedge {
		return c.half(leg, c.middle, edge)
	}
	quarter := geom.Line(leg.P0.Lerp(c.middle.P0, 0.5), leg.P3.Lerp(c.middle.P3, 0.5))
	half, ok := c.half(leg, quarter, edge)
	if !ok {
		return nil, false
	}
	return unfoldCap(half, quarter), true
}

// half returns the end of what lies between a leg and a fold: the edge that leaves the
// mouth, mirrored about the leg, as far as the fold. An edge that ends before, at a
// corner next to the dart, is taken to run on straight. It is false where no edge would
// reach the fold.
func (c creases) half(leg, fold geom.Segment, edge geom.Path) (geom.Path, bool) {
	mirror, ok := geom.Reflection(leg.P0, leg.P3)
	if !ok || len(edge) == 0 {
		return nil, false
	}
	image := runOn(edge, c.reach).Transform(mirror)
	// A line along the fold, longer than anything it could meet.
	reach := image.Bounds().Include(fold.P0).Include(fold.P3)
	far := fold.P0.Add(fold.P3.Sub(fold.P0).Unit().Mul(2 * (reach.W() + reach.H())))
	for i, s := range image {
		met := s.Intersections(geom.Line(fold.P0, far))
		if len(met) == 0 {
			continue
		}
		t := met[0].T
		for _, m := range met[1:] {
			t = min(t, m.T)
		}
		half := append(geom.Path(nil), image[:i]...)
		if t > 0 {
			half = append(half, s.Between(0, t))
		}
		return half, len(half) > 0
	}
	return nil, false
}

// capReach is how far an edge next to a dart is taken to run on, as a multiple of the
// mouth: the cap of a dart of 80 degrees still fits, and no needle sticks out of the
// piece where a dart is drawn wider than it can be sewn.
const capReach = 4

// runOn returns the path with a straight line of length mm on from its end.
func runOn(edge geom.Path, length float64) geom.Path {
	last := edge[len(edge)-1]
	on := last.Tangent(1).Mul(length)
	return append(append(geom.Path(nil), edge...), geom.Line(last.P3, last.P3.Add(on)))
}

// unfoldCap returns the half followed by its mirror image about the fold.
func unfoldCap(half geom.Path, fold geom.Segment) geom.Path {
	mirror, ok := geom.Reflection(fold.P0, fold.P3)
	if !ok {
		return half
	}
	return append(append(geom.Path(nil), half...), half.Transform(mirror).Reverse()...)
}

// joinEnd returns path with a line to end where it does not end there already, as
// happens where the legs of a dart differ in length. An end that is off by no more
// than rounding is put right without one.
func joinEnd(path geom.Path, end geom.Point) geom.Path {
	path = append(geom.Path(nil), path...)
	if last := len(path) - 1; path[last].P3.Near(end, Grid) {
		if path[last].Straight {
			path[last] = geom.Line(path[last].P0, end)
		} else {
			path[last].P3 = end
		}
		return path
	}
	return append(path, geom.Line(path.End(), end))
}

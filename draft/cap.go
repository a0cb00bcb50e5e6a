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
	switch d.Press {
	case PressToStart:
		if half, ok := halfCap(d.Apex, from, to, before.Reverse()); ok {
			return joinEnd(unfoldCap(half, d.Apex), to)
		}
	case PressToEnd:
		if half, ok := halfCap(d.Apex, to, from, after); ok {
			return joinEnd(unfoldCap(half, d.Apex), from).Reverse()
		}
	case PressOpen:
		// Slashed along its middle, each half is turned back onto its own side.
		a, okA := halfCap(d.Apex, from, to, before.Reverse())
		b, okB := halfCap(d.Apex, to, from, after)
		if okA && okB {
			return append(joinEnd(a, b.End()), b.Reverse()...)
		}
	}
	return straight
}

// halfCap returns the end of the half wedge next to the leg apex-mouth: the edge
// that leaves the mouth, mirrored about the leg, as far as the fold between mouth
// and other. An edge that ends before, at a corner next to the dart, is taken to run
// on straight. It is false where no edge would reach the fold.
func halfCap(apex, mouth, other geom.Point, edge geom.Path) (geom.Path, bool) {
	mirror, ok := geom.Reflection(apex, mouth)
	if !ok || len(edge) == 0 {
		return nil, false
	}
	a, b := mouth.Sub(apex).Unit(), other.Sub(apex).Unit()
	fold := a.Add(b).Unit()
	if fold == (geom.Point{}) {
		return nil, false
	}
	image := runOn(edge, capReach*mouth.Dist(other)).Transform(mirror)
	// A line from the apex along the fold, longer than anything it could meet.
	reach := image.Bounds().Include(apex).Include(other)
	far := apex.Add(fold.Mul(2 * (reach.W() + reach.H())))
	for i, s := range image {
		met := s.Intersections(geom.Line(apex, far))
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

// unfoldCap returns the half followed by its mirror image about the line from the
// apex through the half's end.
func unfoldCap(half geom.Path, apex geom.Point) geom.Path {
	mirror, ok := geom.Reflection(apex, half.End())
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

package geom

// Place is a position on a path: parameter T in 0 to 1 on segment Seg. The end
// of one segment and the start of the next are two places at one point.
type Place struct {
	Seg int
	T   float64
}

// At returns the point at the place, which must lie on the path.
func (p Path) At(at Place) Point { return p[at.Seg].At(at.T) }

// Tangent returns the unit direction of travel at the place, as
// Segment.Tangent does. At a node it is the direction of the place's own
// segment. On a segment without length it is that of the nearest one before it
// that has a direction, or else of the nearest one after it.
func (p Path) Tangent(at Place) Point {
	if d := p[at.Seg].Tangent(at.T); d != (Point{}) {
		return d
	}
	for i := at.Seg - 1; i >= 0; i-- {
		if d := p[i].Tangent(1); d != (Point{}) {
			return d
		}
	}
	for i := at.Seg + 1; i < len(p); i++ {
		if d := p[i].Tangent(0); d != (Point{}) {
			return d
		}
	}
	return Point{}
}

// Part returns the part of the path from place a forward to place b, which must
// not lie before a. Parts of no parameter range at either end are left out; the
// result is empty only if a and b are the same place or name one node.
func (p Path) Part(a, b Place) Path {
	if a.Seg == b.Seg {
		if !(a.T < b.T) {
			return nil
		}
		return Path{p[a.Seg].Between(a.T, b.T)}
	}
	q := make(Path, 0, b.Seg-a.Seg+1)
	if a.T < 1 {
		q = append(q, p[a.Seg].Between(a.T, 1))
	}
	q = append(q, p[a.Seg+1:b.Seg]...)
	if b.T > 0 {
		q = append(q, p[b.Seg].Between(0, b.T))
	}
	return q
}

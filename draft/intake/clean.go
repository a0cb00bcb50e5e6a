package intake

import (
	"math"

	"hemlet/draft"
	"hemlet/geom"
)

// closeTolerance is the gap, in mm, across which an open line is taken for a
// closed one, and lines that were drawn one by one for one line: ends that were
// set by eye come closer than the width of a fine pen, and no cut shows 0.1 mm.
const closeTolerance = 0.1

// stubTolerance is the length, in mm, of a last straight stretch that only makes
// up for coordinates rounded by the program that wrote the file.
const stubTolerance = 0.01

// cleaned returns the path without segments that have no length, with straight
// cubics as lines, and closed where its ends all but meet. closed reports
// whether it is. Collinear vertices stay: someone may have set them on purpose.
func cleaned(path geom.Path, wantsClosed bool) (out geom.Path, closed bool) {
	out = make(geom.Path, 0, len(path))
	for _, s := range path {
		if len(out) > 0 {
			s = movedEnds(s, out.End(), s.P3)
		}
		if pointlike(s) {
			continue
		}
		out = append(out, straightened(s))
	}
	if len(out) == 0 {
		return nil, false
	}
	if wantsClosed {
		out = withoutStub(out)
	}
	if out.Start().Dist(out.End()) <= closeTolerance && len(out) > 1 {
		out = sealed(out)
	}
	return out, out.Closed()
}

// sealed moves the path's end onto its start, in place.
func sealed(path geom.Path) geom.Path {
	last := &path[len(path)-1]
	if last.P3 != path[0].P0 {
		*last = movedEnds(*last, last.P0, path[0].P0)
	}
	return path
}

// pointlike reports whether all of s lies within the grid to which coordinates
// are rounded in a document.
func pointlike(s geom.Segment) bool {
	return s.P0.Near(s.P3, draft.Grid) && s.P0.Near(s.P1, draft.Grid) && s.P0.Near(s.P2, draft.Grid)
}

// withoutStub drops a closing line that is shorter than any the drawing means.
func withoutStub(path geom.Path) geom.Path {
	n := len(path)
	last := path[n-1]
	if n < 3 || !last.Straight || last.P0.Dist(last.P3) > stubTolerance {
		return path
	}
	path[n-2] = movedEnds(path[n-2], path[n-2].P0, last.P3)
	return path[:n-1]
}

// movedEnds returns s from a to b; the handles move along with their ends.
func movedEnds(s geom.Segment, a, b geom.Point) geom.Segment {
	if s.Straight {
		return geom.Line(a, b)
	}
	return geom.Cubic(a, s.P1.Add(a.Sub(s.P0)), s.P2.Add(b.Sub(s.P3)), b)
}

// straightened returns a cubic whose control points lie in order on its chord as
// the line that it draws.
func straightened(s geom.Segment) geom.Segment {
	if s.Straight {
		return s
	}
	chord := s.P3.Sub(s.P0)
	n := chord.Len()
	if n <= draft.Grid {
		return s
	}
	u := chord.Mul(1 / n)
	for _, p := range [2]geom.Point{s.P1, s.P2} {
		v := p.Sub(s.P0)
		along := v.Dot(u)
		if math.Abs(u.Cross(v)) > draft.Grid || along < -draft.Grid || along > n+draft.Grid {
			return s
		}
	}
	return geom.Line(s.P0, s.P3)
}

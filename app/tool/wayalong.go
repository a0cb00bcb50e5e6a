package tool

import (
	"hemlet/draft"
	"hemlet/geom"
)

// wayAlong returns the way along the outline, or along a line inside the piece, between
// two ends of the tape that both lie on it, on the bench, and its length in mm; the
// mouths of darts count for nothing. Round an outline it is the shorter way, or the
// longer. It is nil where the two do not lie on one thing.
func (h *Hand) wayAlong(a, b tapeEnd, longer bool) ([]geom.Path, float64) {
	piece := h.Desk.Project().Piece(a.on.Piece)
	if piece == nil || a.on.Piece != b.on.Piece {
		return nil, 0
	}
	place := piece.Place.Affine()
	back, ok := place.Invert()
	if !ok {
		return nil, 0
	}
	from, to := back.Apply(a.at), back.Apply(b.at)
	for i := range piece.Lines {
		l := &piece.Lines[i]
		if path := l.Path(); len(path) > 0 {
			if way, mm, ok := newCourse([]geom.Path{path}, l.Closed).between(from, to, longer); ok {
				return onBench(way, place), mm
			}
		}
	}
	if way, mm, ok := newCourse(outlineParts(piece), true).between(from, to, longer); ok {
		return onBench(way, place), mm
	}
	return nil, 0
}

func onBench(paths []geom.Path, place geom.Affine) []geom.Path {
	for i := range paths {
		paths[i] = paths[i].Transform(place)
	}
	return paths
}

// outlineParts returns the whole outline without the mouths of its darts.
func outlineParts(p *draft.Piece) []geom.Path {
	var parts []geom.Path
	for i := range p.Edges {
		parts = append(parts, p.EdgeParts(i)...)
	}
	return parts
}

// course is a line in parts that are measured one after the other.
type course struct {
	tapes  []geom.Tape
	starts []float64
	long   float64
	closed bool
}

func newCourse(parts []geom.Path, closed bool) course {
	c := course{closed: closed}
	for _, p := range parts {
		t := p.Tape()
		c.tapes, c.starts = append(c.tapes, t), append(c.starts, c.long)
		c.long += t.Length()
	}
	return c
}

// at returns how far along the course a place lies, false where it lies off it.
func (c course) at(p geom.Point) (float64, bool) {
	best, along := onPlace, -1.0
	for i, t := range c.tapes {
		if place, d := t.Path().Nearest(p); d <= best {
			best, along = d, c.starts[i]+t.To(place)
		}
	}
	return along, along >= 0
}

// between returns the way between two places and its length.
func (c course) between(a, b geom.Point, longer bool) ([]geom.Path, float64, bool) {
	from, ok := c.at(a)
	to, ok2 := c.at(b)
	if !ok || !ok2 {
		return nil, 0, false
	}
	if from > to {
		from, to = to, from
	}
	direct := to - from
	if c.closed && (direct > c.long-direct) != longer {
		return append(c.part(to, c.long), c.part(0, from)...), c.long - direct, true
	}
	return c.part(from, to), direct, true
}

// part returns the course from one distance to another.
func (c course) part(from, to float64) []geom.Path {
	var out []geom.Path
	for i, t := range c.tapes {
		a, b := max(from-c.starts[i], 0), min(to-c.starts[i], t.Length())
		if a >= b {
			continue
		}
		path := t.Path()
		if a > 0 || b < t.Length() {
			path = openBetween(t, a, b)
		}
		if len(path) > 0 {
			out = append(out, append(geom.Path(nil), path...))
		}
	}
	return out
}

// openBetween returns the part of a path between two distances; round a closed one it
// does not go through the start.
func openBetween(t geom.Tape, a, b float64) geom.Path {
	return t.Path().Part(t.At(a), t.At(b))
}

package draft

import (
	"fmt"

	"hemlet/geom"
)

// laidRow is one side of a seam with its pieces laid end to end as they are sewn to
// one another, right side up, in one plane.
type laidRow struct {
	pieces []laidCopy
	// line is the side as it is run, in that plane. The mouths of darts are gaps in it.
	line geom.Run
	// uses are the edges of the side in order.
	uses []laidUse
}

// laidCopy is a copy of a piece as it lies in a row.
type laidCopy struct {
	piece *Piece
	copy  CopyRef
	// frame maps the plane of the copy to that of the row.
	frame geom.Affine
}

// laidUse is an edge of a side: which copy bears it, and from where to where along the
// side it runs, in mm.
type laidUse struct {
	EdgeUse
	piece    *Piece
	edge     int
	on       int
	from, to float64
}

// layRow lays the pieces of a run end to end. The first lies where first puts it. Where
// the next edge of a run belongs to another copy, that copy is laid so that the edges
// beside the run on which the two are sewn to each other leave the corner in one
// direction, as the two lie once they are sewn; where they are not sewn there, so that
// the run goes on without a bend. A copy that comes up again after another is laid a
// second time, for a ring does not close in the plane.
func (p *Project) layRow(run Run, at *lookup, first func(*Piece, CopyRef) geom.Affine) (laidRow, error) {
	var row laidRow
	var paths []geom.Path
	var before *rowEnd
	done := 0.0
	for i, use := range run {
		piece, edge, err := at.edge(use)
		if err != nil {
			return row, err
		}
		flat, err := useMap(piece, use)
		if err != nil {
			return row, err
		}
		ends := rowEnds(piece, edge, use, flat)
		switch last := len(row.pieces) - 1; {
		case last < 0:
			row.pieces = append(row.pieces, laidCopy{piece, use.Copy, first(piece, use.Copy)})
		case row.pieces[last].piece != piece || row.pieces[last].copy != use.Copy:
			frame := ends[0].laidOn(*before, p.sewnTogether(before.beside, ends[0].beside), run[i-1].forward() != use.forward())
			row.pieces = append(row.pieces, laidCopy{piece, use.Copy, frame})
		}
		on := len(row.pieces) - 1
		frame := row.pieces[on].frame
		length := 0.0
		for _, part := range useParts(piece, edge, use, flat.Then(frame)) {
			paths = append(paths, part)
			length += part.Length()
		}
		row.uses = append(row.uses, laidUse{use, piece, edge, on, done, done + length})
		done += length
		end := ends[1].in(frame)
		before = &end
	}
	row.line = geom.NewRun(paths...)
	return row, nil
}

// useMap returns the map from a piece as drawn to the copy and the half of a use, as the
// copy lies right side up: its own plane, in which a mirrored copy is the mirror image
// about the piece's upright through the origin.
func useMap(piece *Piece, use EdgeUse) (geom.Affine, error) {
	m := geom.Identity
	if use.Half == Far {
		fold := piece.FoldEdge()
		if fold < 0 {
			return m, fmt.Errorf("piece %s %w", piece.label(), ErrNoFold)
		}
		line := piece.EdgePath(fold)
		mirror, ok := geom.Reflection(line.Start(), line.End())
		if !ok {
			return m, fmt.Errorf("the fold of piece %s has no length", piece.label())
		}
		m = mirror
	}
	return m.Then(Copy{Ref: use.Copy, Mirror: use.Copy.Mirrored}.Affine()), nil
}

// useParts returns the stitching line of a use without the mouths of its darts, as it is
// run, through a map.
func useParts(piece *Piece, edge int, use EdgeUse, m geom.Affine) []geom.Path {
	parts := piece.EdgeParts(edge)
	out := make([]geom.Path, len(parts))
	for i, part := range parts {
		if part = part.Transform(m); use.Reversed {
			out[len(parts)-1-i] = part.Reverse()
			continue
		}
		out[i] = part
	}
	return out
}

// rowEnd is an end of an edge as it is run.
type rowEnd struct {
	at geom.Point
	// along is the direction of the run there; side is that in which the edge beside the
	// run leaves the corner, and beside which edge that is.
	along, side geom.Point
	beside      EdgeRef
}

// rowEnds returns the start and the end of a use in the plane of its copy.
func rowEnds(piece *Piece, edge int, use EdgeUse, m geom.Affine) [2]rowEnd {
	n := len(piece.Edges)
	next, before := (edge+1)%n, (edge+n-1)%n
	path, after, prior := piece.EdgePath(edge), piece.EdgePath(next), piece.EdgePath(before)
	start := rowEnd{path.Start(), firstWay(path), firstWay(prior.Reverse()), EdgeRef{piece.ID, piece.Edges[before].ID}}
	end := rowEnd{path.End(), firstWay(path.Reverse()).Mul(-1), firstWay(after), EdgeRef{piece.ID, piece.Edges[next].ID}}
	if use.Reversed {
		start, end = end, start
		start.along, end.along = start.along.Mul(-1), end.along.Mul(-1)
	}
	return [2]rowEnd{start.in(m), end.in(m)}
}

// firstWay returns the unit direction in which a path sets out, zero where it goes
// nowhere.
func firstWay(path geom.Path) geom.Point {
	if path.Length() == 0 {
		return geom.Point{}
	}
	return path.Tangent(geom.Place{})
}

// in returns the corner through a map that keeps lengths.
func (c rowEnd) in(m geom.Affine) rowEnd {
	c.at, c.along, c.side = m.Apply(c.at), m.ApplyVector(c.along), m.ApplyVector(c.side)
	return c
}

// laidOn returns the map that lays what c belongs to on the end of a run before it: by
// the edges beside the run where those are sewn together, else so that the run goes on.
// With turned it is turned over first.
func (c rowEnd) laidOn(before rowEnd, sewn, turned bool) geom.Affine {
	if sewn {
		if m, ok := laidTo(c.at, c.side, before.at, before.side, turned); ok {
			return m
		}
	}
	m, _ := laidTo(c.at, c.along, before.at, before.along, turned)
	return m
}

// laidTo returns the map that takes p with the direction u to q with the direction v and
// keeps lengths; with turned it turns what it moves over about u. Where a direction is
// zero it only moves, and is false.
func laidTo(p, u, q, v geom.Point, turned bool) (geom.Affine, bool) {
	t, ok := turnFrom(u, v)
	m := geom.Affine{A: t.X, B: t.Y, C: -t.Y, D: t.X}
	if turned {
		if flip, has := geom.Reflection(geom.Point{}, u); has {
			m = flip.Then(m)
		}
	}
	to := m.Apply(p)
	m.E, m.F = q.X-to.X, q.Y-to.Y
	return m, ok
}

// sewnTogether reports whether two edges are the two sides of a seam.
func (p *Project) sewnTogether(a, b EdgeRef) bool {
	has := func(run Run, e EdgeRef) bool {
		for _, use := range run {
			if use.Piece == e.Piece && use.Edge == e.Edge {
				return true
			}
		}
		return false
	}
	for _, s := range p.Seams {
		if has(s.A, a) && has(s.B, b) || has(s.A, b) && has(s.B, a) {
			return true
		}
	}
	return false
}

// laid returns every half of every copy of the row, moved by m.
func (r laidRow) laid(m geom.Affine) []Laid {
	var out []Laid
	for _, c := range r.pieces {
		halves := []Half{Near}
		if c.piece.FoldEdge() >= 0 {
			halves = append(halves, Far)
		}
		for _, half := range halves {
			if flat, err := useMap(c.piece, EdgeUse{Copy: c.copy, Half: half}); err == nil {
				out = append(out, Laid{c.piece, c.copy, half, flat.Then(c.frame).Then(m)})
			}
		}
	}
	return out
}

package draft

import (
	"fmt"
	"slices"

	"hemlet/geom"
)

// edgeStretch returns the drawn line of edge i between two places in mm along it, from
// the lesser to the greater; mouths of darts between them are drawn across.
func (p *Piece) edgeStretch(i int, from, to float64) geom.Path {
	path := p.EdgePath(i)
	k0, t0 := p.locate(i, from)
	k1, t1 := p.locate(i, to)
	return path.Part(geom.Place{Seg: k0, T: t0}, geom.Place{Seg: k1, T: t1})
}

// lineBeside returns the line that runs at the distance mm inside edge i from one
// place along it to another. At the ends of the edge it runs on to the outline or ends
// there.
func (p *Piece) lineBeside(i int, from, to EdgePlace, distance float64, unit Unit) (geom.Path, error) {
	e, length := &p.Edges[i], p.EdgeLength(i)
	a, err := from.along(p, i, unit)
	if err != nil {
		return nil, err
	}
	b, err := to.along(p, i, unit)
	if err != nil {
		return nil, err
	}
	a, b = min(a, b), max(a, b)
	if b-a < shortestStretch {
		return nil, fmt.Errorf("a line along edge %s has two different ends", e.label())
	}
	if distance < 0 {
		return nil, fmt.Errorf("a line inside a piece has a distance from its edge of 0 or more, not %s", unit.Format(distance))
	}
	if distance == 0 {
		return p.edgeStretch(i, a, b), nil
	}
	line := parallelOf(p.edgeStretch(i, a, b), -distance)
	outline := p.DrawnPath()
	box := outline.Bounds()
	reach := box.W() + box.H()
	// Run on past the ends of the edge, so that it can be cut off where it leaves.
	if a <= Grid && len(line) > 0 {
		first := line[0]
		line = append(geom.Path{geom.Line(first.P0.Sub(first.Tangent(0).Mul(reach)), first.P0)}, line...)
	}
	if length-b <= Grid && len(line) > 0 {
		line = runOn(line, reach)
	}
	inside := longestInside(line, outline)
	if len(inside) == 0 || inside.Length() < shortestStretch {
		return nil, fmt.Errorf("%s inside edge %s there is nothing of the piece", unit.Format(distance), e.label())
	}
	return inside, nil
}

// parallelOf returns the line at d mm to the right of a path, its stretches joined
// where they meet.
func parallelOf(path geom.Path, d float64) geom.Path {
	var out geom.Path
	for _, s := range path {
		next := s.Parallel(d, geom.ParallelTolerance)
		if len(next) == 0 {
			continue
		}
		out = joinedAt(out, next)
	}
	return out
}

// joinedAt returns two lines as one: cut off where they cross, else joined straight.
func joinedAt(a, b geom.Path) geom.Path {
	if len(a) == 0 {
		return b
	}
	if a.End().Near(b.Start(), Grid) {
		return append(a, startingAt(b, a.End())...)
	}
	if met := a.Intersections(b); len(met) > 0 {
		m := met[len(met)-1]
		a = a.Part(geom.Place{}, m.A)
		b = b.Part(m.B, geom.Place{Seg: len(b) - 1, T: 1})
		return append(a, startingAt(b, a.End())...)
	}
	return append(append(a, geom.Line(a.End(), b.Start())), b...)
}

// startingAt returns the path with its first point put at a place that is no farther
// than rounding from it.
func startingAt(p geom.Path, at geom.Point) geom.Path {
	p = append(geom.Path(nil), p...)
	if len(p) == 0 {
		return p
	}
	if p[0].Straight {
		p[0] = geom.Line(at, p[0].P3)
	} else {
		p[0].P0 = at
	}
	return p
}

// longestInside returns the longest stretch of a line that lies inside an outline.
func longestInside(line, outline geom.Path) geom.Path {
	if len(line) == 0 {
		return nil
	}
	tape := line.Tape()
	cuts := []float64{0, tape.Length()}
	for _, m := range line.Intersections(outline) {
		cuts = append(cuts, tape.To(m.A))
	}
	slices.Sort(cuts)
	var best geom.Path
	most := 0.0
	for k := 1; k < len(cuts); k++ {
		lo, hi := cuts[k-1], cuts[k]
		if hi-lo <= max(most, Grid) || !outline.Contains(line.At(tape.At((lo+hi)/2))) {
			continue
		}
		best, most = line.Part(tape.At(lo), tape.At(hi)), hi-lo
	}
	return best
}

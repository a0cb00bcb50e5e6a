package draft

import "slices"

// rings returns the seams, or rows of seams of one place, that go all the way round.
func (g *sewnGarment) rings() []openLoop {
	st := g.closed
	var out []openLoop
	row := make(map[OpenPlace][]*sewnArc)
	var places []OpenPlace
	for k := range st.arcs {
		arc := &st.arcs[k]
		if arc.seam.Opens || !st.isSewn(arc.a[0].use) {
			continue
		}
		a, b := g.ends(arc)
		if a == b {
			if !g.flatAlong(arc) {
				out = append(out, g.ring([]*sewnArc{arc}))
			}
			continue
		}
		at := g.placeOfArc(arc)
		if at == OpenElsewhere {
			continue
		}
		if row[at] == nil {
			places = append(places, at)
		}
		row[at] = append(row[at], arc)
	}
	slices.Sort(places)
	for _, at := range places {
		for _, arcs := range g.closedRows(row[at]) {
			out = append(out, g.ring(arcs))
		}
	}
	return out
}

// flatAlong reports whether a seam is sewn to itself from one point, as along a fold.
func (g *sewnGarment) flatAlong(arc *sewnArc) bool { return g.closed.runLength(arc.a) == 0 }

// ends returns the points of the garment at which a seam begins and ends.
func (g *sewnGarment) ends(arc *sewnArc) (from, to int) {
	v := g.closed.vertex
	return v.of(arc.a[0].first()), v.of(arc.a[len(arc.a)-1].last())
}

// closedRows returns those seams that together go round: rows at each of whose points
// exactly two seams meet.
func (g *sewnGarment) closedRows(arcs []*sewnArc) [][]*sewnArc {
	at := make(map[int][]int)
	for i, arc := range arcs {
		a, b := g.ends(arc)
		at[a] = append(at[a], i)
		at[b] = append(at[b], i)
	}
	var out [][]*sewnArc
	done := make([]bool, len(arcs))
	for i := range arcs {
		if done[i] {
			continue
		}
		var row []*sewnArc
		start, v := g.ends(arcs[i])
		k, round := i, false
		for {
			done[k] = true
			row = append(row, arcs[k])
			if v == start {
				round = true
				break
			}
			meets := at[v]
			if len(meets) != 2 {
				break
			}
			next := meets[0]
			if next == k {
				next = meets[1]
			}
			if done[next] {
				break
			}
			a, b := g.ends(arcs[next])
			if k = next; a == v {
				v = b
			} else {
				v = a
			}
		}
		if round && len(at[start]) == 2 {
			out = append(out, row)
		}
	}
	return out
}

// ring returns the line along seams that go round, as long as their sides that are not
// fuller.
func (g *sewnGarment) ring(arcs []*sewnArc) openLoop {
	st := g.closed
	l := openLoop{part: st.part.of(st.face[arcs[0].a[0].use])}
	for _, arc := range arcs {
		side := arc.a
		if a, b := st.runLength(arc.a), st.runLength(arc.b); b < a {
			side = arc.b
		}
		l.uses = append(l.uses, side...)
		l.length += st.runLength(side)
		l.seams = append(l.seams, arc.seam)
	}
	return l
}

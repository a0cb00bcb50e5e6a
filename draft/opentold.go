package draft

import (
	"slices"
	"strings"
)

// placeOfArc returns where a seam is worn.
func (g *sewnGarment) placeOfArc(arc *sewnArc) OpenPlace {
	if at := placeIn(arc.seam.Name, edgePlaceWords); at != OpenElsewhere {
		return at
	}
	for _, run := range [...][]sewnUse{arc.a, arc.b} {
		if at := g.placeOf(run, edgePlaceWords); at != OpenElsewhere {
			return at
		}
	}
	return OpenElsewhere
}

// placeOf returns the place that most of a row of edges tells; with words, by their names
// alone.
func (g *sewnGarment) placeOf(run []sewnUse, words []wordsOfPlace) OpenPlace {
	sum := make([]float64, len(openPlaceNames))
	for _, u := range run {
		e, piece := g.closed.edges[u.use], g.closed.faces[g.closed.face[u.use]].piece
		at := OpenElsewhere
		if words != nil {
			at = placeIn(e.Name, words)
		} else {
			at = placeOfEdge(piece, e)
		}
		sum[at] += g.closed.lengths[u.use]
	}
	best := OpenElsewhere
	for at := OpenElsewhere + 1; int(at) < len(sum); at++ {
		if sum[at] > 0 && (best == OpenElsewhere || sum[at] > sum[best]) {
			best = at
		}
	}
	return best
}

// placeOfLoop returns where a passage is worn.
func (g *sewnGarment) placeOfLoop(l openLoop) OpenPlace {
	if len(l.seams) == 0 {
		at := g.placeOf(l.uses, nil)
		if at == OpenHem || at == OpenElsewhere {
			if beside := g.placeBeside(l); beside != OpenElsewhere {
				return beside
			}
		}
		return at
	}
	for k := range g.closed.arcs {
		if arc := &g.closed.arcs[k]; slices.Contains(l.seams, arc.seam) {
			if at := g.placeOfArc(arc); at != OpenElsewhere {
				return at
			}
		}
	}
	return OpenElsewhere
}

// placeBeside returns where the nearest piece is worn that tells, from the pieces round an
// edge on: the hem of a frill is that of the cuff, the skirt or the neck to which it is sewn.
func (g *sewnGarment) placeBeside(l openLoop) OpenPlace {
	if g.told == nil {
		g.tellPlaces()
	}
	best := toldPlace{}
	for _, u := range l.uses {
		if t := g.told[g.closed.face[u.use]]; t.place != OpenElsewhere && (best.place == OpenElsewhere || t.away < best.away) {
			best = t
		}
	}
	return best.place
}

// toldPlace is where a copy is worn by what the piece tells that lies nearest, so many seams
// away.
type toldPlace struct {
	place OpenPlace
	away  int
}

// tellPlaces finds for every copy the nearest piece that tells where it is worn.
func (g *sewnGarment) tellPlaces() {
	st := g.closed
	g.told = make([]toldPlace, len(st.faces))
	beside := make([][]int, len(st.faces))
	for k := range st.arcs {
		arc := &st.arcs[k]
		if !st.isSewn(arc.a[0].use) {
			continue
		}
		for _, u := range arc.a {
			for _, v := range arc.b {
				a, b := st.face[u.use], st.face[v.use]
				beside[a], beside[b] = append(beside[a], b), append(beside[b], a)
			}
		}
	}
	for f := range st.faces {
		g.told[f].place = placeOfPiece(st.faces[f].piece)
	}
	g.tellFrills()
	var row []int
	for f := range st.faces {
		if g.told[f].place != OpenElsewhere {
			row = append(row, f)
		}
	}
	for k := 0; k < len(row); k++ {
		now := g.told[row[k]]
		for _, f := range beside[row[k]] {
			if g.told[f].place == OpenElsewhere {
				g.told[f] = toldPlace{now.place, now.away + 1}
				row = append(row, f)
			}
		}
	}
}

// tellFrills has what is sewn to the armhole, the neck or another hole of the trunk end
// there, and not where the trunk does.
func (g *sewnGarment) tellFrills() {
	st := g.closed
	trunk := func(run []sewnUse) bool { return placeOfPiece(st.faces[st.face[run[0].use]].piece) == OpenHem }
	for k := range st.arcs {
		arc := &st.arcs[k]
		at := g.placeOfArc(arc)
		if !st.isSewn(arc.a[0].use) || at == OpenElsewhere || at == OpenWaist {
			continue
		}
		for _, sides := range [...][2][]sewnUse{{arc.a, arc.b}, {arc.b, arc.a}} {
			if !trunk(sides[0]) {
				continue
			}
			for _, u := range sides[1] {
				if f := st.face[u.use]; placeOfPiece(st.faces[f].piece) == OpenElsewhere {
					g.told[f].place = at
				}
			}
		}
	}
}

// openingName names an opening by its longest edge and the pieces round it.
func (g *sewnGarment) openingName(o Opening) string {
	if len(o.Uses) == 0 {
		return "opening"
	}
	what, longest := "", -1.0
	var pieces []string
	sums := make(map[string]float64)
	for _, u := range o.Uses {
		piece, i, err := g.lookup.edge(u)
		if err != nil {
			continue
		}
		name := piece.Edges[i].label()
		if piece.Edges[i].Name == "" || isSlitName(name) {
			name = "edge"
		}
		sums[name] += g.slots.EdgeLengths(piece)[i]
		if sums[name] > longest {
			what, longest = name, sums[name]
		}
		if label := piece.label(); !slices.Contains(pieces, label) {
			pieces = append(pieces, label)
		}
	}
	if len(o.Seams) > 0 {
		what = "seam " + g.Seam(o.Seams[0]).label()
		return what
	}
	switch n := len(pieces); {
	case n == 1:
		return what + " of " + pieces[0]
	case n > 3:
		return what
	default:
		return what + " of " + strings.Join(pieces[:n-1], ", ") + " and " + pieces[n-1]
	}
}

// isSlitName reports whether an edge is called as those of slits are.
func isSlitName(name string) bool { return name == "slit" || strings.HasPrefix(name, "slit ") }

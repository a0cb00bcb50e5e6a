package draft

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// openingMends returns what would let pass what must: a seam that ends at the opening is
// opened as far as it takes, those in the middle of the body first; else a slit is cut.
func (g *sewnGarment) openingMends(o Opening) []Mend {
	missing := o.MissingSlit()
	l, ok := g.passageOf(o)
	if !ok || missing <= 0 {
		return nil
	}
	var list []Mend
	for _, c := range g.openers(l) {
		list = append(list, c.mend(g, missing))
	}
	if len(o.Seams) == 0 {
		if m, ok := g.slitMend(o, missing); ok {
			list = append(list, m)
		}
	}
	if i := g.wearer.partIndex(o.Passes); i >= 0 {
		list = append(list, Mend{Title: "The " + strings.TrimPrefix(o.Passes, "the ") + " comes off for dressing", Act: "set-part", Args: map[string]string{
			"wearer": idText(g.wearer.ID), "name": o.Passes, "comes-off": "yes",
		}})
	}
	return list
}

// passageOf returns the passage of which an opening was made.
func (g *sewnGarment) passageOf(o Opening) (openLoop, bool) {
	for _, l := range g.passages() {
		if l.line == nil && g.named(l).Key == o.Key {
			return l, true
		}
	}
	return openLoop{}, false
}

// opener is a seam that ends on a passage.
type opener struct {
	seam *Seam
	// atEnd says that it is its end that lies there, else its start.
	atEnd bool
	// times is how often it does so: 2 for a seam on both sides of the body.
	times  int
	length float64
}

// openers returns the seams that could be opened from a passage, the best first.
func (g *sewnGarment) openers(l openLoop) []opener {
	on := g.vertices(l)
	var out []opener
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		s := arc.seam
		if s.Opens || slices.Contains(l.seams, s) || s.Fullness == Gathers || s.Fullness == Pleats || !g.closed.isSewn(arc.a[0].use) {
			continue
		}
		from, to := g.ends(arc)
		if on[from] == on[to] || len(l.seams) > 0 && !g.broken(l, from, to) {
			continue
		}
		if len(l.seams) > 0 && g.heldBeside(l, arc) {
			continue // opened on one side alone, the ring stays shut by the other
		}
		if g.behind(arc) && !g.openOutside(from, to) {
			continue // a facing opens with what it faces
		}
		i := slices.IndexFunc(out, func(c opener) bool { return c.seam == s })
		if i >= 0 {
			out[i].times++
			continue
		}
		out = append(out, opener{s, on[to], 1, g.closed.runLength(arc.a)})
	}
	slices.SortStableFunc(out, func(a, b opener) int { return cmp.Compare(a.rank(), b.rank()) })
	return out
}

// heldBeside reports whether where a seam ends on a ring of seams another one ends that is
// sewn, on the other side of the ring.
func (g *sewnGarment) heldBeside(l openLoop, arc *sewnArc) bool {
	on := g.vertices(l)
	from, to := g.ends(arc)
	for k := range g.closed.arcs {
		other := &g.closed.arcs[k]
		if other == arc || other.seam.Opens || g.runsRound(l, other) || g.behind(other) || !g.closed.isSewn(other.a[0].use) {
			continue
		}
		a, b := g.ends(other)
		for _, v := range [...]int{from, to} {
			if on[v] && (a == v) != (b == v) {
				return true
			}
		}
	}
	return false
}

// broken reports whether a ring of seams begins or ends at one of two points: what is sewn
// to it in one piece past a seam, as a band is past a shoulder, keeps it closed there.
func (g *sewnGarment) broken(l openLoop, points ...int) bool {
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		if from, to := g.ends(arc); slices.Contains(l.seams, arc.seam) && (slices.Contains(points, from) || slices.Contains(points, to)) {
			return true
		}
	}
	return false
}

// rank puts a seam in the middle of the body first, where one dresses by it; then one that
// is there once.
func (c opener) rank() int {
	switch {
	case isWord(c.seam.Name, "centre") || isWord(c.seam.Name, "center"):
		return 0
	case c.times == 1:
		return 1
	default:
		return 2
	}
}

// slitStep is to what, in mm, the length of a slit is rounded up.
const slitStep = 0.5

func (c opener) mend(g *sewnGarment, missing float64) Mend {
	end := EdgeStart
	if c.atEnd {
		end = EdgeFinish
	}
	args := map[string]string{"seam": idText(c.seam.ID), "from": end.String()}
	title := "Open the seam " + c.seam.label() + " as far as it takes"
	if need := math.Ceil(missing/float64(c.times)/slitStep) * slitStep; need < c.length-2*placeReach {
		args["length"] = exactFigure(need) + "mm"
	} else {
		title = "Open the whole seam " + c.seam.label()
	}
	return Mend{Title: title, Act: "open-seam", Args: args}
}

// slitMend cuts a slit in the middle of the longest edge round an opening.
func (g *sewnGarment) slitMend(o Opening, missing float64) (Mend, bool) {
	best, longest := -1, 0.0
	times := 0
	for k, u := range o.Uses {
		piece, i, err := g.lookup.edge(u)
		if err != nil || piece.SlitSide(i) {
			continue
		}
		if length := g.slots.EdgeLengths(piece)[i]; length > longest {
			best, longest = k, length
		}
	}
	if best < 0 {
		return Mend{}, false
	}
	for _, u := range o.Uses {
		if u.Piece == o.Uses[best].Piece && u.Edge == o.Uses[best].Edge {
			times++
		}
	}
	u := o.Uses[best]
	depth := math.Ceil(missing/float64(times)/slitStep) * slitStep
	return Mend{Title: "Cut a slit as deep as it takes", Act: "cut-slit", Args: map[string]string{
		"at": partText(u.Piece, u.Edge) + "@50%", "depth": exactFigure(depth) + "mm",
	}}, true
}

package draft

import "hemlet/geom"

// The cosines of the angles between the slash in the middle and a line of the piece up to
// which cloth is put in square to that line. The fold is the middle of the whole piece,
// which must not get a kink there: 60 degrees. Grain and straight edges are followed up to
// 30 degrees; beyond, the slash is meant to run its own way.
const (
	foldSlant = 0.5
	leanSlant = 0.866
)

// parting returns the direction in which cloth is put in as wide at both ends: square to
// the fold, so that the edges meet it as they did; else square to the grain; else along a
// straight edge across or the straight edge itself, so that it stays straight; else square
// to a straight edge beside. Where the slash in the middle runs quite another way, it is
// square to that.
func (w *spread) parting() geom.Point {
	u, _ := w.opposite(0.5)
	slash := w.near.at(0.5, false).Sub(w.far.at(u, false)).Unit()
	follow := func(along geom.Point, slant float64) bool {
		if along.Dot(slash) < 0 {
			along = along.Mul(-1)
		}
		if along.Dot(slash) < slant {
			return false
		}
		slash = along
		return true
	}
	q := w.piece
	if fold := q.FoldEdge(); fold >= 0 {
		path := q.EdgePath(fold)
		follow(path.End().Sub(path.Start()).Unit(), foldSlant)
		return slash.Left()
	}
	if g := q.Grain; g != nil && follow(g.To.Sub(g.From).Unit(), leanSlant) {
		return slash.Left()
	}
	for _, bank := range [2]int{w.far.edge, w.near.edge} {
		if along, straight := q.straightEdge(bank); straight && follow(along.Left(), leanSlant) {
			return slash.Left()
		}
	}
	n := len(q.Edges)
	for _, beside := range [2]int{(w.near.edge + n - 1) % n, (w.near.edge + 1) % n} {
		if along, straight := q.straightEdge(beside); straight && follow(along, leanSlant) {
			break
		}
	}
	return slash.Left()
}

// straightEdge returns the direction of edge i where all of it is one straight line.
func (p *Piece) straightEdge(i int) (geom.Point, bool) {
	if i < 0 {
		return geom.Point{}, false
	}
	path := p.EdgePath(i)
	if len(path) == 0 || bend(path) > straightEdgeSlack {
		return geom.Point{}, false
	}
	return path.End().Sub(path.Start()).Unit(), true
}

// straightEdgeSlack is how far, in mm, a drawn edge may bend and still be meant as straight:
// half the width of a pencil line.
const straightEdgeSlack = 0.1

// keepGrain gives the grain the direction that it had: the cloth at the fold stays as it
// is, and that at the grain line where there is no fold. A grain line that would lie
// outside the piece then is drawn anew.
func (w *spread) keepGrain(was *Grain) {
	g := w.piece.Grain
	if was == nil || g == nil {
		return
	}
	middle, half := g.From.Lerp(g.To, 0.5), was.To.Sub(was.From).Mul(0.5)
	g.From, g.To = middle.Sub(half), middle.Add(half)
	outline := w.piece.DrawnPath()
	if outline.Contains(g.From) && outline.Contains(g.To) || !outline.Contains(middle) {
		return
	}
	if anew := grainAlong(outline, half.Angle()); anew != nil {
		*g = *anew
	}
}

// stays says what stays where it is while all else is moved.
func (w *spread) stays() string {
	switch {
	case w.piece.FoldEdge() >= 0:
		return "The side with the fold stays where it was, and the grain as it ran."
	case w.piece.Grain != nil:
		return "The cloth at the grain line stays where it was."
	default:
		return "The middle stays where it was."
	}
}

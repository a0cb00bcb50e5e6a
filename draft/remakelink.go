package draft

import (
	"math"
	"slices"
)

// led leads what refers to the edges of a linked piece to those that stand there now:
// the parent's edges may have been divided or joined since. was and mine are the piece
// as it was generated, laid on the edges that the maker left, and as the maker left
// it; out has the new outline. It returns what became of the edges, and the two with
// their marks on the new edges. Where every edge is still itself they are unchanged.
func led(was, mine, out *Piece) (Lineage, *Piece, *Piece, error) {
	lin := renamedEdges(mine, out)
	if len(lin) == 0 {
		return nil, was, mine, nil
	}
	move := func(p *Piece) (*Piece, error) {
		q := p.clone()
		q.Edges = out.Edges
		return followPiece(&Piece{ID: p.ID, Edges: mine.Edges, Darts: p.Darts}, q, lin)
	}
	movedWas, err := move(was)
	if err != nil {
		return nil, nil, nil, err
	}
	movedMine, err := move(mine)
	return lin, movedWas, movedMine, err
}

// renamedEdges says which edges of out stand where the edges of mine do, by the points
// that both have; what lies between them is shared out by length. Edges that are still
// themselves are not named.
func renamedEdges(mine, out *Piece) Lineage {
	here := make(map[ID]bool, len(out.Edges))
	for i := range out.Edges {
		here[out.Edges[i].ID] = true
	}
	if !slices.ContainsFunc(mine.Edges, func(e Edge) bool { return !here[e.ID] }) {
		return nil
	}
	from, to := ringOf(mine.Edges, mine.Darts), ringOf(out.Edges, mine.Darts)
	marks, ok := to.placedOn(from)
	if !ok {
		return nil
	}
	lin := lineageIn(marks, from, to)
	for id := range lin {
		if here[id] {
			delete(lin, id) // it still bears its name: what refers to it stays
		}
	}
	return lin
}

// placedOn returns the ring with the places of its nodes in terms of another outline:
// where a node is in both, its place there, and between two such by share of length.
// It is false where they have fewer than two nodes in common, or in another order.
func (r ring) placedOn(other ring) (ring, bool) {
	in := other.index()
	out := append(ring(nil), r...)
	var common []int
	for i := range out {
		if _, ok := in[out[i].ID]; ok {
			common = append(common, i)
		}
	}
	if len(common) < 2 {
		return nil, false
	}
	round, own := other.round(), r.round()
	turns := 0.0
	for k, i := range common {
		j := common[(k+1)%len(common)]
		a, b := other[in[r[i].ID]].pos, other[in[r[j].ID]].pos
		way, ownWay := math.Mod(b-a+round, round), math.Mod(r[j].pos-r[i].pos+own, own)
		turns += way
		out[i].pos = a
		for n := i + 1; r.at(n).ID != r[j].ID; n++ {
			share := 0.5
			if ownWay > 0 {
				share = math.Mod(r.at(n).pos-r[i].pos+own, own) / ownWay
			}
			out.at(n).pos = math.Mod(a+way*share, round)
		}
	}
	return out, turns <= round*(1+shareSlack)
}

// meanSeams lets seams of the linked piece with its parent, or with other linked pieces,
// that held before hold now: that the lining's neck is longer than the neck that it is
// sewn to, because it lies inside it, is as it is meant to be, by as much as it is.
func (r *remaking) meanSeams() {
	p, parent := r.out.Project, r.out.Project.parentOf(r.d)
	if parent == nil {
		return
	}
	own, near := make(map[ID]bool), map[ID]bool{parent.ID: true}
	for _, piece := range p.Pieces {
		if p.ParentOf(piece) != nil {
			near[piece.ID] = true
			own[piece.ID] = piece.Derived.Derivation == r.d.ID
		}
	}
	for _, s := range p.Seams {
		was := r.before.Seam(s.ID)
		if was == nil || !s.sews(own) || !s.A.within(near) || !s.B.within(near) {
			continue
		}
		if next, changed := p.meantAsWas(r.before, was, s); changed {
			p.Seams = slices.Clone(p.Seams)
			p.Seams[slices.Index(p.Seams, s)] = next
		}
	}
}

// within reports whether all uses of a run are of the pieces.
func (r Run) within(pieces map[ID]bool) bool {
	return len(r) > 0 && !slices.ContainsFunc(r, func(u EdgeUse) bool { return !pieces[u.Piece] })
}

// meantAsWas returns the seam with its ratio as its sides measure now, if it was the
// ratio of its sides before, when the seam was was, and nothing is gathered.
func (p *Project) meantAsWas(before *Project, was, s *Seam) (*Seam, bool) {
	if s.Fullness != Plain && s.Fullness != Ease {
		return nil, false
	}
	wanted := *was
	before.meanLengths(&wanted)
	if wanted.fullnessOf() != was.fullnessOf() {
		return nil, false
	}
	next := *s
	p.meanLengths(&next)
	return &next, next.fullnessOf() != s.fullnessOf()
}

// meanLengths sets the ratio of a seam to that of its sides as they are drawn, plain
// where they are equal within what is sewn away unseen.
func (p *Project) meanLengths(s *Seam) {
	a, b := p.runLength(s.A), p.runLength(s.B)
	s.Ratio, s.Fuller, s.Fullness, s.From, s.To = 1, SideA, Plain, 0, 1
	if b > a {
		s.Fuller = SideB
	}
	// A quarter of the limit of the checks: the seam still holds when a measure changes
	// a little and the sides with it.
	less, more := min(a, b), max(a, b)
	if less <= 0 || more-less <= seamLimitMin/4 {
		return
	}
	s.Ratio = min(more/less, MaxRatio)
	s.Fullness = Ease
}

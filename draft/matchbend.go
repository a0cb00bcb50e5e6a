package draft

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// matchByBend matches a seam by bending its giving sides between their ends.
func (p *Project) matchByBend(s *Seam, sides []Side, out *Outcome) error {
	var bent []Side
	for _, side := range sides {
		// A straight line is the shortest between its ends.
		if p.straightSide(s.run(side)) && p.sideLonger(s, side) < 0 {
			continue
		}
		bent = append(bent, side)
	}
	if len(bent) == 0 {
		return errors.New("a straight side is the shortest between its ends, and gets no shorter by bending; let the other side give, or move an end")
	}
	return p.matchOne(s, []func() *matching{func() *matching { return p.bendMatching(s, bent) }}, out)
}

// sideLonger returns by how much a side alone would have to get longer, in mm.
func (p *Project) sideLonger(s *Seam, side Side) float64 {
	diff := p.seamDiff(s)
	if side == s.Fuller {
		return -diff
	}
	return diff / s.Ratio
}

// straightSide reports whether every edge of a run that can change is straight.
func (p *Project) straightSide(run Run) bool {
	for _, u := range run {
		piece := p.Piece(u.Piece)
		if mayGive(piece) != nil {
			continue
		}
		_, i := piece.Edge(u.Edge)
		for _, s := range piece.EdgePath(i) {
			if !s.Straight {
				return false
			}
		}
	}
	return true
}

// bendMatching lets the edges of the giving sides change between their ends.
func (p *Project) bendMatching(s *Seam, sides []Side) *matching {
	m := newMatching(p)
	for _, side := range sides {
		run := s.run(side)
		longer := p.sideLonger(s, side) / float64(len(sides))
		straight := p.straightSide(run)
		length := p.runLength(run)
		for _, u := range run {
			piece := p.Piece(u.Piece)
			_, i := piece.Edge(u.Edge)
			if mayGive(piece) != nil || piece.Edges[i].Kind == FoldEdge {
				continue
			}
			g := m.take(piece)
			g.freeInside(i)
			if straight && length > 0 {
				g.bow(i, longer/length)
			}
		}
	}
	return m.forSeam(s)
}

// bow makes curves of the straight stretches of edge i that bulge outward, about so much
// longer, as a share of their length: the change of a line that is straight begins with
// no direction, and geom/adjust keeps straight what is straight. A bulge of handles that
// rise by h over a stretch of length L, y = 3ht(1-t), is longer by 3h²/2L to second
// order.
func (g *givingPiece) bow(i int, share float64) {
	for k := range g.piece.Edges[i].Nodes {
		at := g.first[i] + k
		if g.mouth(at) || !g.straight(at) {
			continue
		}
		a, b := &g.nodes[at], &g.nodes[g.next(at)]
		way := b.At.Sub(a.At)
		rise := way.Left().Mul(-math.Sqrt(share * 2 / 3)) // outward: the cloth lies to the left
		a.Out, b.In = way.Mul(1./3).Add(rise), way.Mul(-1./3).Add(rise)
	}
}

// leastSpread is how much, in mm, is spread over both sides of a seam at least: each gets
// more then than the least that can be spread.
const leastSpread = 4 * shortestStretch

// matchBySpread matches a seam by putting cloth in over a stretch of each giving side, or
// taking it out, as AddFullness does: beside the stretch everything keeps its shape.
func (p *Project) matchBySpread(s *Seam, sides []Side, from, to float64, out *Outcome) error {
	if to == 0 {
		to = 1
	}
	if !(from >= 0 && from < to && to <= 1) {
		return fmt.Errorf("the stretch cannot lie from %g to %g; both are shares from 0 to 1, the first the smaller", from, to)
	}
	if math.Abs(p.seamDiff(s)) < leastSpread && len(sides) > 1 {
		sides = sides[:1] // too little to be shared out
	}
	now, lineage := p, Lineage{}
	var why error
	for k, side := range sides {
		// What is left is for the sides that are still to come, in equal parts.
		next, lin, err := now.spreadSide(s.ID, side, from, to, 1/float64(len(sides)-k))
		if err != nil {
			why = err
			continue
		}
		now, lineage = next, lineage.then(lin)
	}
	if now == p {
		return why
	}
	if off := now.seamDiff(now.Seam(s.ID)); math.Abs(off) > MatchedTo && why != nil {
		// One side could not be spread; the other one does it all.
		for _, side := range sides {
			if next, lin, err := now.spreadSide(s.ID, side, from, to, 1); err == nil {
				now, lineage = next, lineage.then(lin)
				break
			}
		}
	}
	out.Project, out.followed = now, lineage
	if off := math.Abs(now.seamDiff(now.Seam(s.ID))); off > MatchedTo {
		out.say("Seam %s is still off by %s.", s.label(), p.Unit.FormatSmall(off))
	}
	return nil
}

// spreadSide spreads one side by a share of what the seam is off.
func (p *Project) spreadSide(seam ID, side Side, from, to, share float64) (*Project, Lineage, error) {
	s := p.Seam(seam)
	grow := p.sideLonger(s, side) * share
	parts := p.spreadParts(s.run(side), from, to)
	whole := 0.0
	for _, part := range parts {
		whole += part.times * (part.to - part.from)
	}
	if !(whole > 0) {
		return nil, nil, errors.New("nothing of the side can be spread there")
	}
	if least := math.Abs(grow) / whole; slices.ContainsFunc(parts, func(x spreadPart) bool { return least*(x.to-x.from) < shortestStretch }) {
		// So little is put in at one place, the longest.
		best := slices.MaxFunc(parts, func(x, y spreadPart) int { return cmp.Compare(x.to-x.from, y.to-y.from) })
		parts, whole = []spreadPart{best}, best.times*(best.to-best.from)
	}
	now, lineage := p, Lineage{}
	for _, part := range parts {
		next, lin, err := now.spreadPart(part, grow*(part.to-part.from)/whole)
		if err != nil {
			return nil, nil, err
		}
		now, lineage = next, lineage.then(lin)
	}
	return now, lineage, nil
}

// spreadPart is a stretch of an edge, in mm from its start, that is spread; the edge is
// sewn so many times in the side.
type spreadPart struct {
	edge     EdgeRef
	from, to float64
	times    float64
}

// spreadParts returns the stretches of edges that lie between two shares of a run. An edge
// that is sewn more than once is spread once, where it lies first.
func (p *Project) spreadParts(run Run, from, to float64) []spreadPart {
	var parts []spreadPart
	times := make(map[EdgeRef]float64)
	for _, u := range run {
		times[EdgeRef{u.Piece, u.Edge}]++
	}
	whole, at := p.runLength(run), 0.0
	seen := make(map[EdgeRef]bool)
	for k, u := range run {
		own := p.runLength(run[k : k+1])
		lo, hi := max(from*whole-at, 0), min(to*whole-at, own)
		at += own
		ref := EdgeRef{u.Piece, u.Edge}
		if hi-lo < shortestStretch || seen[ref] || mayGive(p.Piece(u.Piece)) != nil {
			continue
		}
		seen[ref] = true
		if u.Reversed {
			lo, hi = own-hi, own-lo
		}
		parts = append(parts, spreadPart{ref, lo, hi, times[ref]})
	}
	return parts
}

// spreadPart spreads one stretch so that its edge gets longer by so many mm. What seams
// are meant to be stays.
func (p *Project) spreadPart(part spreadPart, grow float64) (*Project, Lineage, error) {
	amount := Length(grow)
	did, err := addFullness(p, AddFullnessArgs{
		Edge: part.edge, Amount: &amount,
		From: &EdgePlace{At: part.from}, To: &EdgePlace{At: part.to},
	})
	if err != nil {
		return nil, nil, err
	}
	next := did.Project
	for _, s := range p.Seams {
		next = next.withMeaning(s)
	}
	if len(did.Lineage) > 0 {
		if next, err = followLineage(p, next, did.Lineage); err != nil {
			return nil, nil, err
		}
	}
	return next, did.Lineage, nil
}

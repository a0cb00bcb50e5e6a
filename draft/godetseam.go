package draft

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// seamEnd is an end of a seam that hangs free, at a hem: there a godet can be set in. The
// seam ends at the point of the godet, and each of its sides is sewn to a side of that.
type seamEnd struct {
	seam *Seam
	// atEnd says that the runs end at the hem; else they begin there.
	atEnd bool
	// side is the run on which the godet was placed, from how far along it is the place,
	// in mm from the hem.
	side Side
	from float64
}

func (s *Seam) run(side Side) Run {
	if side == SideB {
		return s.B
	}
	return s.A
}

func (s Side) other() Side { return SideB - s }

// beyond returns the piece and the index of the edge that comes next to the outline where
// a run ends, or begins, and whether that edge comes after the last of the run.
func (p *Project) beyond(run Run, atEnd bool) (piece *Piece, edge int, after, ok bool) {
	u := run[0]
	if atEnd {
		u = run[len(run)-1]
	}
	if piece = p.Piece(u.Piece); piece == nil {
		return nil, 0, false, false
	}
	i := piece.indexOf(u.Edge)
	if i < 0 {
		return nil, 0, false, false
	}
	n := len(piece.Edges)
	if after = u.Reversed != atEnd; after {
		return piece, (i + 1) % n, true, true
	}
	return piece, (i + n - 1) % n, false, true
}

// hangsFree reports whether a seam ends at edges that are sewn to nothing.
func (p *Project) hangsFree(s *Seam, atEnd bool) bool {
	for _, run := range [...]Run{s.A, s.B} {
		if len(run) == 0 {
			return false
		}
		piece, i, _, ok := p.beyond(run, atEnd)
		if !ok || piece.Edges[i].Kind == FoldEdge || p.sewnIn(piece.ID, piece.Edges[i].ID) != nil {
			return false
		}
	}
	return true
}

// endsAtHem reports whether a seam ends, or begins, at a hem.
func (p *Project) endsAtHem(s *Seam, atEnd bool) bool {
	for _, run := range [...]Run{s.A, s.B} {
		if piece, i, _, ok := p.beyond(run, atEnd); ok && piece.Edges[i].Kind == HemEdge {
			return true
		}
	}
	return false
}

// endNear returns the free end of a seam nearest to a place on one of its edges.
func (p *Project) endNear(s *Seam, edge EdgeRef, along float64) (seamEnd, error) {
	side, run := SideA, s.A
	_, far, ok := p.walkTo(run, EdgeUse{Piece: edge.Piece, Edge: edge.Edge}, along)
	if !ok {
		side, run = SideB, s.B
		if _, far, ok = p.walkTo(run, EdgeUse{Piece: edge.Piece, Edge: edge.Edge}, along); !ok {
			return seamEnd{}, fmt.Errorf("the edge is not sewn in seam %s", s.label())
		}
	}
	length := p.runLength(run)
	start, end := p.hangsFree(s, false), p.hangsFree(s, true)
	if start && end && far > 2*placeReach && far < length-2*placeReach {
		// Of two free ends it is the one at a hem.
		if first, last := p.endsAtHem(s, false), p.endsAtHem(s, true); first != last {
			start, end = first, last
		}
	}
	switch {
	case start && (!end || far <= length/2):
		return seamEnd{s, false, side, far}, nil
	case end:
		return seamEnd{s, true, side, length - far}, nil
	}
	return seamEnd{}, fmt.Errorf("seam %s ends nowhere at an edge that hangs free, such as a hem, where a godet could open it; let in a gusset, or take the seam apart first", s.label())
}

// seamBeside returns the end of a seam that a place on a free edge is so near to that no
// slit has room between them; nil where there is none.
func (p *Project) seamBeside(piece *Piece, at outlinePlace, allowance *Length) *EdgeRef {
	width, err := piece.slitWidth(allowance)
	if err != nil {
		return nil
	}
	room := halfSlit(slitPlan{width: width, depth: math.Inf(1)}, 0) + 2*placeReach
	n, length := len(piece.Edges), piece.EdgeLength(at.edge)
	for _, next := range [...]struct {
		edge int
		away float64
	}{{(at.edge + n - 1) % n, at.along}, {(at.edge + 1) % n, length - at.along}} {
		r := EdgeRef{piece.ID, piece.Edges[next.edge].ID}
		if next.away <= room && p.sewnIn(r.Piece, r.Edge) != nil {
			return &r
		}
	}
	return nil
}

// endBeside returns the end of an edge at which it meets a neighbour.
func (p *Piece) endBeside(edge ID, neighbour int) outlinePlace {
	i := p.indexOf(edge)
	if (i+1)%len(p.Edges) == neighbour {
		return outlinePlace{i, p.EdgeLength(i)}
	}
	return outlinePlace{i, 0}
}

// fullRange returns where the fullness of a seam lies in mm on the fuller run.
func (p *Project) fullRange(s *Seam) (from, to float64) {
	full := p.runLength(s.run(s.Fuller))
	return s.From * full, s.To * full
}

// opposite returns the place that is sewn to one at far mm along a side of a seam: as far
// along the other, but within its fullness at the same share of that.
func (p *Project) opposite(s *Seam, side Side, far float64) float64 {
	if s.Ratio == 1 {
		return far
	}
	full, other := p.runLength(s.run(s.Fuller)), p.runLength(s.run(s.Fuller.other()))
	from, to := p.fullRange(s)
	a, b := [3]float64{from, to, full}, [3]float64{from, other - (full - to), other}
	if b[1] <= b[0] { // the fullness takes up more than there is: it is spread over all
		a, b = [3]float64{0, full, full}, [3]float64{0, other, other}
	}
	if side != s.Fuller {
		a, b = b, a
	}
	switch {
	case far <= a[0]:
		return far
	case far >= a[1]:
		return b[2] - (a[2] - far)
	}
	return between(far, a[0], a[1], b[0], b[1])
}

// keepFullness has a part of a seam mean the fullness that lies in it: part has the runs
// in p, before the whole seam, begins where the part does, in mm along the fuller side.
func (p *Project) keepFullness(before *Project, s *Seam, part *Seam, begins float64) {
	part.Marks = nil // they are shares of the whole
	if s.Ratio == 1 {
		return
	}
	fuller, thinner := s.Fuller, s.Fuller.other()
	from, to := before.fullRange(s)
	miss := s.Ratio * before.runLength(s.run(thinner)) / before.runLength(s.run(fuller))
	full, other := p.runLength(part.run(fuller)), p.runLength(part.run(thinner))
	if !(full > 0 && other > 0) {
		return
	}
	if part.From, part.To = max(from-begins, 0)/full, min((to-begins)/full, 1); part.From >= part.To {
		part.From, part.To = 0, 1 // it lies beside, where nothing is left of the edge
	}
	ratio := full / other * miss
	switch {
	case math.Abs(full-other) < meantSlack:
		part.Ratio, part.Fullness, part.From, part.To = 1, Plain, 0, 1
	case ratio < 1:
		part.Fuller, part.Ratio, part.From, part.To = thinner, min(1/ratio, MaxRatio), 0, 1
	default:
		part.Ratio = min(ratio, MaxRatio)
	}
}

// runCut is a place at which an edge becomes two, in mm along it.
type runCut struct {
	edge EdgeRef
	at   float64
}

// cutOf returns the place at far mm along a run; ok is false where that is a corner.
func (p *Project) cutOf(run Run, far float64) (c runCut, ok bool, err error) {
	for _, u := range run {
		length := p.runLength(Run{u})
		if far > length+placeReach {
			far -= length
			continue
		}
		if far < placeReach || far > length-placeReach {
			return c, false, nil
		}
		if u.Reversed {
			far = length - far
		}
		return runCut{EdgeRef{u.Piece, u.Edge}, far}, true, nil
	}
	return c, false, errors.New("the seam ends before this place")
}

// divideEdges makes corners at places of edges. The project is one that an act is making;
// it returns the one with the edges divided, and what became of them.
func (p *Project) divideEdges(cuts []runCut, ids *idSource) (*Project, Lineage, error) {
	// Along each edge from its end on, so that what is left of it keeps its places.
	slices.SortStableFunc(cuts, func(a, b runCut) int { return cmp.Compare(b.at, a.at) })
	lin, next, now := Lineage{}, p.shallow(), map[EdgeRef]runCut{}
	mine := map[ID]*Piece{}
	for _, c := range cuts {
		left, again := now[c.edge]
		if again && left.at-c.at <= placeReach {
			continue
		}
		if !again {
			left = c
		}
		q := mine[c.edge.Piece]
		if q == nil {
			q = p.Piece(c.edge.Piece).clone()
			mine[q.ID] = q
		}
		_, i := q.Edge(left.edge.Edge)
		node, err := q.nodeFor(outlinePlace{i, c.at}, ids)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", q.label(), err)
		}
		if d := q.mouthOf(node); d != nil {
			return nil, nil, fmt.Errorf("%s: %s opens where the point of the godet would be; set it higher or lower", q.label(), d.called())
		}
		n, _, k := q.Node(node)
		if k == 0 {
			continue
		}
		n.Smooth = false
		lin = lin.then(q.split(i, k, ids))
		now[c.edge] = runCut{EdgeRef{q.ID, q.Edges[i].ID}, c.at}
	}
	for _, q := range mine {
		next = next.withPiece(q)
	}
	return next, lin, nil
}

// parted returns the two parts of a run at the corner far mm along it; neither is empty.
func (p *Project) parted(run Run, far float64) (first, second Run, err error) {
	for k, u := range run {
		switch {
		case far > placeReach:
			far -= p.runLength(Run{u})
		case k == 0: // as where little of one side is sewn to much of the other
			return nil, nil, errors.New("one side of the seam begins only here")
		default:
			return slices.Clone(run[:k]), slices.Clone(run[k:]), nil
		}
	}
	return nil, nil, errors.New("the seam ends before this place")
}

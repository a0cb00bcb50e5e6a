package draft

import (
	"math"

	"hemlet/geom"
)

// matchByEnd matches a seam by moving an end of each giving side along it. Where the
// edges that begin there are sewn and cannot keep their lengths, first the end leaves its
// line, and then all of the piece may change.
func (p *Project) matchByEnd(s *Seam, sides []Side, end *EdgeEnd, out *Outcome) error {
	var ends []EdgeEnd
	if end != nil {
		ends = []EdgeEnd{*end}
	} else {
		ends = p.freerEnds(s, sides)
	}
	var tries []func() *matching
	for _, e := range ends {
		if p.endCost(s, sides, e, p.hems) >= cannotMove {
			continue
		}
		for _, way := range endWays {
			tries = append(tries, func() *matching { return p.endMatching(s, sides, e, way) })
		}
	}
	for _, loose := range []bool{false, true} {
		tries = append(tries, func() *matching { return p.wholeMatching(s, sides, loose) })
	}
	return p.matchOne(s, tries, out)
}

// wholeMatching lets all of the pieces of the giving sides change.
func (p *Project) wholeMatching(s *Seam, sides []Side, loose bool) *matching {
	m := newMatching(p)
	m.loose = loose
	for _, side := range sides {
		for _, u := range s.run(side) {
			if piece := p.Piece(u.Piece); mayGive(piece) == nil {
				m.take(piece).freeAll()
			}
		}
	}
	return m.forSeam(s)
}

// forSeam wishes that the sides of a seam match, with those of its fellows, and that all
// others keep their lengths. It returns nil where nothing that may change makes a
// difference.
func (m *matching) forSeam(s *Seam) *matching {
	targets := m.p.withFellows([]*Seam{s})
	if !m.matchAll(targets) {
		return nil
	}
	m.keepSides(targets)
	return m
}

const (
	// openCost marks an end at which the edge that begins there is to be sewn one day, and
	// is to nothing yet; sewnCost one where it is sewn. Such an end is moved only where the
	// other end is no better: best is one at a hem. measuredCost comes to that where that edge
	// stands for a measure.
	openCost, sewnCost, measuredCost = 2, 4, 1
	// cannotMove marks an end that lies on a fold, or on a piece that cannot change.
	cannotMove = 100
)

// freerEnds returns the two ends of the seam, the one first that moves more freely; of
// two that are alike the end before the start.
func (p *Project) freerEnds(s *Seam, sides []Side) []EdgeEnd {
	if p.endCost(s, sides, EdgeStart, p.hems) < p.endCost(s, sides, EdgeFinish, p.hems) {
		return []EdgeEnd{EdgeStart, EdgeFinish}
	}
	return []EdgeEnd{EdgeFinish, EdgeStart}
}

// endCost returns what keeps an end of the giving sides from moving; hems says which edges
// are hems.
func (p *Project) endCost(s *Seam, sides []Side, end EdgeEnd, hems func(*Piece, int) bool) int {
	cost := 0
	for _, side := range sides {
		piece, edge, at := p.endOf(s.run(side), end)
		if mayGive(piece) != nil || len(piece.Edges) < 2 {
			cost += cannotMove
			continue
		}
		beside := piece.beside(edge, at)
		switch {
		case piece.Edges[beside].Kind == FoldEdge, piece.Edges[edge].Kind == FoldEdge:
			cost += cannotMove
		case p.sewn(piece.ID, piece.Edges[beside].ID):
			cost += sewnCost
		case piece.Edges[beside].Kind == SeamEdge && !hems(piece, beside):
			cost += openCost
		}
		if piece.measured(beside) {
			cost += measuredCost
		}
	}
	return cost
}

// sidesCost returns what the freer end of the giving sides costs, as far as kinds and names
// of edges tell it.
func (p *Project) sidesCost(s *Seam, sides ...Side) int {
	return min(p.endCost(s, sides, EdgeStart, calledHem), p.endCost(s, sides, EdgeFinish, calledHem))
}

// calledHem reports whether an edge is a hem by its kind or its name.
func calledHem(piece *Piece, i int) bool {
	e := &piece.Edges[i]
	return e.Kind == HemEdge || placeIn(e.Name, []wordsOfPlace{{OpenHem, []string{"hem"}}}) == OpenHem
}

// endOf returns the edge at an end of a run, and which of its own ends lies there.
func (p *Project) endOf(run Run, end EdgeEnd) (piece *Piece, edge int, at EdgeEnd) {
	u := run[len(run)-1]
	if end == EdgeStart {
		u = run[0]
	}
	piece = p.Piece(u.Piece)
	_, edge = piece.Edge(u.Edge)
	if u.Reversed {
		end = EdgeFinish - end
	}
	return piece, edge, end
}

// beside returns the index of the edge that meets edge i at an end.
func (p *Piece) beside(i int, end EdgeEnd) int {
	n := len(p.Edges)
	if end == EdgeStart {
		return (i + n - 1) % n
	}
	return (i + 1) % n
}

// sewn reports whether an edge is part of a seam.
func (p *Project) sewn(piece, edge ID) bool {
	for _, s := range p.Seams {
		if _, _, k := useOf(s, EdgeRef{piece, edge}); k >= 0 {
			return true
		}
	}
	return false
}

// endWay is how an end of a side may move.
type endWay int

const (
	// alongAsStrip moves it along its own side, with the whole end of the piece where
	// that is a strip.
	alongAsStrip endWay = iota
	// alongSide moves it along its own side alone.
	alongSide
	// anyWay lets it leave that line.
	anyWay
)

// endWays are tried in order.
var endWays = []endWay{alongAsStrip, alongSide, anyWay}

// endMatching lets an end of each giving side move, with the edges that meet there. It
// returns nil where the way is no other than the one before.
func (p *Project) endMatching(s *Seam, sides []Side, end EdgeEnd, way endWay) *matching {
	m := newMatching(p)
	strips := false
	for _, side := range sides {
		piece, edge, at := p.endOf(s.run(side), end)
		g := m.take(piece)
		beside := piece.beside(edge, at)
		k := g.first[edge]
		if at == EdgeFinish {
			k = g.end(edge)
		}
		along := piece.endTangent(edge, at)
		if along == (geom.Point{}) {
			return nil
		}
		if way == alongAsStrip && piece.isStrip() {
			strips = true
			g.slideEnd(beside, along)
			continue
		}
		g.may[k] = whollyFree
		g.freeInside(edge)
		g.freeInside(beside)
		if way != anyWay {
			g.rails[k] = along
		}
	}
	if way == alongAsStrip && !strips {
		return nil
	}
	return m.forSeam(s)
}

// endTangent returns the direction of edge i at one of its ends.
func (p *Piece) endTangent(i int, end EdgeEnd) geom.Point {
	path := p.EdgePath(i)
	if end == EdgeStart {
		return path[0].Tangent(0)
	}
	return path[len(path)-1].Tangent(1)
}

// slideEnd lets an edge move as it is, along the two beside it.
func (g *givingPiece) slideEnd(i int, along geom.Point) {
	for _, k := range g.edgeNodes(i) {
		g.may[k] = whollyFree
	}
	g.tieEnd(i, along)
}

// tieEnd has an edge move as it is, and only along a direction.
func (g *givingPiece) tieEnd(i int, along geom.Point) {
	nodes := g.edgeNodes(i)
	for _, k := range nodes {
		g.rails[k] = along
	}
	g.ties = append(g.ties, nodes)
}

// edgeNodes lists the nodes of edge i with both its ends.
func (g *givingPiece) edgeNodes(i int) []int {
	return append([]int{g.first[i]}, append(g.inside(i), g.end(i))...)
}

// stripSlack is the cosine within which a corner of a strip is square: a twentieth of
// a degree.
const stripSlack = 1e-3

// isStrip reports whether the piece is a rectangle, as ruffles, bands and bindings are.
func (p *Piece) isStrip() bool {
	if len(p.Edges) != 4 {
		return false
	}
	g := newMatching(nil).take(p)
	for i := range p.Edges {
		in, out := p.endTangent(p.beside(i, EdgeStart), EdgeFinish), p.endTangent(i, EdgeStart)
		if !g.straightEdge(i) || math.Abs(in.Dot(out)) > stripSlack {
			return false
		}
	}
	return true
}

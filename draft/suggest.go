package draft

import (
	"cmp"
	"slices"
)

// SeamSuggestion is a seam that nobody has recorded and that the pieces seem to ask
// for.
type SeamSuggestion struct {
	// A and B are the two sides, run so that the ends meet that are sewn together.
	A, B Run
	// BothSides says that the seam stands for the other side of the body as well.
	BothSides bool
	// Ratio is how many times as long the fuller side is: 1 where the sides are equally
	// long as far as sewing goes.
	Ratio    float64
	Fuller   Side
	Fullness Fullness
	// Why says in a few words what speaks for it.
	Why string
	// Sure is from above 0 to 1 how much does.
	Sure float64
}

// leastSure is how much must speak for a seam before it is suggested: rather one
// suggestion less than a silly one.
const leastSure = 0.5

// SuggestSeams returns the seams that the edges which are sewn to nothing ask for, the
// surest first; no edge is in two of them. Edges are held against each other by what they
// are on the body, by name, by length, by how the outline runs on over the join, and by
// their curves; then the lines that go round the body over several pieces, such as an
// armhole, against what is let into them. What is not sewn to each other on any garment,
// such as two armholes, is never suggested, however well the lengths agree.
//
// Where several partners fit equally well none is suggested.
func (s *Slots) SuggestSeams(p *Project) []SeamSuggestion {
	p = s.patternOf(p)
	return slotOf(s, "suggested seams", "", slotInputs{p}, func() []SeamSuggestion {
		return s.suggest(p, s.Anatomy(p))
	})
}

// likelySeams returns what lengths, names and curves alone ask for: what the anatomy may
// read before it is known itself.
func (s *Slots) likelySeams(p *Project) []SeamSuggestion {
	return slotOf(s, "likely seams", "", slotInputs{p}, func() []SeamSuggestion { return s.suggest(p, nil) })
}

// suggest finds seams by what the pieces are, nil where that is not known.
func (s *Slots) suggest(p *Project, anatomy *Anatomy) []SeamSuggestion {
	g := &suggester{slots: s, p: p, look: s.lookupIn(p), anatomy: anatomy}
	g.gather()
	g.pairs()
	g.rounds()
	g.looseCaps()
	g.looseBands()
	slices.SortStableFunc(g.found, func(a, b SeamSuggestion) int { return cmp.Compare(b.Sure, a.Sure) })
	return g.found
}

// suggester is the work of one call.
type suggester struct {
	slots *Slots
	p     *Project
	look  *lookup
	// anatomy is nil where it is not known yet.
	anatomy *Anatomy
	// free are the edges that are sewn to nothing and might be.
	free  []*freeEdge
	taken map[edgeKey]bool
	// relation says of two pieces that are sewn to each other whether they are drawn the
	// same way up, so that one of them is meant mirrored.
	relation map[pieceRelation]bool
	found    []SeamSuggestion
}

// freeEdge is an edge that is sewn to nothing.
type freeEdge struct {
	piece  *Piece
	index  int
	edge   *Edge
	length float64
	line   garmentLine
	part   EdgePart // unknown where nothing tells
	// starts and ends are the angles in radians between the edge and its neighbours,
	// within the piece, at its two ends.
	starts, ends float64
	straight     bool
}

func (f *freeEdge) key() edgeKey { return edgeKey{f.piece.ID, f.edge.ID} }

// gather lists the free edges in the order of the project.
func (g *suggester) gather() {
	g.taken, g.relation = make(map[edgeKey]bool), make(map[pieceRelation]bool)
	for _, piece := range g.p.Pieces {
		lengths := g.slots.EdgeLengths(piece)
		for i := range piece.Edges {
			e := &piece.Edges[i]
			line := g.lineAt(piece, i)
			if e.Kind != SeamEdge || line == openLine || lengths[i] <= 0 || g.look.sewn[edgeKey{piece.ID, e.ID}] {
				continue
			}
			n := len(piece.Edges)
			g.free = append(g.free, &freeEdge{
				piece: piece, index: i, edge: e, length: lengths[i], line: line, part: g.partOf(piece, i),
				starts: piece.cornerAngle(i), ends: piece.cornerAngle((i + 1) % n),
				straight: bend(piece.EdgePath(i)) <= plainlyStraight*lengths[i],
			})
		}
	}
}

// plainlyStraight is how far an edge may bend, as a share of its length, and still be
// called straight.
const plainlyStraight = 0.005

// take puts a suggestion on the list and its edges out of the way.
func (g *suggester) take(seam *Seam, why string, sure float64) {
	for _, run := range []Run{seam.A, seam.B} {
		for _, u := range run {
			g.taken[edgeKey{u.Piece, u.Edge}] = true
		}
	}
	g.found = append(g.found, SeamSuggestion{
		A: seam.A, B: seam.B, BothSides: seam.BothSides, Ratio: seam.Ratio, Fuller: seam.Fuller, Fullness: seam.Fullness,
		Why: why, Sure: min(sure, 1),
	})
}

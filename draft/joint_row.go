package draft

import (
	"slices"
	"strings"
	"unicode"
)

// jointWork finds what lies at the ends of the seams of one project. It goes by the edges
// as they are drawn, not by copies: what is sewn on one side of the body is sewn alike on
// the other.
type jointWork struct {
	at *lookup
	// sewn are the places of the ends of edges in the runs of seams.
	sewn map[edgeCorner][]sewnCorner
}

// sewnCorner is the end of an edge in a seam.
type sewnCorner struct {
	seam *Seam
	side Side
	// joint counts the ends of uses along the run: 0 is its start, 1 where the first use
	// meets the second, and last its end.
	joint, last int
	// partner is the corner that it is sewn to, at the ends of a run.
	partner edgeCorner
}

func (c sewnCorner) outer() bool { return c.joint == 0 || c.joint == c.last }

// jointRow is what is laid together at one end of a seam, and the line that runs on there.
type jointRow struct {
	seam    *Seam
	end     EdgeEnd
	stops   []jointStop
	what    string
	drawnUp bool
}

// jointRows returns the rows at the ends of the seams of a project at which a line runs on.
// They hang on no shape, so that a drag of a point leaves them as they are.
func (s *Slots) jointRows(p *Project) []jointRow {
	bare := s.bareOf(p)
	return slotOf(s, "joint rows", "", slotInputs{bare}, func() []jointRow { return rowsIn(bare, s.bareLookup(bare)) })
}

// rowsIn is jointRows of a project, which may be bare.
func rowsIn(p *Project, at *lookup) []jointRow {
	w := &jointWork{at: at, sewn: make(map[edgeCorner][]sewnCorner, 4*len(p.Seams))}
	for _, seam := range p.Seams {
		if len(seam.A) == 0 || len(seam.B) == 0 {
			continue
		}
		w.index(seam, SideA, seam.A, seam.B)
		w.index(seam, SideB, seam.B, seam.A)
	}
	var rows []jointRow
	for _, seam := range p.Seams {
		if len(seam.A) == 0 || len(seam.B) == 0 {
			continue
		}
		for _, end := range [...]EdgeEnd{EdgeStart, EdgeFinish} {
			stops, ok := w.row(seam, seam.A.corner(end), seam.B.corner(end))
			if !ok {
				continue
			}
			r := jointRow{seam: seam, end: end, stops: stops}
			from, to := stops[0].line, stops[len(stops)-1].line
			first, i := w.edge(from)
			last, k := w.edge(to)
			r.what, r.drawnUp = lineName(&first.Edges[i], &last.Edges[k]), w.drawnUp(from) || w.drawnUp(to)
			rows = append(rows, r)
		}
	}
	return rows
}

func (w *jointWork) index(seam *Seam, side Side, run, other Run) {
	last := len(run)
	for k, u := range run {
		start := sewnCorner{seam: seam, side: side, joint: k, last: last}
		if k == 0 {
			start.partner = other.corner(EdgeStart)
		}
		end := sewnCorner{seam: seam, side: side, joint: k + 1, last: last}
		if k+1 == last {
			end.partner = other.corner(EdgeFinish)
		}
		w.sewn[u.startOf()] = append(w.sewn[u.startOf()], start)
		w.sewn[u.endOf()] = append(w.sewn[u.endOf()], end)
	}
}

// edge returns the piece of a corner and the index of its edge, or nil.
func (w *jointWork) edge(c edgeCorner) (*Piece, int) {
	piece := w.at.pieces[c.piece]
	if piece == nil {
		return nil, -1
	}
	_, i := piece.Edge(c.edge)
	if i < 0 {
		return nil, -1
	}
	return piece, i
}

// beside returns the end of the other edge at the same corner of the outline.
func (w *jointWork) beside(c edgeCorner) (edgeCorner, bool) {
	piece, i := w.edge(c)
	if piece == nil || len(piece.Edges) < 2 {
		return edgeCorner{}, false
	}
	n := len(piece.Edges)
	if c.end == EdgeStart {
		return edgeCorner{c.piece, piece.Edges[(i+n-1)%n].ID, EdgeFinish}, true
	}
	return edgeCorner{c.piece, piece.Edges[(i+1)%n].ID, EdgeStart}, true
}

// jointStop is one piece of a row that is laid together: it lies along an edge that is
// sewn, and its line leads on.
type jointStop struct {
	sewn, line edgeCorner
	// onward is the edge along which the next piece of the row is laid.
	onward edgeCorner
}

// mostInRow bounds the pieces that are laid together at one side of a seam; more than the
// tips of a crown's gores is a slip.
const mostInRow = 12

// row returns the pieces from that whose line comes to the joint to that on which it runs
// on, of a seam whose runs end at the two corners.
func (w *jointWork) row(seam *Seam, a, b edgeCorner) ([]jointStop, bool) {
	fromA, ok := w.fan(a, b)
	if !ok {
		return nil, false
	}
	fromB, ok := w.fan(b, a)
	if !ok {
		return nil, false
	}
	// The fewest pieces first: what lies nearest to the seam.
	for n := 0; n <= len(fromA)+len(fromB)-2; n++ {
		for i := max(0, n-len(fromB)+1); i <= min(n, len(fromA)-1); i++ {
			besides := seam
			if n == 0 {
				besides = nil
			}
			if w.runsOn(fromA[i].line, fromB[n-i].line, besides) {
				return rowOf(fromA[:i+1], fromB[:n-i+1]), true
			}
		}
	}
	if !w.namedAlike(fromA[0].line, fromB[0].line) {
		return nil, false
	}
	return rowOf(fromA[:1], fromB[:1]), true
}

// rowOf joins the pieces on both sides of a seam to one row. On the first side the pieces
// come in the other order: each is laid along the edge that leads towards the seam.
func rowOf(a, b []jointStop) []jointStop {
	row := make([]jointStop, 0, len(a)+len(b))
	for i := len(a) - 1; i >= 0; i-- {
		stop := a[i]
		stop.onward = stop.sewn
		if i < len(a)-1 {
			stop.sewn, stop.line = stop.line, stop.sewn
		}
		row = append(row, stop)
	}
	for _, stop := range b {
		stop.onward = stop.line
		row = append(row, stop)
	}
	return row
}

// fan lists the pieces that are sewn to one another round the corner, from the piece with
// the edge at from on, away from the seam whose other side ends at stop. The line of the
// last one is sewn to nothing, or leads back.
func (w *jointWork) fan(from, stop edgeCorner) ([]jointStop, bool) {
	var list []jointStop
	at := from
	for range mostInRow {
		line, ok := w.beside(at)
		if !ok {
			return nil, false
		}
		piece, i := w.edge(line)
		if piece.Edges[i].Kind == FoldEdge {
			if len(list) == 0 {
				return nil, false // the seam goes on beyond the fold
			}
			return list, true
		}
		list = append(list, jointStop{sewn: at, line: line})
		next, ok := w.across(line)
		if !ok || next == from || next == stop || line == from || line == stop {
			return list, true
		}
		at = next
	}
	return list, true
}

// across returns the end of the edge that the end of an edge is sewn to.
func (w *jointWork) across(c edgeCorner) (edgeCorner, bool) {
	for _, s := range w.sewn[c] {
		if s.outer() {
			piece, _ := w.edge(s.partner)
			return s.partner, piece != nil
		}
	}
	return edgeCorner{}, false
}

// drawnUp reports whether the edge is gathered or pleated where it is sewn.
func (w *jointWork) drawnUp(c edgeCorner) bool {
	return slices.ContainsFunc(w.sewn[c], func(s sewnCorner) bool {
		return s.side == s.seam.Fuller && (s.seam.Fullness == Gathers || s.seam.Fullness == Pleats)
	})
}

// runsOn reports whether two ends of edges that meet are one line: both are sewn to
// nothing, or they follow each other in one run of a seam, besides the one that is named.
func (w *jointWork) runsOn(a, b edgeCorner, besides *Seam) bool {
	inA, inB := w.sewn[a], w.sewn[b]
	if len(inA) == 0 && len(inB) == 0 {
		return true
	}
	for i, x := range inA {
		for k, y := range inB {
			if a == b && i == k {
				continue // one and the same
			}
			if x.seam == y.seam && x.seam != besides && x.side == y.side && (x.joint == y.joint && !x.outer() || x.outer() && y.outer() && x.joint != y.joint) {
				return true
			}
		}
	}
	return false
}

// namedAlike reports whether both edges bear the name of one line that goes round the body
// or a limb: where such a line crosses a seam it is meant to run on without a kink, also
// where each part of it is sewn in a seam of its own. (Common practice, no source.)
func (w *jointWork) namedAlike(a, b edgeCorner) bool {
	p, i := w.edge(a)
	q, k := w.edge(b)
	if p == nil || q == nil {
		return false
	}
	line := lineOfName(p.Edges[i].Name)
	return line.round() && line == lineOfName(q.Edges[k].Name)
}

func wordsIn(name string) []string {
	return strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) })
}

// lineName names the line that runs on from one edge to another: by the name of both, by
// the word that both names have, by their kind, or by both names.
func lineName(a, b *Edge) string {
	if a.label() == b.label() {
		return a.label()
	}
	other := wordsIn(b.Name)
	for _, word := range wordsIn(a.Name) {
		if slices.Contains(other, word) && !slices.Contains(placeWords, word) {
			return word
		}
	}
	if a.Kind == b.Kind && a.Kind != SeamEdge {
		return a.Kind.String()
	}
	return a.label() + " and " + b.label()
}

// placeWords say where an edge lies and not what it is.
var placeWords = []string{"front", "back", "left", "right", "upper", "lower", "top", "under", "centre", "center", "edge", "side"}

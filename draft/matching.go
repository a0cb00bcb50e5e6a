package draft

import (
	"context"
	"fmt"
	"slices"

	"hemlet/geom"
	"hemlet/geom/adjust"
)

// matching changes outlines as little as can be so that seams become what they are meant
// to be. It knows which pieces may change and what of them; geom/adjust finds the change.
type matching struct {
	p      *Project
	given  []*givingPiece
	at     map[ID]*givingPiece
	wishes []adjust.Wish
	// loose lets straight edges leave the direction of the grain.
	loose bool
}

// givingPiece is a piece whose outline may change.
type givingPiece struct {
	piece *Piece
	shape int
	// nodes are those of the outline, edge after edge; first has the index of the first
	// node of each edge.
	nodes []Node
	first []int
	// may says what may move.
	may []liberty
	// rails are directions along which a node moves, beside those of folds.
	rails map[int]geom.Point
	// ties are nodes that move together, beside those of darts.
	ties [][]int
}

// liberty says what of a node may change: its place, the handle that comes in and the one
// that goes out.
type liberty struct{ at, in, out bool }

var whollyFree = liberty{true, true, true}

// keptWeight is how much more a millimetre counts by which a seam that is to stay as it
// is would be changed, than one by which a seam that is to be mended is still off: a
// mend that tears the seam beside it is none.
const keptWeight = 100

func newMatching(p *Project) *matching {
	return &matching{p: p, at: make(map[ID]*givingPiece)}
}

// take lets a piece change; at first nothing of it may move.
func (m *matching) take(piece *Piece) *givingPiece {
	if g := m.at[piece.ID]; g != nil {
		return g
	}
	g := &givingPiece{piece: piece, shape: len(m.given), rails: make(map[int]geom.Point)}
	for i := range piece.Edges {
		g.first = append(g.first, len(g.nodes))
		g.nodes = append(g.nodes, piece.Edges[i].Nodes...)
	}
	g.may = make([]liberty, len(g.nodes))
	m.given = append(m.given, g)
	m.at[piece.ID] = g
	return g
}

// freeAll lets every point of the outline move.
func (g *givingPiece) freeAll() {
	for i := range g.may {
		g.may[i] = whollyFree
	}
}

// hold keeps a node where it is, with its handles.
func (g *givingPiece) hold(node ID) bool {
	for i := range g.nodes {
		if g.nodes[i].ID == node {
			g.may[i] = liberty{}
			return true
		}
	}
	return false
}

// end returns the index of the node at which edge i ends.
func (g *givingPiece) end(i int) int { return g.first[(i+1)%len(g.first)] }

// next returns the index of the node after node k.
func (g *givingPiece) next(k int) int { return (k + 1) % len(g.nodes) }

// inside lists the nodes inside edge i.
func (g *givingPiece) inside(i int) []int {
	list := make([]int, 0, len(g.piece.Edges[i].Nodes))
	for k := 1; k < len(g.piece.Edges[i].Nodes); k++ {
		list = append(list, g.first[i]+k)
	}
	return list
}

// freeInside lets the line of edge i change between its ends, which stay. The mouths of
// darts stay too: only the handles beside them move.
func (g *givingPiece) freeInside(i int) {
	from, to := g.first[i], g.end(i)
	g.may[from].out = true
	g.may[to].in = true
	for _, k := range g.inside(i) {
		if g.piece.mouthOf(g.nodes[k].ID) == nil {
			g.may[k] = whollyFree
			continue
		}
		g.may[k].in, g.may[k].out = true, true
	}
}

// mouth reports whether the stretch after node k is the mouth of a dart.
func (g *givingPiece) mouth(k int) bool {
	return g.piece.dartAt(g.nodes[k].ID, g.nodes[g.next(k)].ID) != nil
}

// straight reports whether the stretch after node k is a straight line.
func (g *givingPiece) straight(k int) bool {
	return g.nodes[k].Out == (geom.Point{}) && g.nodes[g.next(k)].In == (geom.Point{})
}

// stretchKey names a stretch of a shape.
type stretchKey struct{ shape, stretch int }

// match wishes that the sides of a seam be what they are meant to be. It reports false
// where nothing that may change makes a difference.
func (m *matching) match(s *Seam) bool {
	l := m.newLengths()
	l.addSeam(s)
	return m.wish(l.wish(0, 1))
}

// matchAll wishes that for each of a list.
func (m *matching) matchAll(list []*Seam) bool {
	any := false
	for _, s := range list {
		any = m.match(s) || any
	}
	return any
}

// keepSides wishes that each side of every other seam stay as long as it is; where a seam
// is of edges that change, that its sides stay to each other as they are.
func (m *matching) keepSides(targets []*Seam) {
	changes := edgesOf(targets)
	for _, s := range m.p.Seams {
		if hasSeam(targets, s) {
			continue
		}
		if sewsOne(s, changes) {
			m.keepSeam(s)
			continue
		}
		for _, run := range [2]Run{s.A, s.B} {
			l := m.newLengths()
			l.add(run, 1)
			m.wish(l.wish(m.p.runLength(run), keptWeight))
		}
	}
}

// keepSeams wishes that the sides of every other seam stay to each other as they are.
func (m *matching) keepSeams(targets []*Seam) {
	for _, s := range m.p.Seams {
		if !hasSeam(targets, s) {
			m.keepSeam(s)
		}
	}
}

func (m *matching) keepSeam(s *Seam) {
	l := m.newLengths()
	l.addSeam(s)
	m.wish(l.wish(m.p.seamDiff(s), keptWeight))
}

// hasSeam reports whether a seam is one of a list.
func hasSeam(list []*Seam, s *Seam) bool {
	return slices.ContainsFunc(list, func(x *Seam) bool { return x.ID == s.ID })
}

// edgesOf returns the edges that seams sew, as they are drawn.
func edgesOf(seams []*Seam) map[EdgeRef]bool {
	edges := make(map[EdgeRef]bool)
	for _, s := range seams {
		for _, u := range slices.Concat(s.A, s.B) {
			edges[EdgeRef{u.Piece, u.Edge}] = true
		}
	}
	return edges
}

// sewsOne reports whether the seam sews one of the edges.
func sewsOne(s *Seam, edges map[EdgeRef]bool) bool {
	for _, u := range slices.Concat(s.A, s.B) {
		if edges[EdgeRef{u.Piece, u.Edge}] {
			return true
		}
	}
	return false
}

// problem returns what is to be solved.
func (m *matching) problem() adjust.Problem {
	var pr adjust.Problem
	for _, g := range m.given {
		pr.Shapes = append(pr.Shapes, g.outline())
		pr.Rows = append(pr.Rows, g.rows()...)
		pr.Rails = append(pr.Rails, g.allRails(m.loose)...)
		pr.Ties = append(pr.Ties, g.allTies()...)
	}
	pr.Wishes = m.wishes
	return pr
}

// mostMovable is how many points may move in one change. The work grows with the cube of
// them: as many take some ten seconds, and a drawing of points every millimetre, as files
// from outside have them, would take hours.
const mostMovable = 600

// tooLarge returns an error where more points may move than can be worked out.
func (m *matching) tooLarge() error {
	n := 0
	for _, g := range m.given {
		for _, may := range g.may {
			if may != (liberty{}) {
				n++
			}
		}
	}
	if n > mostMovable {
		return fmt.Errorf("%d points would move, and at most %d can be worked out together; take points out of the edges, or let fewer pieces change", n, mostMovable)
	}
	return nil
}

// solve finds the change.
func (m *matching) solve() (adjust.Result, error) {
	r, err := adjust.Solve(context.Background(), m.problem())
	if err != nil {
		return r, fmt.Errorf("no change can be worked out: %w", err)
	}
	return r, nil
}

// applied returns the project with the outlines changed. Darts go along with their
// mouths.
func (m *matching) applied(r adjust.Result) (*Project, error) {
	next := m.p
	for _, g := range m.given {
		q := g.piece.clone()
		shape := r.Shapes[g.shape]
		for i := range q.Edges {
			for k := range q.Edges[i].Nodes {
				n := &q.Edges[i].Nodes[k]
				to := shape.Nodes[g.first[i]+k]
				n.At, n.In, n.Out = to.At, to.In, to.Out
			}
		}
		for i := range q.Darts {
			d := &q.Darts[i]
			for k := range g.nodes {
				if g.nodes[k].ID == d.From {
					d.Apex = d.Apex.Add(shape.Nodes[k].At.Sub(g.nodes[k].At))
				}
			}
		}
		fine, err := rounded(q)
		if err != nil {
			return nil, fmt.Errorf("piece %s: %w", q.label(), err)
		}
		if equalEdges(fine.Edges, g.piece.Edges) {
			continue
		}
		if err := fine.soundAfter(g.piece); err != nil {
			return nil, fmt.Errorf("%s: %w", g.piece.label(), err)
		}
		next = next.withPiece(fine)
	}
	return next, nil
}

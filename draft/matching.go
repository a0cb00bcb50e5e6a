package draft

import (
	"context"
	"fmt"
	"math"
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

// lengths sums up sides of seams: a factor for every stretch that may change, and what
// lies on pieces that do not.
type lengths struct {
	m       *matching
	factors map[stretchKey]float64
	order   []stretchKey
	rest    float64
}

func (m *matching) newLengths() *lengths {
	return &lengths{m: m, factors: make(map[stretchKey]float64)}
}

// add adds a run, factor times. An edge that is in it twice, as on both halves of a piece
// on the fold or on both copies of a pair, counts twice.
func (l *lengths) add(run Run, factor float64) {
	for _, use := range run {
		piece := l.m.p.Piece(use.Piece)
		if piece == nil {
			continue
		}
		_, i := piece.Edge(use.Edge)
		if i < 0 {
			continue
		}
		g := l.m.at[use.Piece]
		if g == nil {
			l.rest += factor * piece.EdgeLength(i)
			continue
		}
		for k := range piece.Edges[i].Nodes {
			at := g.first[i] + k
			if g.mouth(at) {
				continue
			}
			key := stretchKey{g.shape, at}
			if _, known := l.factors[key]; !known {
				l.order = append(l.order, key)
			}
			l.factors[key] += factor
		}
	}
}

// wish returns the wish that the sum be so many mm.
func (l *lengths) wish(want, weight float64) adjust.Wish {
	w := adjust.Wish{Want: want - l.rest, Weight: weight}
	for _, key := range l.order {
		if f := l.factors[key]; f != 0 {
			w.Terms = append(w.Terms, adjust.Term{Shape: key.shape, Stretch: key.stretch, Factor: f})
		}
	}
	return w
}

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

// addSeam adds the fuller side, less what it is to measure.
func (l *lengths) addSeam(s *Seam) {
	full, other := s.B, s.A
	if s.Fuller == SideA {
		full, other = other, full
	}
	l.add(full, 1)
	l.add(other, -s.Ratio)
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

// wish adds a wish, unless nothing that may change has a part in it.
func (m *matching) wish(w adjust.Wish) bool {
	if len(w.Terms) == 0 {
		return false
	}
	m.wishes = append(m.wishes, w)
	return true
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

// outline returns the outline as geom/adjust has it.
func (g *givingPiece) outline() adjust.Shape {
	s := adjust.Shape{Nodes: make([]adjust.Node, len(g.nodes))}
	for i, n := range g.nodes {
		may := g.may[i]
		// The line across the mouth of a dart keeps its shape.
		if g.mouth(i) {
			may.out = false
		}
		if g.mouth((i + len(g.nodes) - 1) % len(g.nodes)) {
			may.in = false
		}
		s.Nodes[i] = adjust.Node{
			At: n.At, In: n.In, Out: n.Out, Smooth: n.Smooth,
			Fixed: may == liberty{}, Pinned: !may.at, FixedIn: !may.in, FixedOut: !may.out,
		}
	}
	return s
}

const (
	// rowSlack is how far, in mm, a node may lie beside the straight line of its
	// neighbours and still belong to it: a tenth of what a pencil line is wide.
	rowSlack = 0.01
	// grainSlack is the sine of the angle within which a straight edge lies along the
	// grain: a twentieth of a degree, as exact as anybody lays a piece.
	grainSlack = 1e-3
)

// rows lists the nodes of straight lines of more than one stretch, which stay straight,
// corners between two edges included.
func (g *givingPiece) rows() []adjust.Row {
	n := len(g.nodes)
	start := -1 // a node at which no row runs on
	for k := range n {
		if !g.runsOn(k) {
			start = k
			break
		}
	}
	if start < 0 {
		return nil
	}
	var rows []adjust.Row
	for k := 0; k < n; {
		row := []int{(start + k) % n}
		k++
		for k <= n && g.straight((start+k-1)%n) {
			row = append(row, (start+k)%n)
			if !g.runsOn((start + k) % n) {
				break
			}
			k++
		}
		if len(row) > 2 {
			rows = append(rows, adjust.Row{Shape: g.shape, Nodes: row})
		}
	}
	return rows
}

// runsOn reports whether the straight line that comes to node k goes on beyond it.
func (g *givingPiece) runsOn(k int) bool {
	n := len(g.nodes)
	before, after := (k+n-1)%n, (k+1)%n
	if !g.straight(before) || !g.straight(k) {
		return false
	}
	a, b, c := g.nodes[before].At, g.nodes[k].At, g.nodes[after].At
	u, v := b.Sub(a), c.Sub(b)
	chord := c.Sub(a).Unit()
	return u.Dot(v) > 0 && math.Abs(chord.Cross(u)) < rowSlack
}

// allRails lists the nodes that move along one line only: those of folds and, unless
// straight edges are let loose, of edges along the grain.
func (g *givingPiece) allRails(loose bool) []adjust.Rail {
	along := make(map[int]adjust.Rail)
	for i := range g.piece.Edges {
		from, to := g.first[i], g.end(i)
		u := g.nodes[to].At.Sub(g.nodes[from].At).Unit()
		if u == (geom.Point{}) || g.piece.Edges[i].Kind != FoldEdge && (loose || !g.alongGrain(i, u)) {
			continue
		}
		for _, k := range append(g.inside(i), from, to) {
			along[k] = adjust.Rail{Shape: g.shape, Node: k, Along: u}
		}
	}
	for k, u := range g.rails {
		if _, has := along[k]; !has {
			along[k] = adjust.Rail{Shape: g.shape, Node: k, Along: u, Turns: true}
		}
	}
	var rails []adjust.Rail
	for k := range g.nodes {
		if r, has := along[k]; has && g.may[k].at {
			rails = append(rails, r)
		}
	}
	return rails
}

// alongGrain reports whether edge i is straight and lies along the grain, whose direction
// it keeps.
func (g *givingPiece) alongGrain(i int, u geom.Point) bool {
	grain := g.piece.Grain
	if grain == nil || math.Abs(grain.To.Sub(grain.From).Unit().Cross(u)) > grainSlack {
		return false
	}
	return g.straightEdge(i)
}

// straightEdge reports whether edge i is one straight line.
func (g *givingPiece) straightEdge(i int) bool {
	for k := range g.piece.Edges[i].Nodes {
		at := g.first[i] + k
		if !g.straight(at) || k > 0 && !g.runsOn(at) {
			return false
		}
	}
	return true
}

// allTies lists the nodes that move together: the mouth of a dart, which keeps its
// width.
func (g *givingPiece) allTies() []adjust.Tie {
	var ties []adjust.Tie
	for k := range g.nodes {
		if g.mouth(k) {
			ties = append(ties, adjust.Tie{Shape: g.shape, Nodes: []int{k, g.next(k)}})
		}
	}
	for _, nodes := range g.ties {
		ties = append(ties, adjust.Tie{Shape: g.shape, Nodes: nodes})
	}
	return ties
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

package draft

import "math"

// sewnCopies is the made-up garment as topology: the outlines of all copies, glued along the
// seams. It knows which corner meets which and says nothing of shapes.
type sewnCopies struct {
	// uses are the edges of all copies, fold edges left out, each run as it is drawn.
	uses  []EdgeUse
	index map[EdgeUse]int
	// edges and lengths, in mm, are those of the uses.
	edges   []*Edge
	lengths []float64
	// face numbers the copy that a use belongs to.
	face  []int
	faces []sewnFace
	// corner leads from each end of an edge to the end of the next edge that lies at the
	// same corner of the same copy.
	corner []int
	arcs   []sewnArc
}

// sewnFace is one copy of a piece.
type sewnFace struct {
	piece *Piece
	copy  CopyRef
}

// sewnArc is a seam on one side of the body.
type sewnArc struct {
	seam *Seam
	// a and b are its runs.
	a, b []sewnUse
	// ends are the ends of edges that are sewn onto each other, in pairs.
	ends [][2]int
}

// sewnUse is a use by its number, with the direction of the run.
type sewnUse struct {
	use      int
	reversed bool
}

// An end of an edge is a number: twice that of its use, and one more at the end.
func sewnStart(use int) int { return 2 * use }
func sewnEnd(use int) int   { return 2*use + 1 }
func sewnAt(end int) int    { return end / 2 }

// first and last return the end at which a run comes to the use and leaves it.
func (u sewnUse) first() int {
	if u.reversed {
		return sewnEnd(u.use)
	}
	return sewnStart(u.use)
}

func (u sewnUse) last() int {
	if u.reversed {
		return sewnStart(u.use)
	}
	return sewnEnd(u.use)
}

// sewnOf glues the copies of the given pieces together. What is sewn to other pieces
// counts as unsewn; seams that point at what is gone are left out.
func (s *Slots) sewnOf(p *Project, pieces []*Piece) *sewnCopies {
	g := &sewnCopies{index: make(map[EdgeUse]int)}
	for _, piece := range pieces {
		lengths := s.EdgeLengths(piece)
		for _, c := range piece.Copies() {
			g.addFace(piece, c.Ref, lengths)
		}
	}
	for _, seam := range p.Seams {
		g.addArc(seam, seam.A, seam.B)
		if !seam.BothSides {
			continue
		}
		a, okA := p.mirrored(seam.A)
		b, okB := p.mirrored(seam.B)
		if okA && okB {
			g.addArc(seam, a, b)
		}
	}
	return g
}

// addFace puts in the outline of one copy, unfolded.
func (g *sewnCopies) addFace(piece *Piece, ref CopyRef, lengths []float64) {
	n := len(piece.Edges)
	fold := piece.FoldEdge()
	face := len(g.faces)
	g.faces = append(g.faces, sewnFace{piece, ref})
	// The edges from behind the fold round to before it.
	var order []int
	for k := range n {
		if i := (fold + 1 + k) % n; i != fold {
			order = append(order, i)
		}
	}
	first := len(g.uses)
	put := func(half Half) {
		for _, i := range order {
			u := EdgeUse{Piece: piece.ID, Copy: ref, Half: half, Edge: piece.Edges[i].ID}
			g.index[u] = len(g.uses)
			g.uses = append(g.uses, u)
			g.edges = append(g.edges, &piece.Edges[i])
			g.lengths = append(g.lengths, lengths[i])
			g.face = append(g.face, face)
			g.corner = append(g.corner, -1, -1)
		}
	}
	put(Near)
	m := len(order)
	if m == 0 {
		return
	}
	join := func(a, b int) { g.corner[a], g.corner[b] = b, a }
	for k := 1; k < m; k++ {
		join(sewnEnd(first+k-1), sewnStart(first+k))
	}
	if fold < 0 {
		join(sewnEnd(first+m-1), sewnStart(first))
		return
	}
	put(Far)
	for k := 1; k < m; k++ {
		join(sewnEnd(first+m+k-1), sewnStart(first+m+k))
	}
	// At the two ends of the fold each edge meets its own mirror image.
	join(sewnStart(first), sewnStart(first+m))
	join(sewnEnd(first+m-1), sewnEnd(first+2*m-1))
}

// run returns a run by the numbers of its uses, false where a part of it is not here.
func (g *sewnCopies) run(run Run) ([]sewnUse, bool) {
	out := make([]sewnUse, len(run))
	for k, u := range run {
		reversed := u.Reversed
		u.Reversed = false
		i, ok := g.index[u]
		if !ok {
			return nil, false
		}
		out[k] = sewnUse{i, reversed}
	}
	return out, len(out) > 0
}

// addArc glues two runs.
func (g *sewnCopies) addArc(seam *Seam, a, b Run) {
	arc := sewnArc{seam: seam}
	var okA, okB bool
	arc.a, okA = g.run(a)
	arc.b, okB = g.run(b)
	if !okA || !okB {
		return
	}
	arc.ends = append(arc.ends,
		[2]int{arc.a[0].first(), arc.b[0].first()},
		[2]int{arc.a[len(arc.a)-1].last(), arc.b[len(arc.b)-1].last()})
	g.joinInside(&arc)
	g.arcs = append(g.arcs, arc)
}

// jointReach is how far apart, as a share of the seam, a joint on one side and one on the
// other may lie and still be meant to meet: a side seam that was drawn a little off still
// goes on in the side seam beyond the waist.
const jointReach = 0.05

// joinInside pairs what meets between the ends of a seam: a joint of two edges on one
// side with one on the other where both lie at about the same place; elsewhere the two
// edges of a joint with each other, since the cloth beyond runs on.
func (g *sewnCopies) joinInside(arc *sewnArc) {
	placesA, placesB := g.joints(arc.a), g.joints(arc.b)
	if arc.seam.Fuller == SideA {
		placesA = mapped(placesA, arc.seam)
	} else {
		placesB = mapped(placesB, arc.seam)
	}
	from, to := placesA, placesB
	taken := make([]bool, len(to))
	at := 0
	for i, x := range from {
		best := -1
		for k := at; k < len(to); k++ {
			if d := math.Abs(to[k] - x); d <= jointReach && (best < 0 || d < math.Abs(to[best]-x)) {
				best = k
			}
		}
		if best < 0 {
			arc.ends = append(arc.ends, [2]int{arc.a[i].last(), arc.a[i+1].first()})
			continue
		}
		taken[best] = true
		at = best + 1
		arc.ends = append(arc.ends,
			[2]int{arc.a[i].last(), arc.b[best].last()},
			[2]int{arc.a[i+1].first(), arc.b[best+1].first()})
	}
	for k := range to {
		if !taken[k] {
			arc.ends = append(arc.ends, [2]int{arc.b[k].last(), arc.b[k+1].first()})
		}
	}
}

// joints returns where along a run, as shares of its length, one use ends and the next
// begins.
func (g *sewnCopies) joints(run []sewnUse) []float64 {
	total := g.runLength(run)
	out := make([]float64, 0, len(run)-1)
	at := 0.0
	for k := 0; k+1 < len(run); k++ {
		at += g.lengths[run[k].use]
		if total > 0 {
			out = append(out, at/total)
		} else {
			out = append(out, float64(k+1)/float64(len(run)))
		}
	}
	return out
}

func (g *sewnCopies) runLength(run []sewnUse) float64 {
	sum := 0.0
	for _, u := range run {
		sum += g.lengths[u.use]
	}
	return sum
}

// mapped returns places on the fuller side, as shares of it, as shares of the other, with
// the fullness where it is meant to lie.
func mapped(places []float64, seam *Seam) []float64 {
	extra := 1 - 1/max(seam.Ratio, 1) // of the fuller side's length
	width := seam.To - seam.From
	if extra <= 0 || !(width > extra) {
		return places
	}
	out := make([]float64, len(places))
	for i, x := range places {
		in := min(max(x-seam.From, 0), width)
		out[i] = (x - in*extra/width) / (1 - extra)
	}
	return out
}

// sewnState is the garment with some of its seams closed.
type sewnState struct {
	*sewnCopies
	// across leads from each end of a sewn edge to the end on the other side of its seam,
	// -1 at edges that are open.
	across []int
	// vertex is a set of ends that all lie at one point of the garment.
	vertex *sets
	// part is a set of faces that hang together.
	part *sets
}

// with returns the garment with those of its seams closed for which the condition holds.
func (g *sewnCopies) with(closed func(*Seam) bool) *sewnState {
	st := &sewnState{sewnCopies: g, across: make([]int, 2*len(g.uses)), vertex: newSets(2 * len(g.uses)), part: newSets(len(g.faces))}
	for i := range st.across {
		st.across[i] = -1
	}
	for e, f := range g.corner {
		if f >= 0 {
			st.vertex.join(e, f)
		}
	}
	for k := range g.arcs {
		if arc := &g.arcs[k]; closed(arc.seam) && !st.takenBy(arc) {
			st.close(arc)
		}
	}
	return st
}

// takenBy reports whether an edge of the seam is sewn already, or is there twice: an edge
// is sewn once, and the first seam counts.
func (st *sewnState) takenBy(arc *sewnArc) bool {
	seen := make(map[int]bool, len(arc.a)+len(arc.b))
	for _, run := range [...][]sewnUse{arc.a, arc.b} {
		for _, u := range run {
			if seen[u.use] || st.isSewn(u.use) {
				return true
			}
			seen[u.use] = true
		}
	}
	return false
}

// isSewn reports whether a use is sewn to something.
func (st *sewnState) isSewn(use int) bool { return st.across[sewnStart(use)] >= 0 }

func (st *sewnState) close(arc *sewnArc) {
	for _, e := range arc.ends {
		st.across[e[0]], st.across[e[1]] = e[1], e[0]
		st.vertex.join(e[0], e[1])
	}
	f := st.face[arc.a[0].use]
	for _, run := range [...][]sewnUse{arc.a, arc.b} {
		for _, u := range run {
			st.part.join(f, st.face[u.use])
		}
	}
}

// loops returns the lines along which the garment ends: closed rows of open edges, each
// as far as one can go along the edge of the cloth.
func (st *sewnState) loops() [][]sewnUse {
	var out [][]sewnUse
	done := make([]bool, len(st.uses))
	for i := range st.uses {
		if done[i] || st.isSewn(i) {
			continue
		}
		var loop []sewnUse
		for u := (sewnUse{use: i}); !done[u.use]; u = st.next(u) {
			done[u.use] = true
			loop = append(loop, u)
		}
		out = append(out, loop)
	}
	return out
}

// next returns the open edge that follows one along the edge of the cloth: round the
// point at which it ends, from corner to corner across the seams.
func (st *sewnState) next(u sewnUse) sewnUse {
	end := st.corner[u.last()]
	for range 2 * len(st.uses) {
		if st.across[end] < 0 {
			break
		}
		end = st.corner[st.across[end]]
	}
	return sewnUse{sewnAt(end), end == sewnEnd(sewnAt(end))}
}

// sets are disjoint sets of numbers.
type sets struct{ parent []int }

func newSets(n int) *sets {
	s := &sets{make([]int, n)}
	for i := range s.parent {
		s.parent[i] = i
	}
	return s
}

// of returns the number that stands for the set that holds i.
func (s *sets) of(i int) int {
	for s.parent[i] != i {
		s.parent[i] = s.parent[s.parent[i]]
		i = s.parent[i]
	}
	return i
}

func (s *sets) join(a, b int) { s.parent[s.of(a)] = s.of(b) }

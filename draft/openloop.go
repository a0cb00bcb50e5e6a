package draft

import (
	"maps"
	"math"
	"slices"
	"strings"
)

// openLoop is a closed line along which cloth ends, or along which it is sewn.
type openLoop struct {
	uses   []sewnUse
	seams  []*Seam
	line   *Line
	piece  *Piece
	length float64
	part   int
	place  OpenPlace
}

// passages returns the lines round which the garment is open when it is closed for
// wearing, and the seams and cut-outs that go round.
func (g *sewnGarment) passages() []openLoop { return g.passed }

func (g *sewnGarment) findPassages() []openLoop {
	st := g.closed
	var loops []openLoop
	count := make(map[int]int)
	for _, uses := range st.loops() {
		l := openLoop{uses: st.withoutShutEnds(uses, st), part: st.part.of(st.face[uses[0].use])}
		l.length = st.runLength(l.uses)
		count[l.part]++
		loops = append(loops, l)
	}
	for _, f := range g.closed.faces {
		for k := range f.piece.Lines {
			if line := &f.piece.Lines[k]; line.Kind == CutoutLine && line.Closed && f.copy == (CopyRef{Number: 1}) {
				line = f.piece.finishedHole(line)
				loops = append(loops, openLoop{line: line, piece: f.piece, length: line.Path().Length(), part: -1})
			}
		}
	}
	// A part of the garment with one edge all round is flat, or a bag.
	cloth := g.clothOfParts()
	loops = slices.DeleteFunc(loops, func(l openLoop) bool {
		return l.part >= 0 && count[l.part] < 2 && !l.bag(cloth[l.part])
	})
	loops = append(loops, g.rings()...)
	for k := range loops {
		loops[k].place = g.placeOfLoop(loops[k])
	}
	return loops
}

// finishedHole returns the line along which a hole with a facing is stitched, of which the
// line that is cut lies inside; without a facing the line itself.
func (p *Piece) finishedHole(cut *Line) *Line {
	name, faced := strings.CutSuffix(cut.Name, " cut")
	for k := range p.Lines {
		if l := &p.Lines[k]; faced && l.Kind == PlacementLine && l.Closed && l.Name == name {
			return l
		}
	}
	return cut
}

// bagFrom is how much more cloth than a disc of the same edge makes a bag: a disc that is
// drawn with a few curves, or has a small dart, is flat still.
const bagFrom = 1.1

// bag reports whether a part of the garment with a single edge, of so many mm² of cloth, is
// a bag or a cap and no flat piece: it holds more cloth than any flat piece with so long an
// edge could, which is a disc (the isoperimetric inequality, 4 pi A <= L²).
func (l openLoop) bag(cloth float64) bool {
	return 4*math.Pi*cloth > bagFrom*l.length*l.length
}

// clothOfParts returns how much cloth, in mm², each part of the garment has.
func (g *sewnGarment) clothOfParts() map[int]float64 {
	cloth := make(map[int]float64)
	for f := range g.closed.faces {
		piece := g.closed.faces[f].piece
		a := math.Abs(piece.DrawnPath().Area())
		if piece.FoldEdge() >= 0 {
			a *= 2
		}
		cloth[g.closed.part.of(f)] += a
	}
	return cloth
}

// openedLoops returns the open lines of the garment opened for dressing, by each of the
// edges on them.
func (g *sewnGarment) openedLoops() map[int]*openLoop {
	st := g.opened
	by := make(map[int]*openLoop)
	for _, uses := range st.loops() {
		l := &openLoop{uses: st.withoutShutEnds(uses, g.closed)}
		l.length = st.runLength(l.uses)
		for _, u := range uses {
			by[u.use] = l
		}
	}
	return by
}

// slitSides returns how long the sides of the slits on a passage are, which lie together when
// it is closed.
func (g *sewnGarment) slitSides(l openLoop) float64 {
	sum := 0.0
	for _, u := range l.uses {
		piece := g.closed.faces[g.closed.face[u.use]].piece
		if e := g.closed.edges[u.use]; len(l.seams) == 0 && piece.SlitSide(piece.indexOf(e.ID)) {
			sum += g.closed.lengths[u.use]
		}
	}
	return sum
}

// openEnds returns the edges of the opened garment that lie on the passage, or that end
// on it.
func (g *sewnGarment) openEnds(l openLoop) []int {
	if len(l.seams) == 0 {
		out := make([]int, len(l.uses))
		for i, u := range l.uses {
			out[i] = u.use
		}
		return out
	}
	on := g.vertices(l)
	var out []int
	for u := range g.closed.uses {
		if g.openSeamAt(u) != nil && (on[g.closed.vertex.of(sewnStart(u))] || on[g.closed.vertex.of(sewnEnd(u))]) {
			out = append(out, u)
		}
	}
	return out
}

// vertices returns the points of the garment that lie on the passage.
func (g *sewnGarment) vertices(l openLoop) map[int]bool {
	on := make(map[int]bool, 2*len(l.uses))
	for _, u := range l.uses {
		on[g.closed.vertex.of(u.first())] = true
		on[g.closed.vertex.of(u.last())] = true
	}
	return on
}

// openSeamAt returns the seam that opens of which a use is a part, or nil.
func (g *sewnGarment) openSeamAt(use int) *Seam {
	if !g.closed.isSewn(use) || g.opened.isSewn(use) {
		return nil
	}
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		for _, run := range [...][]sewnUse{arc.a, arc.b} {
			if slices.ContainsFunc(run, func(u sewnUse) bool { return u.use == use }) {
				return arc.seam
			}
		}
	}
	return nil
}

// endsAt reports whether a seam ends on the passage.
func (g *sewnGarment) endsAt(seam *Seam, l openLoop) bool {
	on := g.vertices(l)
	for k := range g.closed.arcs {
		if arc := &g.closed.arcs[k]; arc.seam == seam {
			if a, b := g.ends(arc); on[a] || on[b] {
				return true
			}
		}
	}
	return false
}

// lapsOn returns by how much what lies over makes a passage shorter when it is closed: at
// each of its points by the widest lap of those that meet there, for the back of a coat and
// the ends of its collar lap as one.
func (g *sewnGarment) lapsOn(l openLoop) float64 {
	on := g.vertices(l)
	at := make(map[int]float64)
	for k := range g.closed.arcs {
		arc := &g.closed.arcs[k]
		if !arc.seam.Opens || arc.seam.Lap <= 0 {
			continue
		}
		a, b := g.ends(arc)
		for _, v := range [...]int{a, b} {
			if on[v] {
				at[v] = max(at[v], arc.seam.Lap)
			}
		}
	}
	sum := 0.0
	for _, v := range slices.Sorted(maps.Keys(at)) {
		sum += at[v]
	}
	return sum
}

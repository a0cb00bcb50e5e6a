package draft

import (
	"regexp"

	"hemlet/geom"
)

// matchOwnMirror takes an edge that is sewn to itself for sewn to its mirror image,
// as a centre back is.
func (p *Project) matchOwnMirror(s *Seam) {
	if len(s.A) != 1 || len(s.B) != 1 || s.A[0] != s.B[0] || !s.A[0].asDrawn() {
		return
	}
	if b, ok := p.mirrored(s.B); ok {
		s.B = b
	}
}

// matchEnds chooses the copy and the direction of the second run so that the ends
// meet that are sewn together. Two copies laid right sides together meet where one
// runs round its outline the other way; so where the person has not said which
// copy is meant and both edges are drawn running the same way, as the sides of a
// front and a back are, one of them is meant mirrored.
func (p *Project) matchEnds(s *Seam) {
	if s.A[0].asDrawn() && s.B[0].asDrawn() && p.runSameWay(s.A, s.B) {
		if b, ok := p.mirrored(s.B); ok {
			s.B = b
		} else if a, ok := p.mirrored(s.A); ok {
			s.A = a
		}
	}
	if s.A[0].forward() == s.B[0].forward() {
		s.B = s.B.reversed()
	}
}

// sameHeading is the cosine from which two edges run the same way: 60 degrees, so
// that a slanting side goes with an upright one and a cap with neither.
const sameHeading = 0.5

// runSameWay reports whether two runs are drawn running the same way: from like
// neighbours to like neighbours, as from the hem up to the armhole on both, or,
// where the neighbours do not tell, in about the same direction on the bench. The
// neighbours come first, for a piece may lie turned on the bench.
func (p *Project) runSameWay(a, b Run) bool {
	if same, against := p.neighboursAlike(a, b); same != against {
		return same > against
	}
	return p.heading(a).Dot(p.heading(b)) > sameHeading
}

// neighboursAlike counts in how much what lies before and after one run is like
// what lies before and after the other, and like what lies after and before it.
func (p *Project) neighboursAlike(a, b Run) (same, against int) {
	beforeA, afterA := p.neighbours(a)
	beforeB, afterB := p.neighbours(b)
	if beforeA == nil || beforeB == nil {
		return 0, 0
	}
	return beforeA.alike(beforeB) + afterA.alike(afterB), beforeA.alike(afterB) + afterA.alike(beforeB)
}

// neighbours returns the edges before and after a run of a single edge, nil for
// longer runs, which may go over many pieces.
func (p *Project) neighbours(run Run) (before, after *Edge) {
	piece := p.Piece(run[0].Piece)
	if len(run) != 1 || piece == nil {
		return nil, nil
	}
	_, i := piece.Edge(run[0].Edge)
	if i < 0 {
		return nil, nil
	}
	n := len(piece.Edges)
	return &piece.Edges[(i+n-1)%n], &piece.Edges[(i+1)%n]
}

// alike counts in how much two edges are alike: kind and name.
func (e *Edge) alike(other *Edge) int {
	n := 0
	if e.Kind == other.Kind {
		n++
	}
	if e.Name == other.Name && e.Name != "" && !numbered.MatchString(e.Name) {
		n++
	}
	return n
}

// numbered matches the names that edges have before anybody names them, which say
// nothing about what an edge is.
var numbered = regexp.MustCompile(`^edge \d+$`)

// heading returns the direction in which the run leads from its start to its end,
// as its pieces lie on the bench: a unit vector, or zero where it leads nowhere.
func (p *Project) heading(run Run) geom.Point {
	ends := [2]geom.Point{}
	for i, u := range [2]EdgeUse{run[0], run[len(run)-1]} {
		piece := p.Piece(u.Piece)
		if piece == nil {
			return geom.Point{}
		}
		_, e := piece.Edge(u.Edge)
		if e < 0 {
			return geom.Point{}
		}
		path := piece.EdgePath(e)
		if (i == 1) != u.Reversed {
			ends[i] = piece.Place.Affine().Apply(path.End())
		} else {
			ends[i] = piece.Place.Affine().Apply(path.Start())
		}
	}
	return ends[1].Sub(ends[0]).Unit()
}

// asDrawn reports whether nothing about the use has been said but its edge.
func (u EdgeUse) asDrawn() bool {
	return u == EdgeUse{Piece: u.Piece, Copy: CopyRef{Number: 1}, Edge: u.Edge}
}

package adjust

import "hemlet/geom"

// Node is a node of a closed outline, as drawings have them: a place with two handles.
type Node struct {
	At geom.Point // mm
	// In and Out are the handles of the curves that come in and go out, as vectors
	// from At in mm. A stretch between two nodes is straight where neither has a handle
	// towards it, and stays so; a handle that is zero stays zero.
	In, Out geom.Point
	// Smooth keeps the angle between the curves on both sides, which for a smooth node
	// is none. It also says that the edge runs on here; an edge ends at a node that is
	// neither smooth nor inside a row.
	Smooth bool
	// Fixed holds the place and both handles, bit for bit.
	Fixed bool
	// Pinned holds the place alone, bit for bit: the curves may leave it otherwise.
	Pinned bool
	// FixedIn and FixedOut hold one handle as a vector, bit for bit.
	FixedIn, FixedOut bool
}

// Shape is a closed outline of at least two nodes: stretch i runs from node i to node i+1,
// the last one back to node 0.
type Shape struct {
	Nodes []Node
}

// Row names nodes that stay in one straight line, in order: those of a straight edge. They
// are consecutive or not; with fewer than three there is nothing to hold.
type Row struct {
	Shape int
	Nodes []int
}

// Rail has a node move along one direction only: that of the fold or the grain. A curve
// that meets the rail there keeps its angle to it. So does a straight stretch, unless the
// wishes cannot be met that way (Result.Tilted).
type Rail struct {
	Shape, Node int
	Along       geom.Point // a direction; its length does not matter
	// Turns lets straight stretches that meet the rail turn at once: it is the way that an
	// end is to go, and nothing to be square to.
	Turns bool
}

// Tie has nodes of one shape move by one and the same shift, as the two nodes at the mouth
// of a dart do. It holds all of them if one is Fixed or Pinned, and keeps all on the
// direction of a rail if one is on it.
type Tie struct {
	Shape int
	Nodes []int
}

// Term is Factor times the length of a stretch.
type Term struct {
	Shape, Stretch int
	Factor         float64
}

// Wish is a sum of lengths that is to be Want mm. A seam whose side a is to be r times as
// long as side b has the terms of a with factor 1, those of b with -r, and Want 0.
type Wish struct {
	Terms []Term
	Want  float64
	// Weight is how much a millimetre that is missed counts against others where not
	// all wishes can be met: its square is multiplied by it. 0 counts as 1.
	Weight float64
}

// Problem is what Solve takes.
type Problem struct {
	Shapes []Shape
	Rows   []Row
	Rails  []Rail
	Ties   []Tie
	Wishes []Wish
}

// Result is what Solve found. Its shapes have the nodes of the problem's, in order, with
// the same flags.
type Result struct {
	Shapes []Shape
	// Off is for each wish the sum of its terms less what is wanted, in mm: positive
	// where it is too long.
	Off []float64
	// Moved is the largest distance in mm by which a place of an outline moved, each
	// compared with the place at the same parameter of its stretch.
	Moved float64
	// Feasible says that every wish is met within Met.
	Feasible bool
	// Tilted are the rails, as indices into Problem.Rails, at which a straight stretch
	// had to leave its angle.
	Tilted []int
	// Held says that the wishes could only be followed part of the way, since an outline
	// would have crossed itself further on.
	Held bool
	// Steps is the number of Newton steps that were taken.
	Steps int
}

const (
	// Met is the distance in mm within which a wish counts as met: a hundredth, which
	// nobody can cut.
	Met = 0.01
)

// path returns stretch i.
func (s Shape) path(i int) geom.Segment {
	a, b := &s.Nodes[i], &s.Nodes[(i+1)%len(s.Nodes)]
	if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
		return geom.Line(a.At, b.At)
	}
	return geom.Cubic(a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At)
}

// Path returns the outline as a closed path.
func (s Shape) Path() geom.Path {
	p := make(geom.Path, len(s.Nodes))
	for i := range p {
		p[i] = s.path(i)
	}
	return p
}

// straight reports whether stretch i is a straight line.
func (s Shape) straight(i int) bool {
	return s.Nodes[i].Out == (geom.Point{}) && s.Nodes[(i+1)%len(s.Nodes)].In == (geom.Point{})
}

// next and prev return the node after and before node i.
func (s Shape) next(i int) int { return (i + 1) % len(s.Nodes) }
func (s Shape) prev(i int) int { return (i + len(s.Nodes) - 1) % len(s.Nodes) }

// now returns the sum of the wish's terms in mm.
func (w Wish) now(shapes []Shape) float64 {
	sum := 0.0
	for _, t := range w.Terms {
		sum += t.Factor * shapes[t.Shape].path(t.Stretch).Length()
	}
	return sum
}

// weight returns the weight that counts.
func (w Wish) weight() float64 {
	if w.Weight == 0 {
		return 1
	}
	return w.Weight
}

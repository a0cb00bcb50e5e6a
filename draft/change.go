package draft

import (
	"math"

	"hemlet/geom"
)

const (
	// changeSlack is how far, in mm, a piece may be from another and still be the same:
	// less than any hand cuts or any tape reads.
	changeSlack = 0.01
	// shareChange is how far the share of a notch or of a span may be off: rounding.
	shareChange = 1e-6
)

// change is by how much one piece is another.
type change struct {
	// outline is how far at most the outline moves as it lies on the bench, marks how
	// far what lies on it does, and widths by how much allowances change, in mm.
	outline, marks, widths float64
	// other says that marks come or go, or that something is called otherwise.
	other bool
}

func (c *change) most() float64 { return max(c.outline, c.marks, c.widths) }
func (c *change) none() bool    { return c.most() <= changeSlack && !c.other }

// words says the change in the maker's unit.
func (c *change) words(u Unit) string {
	// Rounded up: what is at most 0.14 mm is not at most 0.1 mm.
	atMost := func(mm float64) string { return u.FormatSmall(math.Ceil(mm/u.Step()-shareSlack) * u.Step()) }
	switch {
	case c.outline > changeSlack:
		return "its outline would move by at most " + atMost(c.outline)
	case c.marks > changeSlack:
		return "its outline would stay, and marks on it would move by at most " + atMost(c.marks)
	case c.widths > changeSlack:
		return "its outline would stay, and its allowances would change by at most " + atMost(c.widths)
	}
	return "its outline would stay, and marks on it or what is written on it would change"
}

// changeOf returns by how much the piece b is another than the piece a.
func changeOf(a, b *Piece) change {
	c := &comparison{a: a, b: b, toA: a.Place.Affine(), toB: b.Place.Affine()}
	c.outline = c.pathMove(a.DrawnPath(), b.DrawnPath(), sameNodes(a.Edges, b.Edges))
	c.differs(a.Name != b.Name || a.Garment != b.Garment || a.Note != b.Note || a.Layer != b.Layer || a.Cut != b.Cut)
	c.differs((a.Grain == nil) != (b.Grain == nil) || (a.LabelAt == nil) != (b.LabelAt == nil))
	if a.Grain != nil && b.Grain != nil {
		c.mark(a.Grain.From, b.Grain.From)
		c.mark(a.Grain.To, b.Grain.To)
	}
	if a.LabelAt != nil && b.LabelAt != nil {
		c.mark(*a.LabelAt, *b.LabelAt)
	}
	byID(c, a.Edges, b.Edges, func(e Edge) ID { return e.ID }, c.edge)
	byID(c, a.Darts, b.Darts, func(d Dart) ID { return d.ID }, c.dart)
	byID(c, a.Notches, b.Notches, func(n Notch) ID { return n.ID }, c.notch)
	byID(c, a.Lines, b.Lines, func(l Line) ID { return l.ID }, c.line)
	byID(c, a.Spans, b.Spans, func(s Span) ID { return s.ID }, c.span)
	byID(c, a.Stretches, b.Stretches, func(s Stretch) ID { return s.ID }, c.stretch)
	return c.change
}

// comparison is the change from a to b under way.
type comparison struct {
	change
	a, b     *Piece
	toA, toB geom.Affine
}

// byID compares the things of two lists by their ids; one that only one of them has
// is a change.
func byID[T any](c *comparison, a, b []T, id func(T) ID, compare func(x, y T)) {
	c.differs(len(a) != len(b))
	in := make(map[ID]int, len(a))
	for i := range a {
		in[id(a[i])] = i
	}
	for _, y := range b {
		i, ok := in[id(y)]
		if c.differs(!ok); ok {
			compare(a[i], y)
		}
	}
}

func (c *comparison) differs(yes bool) { c.other = c.other || yes }

// mark notes the places of something that lies on the pieces.
func (c *comparison) mark(p, q geom.Point) {
	c.marks = max(c.marks, c.toA.Apply(p).Dist(c.toB.Apply(q)))
}

func (c *comparison) edge(x, y Edge) {
	c.differs(x.Name != y.Name || x.Kind != y.Kind || x.Corner != y.Corner || x.Passes != y.Passes)
	c.widths = max(c.widths, math.Abs(x.Allowance.Start-y.Allowance.Start), math.Abs(x.Allowance.End-y.Allowance.End),
		math.Abs(x.Allowance.TrimTo-y.Allowance.TrimTo))
}

func (c *comparison) dart(x, y Dart) {
	c.mark(x.Apex, y.Apex)
	x.Apex = y.Apex
	c.differs(x != y)
}

func (c *comparison) notch(x, y Notch) {
	by := math.Abs(x.At - y.At)
	if !x.Share {
		c.marks = max(c.marks, by)
	} else {
		c.differs(by > shareChange)
	}
	x.At = y.At
	c.differs(x != y)
}

func (c *comparison) line(x, y Line) {
	c.differs(x.Name != y.Name || x.Kind != y.Kind || x.Closed != y.Closed)
	c.row(x.Row, y.Row)
	together := sameIDs(x.Nodes, y.Nodes)
	if together {
		for i := range x.Nodes {
			c.mark(x.Nodes[i].At, y.Nodes[i].At)
		}
	}
	if p, q := x.Path(), y.Path(); len(p) > 0 && len(q) > 0 {
		c.marks = max(c.marks, c.pathMove(p, q, together))
	}
}

func (c *comparison) span(x, y Span) {
	c.marks = max(c.marks, math.Abs(x.Ease-y.Ease))
	c.differs(math.Abs(x.Share-y.Share) > shareChange)
	x.Ease, x.Share = y.Ease, y.Share
	c.differs(!equalSpans(x, y))
}

func (c *comparison) row(x, y *Row) {
	if x == nil || y == nil {
		c.differs(x != y)
		return
	}
	c.marks = max(c.marks, math.Abs(x.Size-y.Size), math.Abs(x.First-y.First), math.Abs(x.Last-y.Last))
	c.differs(x.Kind != y.Kind || x.Count != y.Count || x.Across != y.Across)
}

func (c *comparison) stretch(x, y Stretch) { c.differs(!equalStretches(x, y)) }

const (
	// moveSteps is into how many parts a stretch is divided to find how far two lines
	// are apart that do not go from point to point together.
	moveSteps = 16
	// maxMovePairs is how many pairs of stretches are looked at that closely; of more,
	// as no block draws them, fewer parts.
	maxMovePairs = 100_000
)

// pathMove returns how far at most a line of a is from one of b, in mm as they lie on
// the bench. Where they go together from point to point it is the most that a point or
// handle has moved, which no place between them exceeds; else the distances of places
// along each to the other.
func (c *comparison) pathMove(p, q geom.Path, together bool) float64 {
	p, q = p.Transform(c.toA), q.Transform(c.toB)
	most := 0.0
	if together && len(p) == len(q) {
		for i := range p {
			u, v := handlesOf(p[i]), handlesOf(q[i])
			for k := range u {
				most = max(most, u[k].Dist(v[k]))
			}
		}
		return most
	}
	every := 1 + len(p)*len(q)/maxMovePairs
	for _, pair := range [...][2]geom.Path{{p, q}, {q, p}} {
		for k := 0; k < len(pair[0])*moveSteps; k += every {
			_, d := pair[1].Nearest(pair[0][k/moveSteps].At(float64(k%moveSteps) / moveSteps))
			most = max(most, d)
		}
	}
	return most
}

// handlesOf returns the four points of a stretch as a curve, of a straight one too.
func handlesOf(s geom.Segment) [4]geom.Point {
	if s.Straight {
		return [4]geom.Point{s.P0, s.P0.Lerp(s.P3, 1./3), s.P0.Lerp(s.P3, 2./3), s.P3}
	}
	return [4]geom.Point{s.P0, s.P1, s.P2, s.P3}
}

// sameNodes reports whether two outlines go from point to point together.
func sameNodes(a, b []Edge) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !sameIDs(a[i].Nodes, b[i].Nodes) {
			return false
		}
	}
	return true
}

func sameIDs(a, b []Node) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].ID != b[i].ID {
			return false
		}
	}
	return true
}

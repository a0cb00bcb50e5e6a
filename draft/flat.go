package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// Flat is one copy of a piece as it lies when cut: a piece cut on the fold is
// unfolded, the caps of its darts are drawn. It is in the piece's own millimetres;
// a mirrored copy is its mirror image.
type Flat struct {
	Piece *Piece
	// Edges are the edges in order round the outline; the fold edge of an
	// unfolded piece is not among them.
	Edges []FlatEdge
	// Stitch is the closed stitching line, counter-clockwise, and StitchEdge the
	// index into Edges of each of its segments.
	Stitch     geom.Path
	StitchEdge []int
	// Cut is the closed cut line, and CutEdge the index into Edges that each of
	// its segments follows, or -1 where it belongs to a corner.
	Cut     geom.Path
	CutEdge []int
	// Fold is the line on which the piece is unfolded, nil where there is none.
	Fold *geom.Segment
}

// FlatEdge is one edge of one half of a flat piece.
type FlatEdge struct {
	Edge *Edge
	Half Half
	// Line runs counter-clockwise along the stitching line, caps of darts
	// included; Parts is the same without the darts.
	Line  geom.Path
	Parts []geom.Path
	// Start and End are the allowance in mm at the two ends of Line.
	Start, End float64
	// corner is the rule where Line starts.
	corner geom.CornerRule
}

// Length returns the length of the edge along its stitching line in mm, without
// darts.
func (e FlatEdge) Length() float64 {
	sum := 0.0
	for _, part := range e.Parts {
		sum += part.Length()
	}
	return sum
}

// FoldTolerance is how far, in mm, the line of a fold edge may bend away from its
// chord and still be one fold: less than the width of a fold in cloth.
const FoldTolerance = 0.05

// ErrNoFold says that a piece is to be cut on the fold but has no fold edge.
var ErrNoFold = errors.New("is cut on the fold, but none of its edges is a fold; make one edge a fold or change how it is cut")

// Unfold returns the piece with its edges laid out all round but without the cut
// line, which takes longer and may not exist.
func Unfold(p *Piece) (*Flat, error) {
	if len(p.Edges) == 0 {
		return nil, fmt.Errorf("piece %s has no outline", p.Name)
	}
	flat := &Flat{Piece: p}
	fold := p.FoldEdge()
	if p.Cut.Way == CutOnFold {
		if fold < 0 {
			return nil, fmt.Errorf("piece %s %w", p.Name, ErrNoFold)
		}
		if len(p.Edges) < 2 {
			return nil, fmt.Errorf("piece %s is nothing but its fold", p.Name)
		}
	}
	for k := range p.Edges {
		i := k
		if fold >= 0 {
			if i = (fold + 1 + k) % len(p.Edges); i == fold {
				continue
			}
		}
		flat.Edges = append(flat.Edges, p.flatEdge(i))
	}
	if fold >= 0 {
		if err := flat.mirrorOn(fold); err != nil {
			return nil, fmt.Errorf("piece %s: %w", p.Name, err)
		}
	}
	for i, e := range flat.Edges {
		for _, s := range e.Line {
			flat.Stitch = append(flat.Stitch, s)
			flat.StitchEdge = append(flat.StitchEdge, i)
		}
	}
	return flat, nil
}

// LayFlat returns the piece as it lies when cut, with its cut line.
func LayFlat(p *Piece) (*Flat, error) {
	flat, err := Unfold(p)
	if err != nil {
		return nil, err
	}
	edges := make([]geom.AllowanceEdge, len(flat.Edges))
	for i, e := range flat.Edges {
		edges[i] = geom.AllowanceEdge{
			Path: e.Line, Start: e.Start, End: e.End,
			Corner: e.corner, Hem: e.Edge.turned(),
		}
	}
	flat.turnBackAlike(edges)
	cut, err := geom.Allowance(edges)
	if err != nil {
		return flat, fmt.Errorf("piece %s: no cut line: %w", p.Name, err)
	}
	flat.Cut, flat.CutEdge = cut.Path, cut.Source
	for i := range flat.CutEdge {
		if cut.Join(i) {
			flat.CutEdge[i] = -1
		}
	}
	return flat, nil
}

// turnBackAlike has a corner that is turned back turn the mirror image of the same
// edge in the far half. Between two hems, or none, of one width it is the edge that
// starts at the corner; in the far half that is the image of the other. There the
// edge that ends gets the least wider that a number can be.
func (f *Flat) turnBackAlike(edges []geom.AllowanceEdge) {
	for i := range edges {
		if f.Edges[i].Half == Near || edges[i].Corner != geom.TurnedBack {
			continue
		}
		ends := &edges[(i+len(edges)-1)%len(edges)]
		if ends.Hem == edges[i].Hem && ends.End == edges[i].Start {
			ends.End = math.Nextafter(ends.End, math.Inf(1))
		}
	}
}

// flatEdge returns edge i as drawn.
func (p *Piece) flatEdge(i int) FlatEdge {
	e := &p.Edges[i]
	f := FlatEdge{
		Edge: e, Half: Near,
		Line: p.sewnLine(i), Parts: p.EdgeParts(i),
		Start: e.Allowance.Start, End: e.Allowance.End,
		corner: e.Corner.geom(),
	}
	if e.Kind == FoldEdge {
		f.Start, f.End = 0, 0
	}
	return f
}

// turned reports whether the edge's allowance is folded back onto the piece.
func (e *Edge) turned() bool { return e.Kind == HemEdge || e.Kind == CasingEdge }

func (r CornerRule) geom() geom.CornerRule {
	switch r {
	case Square:
		return geom.Square
	case TurnedBack:
		return geom.TurnedBack
	default:
		return geom.Mitre
	}
}

// mirrorOn appends the mirror images of the edges beyond the fold edge, and joins
// the two halves to one closed line.
func (f *Flat) mirrorOn(fold int) error {
	line := f.Piece.EdgePath(fold)
	axis := geom.Line(line.Start(), line.End())
	mirror, ok := geom.Reflection(axis.P0, axis.P3)
	if !ok {
		return errors.New("its fold edge has no length")
	}
	f.Fold = &axis
	near := f.Edges
	for i := len(near) - 1; i >= 0; i-- {
		f.Edges = append(f.Edges, near[i].mirrored(mirror))
	}
	// Walking the mirrored half, each corner is met from its other side: the
	// rule of the corner at which the near edge ends belongs to the far one's
	// start, and the edge that started there now ends there.
	n := len(near)
	for i := n - 1; i >= 1; i-- {
		corner := near[i].corner
		if corner == geom.Square {
			corner = geom.SquareBefore
		}
		f.Edges[n+(n-i)].corner = corner
	}
	f.Edges[0].corner, f.Edges[n].corner = geom.Mitre, geom.Mitre
	// The mirror image of a point on the axis is that point but for rounding.
	f.Edges[n].Line[0].P0 = near[n-1].Line.End()
	last := f.Edges[len(f.Edges)-1].Line
	last[len(last)-1].P3 = near[0].Line.Start()
	return nil
}

func (e FlatEdge) mirrored(m geom.Affine) FlatEdge {
	e.Half = Far
	e.Line = e.Line.Transform(m).Reverse()
	parts := make([]geom.Path, len(e.Parts))
	for i, p := range e.Parts {
		parts[len(parts)-1-i] = p.Transform(m).Reverse()
	}
	e.Parts = parts
	e.Start, e.End = e.End, e.Start
	return e
}

// sewnLine returns the stitching line of edge i with the caps of its darts.
func (p *Piece) sewnLine(i int) geom.Path {
	nodes := p.EdgeNodes(i)
	line := make(geom.Path, 0, len(nodes)-1)
	for k := 1; k < len(nodes); k++ {
		d := p.dartAt(nodes[k-1].ID, nodes[k].ID)
		if d == nil {
			line = append(line, segment(nodes[k-1], nodes[k]))
			continue
		}
		before, after := pathOf(nodes[:k]), pathOf(nodes[k:])
		line = append(line, d.capPath(before, after, nodes[k-1].At, nodes[k].At)...)
	}
	return line
}

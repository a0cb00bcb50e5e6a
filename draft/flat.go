package draft

import (
	"errors"
	"fmt"
	"slices"

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
	// cap tells of each segment of Line whether it belongs to the cap of a dart.
	cap []bool
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

// flatEdge returns edge i as drawn.
func (p *Piece) flatEdge(i int) FlatEdge {
	e := &p.Edges[i]
	f := FlatEdge{
		Edge: e, Half: Near, Parts: p.EdgeParts(i),
		Start: e.Allowance.Start, End: e.Allowance.End,
		corner: e.Corner.geom(),
	}
	f.Line, f.cap = p.sewnLine(i)
	if e.Kind == FoldEdge {
		f.Start, f.End = 0, 0
	}
	return f
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
		f.Edges[n+(n-i)].corner = near[i].corner.Swapped()
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
	e.cap = append([]bool(nil), e.cap...)
	slices.Reverse(e.cap)
	e.Start, e.End = e.End, e.Start
	return e
}

// sewnLine returns the stitching line of edge i with the caps of its darts, and of
// each segment whether it belongs to one.
func (p *Piece) sewnLine(i int) (line geom.Path, isCap []bool) {
	nodes := p.EdgeNodes(i)
	for k := 1; k < len(nodes); k++ {
		d := p.dartAt(nodes[k-1].ID, nodes[k].ID)
		if d == nil {
			line, isCap = append(line, segment(nodes[k-1], nodes[k])), append(isCap, false)
			continue
		}
		before, after := pathOf(nodes[:k]), pathOf(nodes[k:])
		for _, s := range d.capPath(before, after, nodes[k-1].At, nodes[k].At) {
			line, isCap = append(line, s), append(isCap, true)
		}
	}
	return line, isCap
}

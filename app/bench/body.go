package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// body is a piece as it lies on the bench: what is drawn of it and what the
// pointer can touch, in the piece's own millimetres. It holds as long as the piece
// is the same pointer.
type body struct {
	piece *draft.Piece
	// place maps the piece's own millimetres to the bench's, back the other way.
	place, back geom.Affine
	edges       []geom.Path
	edgeBoxes   []geom.Rect
	// cut is the cut line of what is drawn, closed: of a piece that is cut on the
	// fold the drawn half, with the fold as its last segment. It is nil where
	// there is none. stitch is the drawn outline.
	cut, stitch geom.Path
	// cutEdge is the index into piece.Edges that each segment of cut follows, or
	// -1 at a corner and on the fold.
	cutEdge []int
	// box holds all of it, on the bench.
	box geom.Rect
	// wrong says why there is no cut line.
	wrong error
	// parts are what lies on the piece besides its outline.
	parts []part
	// drawn is the piece as it was drawn last.
	drawn pieceItem
	// walked is how it is drawn while a seam is walked, and pale the item paleOf as it is
	// drawn under that; nil until that is asked.
	walked       []paint.Mark
	pale, paleOf *paint.Item
	// caught is what catches the pointer, nil until that is asked.
	caught *snap.Things
}

func newBody(s *draft.Slots, p *draft.Piece) *body {
	b := &body{piece: p, place: p.Place.Affine(), stitch: p.DrawnPath()}
	b.back, _ = b.place.Invert()
	for i := range p.Edges {
		path := p.EdgePath(i)
		b.edges, b.edgeBoxes = append(b.edges, path), append(b.edgeBoxes, path.Bounds())
	}
	flat, err := s.Flat(p)
	b.wrong = err
	if err == nil {
		b.cut, b.cutEdge = drawnCut(flat)
	}
	b.box = b.outline().Transform(b.place).Bounds().Union(b.stitch.Transform(b.place).Bounds())
	b.parts = partsOn(p, flat)
	for i := range b.parts {
		for _, path := range b.parts[i].paths {
			b.box = b.box.Union(path.Transform(b.place).Bounds())
		}
	}
	return b
}

// part returns what lies on the piece by its ref, or nil.
func (b *body) part(r desk.Ref) *part {
	for i := range b.parts {
		if b.parts[i].ref == r {
			return &b.parts[i]
		}
	}
	return nil
}

// outline is the outermost closed line that is drawn.
func (b *body) outline() geom.Path {
	if len(b.cut) > 0 {
		return b.cut
	}
	return b.stitch
}

// drawnCut returns the cut line of what is drawn of the piece, and the edge of the
// piece that each segment follows.
func drawnCut(flat *draft.Flat) (geom.Path, []int) {
	index := make(map[*draft.Edge]int, len(flat.Piece.Edges))
	for i := range flat.Piece.Edges {
		index[&flat.Piece.Edges[i]] = i
	}
	follows := func(i int) int {
		if k := flat.CutEdge[i]; k >= 0 {
			return index[flat.Edges[k].Edge]
		}
		return -1
	}
	if flat.Fold == nil {
		edges := make([]int, len(flat.Cut))
		for i := range flat.Cut {
			edges[i] = follows(i)
		}
		return flat.Cut, edges
	}
	return nearHalf(flat, follows)
}

// onFold is how far from the fold, in mm, a point of the cut line still counts as
// lying on it: well under what shows, well over rounding.
const onFold = 1e-4

// nearHalf returns the part of an unfolded cut line on the drawn side of the fold,
// closed along the fold.
func nearHalf(flat *draft.Flat, follows func(int) int) (geom.Path, []int) {
	axis := *flat.Fold
	along := axis.P3.Sub(axis.P0).Unit()
	// The outline is counter-clockwise and the fold one of its edges, so that the
	// drawn half lies to the left of the fold.
	side := func(p geom.Point) float64 { return along.Cross(p.Sub(axis.P0)) }
	type stretch struct {
		seg  geom.Segment
		edge int
	}
	var kept []stretch
	first := -1 // index of the stretch that begins at the fold
	for i, s := range flat.Cut {
		for _, part := range splitAt(s, side) {
			if side(part.At(0.5)) < -onFold {
				continue
			}
			begins := len(kept) == 0 || !kept[len(kept)-1].seg.P3.Near(part.P0, onFold)
			if begins && abs(side(part.P0)) <= onFold {
				first = len(kept)
			}
			kept = append(kept, stretch{part, follows(i)})
		}
	}
	if len(kept) == 0 {
		return nil, nil
	}
	first = max(first, 0)
	var path geom.Path
	var edges []int
	for k := range kept {
		s := kept[(first+k)%len(kept)]
		path = append(path, s.seg)
		edges = append(edges, s.edge)
	}
	if end, start := path.End(), path.Start(); end != start {
		path = append(path, geom.Line(end, start))
		edges = append(edges, -1)
	}
	return path, edges
}

// splitAt cuts the segment where the signed distance changes its sign. A cut line
// crosses its fold at most once in a segment.
func splitAt(s geom.Segment, side func(geom.Point) float64) []geom.Segment {
	a, b := side(s.P0), side(s.P3)
	if abs(a) <= onFold || abs(b) <= onFold || a*b > 0 {
		return []geom.Segment{s}
	}
	lo, hi := 0.0, 1.0
	for range 50 { // halves the parameter down to rounding
		mid := (lo + hi) / 2
		if side(s.At(mid))*a > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	before, after := s.Split(lo)
	return []geom.Segment{before, after}
}

func abs(x float64) float64 { return max(x, -x) }

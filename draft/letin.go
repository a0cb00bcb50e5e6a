package draft

import (
	"math"

	"hemlet/geom"
)

// letIn is a piece that is let into a slit, under way: its feet and its point, in mm of
// its own, its point up.
type letIn struct {
	left, right float64 // lengths of the sides from point to foot
	angle       float64 // radians between them
}

// opened returns a piece with sides of two lengths whose feet lie apart mm from each
// other in a straight line; false where the sides are too short for that.
func opened(left, right, apart float64) (letIn, bool) {
	// The law of cosines.
	c := (left*left + right*right - apart*apart) / (2 * left * right)
	if !(c > -1 && c < 1) {
		return letIn{}, false
	}
	return letIn{left, right, math.Acos(c)}, true
}

// foot returns the left foot for a side of -1, the right one for 1.
func (l letIn) foot(side float64) geom.Point {
	r := l.left
	if side > 0 {
		r = l.right
	}
	s, c := math.Sincos(l.angle / 2)
	return geom.Pt(side*r*s, -r*c)
}

// arc returns the line from the left foot to the right, all of it as far from the point
// as the sides are long.
func (l letIn) arc() geom.Path {
	n := int(math.Ceil(l.angle / (math.Pi / 6)))
	step := l.angle / float64(n)
	handle := 4. / 3 * math.Tan(step/4)
	place := func(k int) (at, along geom.Point) {
		share := float64(k) / float64(n)
		r := l.left + (l.right-l.left)*share
		s, c := math.Sincos(-l.angle/2 + step*float64(k))
		return geom.Pt(r*s, -r*c), geom.Pt(c, s).Mul(r * handle)
	}
	var out geom.Path
	for k := range n {
		a, u := place(k)
		b, v := place(k + 1)
		out = append(out, geom.Cubic(a, a.Add(u), b.Sub(v), b))
	}
	out[0].P0, out[n-1].P3 = l.foot(-1), l.foot(1)
	return out
}

// newPiece begins a piece that is let into another: of the same cloth and garment, made
// for the same body, cut once for each slit that is cut.
func (p *Piece) newPiece(name string, ids *idSource) *Piece {
	q := &Piece{ID: ids.make(kindPiece), Name: name, Garment: p.Garment, Cloth: p.Cloth, Origin: p.Origin, Layer: p.Layer, Cut: p.Cut, Place: Placement{At: p.Place.At}}
	if q.Cut.Way == CutOnFold { // each half has a slit
		q.Cut.Way = CutPairs
	}
	return q
}

// addEdge adds an edge along a path that begins where the last one ended; the last closes
// the outline.
func (p *Piece) addEdge(e Edge, path geom.Path, ids *idSource) ID {
	nodes := openNodesOf(path, ids)
	last := nodes[len(nodes)-1]
	if n := len(p.Edges); n > 0 {
		// The handle with which the edge before came in.
		nodes[0].In = p.Edges[n-1].Nodes[len(p.Edges[n-1].Nodes)-1].In
		prev := &p.Edges[n-1]
		prev.Nodes = prev.Nodes[:len(prev.Nodes)-1]
	}
	nodes[0].Smooth, last.Smooth = false, false
	e.ID, e.Nodes = ids.make(kindEdge), nodes
	p.Edges = append(p.Edges, e)
	return e.ID
}

// closed ends an outline made by addEdge.
func (p *Piece) closeOutline() {
	last := &p.Edges[len(p.Edges)-1]
	n := len(last.Nodes) - 1
	p.Edges[0].Nodes[0].In = last.Nodes[n].In
	last.Nodes = last.Nodes[:n]
}

// unusedPieceName returns a name that no piece of the project bears.
func (p *Project) unusedPieceName(name string) string {
	return unusedName(name, func(n string) bool {
		for _, piece := range p.Pieces {
			if piece.Name == n {
				return true
			}
		}
		return false
	})
}

// takeIn adds a new piece to a project that an act is making, beside what lies on the
// bench.
func (p *Project) takeIn(q *Piece) {
	var room benchRoom
	for _, other := range p.Pieces {
		room.take(other)
	}
	room.settle(q)
	p.Pieces = append(append([]*Piece(nil), p.Pieces...), q)
}

package adjust

import (
	"math"
	"math/rand/v2"

	"hemlet/geom"
)

// testEdge is an edge of a made-up piece: the stretches from one corner to the next.
type testEdge struct {
	shape     int
	stretches []int
	straight  bool
	length    float64
	sewn      bool
}

// garment is a made-up garment: pieces, and seams between their edges.
type garment struct {
	Problem
	edges []testEdge
}

// newGarment makes up a garment of some pieces: outlines of four to seven edges that are
// straight, straight over several nodes, or curves of one to three cubics with smooth
// joints. Garments are from 30 to 1000 mm wide.
func newGarment(r *rand.Rand, pieces int) *garment {
	g := &garment{}
	size := 30 * math.Pow(33, r.Float64())
	for len(g.Shapes) < pieces {
		g.addPiece(r, size*(0.5+r.Float64()))
	}
	return g
}

// addPiece adds a piece that is sound; what crosses itself is thrown away.
func (g *garment) addPiece(r *rand.Rand, size float64) {
	corners := 4 + r.IntN(4)
	turn := r.Float64() * 2 * math.Pi
	pts := make([]geom.Point, corners)
	for i := range pts {
		a := turn + 2*math.Pi*(float64(i)+0.5*r.Float64()-0.25)/float64(corners)
		pts[i] = geom.Pt(math.Cos(a), math.Sin(a)).Mul(size / 2 * (0.75 + 0.5*r.Float64()))
	}
	paths := make([]geom.Path, corners)
	for i, a := range pts {
		paths[i] = madeUp(r, a, pts[(i+1)%corners])
	}
	s, edges := shapeOf(paths)
	if s.Path().Simple() != nil {
		return
	}
	g.Shapes = append(g.Shapes, s)
	g.addEdges(len(g.Shapes)-1, edges)
}

// addEdges adds the edges of a shape, and rows for those that are straight over several
// nodes.
func (g *garment) addEdges(shape int, edges []testEdge) {
	s := g.Shapes[shape]
	for i := range edges {
		edges[i].shape = shape
		if e := edges[i]; e.straight && len(e.stretches) > 1 {
			last := s.next(e.stretches[len(e.stretches)-1])
			g.Rows = append(g.Rows, Row{shape, append(append([]int(nil), e.stretches...), last)})
		}
	}
	g.edges = append(g.edges, edges...)
}

// madeUp returns an edge from a to b.
func madeUp(r *rand.Rand, a, b geom.Point) geom.Path {
	kind, n := r.IntN(5), 1
	d := b.Sub(a)
	rise, skew := 0.5*(r.Float64()-0.5), 0.15*(r.Float64()-0.5)
	whole := geom.Cubic(a, a.Lerp(b, 0.33).Add(d.Left().Mul(rise+skew)), a.Lerp(b, 0.67).Add(d.Left().Mul(rise-skew)), b)
	switch kind {
	case 0:
		whole = geom.Line(a, b)
	case 1:
		whole, n = geom.Line(a, b), 2+r.IntN(3)
	default:
		n = kind - 1
	}
	var p geom.Path
	for k := range n {
		p = append(p, whole.Between(float64(k)/float64(n), float64(k+1)/float64(n)))
	}
	return p
}

// shapeOf joins edges, each given as a path, to an outline. Joints within curved edges are
// smooth.
func shapeOf(paths []geom.Path) (Shape, []testEdge) {
	var s Shape
	var edges []testEdge
	for _, p := range paths {
		e := testEdge{straight: p[0].Straight, length: p.Length()}
		for k, seg := range p {
			e.stretches = append(e.stretches, len(s.Nodes))
			n := Node{At: seg.P0, Smooth: k > 0 && !e.straight}
			if !seg.Straight {
				n.Out = seg.P1.Sub(seg.P0)
			}
			s.Nodes = append(s.Nodes, n)
		}
		edges = append(edges, e)
	}
	i := 0
	for _, p := range paths {
		for _, seg := range p {
			if i++; !seg.Straight {
				s.Nodes[i%len(s.Nodes)].In = seg.P2.Sub(seg.P3)
			}
		}
	}
	return s, edges
}

// terms returns the terms of an edge, each with the factor.
func (g *garment) terms(edge int, factor float64) []Term {
	var out []Term
	e := g.edges[edge]
	for _, s := range e.stretches {
		out = append(out, Term{e.shape, s, factor})
	}
	return out
}

// sew joins each edge to the unsewn one of another piece that is nearest in length, as
// long as that lies within the limit, to be equally long, or eased at their present ratio
// but for off. It leaves about a third of the edges alone.
func (g *garment) sew(r *rand.Rand, limit, off float64) {
	for i := range g.edges {
		a := &g.edges[i]
		if a.sewn || r.IntN(3) == 0 {
			continue
		}
		best := -1
		for j := i + 1; j < len(g.edges); j++ {
			b := &g.edges[j]
			if !b.sewn && b.shape != a.shape && (best < 0 || math.Abs(b.length-a.length) < math.Abs(g.edges[best].length-a.length)) {
				best = j
			}
		}
		if best < 0 {
			continue
		}
		b := &g.edges[best]
		ratio := a.length / b.length
		if ratio < 1/limit || ratio > limit {
			ratio *= 1 + off*(2*r.Float64()-1)
		} else {
			ratio = 1
		}
		a.sewn, b.sewn = true, true
		g.Wishes = append(g.Wishes, Wish{Terms: append(g.terms(i, 1), g.terms(best, -ratio)...)})
	}
}

// refine cuts every stretch into n of equal parameter, the joints smooth, without a change
// of the outlines.
func (g *garment) refine(n int) {
	if n < 2 {
		return
	}
	edges := g.edges
	g.edges, g.Rows = nil, nil
	for k, s := range g.Shapes {
		var paths []geom.Path
		for _, e := range edges {
			if e.shape != k {
				continue
			}
			var p geom.Path
			for _, i := range e.stretches {
				for c := range n {
					p = append(p, s.path(i).Between(float64(c)/float64(n), float64(c+1)/float64(n)))
				}
			}
			paths = append(paths, p)
		}
		fine, list := shapeOf(paths)
		g.Shapes[k] = fine
		g.addEdges(k, list)
	}
}

package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// growth is what has grown on an edge: the cloth outside it and the new edges at its
// two ends, which may be none where the edge ends at a fold.
type growth struct {
	// old is the line of the edge as it was.
	old geom.Path
	// before are the edges from the corner at which the edge started outward, after
	// those inward to the corner at which it ended.
	before, after []ID
	// longer is by how many mm the new edge is longer than the place onto which it is
	// turned; less than 0 where it is shorter.
	longer float64
}

// grow moves edge i of a piece that may be written to outward by depth mm, parallel to
// itself. The edge keeps its id. Turned, its ends are the neighbouring edges mirrored
// about the edge, so that the grown part folded back on it lies on the piece (common
// practice, no source; it follows from folding paper); where the edge is curved they are
// mirrored about its direction at the corner. Else the neighbours run on straight.
func (p *Piece) grow(i int, depth float64, turned bool, unit Unit, ids *idSource) (growth, error) {
	g := growth{old: p.EdgePath(i)}
	if err := p.canGrow(i, depth, unit); err != nil {
		return g, err
	}
	box := p.DrawnPath().Bounds()
	reach := 4 * (box.W() + box.H() + depth)
	outer := runOn(parallelOf(g.old, depth), reach)
	first := outer[0]
	outer = append(geom.Path{geom.Line(first.P0.Sub(first.Tangent(0).Mul(reach)), first.P0)}, outer...)

	a, err := p.grownEnd(i, -1, g.old, outer, reach, turned, unit)
	if err != nil {
		return g, err
	}
	b, err := p.grownEnd(i, 1, g.old, outer, reach, turned, unit)
	if err != nil {
		return g, err
	}
	tape := outer.Tape()
	if tape.To(b.meets)-tape.To(a.meets) < shortestStretch {
		return g, fmt.Errorf("%s deep the ends of what grows on edge %s would meet before its outer edge; make it shallower", unit.Format(depth), p.Edges[i].label())
	}
	line := withoutStops(outer.Part(a.meets, b.meets))
	if turned {
		if inner := parallelOf(g.old, -depth); len(inner) > 0 {
			g.longer = parallelOf(g.old, depth).Length() - inner.Length()
		}
	}
	p.putGrown(i, &g, line, a, b, ids)
	if p.DrawnPath().Simple() != nil {
		return g, fmt.Errorf("%s deep, what grows on edge %s would cross the outline; make it shallower", unit.Format(depth), p.Edges[i].label())
	}
	return g, nil
}

// canGrow reports what stands against growing on an edge.
func (p *Piece) canGrow(i int, depth float64, unit Unit) error {
	e := &p.Edges[i]
	switch {
	case !(depth >= shortestStretch && depth <= MaxCoordinate):
		return fmt.Errorf("%s is no depth for what grows on an edge", unit.Format(depth))
	case len(p.Edges) < 2:
		return fmt.Errorf("edge %s goes all the way round and has no ends; give it a wider allowance, or face it", e.label())
	case e.Kind == FoldEdge:
		return fmt.Errorf("edge %s is a fold; the piece goes on beyond it already", e.label())
	}
	for _, d := range p.Darts {
		if d.Edge == e.ID {
			return fmt.Errorf("%s opens on edge %s; close it first by pivoting it elsewhere", d.called(), e.label())
		}
	}
	if p.EdgePath(i).Length() < shortestStretch {
		return fmt.Errorf("edge %s has no length", e.label())
	}
	return nil
}

// grownPart is one new edge at an end of what has grown, from the old corner outward.
type grownPart struct {
	path geom.Path
	// like is the edge whose kind and width it takes over, near and far the widths in mm
	// at its two ends.
	like      Edge
	near, far float64
}

// grownEnd is one of the two ends of what has grown.
type grownEnd struct {
	parts []grownPart
	meets geom.Place // on the new outer line
	// fold says that the end lies on the fold edge of the piece, which grows with it.
	fold bool
}

// grownEnd finds the end of what grows on edge i: where it starts for a side of -1, where
// it ends for 1.
func (p *Piece) grownEnd(i, side int, old, outer geom.Path, reach float64, turned bool, unit Unit) (grownEnd, error) {
	n := len(p.Edges)
	corner, along := old.Start(), old[0].Tangent(0)
	if side > 0 {
		corner, along = old.End(), old[len(old)-1].Tangent(1)
	}
	next := (i + side + n) % n
	away := p.awayFrom(next, side)
	if len(away) == 0 {
		return grownEnd{}, fmt.Errorf("edge %s, next to it, has no length", p.Edges[next].label())
	}
	if p.Edges[next].Kind == FoldEdge || !turned {
		out := along.Left().Mul(-1)
		way := away[0].Tangent(0).Mul(-1)
		if p.Edges[next].Kind != FoldEdge && way.Dot(out) < leastSlant {
			way = out // the neighbour hardly leads outward: square to the edge
		}
		ray := geom.Path{geom.Line(corner, corner.Add(way.Mul(reach)))}
		met, ok := firstMeeting(ray, outer)
		if !ok {
			return grownEnd{}, fmt.Errorf("edge %s leads away from what grows beside it", p.Edges[next].label())
		}
		e := p.Edges[next]
		width := e.Allowance.End
		if side > 0 {
			width = e.Allowance.Start
		}
		part := grownPart{path: ray.Part(geom.Place{}, met.A), like: e, near: width, far: width}
		return grownEnd{parts: []grownPart{part}, meets: met.B, fold: e.Kind == FoldEdge}, nil
	}
	mirror, ok := geom.Reflection(corner, corner.Add(along))
	if !ok {
		return grownEnd{}, errors.New("the edge has no direction at its end")
	}
	var end grownEnd
	deepest := 0.0
	for k := 0; k < n-1; k++ {
		j := ((i+side*(k+1))%n + n) % n
		e := p.Edges[j]
		if e.Kind == FoldEdge {
			break
		}
		path := p.awayFrom(j, side).Transform(mirror)
		if len(path) == 0 {
			break
		}
		near, far := e.Allowance.End, e.Allowance.Start
		if side > 0 {
			near, far = far, near
		}
		if met, ok := firstMeeting(path, outer); ok {
			length := path.Length()
			path = path.Part(geom.Place{}, met.A)
			far = near + (far-near)*shareAlong(path.Length(), length)
			end.parts = append(end.parts, grownPart{path, e, near, far})
			end.meets = met.B
			return end, nil
		}
		end.parts = append(end.parts, grownPart{path, e, near, far})
		for _, s := range path {
			if _, d := old.Nearest(s.P3); d > deepest {
				deepest = d
			}
		}
	}
	return grownEnd{}, fmt.Errorf("the piece is only %s deep behind edge %s at this end; what is turned back would reach beyond it", unit.Format(deepest), p.Edges[i].label())
}

// leastSlant is the least cosine of the angle between a neighbouring edge and the way
// outward at which the neighbour runs on into what grows: 60 degrees.
const leastSlant = 0.5

// awayFrom returns the line of edge j, run away from the edge that it follows for a side
// of 1, or that follows it for -1.
func (p *Piece) awayFrom(j, side int) geom.Path {
	if side > 0 {
		return p.EdgePath(j)
	}
	return p.EdgePath(j).Reverse()
}

// firstMeeting returns the first place along a at which it meets b, its start left out.
func firstMeeting(a, b geom.Path) (geom.PathMeeting, bool) {
	tape := a.Tape()
	var best geom.PathMeeting
	found := false
	for _, m := range a.Intersections(b) {
		if tape.To(m.A) > Grid && (!found || tape.To(m.A) < tape.To(best.A)) {
			best, found = m, true
		}
	}
	return best, found
}

// putGrown puts the new edges into the outline in the place of edge i.
func (p *Piece) putGrown(i int, g *growth, line geom.Path, a, b grownEnd, ids *idSource) {
	old := p.Edges[i]
	n := len(p.Edges)
	end := p.Edges[(i+1)%n].Nodes[0]
	corner := Node{ID: old.Nodes[0].ID, At: old.Nodes[0].At, In: old.Nodes[0].In}
	var edges []Edge
	// Each edge begins at the node at which the one before it ended.
	add := func(e Edge, path geom.Path) {
		nodes := openNodesOf(path, ids)
		nodes[0].ID, nodes[0].At, nodes[0].In, nodes[0].Smooth = corner.ID, corner.At, corner.In, false
		corner = nodes[len(nodes)-1]
		corner.Out, corner.Smooth = geom.Point{}, false
		e.Nodes = nodes[:len(nodes)-1]
		edges = append(edges, e)
	}
	taken := func(name string) bool {
		return p.hasEdgeName(name) || slices.ContainsFunc(edges, func(e Edge) bool { return e.Name == name })
	}
	fresh := func(part grownPart, outward bool) Edge {
		e := Edge{ID: ids.make(kindEdge), Kind: part.like.Kind, Allowance: Allowance{Start: part.near, End: part.far, TrimTo: part.like.Allowance.TrimTo}}
		if !outward {
			e.Allowance.Start, e.Allowance.End = part.far, part.near
		}
		if part.like.Name != "" {
			stem, _ := nameStem(part.like.Name)
			e.Name = unusedName(stem+" end", taken)
		}
		return e
	}
	if a.fold {
		corner.At, corner.In = line.Start(), geom.Point{}
	} else {
		for _, part := range a.parts {
			e := fresh(part, true)
			if len(edges) == 0 {
				e.Corner = old.Corner
			}
			g.before = append(g.before, e.ID)
			add(e, part.path)
		}
		old.Corner = Mitre
	}
	kept := old.Nodes
	add(old, line)
	edges[len(edges)-1].keepNodes(kept, len(line))
	if !b.fold {
		for k := len(b.parts) - 1; k >= 0; k-- {
			e := fresh(b.parts[k], false)
			g.after = append(g.after, e.ID)
			add(e, b.parts[k].path.Reverse())
		}
		end.In = corner.In
	} else {
		end.At, end.In = line.End(), corner.In
	}
	end.Smooth = false
	p.Edges = slices.Concat(p.Edges[:i:i], edges, p.Edges[i+1:])
	_, j := p.Edge(old.ID)
	p.Edges[(j+len(g.after)+1)%len(p.Edges)].Nodes[0] = end
}

// keepNodes gives the points inside the grown edge the ids that they had, where it has
// as many as before.
func (e *Edge) keepNodes(old []Node, segments int) {
	if len(old) != segments || len(e.Nodes) != segments {
		return
	}
	for k := 1; k < segments; k++ {
		e.Nodes[k].ID = old[k].ID
	}
}

// withoutStops returns a line without the points at which it goes straight on.
func withoutStops(line geom.Path) geom.Path {
	var out geom.Path
	for _, s := range line {
		if n := len(out); n > 0 && s.Straight && out[n-1].Straight {
			u, v := out[n-1].Tangent(1), s.Tangent(0)
			if u.Dot(v) > 0 && math.Abs(u.Cross(v)) <= straightSlack {
				out[n-1] = geom.Line(out[n-1].P0, s.P3)
				continue
			}
		}
		if s.Length() > Grid {
			out = append(out, s)
		}
	}
	return out
}

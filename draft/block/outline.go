package block

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/draft/formula"
	"hemlet/geom"
)

const (
	// gapSlack is how far, in mm, two points may be apart and still be one: the
	// grid to which a project rounds. A stretch that is shorter is not there.
	gapSlack = 1e-6
	// smoothSlack is how far, in radians, the two sides of a node may be from one
	// line and still be meant as smooth: about 2°, less than a corner that shows in
	// cloth.
	smoothSlack = 0.035
	// areaSlack is the mean width in mm below which an outline encloses nothing:
	// ten steps of the grid.
	areaSlack = 1e-5
	// foldSlack is how far, in mm, the points of a fold may be off its line: far
	// above rounding, far below what can be folded.
	foldSlack = 1e-3
)

// rank orders the names of points that fall together: the highest stays.
type rank int

const (
	innerRank  rank = iota // inside a curve
	curveRank              // an end of a curve
	pointRank              // a point by a formula
	namedRank              // a point by its name
	cornerRank             // where an edge starts
)

// stop is a point of a path under way.
type stop struct {
	name string
	rank rank
	edge int
	at   geom.Point
	// item tells the formulas of a path apart; curve says that the point belongs to a
	// curve.
	item  int
	curve bool
	// in and out are handles, vectors from the point.
	in, out geom.Point
}

// stops works out a path: one stop for a point, one for each end of a stretch of a
// curve. Their names stay the same whatever the body.
func (d *drafter) stops(dst []stop, prefix string, edge int, path []*expression) ([]stop, error) {
	used := make(map[string]bool, len(path))
	before := len(dst)
	for i, e := range path {
		v, err := d.value(e)
		if err != nil {
			return nil, err
		}
		name := prefix + "." + itoa(i)
		_, plain := d.values[e.Source()]
		if plain && !used[e.Source()] {
			used[e.Source()] = true
			name = prefix + "." + e.Source()
		}
		switch v := v.(type) {
		case formula.Point:
			r := pointRank
			if plain {
				r = namedRank
			}
			dst = append(dst, stop{name: name, rank: r, edge: edge, at: v.At, item: i})
		case formula.Curve:
			dst = append(dst, curveStops(v.Path, name, edge, i)...)
		}
		if d.nodes+len(dst)-before > maxNodes {
			return nil, d.failed(e, fmt.Errorf("the pieces have more than %d points up to here", maxNodes))
		}
	}
	d.nodes += len(dst) - before
	return dst, nil
}

// curveStops returns the ends of the stretches of a curve: NAME.start, NAME.1,
// NAME.2 and so on, NAME.end.
func curveStops(path geom.Path, name string, edge, item int) []stop {
	stops := make([]stop, len(path)+1)
	for i := range stops {
		s := stop{name: name + "." + itoa(i), rank: innerRank, edge: edge, item: item, curve: true}
		switch i {
		case 0:
			s.name, s.rank = name+".start", curveRank
		case len(path):
			s.name, s.rank = name+".end", curveRank
		}
		if i < len(path) {
			s.at = path[i].P0
			if !path[i].Straight {
				s.out = path[i].P1.Sub(path[i].P0)
			}
		}
		if i > 0 {
			s.at = path[i-1].P3
			if !path[i-1].Straight {
				s.in = path[i-1].P2.Sub(path[i-1].P3)
			}
		}
		stops[i] = s
	}
	return stops
}

// together reports whether nothing lies between a and b, the stop after it.
func together(a, b stop) bool {
	return a.at.Near(b.at, gapSlack) && a.out.Len() <= gapSlack && b.in.Len() <= gapSlack
}

// joined returns the one stop that stands for a and b, the stop after it.
func joined(a, b stop) stop {
	keep := a
	if b.rank > a.rank || b.rank == a.rank && b.rank == cornerRank {
		keep = b
	}
	keep.in, keep.out = a.in, b.out
	return keep
}

// merged lets stops that fall together become one. A closed list goes on from its
// last stop to its first.
func merged(stops []stop, closed bool) []stop {
	out := stops[:0]
	for _, s := range stops {
		if n := len(out); n > 0 && together(out[n-1], s) {
			out[n-1] = joined(out[n-1], s)
			continue
		}
		out = append(out, s)
	}
	for n := len(out); closed && n > 1 && together(out[n-1], out[0]); n = len(out) {
		first := joined(out[n-1], out[0])
		// Where the first edge starts stays the first stop.
		out[0], out = first, out[:n-1]
	}
	return out
}

// outline works out the edges of a piece, counter-clockwise, and notes those that
// have no length for this body.
func (d *drafter) outline(index int, c *piece) ([]Edge, []int, error) {
	var stops []stop
	for i := range c.edges {
		from := len(stops)
		var err error
		if stops, err = d.stops(stops, c.edges[i].name, i, c.edges[i].path); err != nil {
			return nil, nil, err
		}
		stops[from].rank = cornerRank
	}
	d.leapt = leaps(c, stops)
	stops = merged(stops, true)
	var edges []Edge
	var which []int
	for _, s := range stops {
		if n := len(which); n == 0 || which[n-1] != s.edge {
			e, err := d.edge(&c.edges[s.edge])
			if err != nil {
				return nil, nil, err
			}
			edges, which = append(edges, e), append(which, s.edge)
		}
		last := &edges[len(edges)-1]
		last.Nodes = append(last.Nodes, Node{Name: s.name, At: s.at, In: s.in, Out: s.out})
	}
	for i := range c.edges {
		if !slices.Contains(which, i) {
			d.vanish(index, i)
		}
	}
	if err := d.encloses(c, edges); err != nil {
		return nil, nil, err
	}
	if c.clockwise {
		edges, which = turnedRound(edges, which)
	}
	smooth(edges)
	return edges, which, d.foldStraight(c, edges, which)
}

func (d *drafter) vanish(piece, edge int) {
	if d.gone == nil {
		d.gone = make(map[[2]int]bool)
	}
	d.gone[[2]int{piece, edge}] = true
}

// edge works out everything of an edge but its nodes.
func (d *drafter) edge(e *edge) (Edge, error) {
	out := Edge{Name: e.name, Kind: e.kind, Corner: e.corner}
	for _, w := range []struct {
		is *expression
		to *float64
	}{{e.start, &out.Start}, {e.end, &out.End}, {e.trimTo, &out.TrimTo}} {
		if w.is == nil {
			continue
		}
		v, err := d.value(w.is)
		if err != nil {
			return Edge{}, err
		}
		if *w.to = v.(formula.Length).MM; *w.to < 0 {
			return Edge{}, d.failed(w.is, fmt.Errorf("this width is %s, and an allowance is 0 or more", show(v)))
		}
	}
	return out, nil
}

// pathOf returns the closed path of the edges.
func pathOf(edges []Edge) geom.Path {
	var path geom.Path
	for i := range edges {
		nodes := edgeNodes(edges, i)
		for k := 1; k < len(nodes); k++ {
			path = append(path, between(nodes[k-1], nodes[k]))
		}
	}
	return path
}

// edgeNodes returns the nodes of edge i with the corner at which it ends.
func edgeNodes(edges []Edge, i int) []Node {
	nodes := make([]Node, 0, len(edges[i].Nodes)+1)
	nodes = append(nodes, edges[i].Nodes...)
	return append(nodes, edges[(i+1)%len(edges)].Nodes[0])
}

// between returns the stretch from a to b.
func between(a, b Node) geom.Segment {
	if a.Out == (geom.Point{}) && b.In == (geom.Point{}) {
		return geom.Line(a.At, b.At)
	}
	return geom.Cubic(a.At, a.At.Add(a.Out), b.At.Add(b.In), b.At)
}

// encloses says what is wrong with an outline that encloses no cloth, or goes round
// it the wrong way.
func (d *drafter) encloses(c *piece, edges []Edge) error {
	path := pathOf(edges)
	area := path.Area()
	if c.clockwise {
		area = -area
	}
	switch {
	case len(path) < 2, enclosesNothing(path):
		return d.bad(c.place, "the outline of this piece encloses nothing for this body")
	case area > 0:
		return nil
	case len(path) <= maxWound && path.Simple() != nil:
		return d.bad(c.place, "the outline of this piece crosses itself for this body; a point lies on the wrong side of another")
	case c.clockwise:
		return d.bad(c.place, "the outline of this piece runs counter-clockwise. If it always does, take out clockwise = true; if only for this body, the piece is turned inside out: a point lies on the wrong side of another")
	}
	return d.bad(c.place, "the outline of this piece runs clockwise. If it always does, write clockwise = true in the piece; if only for this body, the piece is turned inside out: a point lies on the wrong side of another")
}

// enclosesNothing reports whether a closed path goes back as it came.
func enclosesNothing(path geom.Path) bool {
	box := path.Bounds()
	return math.Abs(path.Area()) <= areaSlack*math.Max(box.W(), box.H())
}

// bad is an error at a place without a formula.
func (d *drafter) bad(at place, says string) error {
	return &Error{File: d.b.file, Line: d.b.lineOf(at), Key: at.key, Says: says, Err: errors.New(says)}
}

// turnedRound returns the edges of an outline that was listed clockwise as they run
// counter-clockwise, the first still first. Everything that is said of an edge is
// turned with it; the rule of a corner stays at its corner.
func turnedRound(edges []Edge, which []int) ([]Edge, []int) {
	n := len(edges)
	out, order := make([]Edge, n), make([]int, n)
	for i := range edges {
		e := edges[i]
		e.Start, e.End = e.End, e.Start
		e.Corner = edges[(i+1)%n].Corner
		nodes := edgeNodes(edges, i)[1:]
		slices.Reverse(nodes)
		for k := range nodes {
			nodes[k].In, nodes[k].Out = nodes[k].Out, nodes[k].In
		}
		e.Nodes = nodes
		out[(n-i)%n], order[(n-i)%n] = e, which[i]
	}
	return out, order
}

// smooth marks the nodes inside the edges at which the line goes on without a
// corner and a curve ends. A corner is smooth only where there is one edge.
func smooth(edges []Edge) {
	for i := range edges {
		nodes := edges[i].Nodes
		for k := range nodes {
			if k == 0 && len(edges) > 1 {
				continue
			}
			nodes[k].Smooth = isSmooth(before(edges, i, k), nodes[k], after(edges, i, k))
		}
	}
}

// before and after return the neighbours of node k of edge i.
func before(edges []Edge, i, k int) Node {
	if k > 0 {
		return edges[i].Nodes[k-1]
	}
	last := edges[(i+len(edges)-1)%len(edges)].Nodes
	return last[len(last)-1]
}

func after(edges []Edge, i, k int) Node {
	if k+1 < len(edges[i].Nodes) {
		return edges[i].Nodes[k+1]
	}
	return edges[(i+1)%len(edges)].Nodes[0]
}

func isSmooth(a, n, b Node) bool {
	if n.In == (geom.Point{}) && n.Out == (geom.Point{}) {
		return false
	}
	u, v := between(a, n).Tangent(1), between(n, b).Tangent(0)
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < smoothSlack
}

// straight reports whether the way through nodes keeps to one line and never turns
// back on it.
func straight(nodes []Node) bool {
	from, along := nodes[0].At, nodes[len(nodes)-1].At.Sub(nodes[0].At).Unit()
	for k := 1; k < len(nodes); k++ {
		s := between(nodes[k-1], nodes[k])
		for _, q := range [3]geom.Point{s.P1, s.P2, s.P3} {
			if math.Abs(along.Cross(q.Sub(from))) > foldSlack {
				return false
			}
		}
		if along.Dot(s.P3.Sub(s.P0)) < 0 {
			return false
		}
	}
	return true
}

// foldStraight makes sure that the fold of a piece that is cut on fold is a straight
// line.
func (d *drafter) foldStraight(c *piece, edges []Edge, which []int) error {
	if c.cut != "on fold" {
		return nil
	}
	for i := range edges {
		if edges[i].Kind != "fold" {
			continue
		}
		nodes := edgeNodes(edges, i)
		if !straight(nodes) {
			return d.bad(c.edges[which[i]].place, "the fold of this piece is not straight")
		}
		return nil
	}
	return d.bad(c.place, "the fold of this piece has no length for this body")
}

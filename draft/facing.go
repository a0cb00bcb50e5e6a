package draft

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"hemlet/geom"
)

// roleFacing is the role of a facing.
const roleFacing = "facing"

// facing makes a facing along neighbouring edges of the parent: the strip of the piece
// along them, as wide as asked for. Darts that open on the edges are closed in it, as
// a pattern maker closes them before tracing the facing off.
type facing struct {
	name     string
	mirrored bool
	edges    []ID
	width    float64
}

func (s *settingReader) facing() facing {
	f := facing{name: s.text(settingName), mirrored: s.yes(settingMirrored), edges: s.ids(settingEdges), width: s.length(settingWidth, 0)}
	if len(f.edges) == 0 {
		s.fail(settingEdges, errors.New("no edge is named"))
	}
	if f.width < leastInset {
		s.fail(settingWidth, errors.New("the facing has no width"))
	}
	return f
}

func (facing) role() string { return roleFacing }

func (f facing) settings() []Setting {
	var l settingList
	l.text(settingMake, roleFacing)
	l.text(settingName, f.name)
	l.yes(settingMirrored, f.mirrored)
	l.ids(settingEdges, f.edges)
	l.length(settingWidth, f.width)
	return l
}

func (f facing) follow(lin Lineage) (recipe, bool) {
	next, changed := followEdges(f.edges, lin)
	f.edges = next
	return f, changed
}

func (f facing) make(parent *Piece, ids linkIDs) (*Piece, error) {
	first, count, err := parent.neighbouring(f.edges)
	if err != nil {
		return nil, err
	}
	w := &facingWork{p: parent, first: first, count: count, width: f.width, ids: ids}
	q, err := w.make()
	if err != nil {
		return nil, err
	}
	label := parent.label() + " facing"
	if count == 1 {
		label = fmt.Sprintf("%s %s facing", parent.label(), parent.Edges[first].label())
	}
	q.Name, q.Garment, q.Layer = nameOr(f.name, label), parent.Garment, parent.Layer
	if f.mirrored {
		q = turnedOver(q)
	}
	return q, nil
}

// neighbouring returns the first of edges that follow each other round the outline, and
// how many they are.
func (p *Piece) neighbouring(edges []ID) (first, count int, err error) {
	n := len(p.Edges)
	in := make([]bool, n)
	for _, id := range edges {
		e, i := p.Edge(id)
		if i < 0 {
			return 0, 0, fmt.Errorf("edge %s of %s %w", id, p.label(), errGone)
		}
		if p.foldsOn(i) {
			return 0, 0, fmt.Errorf("edge %s is a fold and is not faced", e.label())
		}
		if !in[i] {
			in[i] = true
			count++
		}
	}
	if count == n {
		return 0, 0, errors.New("it would be faced all round; line the piece instead, or leave one edge")
	}
	starts := 0
	for i := range in {
		if in[i] && !in[(i+n-1)%n] {
			first = i
			starts++
		}
	}
	if starts != 1 {
		return 0, 0, errors.New("the edges do not follow each other; face each row of edges on its own")
	}
	return first, count, nil
}

// facingWork traces a facing off.
type facingWork struct {
	p            *Piece
	first, count int
	width        float64
	ids          linkIDs
	// lines are those of an outline on which the darts of the faced edges are closed: the
	// faced stretches first, then the rest round to them again.
	lines []facingLine
	// end is the frame in which the outline goes on after the last faced edge.
	end geom.Affine
	// in is where the inner line starts and ends, and inner the line, by the faced lines.
	in [2]geom.Point
	// square says that the facing ends square at its start, or at its end.
	square [2]bool
	// sideHandle is the handle with which the edge before comes to the faced ones.
	sideHandle geom.Point
	inner      []facingRun
}

// facingLine is one line of that outline.
type facingLine struct {
	edge int
	// from is the first node of it in EdgeNodes, for a faced stretch.
	from  int
	path  geom.Path
	faced bool
}

// facingRun is the part of the inner line that lies beside one faced line.
type facingRun struct {
	line int
	path geom.Path
}

func (w *facingWork) edge(k int) int { return (w.first + k + len(w.p.Edges)) % len(w.p.Edges) }

func (w *facingWork) make() (*Piece, error) {
	w.close()
	w.goRound()
	if err := w.cut(); err != nil {
		return nil, err
	}
	return w.piece()
}

// close lays out the faced edges with their darts closed: what comes after a dart is
// turned about its tip, or moved by the width of a pleat.
func (w *facingWork) close() {
	w.end = geom.Identity
	for k := range w.count {
		i := w.edge(k)
		nodes, from := w.p.EdgeNodes(i), 0
		add := func(to int) {
			if to > from {
				w.lines = append(w.lines, facingLine{edge: i, from: from, path: pathOf(nodes[from : to+1]).Transform(w.end), faced: true})
			}
		}
		for j := 1; j < len(nodes); j++ {
			if d := w.p.dartAt(nodes[j-1].ID, nodes[j].ID); d != nil {
				add(j - 1)
				w.end = d.closing(nodes[j-1].At, nodes[j].At).Then(w.end)
				from = j
			}
		}
		add(len(nodes) - 1)
	}
}

// closing returns the motion that brings the second mouth point of a dart, and what is
// sewn to it, onto the first.
func (d *Dart) closing(from, to geom.Point) geom.Affine {
	if d.Fold != Wedge {
		return geom.Translation(from.Sub(to))
	}
	u, v := to.Sub(d.Apex), from.Sub(d.Apex)
	return geom.Rotation(math.Atan2(u.Cross(v), u.Dot(v)), d.Apex)
}

// goRound adds the rest of the outline. Where darts are closed, the piece opens on its
// far side: half of the rest goes with the end of the faced edges, half with their start.
func (w *facingWork) goRound() {
	rest := len(w.p.Edges) - w.count
	total := 0.0
	for k := range rest {
		total += w.p.EdgePath(w.edge(w.count + k)).Length()
	}
	at, opened := 0.0, false
	for k := range rest {
		i := w.edge(w.count + k)
		path := w.p.EdgePath(i)
		length := path.Length()
		switch {
		case opened || at+length <= total/2:
			frame := w.end
			if opened {
				frame = geom.Identity
			}
			w.rest(i, path.Transform(frame))
		default:
			half := path.AtLength(total/2 - at)
			here := path.Part(geom.Place{}, half)
			w.rest(i, here.Transform(w.end))
			if gap := (geom.Line(w.end.Apply(path.At(half)), path.At(half))); gap.P0.Dist(gap.P3) > Grid {
				w.rest(-1, geom.Path{gap})
			}
			w.rest(i, path.Part(half, geom.Place{Seg: len(path) - 1, T: 1}))
			opened = true
		}
		at += length
	}
}

func (w *facingWork) rest(edge int, path geom.Path) {
	if len(path) > 0 {
		w.lines = append(w.lines, facingLine{edge: edge, path: path})
	}
}

// cut finds the inner line: what is left of the outline when the strip is taken off.
func (w *facingWork) cut() error {
	lines := make([]geom.AllowanceEdge, len(w.lines))
	for k, l := range w.lines {
		lines[k] = geom.AllowanceEdge{Path: l.path}
		if l.faced {
			lines[k].Start, lines[k].End = -w.width, -w.width
		}
	}
	left, err := geom.Allowance(lines)
	if err != nil {
		var split *geom.SplitError
		var vanished *geom.VanishedError
		if errors.As(err, &split) || errors.As(err, &vanished) {
			return fmt.Errorf("a facing of %.4g mm takes up the whole width of %s somewhere; make it narrower, or line the piece", w.width, w.p.label())
		}
		return fmt.Errorf("%s has no facing of this width: %w", w.p.label(), err)
	}
	runs, order := runsBySource(left)
	n := len(order)
	start := slices.IndexFunc(order, func(src int) bool { return w.lines[src].faced })
	for start >= 0 && w.lines[order[(start+n-1)%n]].faced {
		start = (start + n - 1) % n
	}
	if start < 0 {
		return fmt.Errorf("a facing of %.4g mm leaves nothing of %s; make it narrower, or line the piece", w.width, w.p.label())
	}
	k := 0
	for ; k < n && w.lines[order[(start+k)%n]].faced; k++ {
		src := order[(start+k)%n]
		w.inner = append(w.inner, facingRun{src, runs[src]})
	}
	for m := k; m < n; m++ {
		if w.lines[order[(start+m)%n]].faced {
			return fmt.Errorf("a facing of %.4g mm meets itself in %s; make it narrower", w.width, w.p.label())
		}
	}
	return w.ends()
}

// ends lets the inner line end on the edges beside the faced ones. Where such an edge goes
// on almost as the faced one does, so that the inner line would not meet it near by, the
// facing ends square.
func (w *facingWork) ends() error {
	first, last := &w.inner[0], &w.inner[len(w.inner)-1]
	faced := w.faced()
	before, after := w.p.EdgePath(w.edge(-1)), w.p.EdgePath(w.edge(w.count)).Transform(w.end)
	if last.line == faced-1 {
		line := w.lines[faced-1].path
		path, at, ok := endOn(last.path, endOf(line, w.width), after, w.width)
		if w.square[1] = !ok && alongside(line, after); !ok && !w.square[1] {
			return w.tooWide(w.edge(w.count))
		}
		if w.square[1] {
			at = path.End()
		}
		last.path, w.in[1] = path, at
	} else {
		w.in[1] = last.path.End()
	}
	if first.line == 0 {
		line := w.lines[0].path
		path, at, ok := startOn(first.path, line, before, w.width)
		if w.square[0] = !ok && alongside(before, line); !ok && !w.square[0] {
			return w.tooWide(w.edge(-1))
		}
		if w.square[0] {
			at = path.Start()
		}
		first.path, w.in[0] = path, at
	} else {
		w.in[0] = first.path.Start()
	}
	return nil
}

// alongside reports whether a line goes on almost as the one before it does: by less of a
// turn than the inner line of a facing needs to meet it.
func alongside(a, b geom.Path) bool {
	u, v := a.Tangent(geom.Place{Seg: len(a) - 1, T: 1}), b.Tangent(geom.Place{})
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) < 1./runOnLimit
}

// faced returns how many of the lines are faced: the index of the first that is not.
func (w *facingWork) faced() int {
	return slices.IndexFunc(w.lines, func(l facingLine) bool { return !l.faced })
}

// piece puts the facing together: the faced edges, the beginning of the edge after them,
// the inner line back, and the end of the edge before them.
func (w *facingWork) piece() (*Piece, error) {
	q := &Piece{Cut: w.p.Cut}
	for k := range w.count {
		e, err := w.facedEdge(w.edge(k))
		if err != nil {
			return nil, err
		}
		q.Edges = append(q.Edges, e)
	}
	after, err := w.sideAfter()
	if err != nil {
		return nil, err
	}
	before, err := w.sideBefore()
	if err != nil {
		return nil, err
	}
	if before.ID == after.ID {
		before.ID = w.ids.extra(w.p.Edges[w.edge(-1)].ID, "2")
		before.Name = unusedName(after.Name, func(n string) bool { return n == after.Name })
	}
	q.Edges = append(q.Edges, after, w.innerEdge(), before)
	for k := range w.count {
		handle := w.sideHandle
		if k > 0 {
			handle = w.lastHandle(w.edge(k - 1))
		}
		q.Edges[k].Nodes[0].In = handle
	}
	w.marks(q)
	return q, nil
}

// copyOf returns an edge of the parent with its own id in the facing, without nodes.
func (w *facingWork) copyOf(i int) Edge {
	e := w.p.Edges[i]
	e.ID, e.Nodes = w.ids.of(e.ID), nil
	return e
}

// facedEdge returns a faced edge, its darts closed: of the two points of a mouth the
// first is left.
func (w *facingWork) facedEdge(i int) (Edge, error) {
	e := w.copyOf(i)
	nodes := w.p.EdgeNodes(i)
	for _, l := range w.lines[:w.faced()] {
		if l.edge != i {
			continue
		}
		for k, s := range l.path {
			old := nodes[l.from+k]
			if n := len(e.Nodes); k == 0 && n > 0 {
				// The mouth point onto which this one is closed is there already.
				e.Nodes[n-1] = nodeBefore(e.Nodes[n-1], s)
				continue
			}
			n := Node{ID: w.ids.of(old.ID), At: s.P0, Smooth: old.Smooth && k > 0}
			if k > 0 {
				n.In = handleIn(l.path[k-1])
			}
			e.Nodes = append(e.Nodes, nodeBefore(n, s))
		}
		// The node at the end is that of the mouth, or the next corner, dropped below.
		last := l.path[len(l.path)-1]
		e.Nodes = append(e.Nodes, Node{ID: w.ids.of(nodes[l.from+len(l.path)].ID), At: last.P3, In: handleIn(last)})
	}
	if len(e.Nodes) < 2 {
		return e, fmt.Errorf("nothing would be left of the edge %s", e.label())
	}
	e.Nodes = e.Nodes[:len(e.Nodes)-1]
	return e, nil
}

// nodeBefore returns the node with the handle of the segment that it starts.
func nodeBefore(n Node, s geom.Segment) Node {
	if !s.Straight {
		n.Out = s.P1.Sub(s.P0)
	}
	return n
}

// handleIn returns the handle with which a segment comes to its end.
func handleIn(s geom.Segment) geom.Point {
	if s.Straight {
		return geom.Point{}
	}
	return s.P2.Sub(s.P3)
}

// lastHandle returns the handle with which a faced edge comes to its end.
func (w *facingWork) lastHandle(i int) geom.Point {
	var handle geom.Point
	for _, l := range w.lines[:w.faced()] {
		if l.edge == i {
			handle = handleIn(l.path[len(l.path)-1])
		}
	}
	return handle
}

// sideAfter returns the beginning of the edge after the faced ones, up to the inner line.
func (w *facingWork) sideAfter() (Edge, error) {
	i := w.edge(w.count)
	e := w.copyOf(i)
	if w.square[1] {
		path := w.lines[w.faced()-1].path
		return w.squareEnd(i, w.ids.of(w.p.Edges[i].Nodes[0].ID), path.End(), w.lastHandle(w.edge(w.count-1))), nil
	}
	side, ok := upTo(w.p.EdgePath(i).Transform(w.end), w.in[1])
	if !ok {
		return e, w.tooWide(i)
	}
	nodes := w.p.EdgeNodes(i)
	if err := w.clear(i, 0, len(side)); err != nil {
		return e, err
	}
	for k, s := range side {
		n := Node{ID: w.ids.of(nodes[k].ID), At: s.P0, Smooth: nodes[k].Smooth && k > 0}
		if k == 0 {
			n.In = w.lastHandle(w.edge(w.count - 1))
		} else {
			n.In = handleIn(side[k-1])
		}
		e.Nodes = append(e.Nodes, nodeBefore(n, s))
	}
	e.Allowance.End = e.widthAt(shareOf(side.Length(), w.p.EdgePath(i).Length()-side.Length()))
	return e, nil
}

// sideBefore returns the end of the edge before the faced ones, from the inner line on.
func (w *facingWork) sideBefore() (Edge, error) {
	i := w.edge(-1)
	e := w.copyOf(i)
	if w.square[0] {
		w.sideHandle = geom.Point{}
		return w.squareEnd(i, w.ids.extra(w.p.Edges[i].ID, "cut"), w.in[0], handleIn(w.inner[0].path[0].Reverse())), nil
	}
	whole := w.p.EdgePath(i)
	back, ok := upTo(whole.Reverse(), w.in[0])
	if !ok {
		return e, w.tooWide(i)
	}
	side := back.Reverse()
	nodes := w.p.EdgeNodes(i)
	skip := len(nodes) - 1 - len(side)
	if err := w.clear(i, skip, len(nodes)-1); err != nil {
		return e, err
	}
	for k, s := range side {
		n := Node{ID: w.ids.of(nodes[skip+k].ID), At: s.P0, Smooth: nodes[skip+k].Smooth && k > 0}
		if k == 0 {
			n.ID = w.ids.extra(w.p.Edges[i].ID, "cut")
			n.In = handleIn(w.inner[0].path[0].Reverse())
		} else {
			n.In = handleIn(side[k-1])
		}
		e.Nodes = append(e.Nodes, nodeBefore(n, s))
	}
	w.sideHandle = handleIn(side[len(side)-1])
	e.Corner = Mitre
	e.Allowance.Start = e.widthAt(shareOf(whole.Length()-side.Length(), side.Length()))
	return e, nil
}

// squareEnd returns the edge with which a facing ends square. It starts at a node, and is
// straight.
func (w *facingWork) squareEnd(i int, node ID, at, in geom.Point) Edge {
	return Edge{
		ID: w.ids.extra(w.p.Edges[i].ID, "square"), Name: "end", Kind: RawEdge,
		Nodes: []Node{{ID: node, At: at, In: in}},
	}
}

// upTo returns the beginning of a path as far as a point that lies on it, or the straight
// line to a point before its start; false where the point lies at neither.
func upTo(path geom.Path, q geom.Point) (geom.Path, bool) {
	at, d := path.Nearest(q)
	part := path.Part(geom.Place{}, at)
	if d > geom.ParallelTolerance || len(part) == 0 {
		return nil, false
	}
	return pathTo(part, q), true // so that the inner line goes on from it
}

func (w *facingWork) tooWide(i int) error {
	return fmt.Errorf("a facing of %.4g mm does not end on edge %s; make it narrower", w.width, w.p.Edges[i].label())
}

// clear reports a dart that opens on the part of a side edge that the facing has.
func (w *facingWork) clear(i, from, to int) error {
	nodes := w.p.EdgeNodes(i)
	for k := from; k < to && k+1 < len(nodes); k++ {
		if d := w.p.dartAt(nodes[k].ID, nodes[k+1].ID); d != nil {
			return fmt.Errorf("the %s opens at the end of the facing; make it narrower, or move the dart", d.called())
		}
	}
	return nil
}

// innerEdge returns the inner edge, which runs back from the edge after the faced ones to
// the edge before them. Its nodes are named by those of the faced edges.
func (w *facingWork) innerEdge() Edge {
	first := w.p.Edges[w.first].ID
	e := Edge{ID: w.ids.extra(first, "inner"), Name: "inner edge", Kind: RawEdge}
	var list []Node
	for _, run := range w.inner {
		l := w.lines[run.line]
		nodes := slices.Clone(w.p.EdgeNodes(l.edge)[l.from : l.from+len(l.path)+1])
		for k := range nodes {
			nodes[k].ID = w.ids.extra(nodes[k].ID, "inner")
			if k < len(l.path) {
				nodes[k].At = l.path[k].P0
			} else {
				nodes[k].At = l.path[k-1].P3
			}
			nodes[k].In, nodes[k].Out = geom.Point{}, geom.Point{}
			if k > 0 {
				nodes[k].In = handleIn(l.path[k-1])
			}
			if k < len(l.path) {
				nodes[k] = nodeBefore(nodes[k], l.path[k])
			}
		}
		here, err := nodesOn(run.path, nodes, w.width, w.width, w.ids.between)
		if err != nil {
			continue // a run is never empty
		}
		if n := len(list); n > 0 {
			here[0].In, here[0].Smooth = list[n-1].In, smoothNode(list[n-1].In, here[0].Out)
			list = list[:n-1]
		}
		list = append(list, here...)
	}
	slices.Reverse(list)
	for k := range list {
		list[k].In, list[k].Out = list[k].Out, list[k].In
	}
	// The last node is where the edge before the faced ones goes on. The first is a corner
	// too, and bears the handle of the edge after them.
	list = list[:len(list)-1]
	list[0].Smooth = false
	list[0].ID = w.ids.extra(w.p.Edges[w.edge(w.count)].ID, "end")
	list[0].In = geom.Point{}
	if side, ok := upTo(w.p.EdgePath(w.edge(w.count)).Transform(w.end), w.in[1]); ok && !w.square[1] {
		list[0].In = handleIn(side[len(side)-1])
	}
	e.Nodes = list
	return e
}

// smoothNode reports whether two handles lie in one line.
func smoothNode(in, out geom.Point) bool {
	u, v := in.Unit().Mul(-1), out.Unit()
	return u.Dot(v) > 0 && math.Abs(u.Cross(v)) <= kinkSlack
}

// marks gives the facing the notches of the faced edges, those that still lie on its
// sides, the grain of the piece, and says how it is cut.
func (w *facingWork) marks(q *Piece) {
	for _, n := range w.p.Notches {
		_, i := w.p.Edge(n.Edge)
		_, k := q.Edge(w.ids.of(n.Edge))
		if k < 0 {
			continue
		}
		whole, now := w.p.EdgeLength(i), q.EdgeLength(k)
		at := n.Along(whole)
		n.ID, n.Edge, n.Mark = w.ids.of(n.ID), w.ids.of(n.Edge), ""
		switch i {
		case w.edge(w.count):
			if at > now {
				continue
			}
			n.FromEnd, n.Share, n.At = false, false, toGrid(at)
		case w.edge(-1):
			if whole-at > now {
				continue
			}
			n.FromEnd, n.Share, n.At = true, false, toGrid(whole-at)
		}
		q.Notches = append(q.Notches, n)
	}
	outline := q.DrawnPath()
	for _, l := range w.p.Lines {
		if w.end == geom.Identity && l.within(outline) {
			q.Lines = append(q.Lines, w.ids.line(l))
		}
	}
	angle := upright
	if g := w.p.Grain; g != nil {
		angle = g.To.Sub(g.From).Angle()
	}
	q.Grain = grainAlong(outline, angle)
	if q.Cut.Way == CutOnFold && q.FoldEdge() < 0 {
		q.Cut.Way = CutPairs
	}
}

package draft

import (
	"errors"
	"fmt"
	"math"

	"hemlet/geom"
)

// inset is how far a stitching line is moved inside at the two ends of an edge, in mm;
// between them it tapers with the length.
type inset struct{ start, end float64 }

// leastInset is the width in mm below which an edge stays where it is: a moved line is
// true to geom.ParallelTolerance, and corners with less than that between them are
// rounding.
const leastInset = 4 * geom.ParallelTolerance

func (w inset) none() bool { return w.start == 0 && w.end == 0 }

// insetWork moves edges of an outline inside, each by its own width. Lines come out of
// geom.Allowance, within its tolerance of the true parallel; an edge that is not moved
// stays the very same line, cut off where a neighbour's new line meets it.
type insetWork struct {
	p      *Piece
	widths []inset
	pieces []insetPiece
	lines  []geom.AllowanceEdge
}

// insetPiece is one of the lines that the outline is made of while it is moved: a
// stretch of an edge between the mouths of its darts, or the legs of a dart on an edge
// that moves, so that the mouth goes along the legs.
type insetPiece struct {
	edge int
	// from and to are the first and last node of the stretch in EdgeNodes.
	from, to int
	legs     *Dart
	line     geom.Path
	// moved is where the line is afterwards.
	moved geom.Path
}

// insetEdges returns the edges of p with the stitching line moved inside by the widths,
// one for each edge. Nodes keep their ids, but those in between for which the new line
// needs more, which are named by extra after the node before them.
func insetEdges(p *Piece, widths []inset, extra func(after ID, n int) ID) ([]Edge, error) {
	w := &insetWork{p: p, widths: make([]inset, len(widths))}
	moves := false
	for i, x := range widths {
		if max(x.start, x.end) < leastInset {
			x = inset{}
		}
		w.widths[i] = x
		moves = moves || !x.none()
	}
	if !moves {
		return cloneEdges(p.Edges), nil
	}
	w.takeApart()
	if err := w.move(); err != nil {
		return nil, err
	}
	return w.edges(extra)
}

// takeApart lists the lines that the outline is made of.
func (w *insetWork) takeApart() {
	p := w.p
	for i := range p.Edges {
		nodes, length := p.EdgeNodes(i), p.EdgeLength(i)
		open, at, from := !w.widths[i].none(), 0.0, 0
		width := func(at float64) float64 {
			if length == 0 {
				return -w.widths[i].start
			}
			return -(w.widths[i].start + (w.widths[i].end-w.widths[i].start)*at/length)
		}
		add := func(piece insetPiece, start, end float64) {
			if len(piece.line) == 0 {
				return
			}
			w.pieces = append(w.pieces, piece)
			w.lines = append(w.lines, geom.AllowanceEdge{Path: piece.line, Start: start, End: end})
		}
		for k := 1; k < len(nodes); k++ {
			d := p.dartAt(nodes[k-1].ID, nodes[k].ID)
			if open && d != nil {
				line := pathOf(nodes[from:k])
				end := at + line.Length()
				add(insetPiece{edge: i, from: from, to: k - 1, line: line}, width(at), width(end))
				add(insetPiece{edge: i, from: k - 1, to: k, legs: d, line: d.legs(nodes[k-1].At, nodes[k].At)}, 0, 0)
				at, from = end, k
			}
		}
		line := pathOf(nodes[from:])
		add(insetPiece{edge: i, from: from, to: len(nodes) - 1, line: line}, width(at), -w.widths[i].end)
	}
}

// legs returns the line from one mouth of a dart to the other along what is sewn or
// folded.
func (d *Dart) legs(from, to geom.Point) geom.Path {
	if d.Fold == Wedge {
		return geom.Path{geom.Line(from, d.Apex), geom.Line(d.Apex, to)}
	}
	v := d.Apex.Sub(from.Lerp(to, 0.5))
	return geom.Path{geom.Line(from, from.Add(v)), geom.Line(from.Add(v), to.Add(v)), geom.Line(to.Add(v), to)}
}

// move finds where each line is afterwards.
func (w *insetWork) move() error {
	cut, err := geom.Allowance(w.lines)
	if err != nil {
		return err
	}
	runs, order := runsBySource(cut)
	// One may be gone although there are as many as before: where another is in two parts.
	for i := range w.pieces {
		if runs[i] == nil {
			return w.nothingLeft(&w.pieces[i])
		}
	}
	if len(order) != len(w.pieces) {
		return errors.New("a part of it would be cut off")
	}
	for i := range w.pieces {
		w.pieces[i].moved = runs[i]
	}
	for i := range w.pieces {
		if err := w.meet(i, (i+1)%len(w.pieces)); err != nil {
			return err
		}
	}
	for i := range w.pieces {
		piece := &w.pieces[i]
		if w.still(i) {
			if piece.moved = cutOff(piece.line, piece.moved); len(piece.moved) == 0 {
				return w.nothingLeft(piece)
			}
		}
		if d := piece.legs; d != nil && len(piece.moved) != len(piece.line) {
			return fmt.Errorf("the %s is too short for this", d.called())
		}
	}
	return nil
}

// still reports whether line i stays where it is.
func (w *insetWork) still(i int) bool { return w.lines[i].Start == 0 && w.lines[i].End == 0 }

// meet lets line i end on line k, which follows it, or k start on i, where one of them is
// moved and the other stays.
func (w *insetWork) meet(i, k int) error {
	a, b := &w.pieces[i], &w.pieces[k]
	switch {
	case w.still(k) && w.lines[i].End != 0:
		moved, at, ok := endOn(a.moved, endOf(a.line, -w.lines[i].End), b.line, -w.lines[i].End)
		if !ok {
			return w.apart(a, b)
		}
		a.moved, b.moved = moved, pathFrom(b.moved, at)
	case w.still(i) && w.lines[k].Start != 0:
		moved, at, ok := startOn(b.moved, b.line, a.line, -w.lines[k].Start)
		if !ok {
			return w.apart(a, b)
		}
		b.moved, a.moved = moved, pathTo(a.moved, at)
	}
	return nil
}

// nothingLeft says that a line would be gone.
func (w *insetWork) nothingLeft(piece *insetPiece) error {
	return fmt.Errorf("nothing would be left of the edge %s", w.p.Edges[piece.edge].label())
}

// apart says that two lines do not meet any more.
func (w *insetWork) apart(a, b *insetPiece) error {
	return fmt.Errorf("edge %s would not meet edge %s any more; move it by less", w.p.Edges[a.edge].label(), w.p.Edges[b.edge].label())
}

// runsBySource returns the segments of a cut line by the edge that they belong to, and
// the edges in the order in which they come. An edge that comes more than once, in
// parts, comes more than once in the order.
func runsBySource(cut geom.CutLine) (runs map[int]geom.Path, order []int) {
	n := len(cut.Path)
	first := 0
	for first < n && cut.Source[(first+n-1)%n] == cut.Source[first] {
		first++
	}
	runs = make(map[int]geom.Path)
	last := -1
	for k := range n {
		i := (first + k) % n
		if src := cut.Source[i]; src != last {
			order = append(order, src)
			last = src
		}
		runs[last] = append(runs[last], cut.Path[i])
	}
	return runs, order
}

// cutOff returns the line itself from where the moved one starts to where it ends, to
// the tolerance of parallels; where the moved one goes beyond an end of the line, it is
// run on straight. It is empty where the moved one starts behind where it ends.
func cutOff(line, moved geom.Path) geom.Path {
	from, to := geom.Place{}, geom.Place{Seg: len(line) - 1, T: 1}
	var before, after geom.Path
	place := func(q geom.Point, end geom.Place, at *geom.Place) bool {
		if q.Near(line.At(end), Grid) {
			return true
		}
		near, d := line.Nearest(q)
		if d > geom.ParallelTolerance {
			return false
		}
		*at = near
		return true
	}
	if !place(moved.Start(), from, &from) {
		before = geom.Path{geom.Line(moved.Start(), line.Start())}
	}
	if !place(moved.End(), to, &to) {
		after = geom.Path{geom.Line(line.End(), moved.End())}
	}
	if from.Seg > to.Seg || from.Seg == to.Seg && from.T > to.T {
		return nil
	}
	part := line.Part(from, to)
	return append(append(before, part...), after...)
}

// edges puts the moved lines together again.
func (w *insetWork) edges(extra func(ID, int) ID) ([]Edge, error) {
	out := make([]Edge, len(w.p.Edges))
	for i := range out {
		out[i] = w.p.Edges[i]
		out[i].Nodes = nil
	}
	for i := range w.pieces {
		piece := &w.pieces[i]
		e := &out[piece.edge]
		all := w.p.EdgeNodes(piece.edge)
		nodes := all[piece.from : piece.to+1]
		if piece.legs != nil {
			// Its mouth is the gap between the stretches beside it, which bring its nodes,
			// but where it begins or ends the edge.
			if piece.from == 0 {
				e.Nodes = append(e.Nodes, Node{ID: nodes[0].ID, At: piece.moved.Start()})
			}
			if piece.to == len(all)-1 {
				e.Nodes = append(e.Nodes, Node{ID: nodes[1].ID, At: piece.moved.End()})
			}
			continue
		}
		moved, err := nodesOn(piece.moved, nodes, -w.lines[i].Start, -w.lines[i].End, extra)
		if err != nil {
			return nil, fmt.Errorf("edge %s: %w", e.label(), err)
		}
		e.Nodes = append(e.Nodes, moved...)
	}
	// Every stretch brought the node at its end: a mouth, or the corner at which the next
	// edge starts, which has the handle that comes in.
	for i := range out {
		next := &out[(i+1)%len(out)]
		if len(out[i].Nodes) < 2 || len(next.Nodes) < 2 {
			return nil, fmt.Errorf("nothing would be left of the edge %s", out[i].label())
		}
		last := out[i].Nodes[len(out[i].Nodes)-1]
		next.Nodes[0].In = last.In
		if w.widths[i].none() && !w.widths[(i+1)%len(out)].none() {
			next.Nodes[0].At = last.At // the corner lies on the line that stays
		}
	}
	for i := range out {
		out[i].Nodes = out[i].Nodes[:len(out[i].Nodes)-1]
	}
	return out, nil
}

// nodesOn returns the nodes of a moved line, with the ids of those that it was moved
// from: the first and the last, and in between those that lie where they would be moved.
func nodesOn(line geom.Path, nodes []Node, start, end float64, extra func(ID, int) ID) ([]Node, error) {
	if len(line) == 0 {
		return nil, errors.New("nothing would be left of it")
	}
	old := pathOf(nodes)
	tape, last, known, number := old.Tape(), len(line), 0, 0
	out := make([]Node, 0, last+1)
	for j := 0; j <= last; j++ {
		var n Node
		switch {
		case j == 0:
			n.ID = nodes[0].ID
		case j == last:
			n.ID = nodes[len(nodes)-1].ID
		default:
			n = Node{}
			for k := known + 1; k < len(nodes)-1; k++ {
				width := start + (end-start)*shareOf(tape.Node(k), tape.Length()-tape.Node(k))
				if line[j].P0.Near(nodes[k].At.Add(old.Tangent(geom.Place{Seg: k}).Left().Mul(width)), jointSlack) {
					n.ID, n.Smooth, known, number = nodes[k].ID, nodes[k].Smooth, k, 0
					break
				}
			}
			if n.ID == "" {
				number++
				n.ID = extra(nodes[known].ID, number)
				n.Smooth = smoothJoint(line[j-1], line[j])
			}
		}
		if j > 0 {
			n.At = line[j-1].P3
			if s := line[j-1]; !s.Straight {
				n.In = s.P2.Sub(s.P3)
			}
		}
		if j < last {
			n.At = line[j].P0
			if s := line[j]; !s.Straight {
				n.Out = s.P1.Sub(s.P0)
			}
		}
		out = append(out, n)
	}
	return out, nil
}

// smoothJoint reports whether one curve goes on into another without a corner.
func smoothJoint(a, b geom.Segment) bool {
	u, v := a.Tangent(1), b.Tangent(0)
	return !a.Straight && !b.Straight && u.Dot(v) > 0 && math.Abs(u.Cross(v)) <= kinkSlack
}

// insetMarks moves notches and stretches of q, whose outline is that of p moved inside,
// to the places next to those where they were. A notch that lies where nothing is left
// is dropped.
func insetMarks(p, q *Piece) {
	notches := q.Notches[:0]
	for k, n := range p.Notches {
		_, i := p.Edge(n.Edge)
		length := p.EdgeLength(i)
		at, ok := nextTo(p, q, i, n.Along(length))
		if !ok {
			continue
		}
		m, now := q.Notches[k], q.EdgeLength(i)
		if m.FromEnd {
			at = now - at
		}
		if m.At = toGrid(at); m.Share {
			m.At = at / now
		}
		notches = append(notches, m)
	}
	q.Notches = notches
	for k, s := range p.Stretches {
		_, i := p.Edge(s.Edge)
		length, now := p.EdgeLength(i), q.EdgeLength(i)
		from, _ := nextTo(p, q, i, s.From*length)
		to, _ := nextTo(p, q, i, s.To*length)
		if now > 0 && to > from {
			q.Stretches[k].From, q.Stretches[k].To = from/now, min(to/now, 1)
		}
	}
}

// endSlack is how far, in mm, what is next to a place may lie along the edge from it
// because a neighbour has cut the edge off there, for a notch that is still to be there:
// less than a pencil line.
const endSlack = 0.1

// nextTo returns the place on edge i of q that is next to a place on edge i of p, in mm
// along it, and whether it is the same place but for the moving.
func nextTo(p, q *Piece, i int, along float64) (float64, bool) {
	k, t := p.locate(i, along)
	nodes := p.EdgeNodes(i)
	s := segment(nodes[k], nodes[k+1])
	at, way := s.At(t), s.Tangent(t)
	best, least, before := 0.0, math.Inf(1), 0.0
	var there geom.Point
	for _, part := range q.EdgeParts(i) {
		tape := part.Tape()
		if place, d := part.Nearest(at); d < least {
			least, best, there = d, before+tape.To(place), part.At(place)
		}
		before += tape.Length()
	}
	return best, math.Abs(there.Sub(at).Dot(way)) <= endSlack
}

package draft

import (
	"math"
	"slices"

	"hemlet/geom"
)

// share hands each mark of the whole to the half on which it lies.
func (c *cutting) share(left, right *half) {
	sides := [2]*half{left, right}
	var outlines [2]geom.Path
	for n, h := range sides {
		outlines[n] = h.piece.DrawnPath()
		c.shareEdgeMarks(h)
	}
	// An id is borne once: what lies on the border of both is the left's.
	taken := make(map[ID]bool)
	for _, h := range sides {
		q := h.piece
		q.Notches = slices.DeleteFunc(q.Notches, func(n Notch) bool { return taken[n.ID] })
		q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool { return taken[s.ID] })
		for _, n := range q.Notches {
			taken[n.ID] = true
		}
		for _, s := range q.Spans {
			// Which half has a span along lines is known once the lines are handed over.
			taken[s.ID] = len(s.Lines) == 0
		}
		for k := range q.Stretches {
			s := &q.Stretches[k]
			if taken[s.ID] {
				s.ID = c.ids.make(kindStretch)
			}
			taken[s.ID] = true
		}
	}
	c.shareLines(left, right, outlines)
	for n, h := range sides {
		h.shareGrain(c.ring.Grain, outlines[n])
		if at := h.piece.LabelAt; at != nil && outlines[n].Side(*at, 0) == geom.Outside {
			h.piece.LabelAt = nil
		}
	}
}

// shareEdgeMarks keeps what lies on the edges of the half.
func (c *cutting) shareEdgeMarks(h *half) {
	q := h.piece
	var notches []Notch
	for _, n := range c.old.Notches {
		if m, ok := followNotch(c.old, q, n, h.lin); ok && q.hasEdge(m.Edge) {
			notches = append(notches, m)
		}
	}
	q.Notches = notches
	q.Darts = slices.DeleteFunc(q.Darts, func(d Dart) bool {
		n, _, _ := q.Node(d.From)
		return n == nil
	})
	q.followDarts()
	q.Stretches = followStretches(q, h.lin)
	q.Stretches = slices.DeleteFunc(q.Stretches, func(s Stretch) bool { return !q.hasEdge(s.Edge) })
	q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool { return !c.holds(h, s) })
}

func (p *Piece) hasEdge(id ID) bool {
	_, i := p.Edge(id)
	return i >= 0
}

// holds reports whether the whole span lies on the half, where it has its edges anew.
func (c *cutting) holds(h *half, s Span) bool {
	for _, id := range [2]ID{s.From, s.To} {
		if n, _, _ := h.piece.Node(id); id != "" && n == nil {
			return false
		}
	}
	for k := range h.piece.Spans {
		if h.piece.Spans[k].ID != s.ID || len(s.Edges) == 0 {
			continue
		}
		run := make(Run, len(s.Edges))
		for i, e := range s.Edges {
			run[i] = EdgeUse{Edge: e}
		}
		moved, err := followRun(run, c.lin)
		if err != nil {
			return false
		}
		var edges []ID
		for _, u := range moved {
			if !h.piece.hasEdge(u.Edge) {
				return false
			}
			edges = append(edges, u.Edge)
		}
		h.piece.Spans[k].Edges = edges
	}
	return true
}

// shareGrain keeps the grain line where it lies on the half, or gives it another in the
// same direction.
func (h *half) shareGrain(g *Grain, outline geom.Path) {
	if g == nil {
		return
	}
	on := true
	for _, share := range [5]float64{0, 0.25, 0.5, 0.75, 1} {
		on = on && outline.Side(g.From.Lerp(g.To, share), Grid) != geom.Outside
	}
	if h.ownGrain = on; !on {
		if h.piece.Grain = grainAlong(outline, g.To.Sub(g.From).Angle()); h.piece.Grain == nil {
			h.piece.Grain = &Grain{g.From, g.To}
		}
	}
}

// shareLines hands the lines inside the piece over; one that crosses the cut is divided
// there. A span along a line that was divided goes.
func (c *cutting) shareLines(left, right *half, outlines [2]geom.Path) {
	left.piece.Lines, right.piece.Lines = nil, nil
	divided := make(map[ID]bool)
	var ties []tie
	isLeft := func(l Line) bool { return outlines[0].Side(middleOf(l), Grid) != geom.Outside }
	for _, l := range c.ring.Lines {
		parts, joints := c.divideLine(l, func(nodes []Node) bool { return isLeft(Line{Nodes: nodes}) })
		divided[l.ID] = len(parts) > 1
		onLeft := make([]bool, len(parts))
		for k, part := range parts {
			if onLeft[k] = isLeft(part); onLeft[k] {
				left.piece.Lines = append(left.piece.Lines, part)
			} else {
				right.piece.Lines = append(right.piece.Lines, part)
			}
		}
		for _, j := range joints {
			a, b := j.ids[0], j.ids[1]
			switch {
			case onLeft[j.parts[0]] && !onLeft[j.parts[1]]:
				ties = append(ties, tie{a, b})
			case !onLeft[j.parts[0]] && onLeft[j.parts[1]]:
				ties = append(ties, tie{b, a})
			}
		}
	}
	left.ties, right.ties = ties, ties
	for _, h := range [2]*half{left, right} {
		q := h.piece
		q.Spans = slices.DeleteFunc(q.Spans, func(s Span) bool {
			for _, id := range s.Lines {
				if divided[id] || q.Line(id) == nil {
					return true
				}
			}
			return false
		})
	}
}

// middleOf returns a point of the line away from its ends.
func middleOf(l Line) geom.Point {
	path := l.Path()
	if len(path) == 0 {
		return l.Nodes[0].At
	}
	tape := path.Tape()
	return path.At(tape.At(tape.Length() / 2))
}

// joint is where two parts of a divided line meet: their numbers, and the ids of the node
// on each.
type joint struct {
	parts [2]int
	ids   [2]ID
}

// partNodes returns the nodes from number i to number j, round a closed line where j does
// not come after i.
func partNodes(nodes []Node, i, j int) []Node {
	if j > i {
		return append([]Node(nil), nodes[i:j+1]...)
	}
	return append(append([]Node(nil), nodes[i:]...), nodes[:j+1]...)
}

// changesSide returns those of the places at at which the line goes over from one half to
// the other: not where it only reaches the cut, or crosses it within a hair of a node.
func changesSide(nodes []Node, at []int, closed bool, onLeft func([]Node) bool) []int {
	bounds := append(append([]int{0}, at...), len(nodes)-1)
	if closed {
		bounds = append(append([]int(nil), at...), at[0])
	}
	sides := make([]bool, len(bounds)-1)
	for k := range sides {
		sides[k] = onLeft(partNodes(nodes, bounds[k], bounds[k+1]))
	}
	var out []int
	for k := range at {
		before, after := k, k+1
		if closed {
			before, after = (k+len(at)-1)%len(at), k
		}
		if sides[before] != sides[after] {
			out = append(out, at[k])
		}
	}
	return out
}

// divideLine returns the parts of a line between its crossings with the cut; the first has
// the id of the line. Fastenings along it are shared out by length.
func (c *cutting) divideLine(l Line, onLeft func([]Node) bool) ([]Line, []joint) {
	nodes, at := c.crossed(l)
	if len(at) > 0 {
		at = changesSide(nodes, at, l.Closed, onLeft)
	}
	if len(at) == 0 {
		return []Line{l}, nil
	}
	if l.Closed {
		// The line begins at its first crossing, and ends there.
		first := at[0]
		nodes = partNodes(nodes, first, first)
		nodes[len(nodes)-1].ID = c.ids.make(kindNode)
		inner := make([]int, 0, len(at)-1)
		for _, k := range at[1:] {
			inner = append(inner, k-first)
		}
		at = inner
	}
	var parts []Line
	var joints []joint
	start := 0
	whole := pathOf(nodes).Length()
	for k := 0; k <= len(at); k++ {
		end := len(nodes) - 1
		if k < len(at) {
			end = at[k]
		}
		part := l
		part.Closed = false
		part.Nodes = append([]Node(nil), nodes[start:end+1]...)
		if k > 0 {
			part.ID = c.ids.make(kindLine)
			part.Nodes[0].ID = c.ids.make(kindNode)
			before := &parts[k-1].Nodes[len(parts[k-1].Nodes)-1]
			joints = append(joints, joint{[2]int{k - 1, k}, [2]ID{before.ID, part.Nodes[0].ID}})
		}
		part.Row = rowPart(l.Row, pathOf(part.Nodes).Length(), whole)
		parts = append(parts, part)
		start = end
	}
	if l.Closed {
		last := &parts[len(parts)-1].Nodes[len(parts[len(parts)-1].Nodes)-1]
		joints = append(joints, joint{[2]int{len(parts) - 1, 0}, [2]ID{last.ID, parts[0].Nodes[0].ID}})
	}
	return parts, joints
}

// rowPart returns the row along a part of its line: as many of the fastenings as its share
// of the length holds.
func rowPart(row *Row, length, whole float64) *Row {
	if row == nil {
		return nil
	}
	r := *row
	if whole > 0 {
		r.Count = max(1, int(math.Round(float64(r.Count)*length/whole)))
	}
	return &r
}

// crossed returns the nodes of a line with one at each place where it crosses the cut, and
// the indices of those.
func (c *cutting) crossed(l Line) (nodes []Node, at []int) {
	path := l.Path()
	if len(path) == 0 {
		return l.Nodes, nil
	}
	meets := path.Intersections(c.line)
	k := 0
	out := append([]Node(nil), l.Nodes...)
	if l.Closed {
		out = append(out, l.Nodes[0])
	}
	for seg := range path {
		from, to := &out[seg], &out[seg+1]
		s := path[seg]
		done := 0.0
		nodes = append(nodes, *from)
		for ; k < len(meets) && meets[k].A.Seg == seg; k++ {
			if meets[k].Kind != geom.Crosses {
				continue
			}
			t := (meets[k].A.T - done) / (1 - done)
			a, b := s.Split(t)
			if a.Length() < shortestStretch {
				if len(nodes) > 1 || l.Closed {
					at = appendNew(at, len(nodes)-1)
				}
				continue
			}
			if b.Length() < shortestStretch {
				// It goes through the next node, which is then the place.
				if seg+1 < len(path) {
					at = appendNew(at, len(nodes))
				}
				continue
			}
			n := Node{ID: c.ids.make(kindNode), At: a.P3}
			if !s.Straight {
				n.In, n.Out, n.Smooth = a.P2.Sub(a.P3), b.P1.Sub(b.P0), true
				nodes[len(nodes)-1].Out = a.P1.Sub(a.P0)
				to.In = b.P2.Sub(b.P3)
			}
			at = appendNew(at, len(nodes))
			nodes = append(nodes, n)
			s, done = b, meets[k].A.T
		}
	}
	if !l.Closed {
		nodes = append(nodes, out[len(out)-1])
	} else if last := out[len(out)-1]; len(nodes) > 0 {
		nodes[0].In = last.In
	}
	return nodes, at
}

func appendNew(list []int, v int) []int {
	if slices.Contains(list, v) {
		return list
	}
	return append(list, v)
}

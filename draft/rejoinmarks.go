package draft

import (
	"cmp"
	"slices"

	"hemlet/geom"
)

// marks gives the whole the marks of both halves. lin leads from the edges of the piece
// that was cut to those of the whole.
func (j *joining) marks(p *Piece, lin Lineage) {
	sides := [2]*Piece{j.left.piece, j.right.piece}
	p.Notches, p.Stretches, p.Spans = nil, nil, nil
	for _, q := range sides {
		for _, n := range q.Notches {
			if m, ok := followNotch(q, p, n, j.lin); ok && p.hasEdge(m.Edge) { // the cut is gone with its notches
				p.Notches = append(p.Notches, m)
			}
		}
		p.Stretches = append(p.Stretches, q.Stretches...)
		for _, s := range q.Spans {
			if s, ok := j.span(p, s, j.lin); ok {
				p.Spans = append(p.Spans, s)
			}
		}
	}
	p.Stretches = slices.DeleteFunc(followStretches(p, j.lin), func(s Stretch) bool { return !p.hasEdge(s.Edge) })
	j.mergeStretches(p)
	p.Lines = j.lines()
	p.Spans = slices.DeleteFunc(p.Spans, func(s Span) bool {
		return slices.ContainsFunc(s.Lines, func(id ID) bool { return p.Line(id) == nil })
	})
	p.Grain, p.LabelAt = sides[0].Grain, sides[0].LabelAt
	if p.LabelAt == nil {
		p.LabelAt = sides[1].LabelAt
	}
	if p.Grain == nil {
		p.Grain = sides[1].Grain
	}
	if w := j.left.whole; w != nil {
		j.restore(p, w, lin)
	}
	p.sortMarks(j.left.whole)
}

// span returns the span on the whole, or false where it cannot be measured there.
func (j *joining) span(p *Piece, s Span, lin Lineage) (Span, bool) {
	for _, id := range [2]*ID{&s.From, &s.To} {
		if keep := j.node[*id]; keep != "" {
			*id = keep
		}
		if n, _, _ := p.Node(*id); *id != "" && n == nil {
			return s, false
		}
	}
	run := make(Run, len(s.Edges))
	for i, e := range s.Edges {
		run[i] = EdgeUse{Edge: e}
	}
	moved, err := followRun(run, lin)
	if err != nil {
		return s, false
	}
	s.Edges, s.Lines = nil, slices.Clone(s.Lines)
	for _, u := range moved {
		if !p.hasEdge(u.Edge) {
			return s, false
		}
		s.Edges = append(s.Edges, u.Edge)
	}
	return s, true
}

// mergeStretches makes one of two stretches that met at the cut.
func (j *joining) mergeStretches(p *Piece) {
	slices.SortStableFunc(p.Stretches, func(a, b Stretch) int {
		return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.From, b.From))
	})
	var out []Stretch
	for _, s := range p.Stretches {
		if n := len(out); n > 0 && out[n-1].Edge == s.Edge && out[n-1].Kind == s.Kind && j.meets(out[n-1], s) {
			if w := j.left.whole; w != nil && w.hasStretch(s.ID) {
				out[n-1].ID = s.ID
			}
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	p.Stretches = out
}

// meets reports whether one stretch goes on where the other ends, over new cloth too.
func (j *joining) meets(a, b Stretch) bool {
	if near(a.To, b.From) {
		return true
	}
	for _, heirs := range j.lin {
		for _, h := range heirs {
			if h.Old0 == h.Old1 && h.Edge == a.Edge && near(a.To, h.lowest()) && near(b.From, h.highest()) {
				return true
			}
		}
	}
	return false
}

func (p *Piece) hasStretch(id ID) bool {
	return slices.ContainsFunc(p.Stretches, func(s Stretch) bool { return s.ID == id })
}

// lines returns the lines of both halves; what the cut had divided is one line again.
func (j *joining) lines() []Line {
	list := append(slices.Clone(j.left.piece.Lines), j.right.piece.Lines...)
	ties := j.left.ties
	if j.left.whole == nil {
		ties = j.touching()
	}
	for _, t := range ties {
		list = j.tied(list, t)
	}
	return list
}

// touching returns the ends of lines of the two halves that meet and mean one line.
func (j *joining) touching() []tie {
	var ties []tie
	for _, l := range j.left.piece.Lines {
		for _, r := range j.right.piece.Lines {
			if l.Closed || r.Closed || l.Kind != r.Kind || l.Name != r.Name || len(l.Nodes) < 2 || len(r.Nodes) < 2 {
				continue
			}
			for _, a := range [2]Node{l.Nodes[0], l.Nodes[len(l.Nodes)-1]} {
				for _, b := range [2]Node{r.Nodes[0], r.Nodes[len(r.Nodes)-1]} {
					if a.At.Dist(b.At) <= joinSlack {
						ties = append(ties, tie{a.ID, b.ID})
					}
				}
			}
		}
	}
	return ties
}

// tied joins the two lines whose ends a tie names; where they are one, it is closed.
func (j *joining) tied(list []Line, t tie) []Line {
	find := func(id ID) int {
		return slices.IndexFunc(list, func(l Line) bool {
			return !l.Closed && len(l.Nodes) > 1 && (l.Nodes[0].ID == id || l.Nodes[len(l.Nodes)-1].ID == id)
		})
	}
	a, b := find(t.left), find(t.right)
	if a < 0 || b < 0 {
		return list
	}
	// The line that ends at the tie comes first.
	if list[a].Nodes[0].ID == t.left && a != b {
		a, b, t.left, t.right = b, a, t.right, t.left
	}
	if a == b {
		list[a] = j.closedLine(list[a])
		return list
	}
	first, second := list[a], list[b]
	if first.Nodes[len(first.Nodes)-1].ID != t.left {
		first.Nodes = reversedNodes(first.Nodes)
	}
	if second.Nodes[0].ID != t.right {
		second.Nodes = reversedNodes(second.Nodes)
	}
	one := first
	// It is the line that it was before it was cut, else the one of the left half.
	was := j.left.whole
	if was == nil {
		was = j.left.piece
	}
	if was.Line(second.ID) != nil && was.Line(first.ID) == nil {
		one.ID = second.ID
	}
	one.Nodes = joinNodes(first.Nodes, second.Nodes)
	if first.Row != nil && second.Row != nil {
		row := *first.Row
		row.Count = min(row.Count+second.Row.Count, MaxCount)
		row.Last = second.Row.Last
		one.Row = &row
	}
	list[a] = one
	return slices.Delete(list, b, b+1)
}

// closedLine returns a line whose two ends meet as a closed one.
func (j *joining) closedLine(l Line) Line {
	n := len(l.Nodes) - 1
	if n < 2 || l.Nodes[0].At.Dist(l.Nodes[n].At) > joinSlack {
		return l
	}
	nodes := slices.Clone(l.Nodes[:n])
	nodes[0].In = l.Nodes[n].In
	nodes[0].Smooth = smoothAt(nodes[n-1], nodes[0], nodes[1])
	if out, in, ok := undivided(segment(nodes[n-1], nodes[0]), segment(nodes[0], nodes[1])); ok && n > 2 {
		nodes[n-1].Out, nodes[1].In = out, in
		nodes = nodes[1:]
	}
	l.Nodes, l.Closed = nodes, true
	return l
}

// joinNodes returns the nodes of two lines one after the other; ends that meet are one
// node, which goes where the line is the same without it.
func joinNodes(a, b []Node) []Node {
	out := slices.Clone(a)
	b = slices.Clone(b)
	last := &out[len(out)-1]
	if last.At.Dist(b[0].At) > joinSlack {
		last.Out, b[0].In, last.Smooth, b[0].Smooth = geom.Point{}, geom.Point{}, false, false
		return append(out, b...)
	}
	last.Out = b[0].Out
	if len(out) < 2 || len(b) < 2 {
		return append(out, b[1:]...)
	}
	before := &out[len(out)-2]
	if o, in, ok := undivided(segment(*before, *last), segment(*last, b[1])); ok {
		before.Out, b[1].In = o, in
		return append(out[:len(out)-1], b[1:]...)
	}
	last.Smooth = smoothAt(*before, *last, b[1])
	return append(out, b[1:]...)
}

// smoothAt reports whether the line goes on smoothly at n, from a to b.
func smoothAt(a, n, b Node) bool {
	if n.In == (geom.Point{}) && n.Out == (geom.Point{}) {
		return false
	}
	u, v := segment(a, n).Tangent(1), segment(n, b).Tangent(0)
	cross := u.Cross(v)
	return u.Dot(v) > 0 && max(cross, -cross) < rejoinTurn
}

// reversedNodes returns the nodes of the line run the other way.
func reversedNodes(nodes []Node) []Node {
	out := slices.Clone(nodes)
	slices.Reverse(out)
	for i := range out {
		out[i].In, out[i].Out = out[i].Out, out[i].In
	}
	return out
}

// restore gives the whole again what neither half could keep.
func (j *joining) restore(p, w *Piece, lin Lineage) {
	for _, s := range w.Spans {
		if slices.ContainsFunc(p.Spans, func(o Span) bool { return o.ID == s.ID }) {
			continue
		}
		lost := slices.ContainsFunc(s.Lines, func(id ID) bool { return p.Line(id) == nil })
		if s, ok := j.span(p, s, lin); ok && !lost {
			p.Spans = append(p.Spans, s)
		}
	}
	for i := range p.Lines {
		if was := w.Line(p.Lines[i].ID); was != nil && was.Row != nil {
			row := *was.Row
			p.Lines[i].Row = &row
		}
	}
	if w.Grain == nil {
		return
	}
	for _, h := range [2]half{j.left, j.right} {
		if h.ownGrain {
			p.Grain = h.piece.Grain
			return
		}
	}
	g := *w.Grain
	p.Grain = &g
}

// sortMarks puts the marks in the order that they have in another piece; what that does
// not have comes last.
func (p *Piece) sortMarks(as *Piece) {
	if as == nil {
		return
	}
	place := make(map[ID]int)
	as.eachID(func(id ID) { place[id] = len(place) - (1 << 30) })
	slices.SortStableFunc(p.Notches, func(a, b Notch) int { return cmp.Compare(place[a.ID], place[b.ID]) })
	slices.SortStableFunc(p.Darts, func(a, b Dart) int { return cmp.Compare(place[a.ID], place[b.ID]) })
	slices.SortStableFunc(p.Lines, func(a, b Line) int { return cmp.Compare(place[a.ID], place[b.ID]) })
	slices.SortStableFunc(p.Spans, func(a, b Span) int { return cmp.Compare(place[a.ID], place[b.ID]) })
	slices.SortStableFunc(p.Stretches, func(a, b Stretch) int { return cmp.Compare(place[a.ID], place[b.ID]) })
}

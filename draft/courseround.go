package draft

// courses follows the outlines of sewn pieces from one to the next: where an edge ends
// at a seam, what goes on is the edge beyond the seam.
type courses struct {
	g *suggester
	// next is the edge use that follows on the same bit of cloth, both run
	// counter-clockwise as it lies right side up.
	next map[EdgeUse]EdgeUse
	// seams are where each use is sewn, by the use run either way.
	sewn map[EdgeUse]seamPlace
	// free are the uses of edges that are sewn to nothing, and entered those that
	// follow another of them.
	free    []EdgeUse
	edges   map[edgeKey]*freeEdge
	entered map[EdgeUse]bool
}

// seamPlace is where a use lies in a seam.
type seamPlace struct {
	run, other Run
	index      int
	name       string
}

func newCourses(g *suggester) *courses {
	c := &courses{
		g: g, next: make(map[EdgeUse]EdgeUse), sewn: make(map[EdgeUse]seamPlace),
		edges: make(map[edgeKey]*freeEdge), entered: make(map[EdgeUse]bool),
	}
	for _, f := range g.free {
		if !g.taken[f.key()] && f.line.round() {
			c.edges[f.key()] = f
		}
	}
	for _, piece := range g.p.Pieces {
		c.lay(piece)
	}
	for _, seam := range g.p.Seams {
		c.sew(seam.A, seam.B, seam.BothSides, g.joinName(seam.A[0], seam.label()))
	}
	for _, sg := range g.found {
		c.sew(sg.A, sg.B, sg.BothSides, g.joinName(sg.A[0], g.p.edgeName(sg.A[0])))
	}
	for _, u := range c.free {
		if v, _, ok := c.after(u); ok {
			c.entered[v] = true
		}
	}
	return c
}

// lay notes how the edges of the first copy of a piece follow each other, and of its
// mirror image.
func (c *courses) lay(piece *Piece) {
	fold := piece.FoldEdge()
	n := len(piece.Edges)
	var ring []EdgeUse
	for k := range n {
		i := (fold + 1 + k) % n
		if i != fold {
			ring = append(ring, EdgeUse{Piece: piece.ID, Copy: CopyRef{Number: 1}, Edge: piece.Edges[i].ID})
		}
	}
	switch {
	case fold >= 0:
		for i := len(ring) - 1; i >= 0; i-- {
			u := ring[i]
			u.Half, u.Reversed = Far, true
			ring = append(ring, u)
		}
	case piece.Cut.Way == CutPairs:
		var left []EdgeUse
		for i := len(ring) - 1; i >= 0; i-- {
			u := ring[i]
			u.Copy.Mirrored, u.Reversed = true, true
			left = append(left, u)
		}
		defer c.close(left) // after the right
	}
	c.close(ring)
}

func (c *courses) close(ring []EdgeUse) {
	for i, u := range ring {
		c.next[u] = ring[(i+1)%len(ring)]
		if c.edges[edgeKey{u.Piece, u.Edge}] != nil {
			c.free = append(c.free, u)
		}
	}
}

// sew notes a seam, on both sides of the body where it stands for both.
func (c *courses) sew(a, b Run, both bool, name string) {
	note := func(run, other Run) {
		for i, u := range run {
			place := seamPlace{run, other, i, name}
			c.sewn[u] = place
			u.Reversed = !u.Reversed
			c.sewn[u] = place
		}
	}
	note(a, b)
	note(b, a)
	if !both {
		return
	}
	ma, okA := c.g.p.mirrored(a)
	mb, okB := c.g.p.mirrored(b)
	if okA && okB {
		note(ma, mb)
		note(mb, ma)
	}
}

// after returns the free edge that follows a use over a seam, and the seam's name; false
// where the line ends.
func (c *courses) after(u EdgeUse) (EdgeUse, string, bool) {
	if v, ok := c.next[u]; ok && v.Edge == u.Edge && v.Half != u.Half && !c.isSewn(v) {
		piece := c.g.p.Piece(u.Piece)
		fold := &piece.Edges[piece.FoldEdge()]
		return v, c.g.joinName(EdgeUse{Piece: piece.ID, Copy: CopyRef{Number: 1}, Edge: fold.ID}, fold.Name), true
	}
	f, name := u, ""
	const most = 64 // seams that meet at one corner
	for range most {
		v, ok := c.next[f]
		if !ok {
			return EdgeUse{}, "", false
		}
		place, sewn := c.sewn[v]
		if !sewn {
			if name == "" || !c.goesOn(u, v) {
				return EdgeUse{}, "", false
			}
			return v, name, true
		}
		if name == "" {
			name = place.name
		}
		if f, ok = place.beyond(v); !ok {
			return EdgeUse{}, "", false
		}
	}
	return EdgeUse{}, "", false
}

func (c *courses) isSewn(u EdgeUse) bool {
	_, yes := c.sewn[u]
	return yes
}

// beyond returns the use, run counter-clockwise, that ends where v starts, on the other
// side of the seam or, in the midst of it, before v on the same side.
func (s seamPlace) beyond(v EdgeUse) (EdgeUse, bool) {
	ccw := func(u EdgeUse) EdgeUse {
		u.Reversed = !u.Reversed
		return u
	}
	if s.run[s.index].Reversed == v.Reversed { // the run goes as v does: v starts where it is reached
		if s.index > 0 {
			return s.run[s.index-1], s.run[s.index-1].forward()
		}
		first := s.other[0]
		return ccw(first), !first.forward()
	}
	if s.index < len(s.run)-1 {
		following := s.run[s.index+1]
		return ccw(following), !following.forward()
	}
	last := s.other[len(s.other)-1]
	return last, last.forward()
}

// goesOn reports whether an edge is of one line with another that it follows, and the
// line does not turn sharply between them.
func (c *courses) goesOn(u, v EdgeUse) bool {
	a, b := c.edges[edgeKey{u.Piece, u.Edge}], c.edges[edgeKey{v.Piece, v.Edge}]
	if a == nil || b == nil || a.line != b.line {
		return false
	}
	out, in := a.ends, b.starts
	if u.Reversed {
		out = a.starts
	}
	if v.Reversed {
		in = b.ends
	}
	return offStraight(out+in) <= roundTurn
}

// starts lists the uses from which lines are followed: those that follow no other first,
// and those of rings after them.
func (c *courses) starts() []EdgeUse {
	var open, closed []EdgeUse
	for _, u := range c.free {
		if c.entered[u] {
			closed = append(closed, u)
		} else {
			open = append(open, u)
		}
	}
	return append(open, closed...)
}

// follow returns the line from a use on, nil where it comes back to somewhere in its own
// midst.
func (c *courses) follow(start EdgeUse) *roundRun {
	first := c.edges[edgeKey{start.Piece, start.Edge}]
	r := &roundRun{line: first.line, joins: []string{""}}
	seen := make(map[EdgeUse]bool)
	for u := start; ; {
		seen[u] = true
		r.run = append(r.run, u)
		r.length += c.edges[edgeKey{u.Piece, u.Edge}].length
		v, name, ok := c.after(u)
		switch {
		case !ok:
			if c.entered[start] {
				return nil // the tail of a line that is followed from its start
			}
			return r
		case v == start:
			r.closed, r.joins[0] = true, name
			return r
		case seen[v]:
			return nil
		}
		r.joins = append(r.joins, name)
		u = v
	}
}

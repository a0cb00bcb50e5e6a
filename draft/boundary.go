package draft

import "slices"

// cornerUse is one corner of one half of one copy of a piece. On the fold the two
// halves have one corner.
type cornerUse struct {
	piece ID
	copy  CopyRef
	half  Half
	node  ID
}

// sewnCorners tells which corners lie on one another once all seams are sewn.
type sewnCorners struct {
	project *Project
	to      map[cornerUse]cornerUse
}

// newSewnCorners lays the ends of the two sides of every seam on one another. Seams
// that open are left open.
func newSewnCorners(p *Project) *sewnCorners {
	c := &sewnCorners{project: p, to: make(map[cornerUse]cornerUse)}
	for _, s := range p.Seams {
		if s.Opens {
			continue
		}
		c.sew(s.A, s.B)
		if !s.BothSides {
			continue
		}
		a, okA := p.mirrored(s.A)
		b, okB := p.mirrored(s.B)
		if okA && okB {
			c.sew(a, b)
		}
	}
	return c
}

func (c *sewnCorners) sew(a, b Run) {
	if len(a) == 0 || len(b) == 0 {
		return
	}
	c.join(c.start(a[0]), c.start(b[0]))
	c.join(c.end(a[len(a)-1]), c.end(b[len(b)-1]))
	// What meets inside a side meets there too.
	for _, run := range []Run{a, b} {
		for i := 1; i < len(run); i++ {
			if run[i-1].Piece != run[i].Piece || run[i-1].Copy != run[i].Copy {
				c.join(c.end(run[i-1]), c.start(run[i]))
			}
		}
	}
}

func (c *sewnCorners) find(k cornerUse) cornerUse {
	for {
		up, ok := c.to[k]
		if !ok || up == k {
			return k
		}
		k = up
	}
}

func (c *sewnCorners) join(a, b cornerUse) {
	if a, b = c.find(a), c.find(b); a != b {
		c.to[a] = b
	}
}

// start returns the corner at which a use begins, end the one at which it ends.
func (c *sewnCorners) start(u EdgeUse) cornerUse { return c.corner(u, u.Reversed) }
func (c *sewnCorners) end(u EdgeUse) cornerUse   { return c.corner(u, !u.Reversed) }

// corner returns the corner at which the edge of a use starts or, with last, ends.
func (c *sewnCorners) corner(u EdgeUse, last bool) cornerUse {
	k := cornerUse{u.Piece, u.Copy, u.Half, ""}
	piece := c.project.Piece(u.Piece)
	if piece == nil {
		return k
	}
	_, i := piece.Edge(u.Edge)
	if i < 0 {
		return k
	}
	if last {
		i = (i + 1) % len(piece.Edges)
	}
	k.node = piece.Edges[i].Nodes[0].ID
	if f := piece.FoldEdge(); f >= 0 && (i == f || i == (f+1)%len(piece.Edges)) {
		k.half = Near
	}
	return k
}

// meet reports whether b begins where a ends.
func (c *sewnCorners) meet(a, b EdgeUse) bool { return c.find(c.end(a)) == c.find(c.start(b)) }

// ring reports whether a run ends where it begins.
func (c *sewnCorners) ring(r Run) bool { return len(r) > 0 && c.meet(r[len(r)-1], r[0]) }

// chained puts the uses of a row of edges, as a person names them, one behind the
// other: each is turned, and where nothing was said of its copy taken mirrored, so that
// it begins where the one before it ends. It returns the use that does not meet the one
// before, or nil.
func (c *sewnCorners) chained(row Run) (Run, *EdgeUse) {
	var stuck *EdgeUse
	for _, first := range []EdgeUse{row[0], row[0].turned()} {
		run := Run{first}
		var missed *EdgeUse
		for _, u := range row[1:] {
			next, ok := c.next(run[len(run)-1], u)
			if !ok {
				missed = &u
				break
			}
			run = append(run, next)
		}
		if missed == nil {
			return run, nil
		}
		if stuck == nil {
			stuck = missed
		}
	}
	return nil, stuck
}

// next returns the use of u's edge that begins where a use ends.
func (c *sewnCorners) next(last, u EdgeUse) (EdgeUse, bool) {
	tries := []EdgeUse{u, u.turned()}
	plain := u
	plain.Reversed = false
	if plain.asDrawn() {
		if m, ok := c.project.mirrored(Run{u}); ok {
			tries = append(tries, m[0], m[0].turned())
		}
	}
	for _, t := range tries {
		if c.meet(last, t) {
			return t, true
		}
	}
	return u, false
}

// turned returns the use run the other way.
func (u EdgeUse) turned() EdgeUse {
	u.Reversed = !u.Reversed
	return u
}

// whole returns the run with its mirror image on the other side of the body, where the
// two meet; twice says that they do not, so that what is sewn to the run is sewn twice.
func (c *sewnCorners) whole(r Run) (run Run, twice bool) {
	mirror, ok := c.project.mirrored(r)
	if !ok || c.ring(r) && !overlaps(r, mirror) {
		return r, ok
	}
	if overlaps(r, mirror) {
		return r, false
	}
	back := mirror.reversed()
	switch {
	case c.meet(r[len(r)-1], back[0]):
		return append(slices.Clone(r), back...), false
	case c.meet(back[len(back)-1], r[0]):
		return append(slices.Clone(back), r...), false
	}
	return r, true
}

// overlaps reports whether two runs have an edge use in common, in either direction.
func overlaps(a, b Run) bool {
	for _, u := range a {
		if slices.Contains(b, u) || slices.Contains(b, u.turned()) {
			return true
		}
	}
	return false
}

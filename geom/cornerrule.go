package geom

// byRule joins by any rule but Mitre; false where the rule finds no place, so
// that the corner is mitred as it was before.
func (c *corner) byRule() bool {
	undo := c.save()
	done := false
	switch c.b.rule {
	case Square:
		done = c.squareB()
	case SquareBefore:
		done = c.squareA()
	case TurnedBack, TurnedBackBefore:
		if c.hemIsB() {
			done = c.turnB()
		} else {
			done = c.turnA()
		}
	}
	if !done {
		undo()
	}
	return done
}

// save returns a function that puts both segments back as they are now.
func (c *corner) save() func() {
	a, b, joins := *c.a, *c.b, len(c.ws.joins)
	return func() {
		*c.a, *c.b = a, b
		c.ws.joins = c.ws.joins[:joins]
	}
}

// hemIsB reports whether the edge that starts at the corner is the hem.
func (c *corner) hemIsB() bool {
	ha, hb := c.ws.edges[c.a.edge].Hem, c.ws.edges[c.b.edge].Hem
	if ha != hb {
		return hb
	}
	if c.b.w0 == c.a.w1 {
		return c.b.rule == TurnedBack
	}
	return c.b.w0 > c.a.w1
}

// runOn returns the line from the corner along u, as far as a mitre may reach.
func (c *corner) runOn(u Point) Segment {
	return Line(c.vertex(), c.vertex().Add(u.Mul(c.reach())))
}

// endOnLine lets a's parallel end on the line, trimmed or run on along its
// tangent; false if it does not meet it.
func (c *corner) endOnLine(l Segment) bool {
	if c.a.w1 == 0 {
		return true // it ends at the corner, where the line starts
	}
	ray := Line(c.a.p1, c.a.p1.Add(c.a.d1.Mul(c.reach())))
	if p, ok := meetLines(ray, l); ok {
		c.extendA(p)
		if c.a.p1 != p {
			c.linesOf(c.a.edge, c.a.p1, p)
			c.a.p1 = p
		}
		return true
	}
	hit, ok := c.ws.lastHit(c.a, l)
	if ok {
		c.endAt(hit)
	}
	return ok
}

// startOnLine lets b's parallel start on the line; the lead is the straight
// piece before it that is still to be added, from p.
func (c *corner) startOnLine(l Segment) (p Point, ok bool) {
	if c.b.w0 == 0 {
		return c.vertex(), true
	}
	ray := Line(c.b.p0, c.b.p0.Sub(c.b.d0.Mul(c.reach())))
	if p, ok := meetLines(ray, l); ok {
		c.extendB(p)
		return p, true
	}
	hit, ok := c.ws.firstHit(c.b, l)
	if ok {
		c.startAt(hit)
	}
	return hit.p, ok
}

// meetLines returns where two straight segments meet.
func meetLines(s, l Segment) (Point, bool) {
	ts := meetLine(s, l)
	if len(ts) == 0 {
		return Point{}, false
	}
	return s.At(ts[0]), true
}

// squareB cuts b's allowance off square where its stitching line, run back
// through a's allowance, meets a's cut line.
func (c *corner) squareB() bool {
	if !c.endOnLine(c.runOn(c.b.t0.Mul(-1))) {
		return false
	}
	x := c.a.p1
	out := c.b.t0.Left().Mul(-1)
	p, ok := c.startOnLine(Line(x, x.Add(out.Mul(2*c.reach()))))
	if !ok {
		p = c.b.p0
	}
	c.linesOf(c.b.edge, x, p, c.b.p0)
	return true
}

// squareA cuts a's allowance off square where its stitching line, run on through
// b's allowance, meets b's cut line.
func (c *corner) squareA() bool {
	y, ok := c.startOnLine(c.runOn(c.a.t1))
	if !ok {
		return false
	}
	out := c.a.t1.Left().Mul(-1)
	c.endOnLine(Line(y, y.Add(out.Mul(2*c.reach())))) // else from where it ends
	c.lines(c.a.p1, y, c.b.p0)
	return true
}

// turnB mirrors a's cut line about b's stitching line, b being the hem.
func (c *corner) turnB() bool {
	fold, ok := Reflection(c.vertex(), c.vertex().Add(c.b.t0))
	if !ok || c.b.w0 == 0 || !c.endOnLine(c.runOn(c.b.t0.Mul(-1))) {
		return false
	}
	image := c.imageOf(c.aBackwards(), fold, c.a.p1)
	far := Line(c.b.p0.Sub(c.b.d0.Mul(c.reach())), c.b.p0)
	image, hit, ok := c.cutImage(image, far, c.b)
	if !ok {
		return false
	}
	c.addImage(image, c.b.edge)
	if hit.piece >= 0 {
		c.startAt(hit)
		return true
	}
	c.extendB(hit.p)
	c.lines(hit.p, c.b.p0)
	return true
}

// turnA mirrors b's cut line about a's stitching line, a being the hem.
func (c *corner) turnA() bool {
	fold, ok := Reflection(c.vertex(), c.vertex().Add(c.a.t1))
	if !ok || c.a.w1 == 0 {
		return false
	}
	start, ok := c.startOnLine(c.runOn(c.a.t1))
	if !ok {
		return false
	}
	image := c.imageOf(c.bForwards(start), fold, start)
	far := Line(c.a.p1, c.a.p1.Add(c.a.d1.Mul(c.reach())))
	image, hit, ok := c.cutImage(image, far, c.a)
	if !ok {
		return false
	}
	if hit.piece >= 0 {
		c.endAt(hit)
	} else {
		c.extendA(hit.p)
		c.linesOf(c.a.edge, c.a.p1, hit.p)
	}
	c.addImage(image.Reverse(), c.a.edge)
	c.lines(start, c.b.p0)
	return true
}

// cutImage ends a mirrored line where it first meets the hem's cut line: its
// extension far, or its pieces (else piece is -1 in the hit). It fails if they do
// not meet as near to the corner as a mitre may reach.
func (c *corner) cutImage(image Path, far Segment, hem *stitchSegment) (Path, pieceHit, bool) {
	limit := c.reach() + image.Start().Dist(c.vertex())
	for i, s := range image {
		t, hit, ok := 0.0, pieceHit{piece: -1}, false
		if ts := meetLine(s, far); len(ts) > 0 {
			t, ok = ts[0], true
			hit.p = s.At(t)
		} else {
			hit, t, ok = c.ws.firstMeeting(hem, s)
		}
		if !ok {
			continue
		}
		if hit.p.Dist(c.vertex()) > limit {
			break
		}
		return append(image[:i:i], s.Between(0, t).withEnd(hit.p)), hit, true
	}
	return nil, pieceHit{}, false
}

func (c *corner) addImage(p Path, edge int) {
	for _, s := range p {
		if s.P0 != s.P3 {
			c.add(s, edge)
		}
	}
}

// aBackwards returns a's cut line from the corner back, with any join already
// added there.
func (c *corner) aBackwards() Path {
	var p Path
	for i := len(c.ws.joins) - 1; i >= c.b.join0; i-- {
		p = append(p, c.ws.joins[i].seg.Reverse())
	}
	last, t := c.a.last-1, 1.0
	if c.a.cutTo {
		last, t = c.a.to.piece, c.a.to.t
	}
	for i := last; i >= c.a.first && !c.ws.pieces[i].hidden; i-- {
		p = append(p, c.ws.pieces[i].seg.Between(t, 0))
		t = 1
	}
	return p
}

// bForwards returns b's cut line from start on.
func (c *corner) bForwards(start Point) Path {
	var p Path
	if start != c.b.p0 {
		p = append(p, Line(start, c.b.p0))
	}
	first, t := c.b.first, 0.0
	if c.b.cutFrom {
		first, t = c.b.from.piece, c.b.from.t
	}
	for i := first; i < c.b.last && !c.ws.pieces[i].hidden; i++ {
		p = append(p, c.ws.pieces[i].seg.Between(t, 1))
		t = 0
	}
	return p
}

// imageOf mirrors the line and starts it exactly at start. Where it is shorter
// than the hem is deep, it runs on straight.
func (c *corner) imageOf(line Path, fold Affine, start Point) Path {
	image := line.Transform(fold)
	if len(image) == 0 {
		return Path{Line(start, start)}
	}
	image[0] = image[0].withStart(start)
	end := image[len(image)-1]
	if u := end.endDirection(); u != (Point{}) {
		image = append(image, Line(end.P3, end.P3.Add(u.Mul(c.reach()))))
	}
	return image
}

package draft

func (v *inspector) pieces() {
	base := 0
	for i, p := range v.project.Pieces {
		v.enter("pieces", i, "piece", p.Name)
		v.piece = p
		v.bear(p.ID, "piece")
		v.drawn(p)
		v.piece = nil
		if p.Derived != nil {
			base += v.derived(p.Derived)
		}
		if base > MaxNodes {
			v.failf("the outlines as they were generated have more than %d nodes together", MaxNodes)
		}
		v.leave()
		if v.err != nil {
			return
		}
	}
}

func (v *inspector) drawn(p *Piece) {
	v.text("name", p.Name)
	v.text("garment", p.Garment)
	v.text("note", p.Note)
	if p.Origin != "" && !v.has(p.Origin, "origin", nil) {
		v.failf("there is no origin %q", p.Origin)
	}
	if p.Cloth != "" && !v.has(p.Cloth, "cloth", nil) {
		v.failf("there is no cloth %q", p.Cloth)
	}
	v.word("layer", p.Layer.MarshalText)
	v.word("way to cut", p.Cut.Way.MarshalText)
	if p.Cut.Count < 1 || p.Cut.Count > MaxCount {
		v.failf("it is cut %d times; it must be 1 to %d", p.Cut.Count, MaxCount)
	}
	v.grain(p.Grain)
	if p.LabelAt != nil {
		v.point("place of the label", *p.LabelAt)
	}
	v.point("place on the bench", p.Place.At)
	v.number("turn on the bench", p.Place.Turn, -maxTurn, maxTurn)
	v.number("opacity of the ghost", p.Ghost, 0, 1)
	v.edges("edges", p.Edges, v.bear)
	v.lines(p.Lines, v.bear)
	if v.err != nil {
		return // what follows reads the outline
	}
	v.darts(p)
	v.notches(p)
	v.spans(p)
	v.treated(p)
}

func (v *inspector) grain(g *Grain) {
	if g == nil {
		return
	}
	v.point("start of the grain line", g.From)
	v.point("end of the grain line", g.To)
	if g.From == g.To {
		v.failf("the grain line has no direction; its two ends must differ")
	}
}

func (v *inspector) edges(key string, edges []Edge, bear func(ID, string)) {
	if len(edges) == 0 {
		v.failf("there is no outline: at least one edge is needed")
	}
	for i := range edges {
		e := &edges[i]
		v.enter(key, i, "edge", e.Name)
		bear(e.ID, "edge")
		v.text("name", e.Name)
		v.word("kind", e.Kind.MarshalText)
		v.length("allowance at the start", e.Allowance.Start)
		v.length("allowance at the end", e.Allowance.End)
		v.length("width to trim to", e.Allowance.TrimTo)
		v.word("corner rule", e.Corner.MarshalText)
		v.text("passes", e.Passes)
		if len(e.Nodes) == 0 {
			v.failf("the edge has no node; it needs at least the corner at which it starts")
		}
		v.nodes("nodes", e.Nodes, bear)
		v.leave()
	}
}

func (v *inspector) lines(lines []Line, bear func(ID, string)) {
	for i := range lines {
		l := &lines[i]
		v.enter("lines", i, "line", l.Name)
		bear(l.ID, "line")
		v.text("name", l.Name)
		v.word("kind", l.Kind.MarshalText)
		n := len(l.Nodes)
		switch {
		case n == 0:
			v.failf("the line has no node")
		case l.Kind.Point() && n != 1:
			v.failf("a point that is marked has one node, this one %d", n)
		case !l.Kind.Point() && n == 1 && !l.Closed:
			v.failf("the line has one node; it needs at least two")
		}
		v.row(l)
		v.nodes("nodes", l.Nodes, bear)
		v.leave()
	}
}

func (v *inspector) darts(p *Piece) {
	if len(p.Darts) == 0 {
		return
	}
	stretches := p.stretches()
	gaps := make(map[ID]bool, len(p.Darts))
	for i, d := range p.Darts {
		v.enter("darts", i, "dart", d.Name)
		v.dartItself(d, v.bear)
		if !v.has(d.Edge, "edge", p) {
			v.failf("the piece has no edge %q", d.Edge)
		} else if stretches[d.From] != (stretch{d.Edge, d.To}) {
			v.failf("its mouth nodes %q and %q do not follow each other on edge %q", d.From, d.To, d.Edge)
		}
		if gaps[d.From] {
			v.failf("another dart opens at node %q", d.From)
		}
		gaps[d.From] = true
		v.leave()
	}
}

// dartItself inspects what a dart says without what it points at.
func (v *inspector) dartItself(d Dart, bear func(ID, string)) {
	bear(d.ID, "dart")
	v.text("name", d.Name)
	v.word("way to press", d.Press.MarshalText)
	v.word("fold", d.Fold.MarshalText)
	v.point("apex", d.Apex)
}

// stretch is the edge that goes on from a node, and the next node.
type stretch struct{ edge, next ID }

// stretches returns the stretch that starts at each node of the outline.
func (p *Piece) stretches() map[ID]stretch {
	m := make(map[ID]stretch)
	for i := range p.Edges {
		nodes := p.EdgeNodes(i)
		for k := 1; k < len(nodes); k++ {
			m[nodes[k-1].ID] = stretch{p.Edges[i].ID, nodes[k].ID}
		}
	}
	return m
}

func (v *inspector) notches(p *Piece) {
	for i, n := range p.Notches {
		v.enter("notches", i, "notch", string(n.ID))
		v.notchItself(n, v.bear)
		if !v.has(n.Edge, "edge", p) {
			v.failf("the piece has no edge %q", n.Edge)
		}
		if n.Mark != "" && !v.project.marks(n.Mark, p.ID, n.Edge) {
			v.failf("no seam along edge %q has a mark %q", n.Edge, n.Mark)
		}
		v.leave()
	}
}

func (v *inspector) notchItself(n Notch, bear func(ID, string)) {
	bear(n.ID, "notch")
	v.word("shape", n.Shape.MarshalText)
	if n.Share {
		v.number("share of the edge", n.At, 0, 1)
	} else {
		v.length("distance along the edge", n.At)
	}
}

func (v *inspector) spans(p *Piece) {
	for i, s := range p.Spans {
		v.enter("spans", i, "span", s.Name)
		v.spanItself(s, v.bear)
		for _, id := range s.Edges {
			if !v.has(id, "edge", p) {
				v.failf("the piece has no edge %q", id)
			}
		}
		for _, id := range s.Lines {
			if !v.has(id, "line", p) {
				v.failf("the piece has no line %q", id)
			}
		}
		if len(s.Edges)+len(s.Lines) == 0 || s.From != "" || s.To != "" {
			v.spanEnd(p, s.From)
			v.spanEnd(p, s.To)
		}
		v.leave()
	}
}

func (v *inspector) spanItself(s Span, bear func(ID, string)) {
	bear(s.ID, "span")
	v.word("way to measure", s.Way.MarshalText)
	v.text("name", s.Name)
	v.text("measure", s.Measure)
	if s.Measure == "" {
		v.number("share of the measure", s.Share, 0, maxShare)
	} else {
		v.positive("share of the measure", s.Share, maxShare)
	}
	v.number("ease", s.Ease, -MaxCoordinate, MaxCoordinate)
}

func (v *inspector) spanEnd(p *Piece, id ID) {
	if !v.has(id, "node", p) {
		v.failf("the piece has no node %q; a span needs edges or lines, or two nodes between which it runs", id)
	}
}

package draft

// keepMeasured has the spans of the pieces that an act has changed measure from points that
// are there: where an act has put another point in the place of one, from that. A span for
// which there is none goes with its point, and that is told.
func (o *Outcome) keepMeasured(before *Project) {
	old := make(map[*Piece]bool, len(before.Pieces))
	for _, piece := range before.Pieces {
		old[piece] = true
	}
	next := o.Project
	for i, piece := range o.Project.Pieces {
		if old[piece] || !piece.lacksPoint() {
			continue
		}
		if next == o.Project {
			next = o.Project.shallow()
			next.Pieces = append([]*Piece(nil), next.Pieces...)
		}
		next.Pieces[i] = o.withMeasured(piece, before.Piece(piece.ID))
	}
	o.Project = next
}

// lacksPoint reports whether a span of the piece runs between points that are not there.
func (p *Piece) lacksPoint() bool {
	for _, s := range p.Spans {
		if p.measurable(s) != nil {
			return true
		}
	}
	return false
}

// withMeasured returns a piece with those of its spans that can be measured; was is what
// it was before, or nil.
func (o *Outcome) withMeasured(p, was *Piece) *Piece {
	q := p.clone()
	spans := q.Spans[:0]
	for _, s := range q.Spans {
		s.From, s.To = q.standIn(s.From, was), q.standIn(s.To, was)
		if q.measurable(s) == nil && (s.From == "" || s.From != s.To) {
			spans = append(spans, s)
			continue
		}
		o.say("%s: the length %s was measured from a point that is gone, and is no longer measured.", q.label(), labelOf(s.Name, s.ID))
	}
	q.Spans = orNil(spans)
	return q
}

// standIn returns the point that stands in for one that is gone: the one in the same place,
// to the grid. It returns id itself where that is there, or nothing stands in for it.
func (p *Piece) standIn(id ID, was *Piece) ID {
	if id == "" || was == nil || p.AnyNode(id) != nil {
		return id
	}
	gone := was.AnyNode(id)
	if gone == nil {
		return id
	}
	near := func(nodes []Node) ID {
		for _, n := range nodes {
			if n.At.Dist(gone.At) < 2*Grid {
				return n.ID
			}
		}
		return ""
	}
	for i := range p.Edges {
		if n := near(p.Edges[i].Nodes); n != "" {
			return n
		}
	}
	for i := range p.Lines {
		if n := near(p.Lines[i].Nodes); n != "" {
			return n
		}
	}
	return id
}

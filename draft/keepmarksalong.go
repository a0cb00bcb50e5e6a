package draft

// marksAlong are where the notches and stretches of a piece lie, before edges change their
// lengths: the length of each edge in mm.
type marksAlong map[ID]float64

// marksAlong returns the lengths of the edges as they are.
func (p *Piece) marksAlong() marksAlong {
	lengths := make(marksAlong, len(p.Edges))
	for i := range p.Edges {
		lengths[p.Edges[i].ID] = p.EdgeLength(i)
	}
	return lengths
}

// keepMarksAlong leaves the notches of edge i at the share of its length at which they
// were.
func (p *Piece) keepMarksAlong(i int, was marksAlong) {
	e := &p.Edges[i]
	now, before := p.EdgeLength(i), was[e.ID]
	if !(before > 0) {
		return
	}
	for k := range p.Notches {
		if n := &p.Notches[k]; n.Edge == e.ID && !n.Share {
			n.At = toGrid(n.At / before * now)
		}
	}
}

// keepMarksFrom leaves the notches and stretches of edge i where they are on the cloth, once
// the edge has become longer or shorter at an end. What lay on a part that is gone comes to
// the end.
func (p *Piece) keepMarksFrom(i int, end EdgeEnd, was marksAlong) {
	e := &p.Edges[i]
	now, before := p.EdgeLength(i), was[e.ID]
	if !(before > 0 && now > 0) {
		return
	}
	// moved returns where a place lies now, both in mm from the start.
	moved := func(at float64) float64 {
		if end == EdgeStart {
			at += now - before
		}
		return min(max(at, 0), now)
	}
	for k := range p.Notches {
		n := &p.Notches[k]
		if n.Edge != e.ID {
			continue
		}
		at := moved(n.Along(before))
		if n.FromEnd {
			at = now - at
		}
		if n.Share {
			n.At = clampShare(at / now)
		} else {
			n.At = toGrid(at)
		}
	}
	kept := p.Stretches[:0]
	for _, s := range p.Stretches {
		if s.Edge == e.ID {
			s.From, s.To = clampShare(moved(s.From*before)/now), clampShare(moved(s.To*before)/now)
		}
		if s.From < s.To {
			kept = append(kept, s)
		}
	}
	p.Stretches = kept
}

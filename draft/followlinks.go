package draft

import "slices"

// followLinks lets links follow what an act has done to their parents before their
// pieces are made anew: what a link says of edges is said of their heirs. A link whose
// parent is gone, or is another piece by now, is taken away, and its piece stays as it
// is.
func (o *Outcome) followLinks(before *Project) {
	gone := make(map[ID]bool)
	var changed []*Derivation
	for i, d := range o.Project.Derivations {
		if d.Kind != pieceKind || before.Derivation(d.ID) == nil {
			continue
		}
		if o.restructured(before, d) || before.hasPieces(d.ID) && !o.Project.hasPieces(d.ID) {
			gone[d.ID] = true
			continue
		}
		how, err := readRecipe(d.Settings)
		lin := o.lineageIn(before, d)
		if err != nil || len(lin) == 0 {
			continue
		}
		if next, yes := how.follow(lin); yes {
			if changed == nil {
				changed = slices.Clone(o.Project.Derivations)
			}
			changed[i] = d.withRecipe(next)
		}
	}
	if changed == nil && len(gone) == 0 {
		return
	}
	next := o.Project.shallow()
	if changed != nil {
		next.Derivations = changed
	}
	o.Project = next
	// What reads a link that goes, goes too: again until none is left.
	for n := -1; n != len(gone); {
		n = len(gone)
		for _, d := range next.Derivations {
			if readsAny(d, gone) {
				gone[d.ID] = true
			}
		}
	}
	if len(gone) > 0 {
		o.freeFrom(gone)
	}
}

// lineageIn returns what the act has done to the edges of the parent of a link, nil for
// nothing. Heirs stay in the parent.
func (o *Outcome) lineageIn(before *Project, d *Derivation) Lineage {
	parent := before.parentOf(d)
	if parent == nil {
		return nil
	}
	var out Lineage
	for i := range parent.Edges {
		id := parent.Edges[i].ID
		heirs, changed := o.Lineage[id]
		if !changed {
			heirs, changed = o.followed[id]
		}
		if !changed {
			continue
		}
		if out == nil {
			out = Lineage{}
		}
		out[id] = nil
		for _, h := range heirs {
			h.Piece = ""
			out[id] = append(out[id], h)
		}
	}
	return out
}

// hasPieces reports whether a piece follows the derivation.
func (p *Project) hasPieces(derivation ID) bool {
	return slices.ContainsFunc(p.Pieces, func(q *Piece) bool { return q.Derived != nil && q.Derived.Derivation == derivation })
}

// restructured reports whether the parent of a link is gone, or is no longer the piece
// that the link was made from: an act has put edges of it into another piece or edges of
// another into it, or has made a half of it or a whole.
func (o *Outcome) restructured(before *Project, d *Derivation) bool {
	parent, old := o.Project.parentOf(d), before.parentOf(before.Derivation(d.ID))
	if old == nil || old == parent {
		return false
	}
	if parent == nil {
		return true
	}
	if o.uses != nil && turnedAround(old, parent) {
		return true
	}
	for _, piece := range before.Pieces {
		for i := range piece.Edges {
			id := piece.Edges[i].ID
			for _, h := range slices.Concat(o.Lineage[id], o.followed[id]) {
				if h.Piece == "" || h.Piece == piece.ID {
					continue
				}
				if h.Piece == parent.ID || piece.ID == parent.ID {
					return true
				}
			}
		}
	}
	return false
}

// turnedAround reports whether uses of the edges of a piece mean something else than
// before: its edges run the other way, or it is cut in another way.
func turnedAround(old, now *Piece) bool {
	if old.Cut.Way != now.Cut.Way {
		return true
	}
	for i := range old.Edges {
		e, k := now.Edge(old.Edges[i].ID)
		if e != nil && e.Nodes[0].ID != old.Edges[i].Nodes[0].ID && now.EdgeNodes(k)[len(now.EdgeNodes(k))-1].ID == old.Edges[i].Nodes[0].ID {
			return true
		}
	}
	return false
}

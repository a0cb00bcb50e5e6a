package draft

// takenIDs returns every id of the project, and every beginning of one that ends
// before a dot or a colon: the stems that a new piece must not have.
func (p *Project) takenIDs() map[ID]bool {
	taken := make(map[ID]bool)
	take := func(id ID) {
		taken[id] = true
		for i := range len(id) {
			if id[i] == '.' || id[i] == ':' {
				taken[id[:i]] = true
			}
		}
	}
	nodes := func(list []Node) {
		for i := range list {
			take(list[i].ID)
		}
	}
	for _, piece := range p.Pieces {
		take(piece.ID)
		for i := range piece.Edges {
			take(piece.Edges[i].ID)
			nodes(piece.Edges[i].Nodes)
		}
		for _, l := range piece.Lines {
			take(l.ID)
			nodes(l.Nodes)
		}
		for _, d := range piece.Darts {
			take(d.ID)
		}
		for _, n := range piece.Notches {
			take(n.ID)
		}
		for _, s := range piece.Spans {
			take(s.ID)
		}
		for _, s := range piece.Stretches {
			take(s.ID)
		}
	}
	for _, s := range p.Seams {
		take(s.ID)
	}
	for _, c := range p.Cloths {
		take(c.ID)
		nodes(c.Scrap)
	}
	for _, w := range p.Wearers {
		take(w.ID)
	}
	for _, pic := range p.Pictures {
		take(pic.ID)
	}
	for _, d := range p.Derivations {
		for _, s := range d.Stems {
			take(s.ID)
		}
	}
	return taken
}

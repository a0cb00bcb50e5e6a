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
	for _, piece := range p.Pieces {
		take(piece.ID)
		piece.eachID(take)
	}
	for _, s := range p.Seams {
		take(s.ID)
		for _, m := range s.Marks {
			take(m.ID)
		}
	}
	for _, c := range p.Cloths {
		take(c.ID)
		for _, n := range c.Scrap {
			take(n.ID)
		}
	}
	for _, w := range p.Wearers {
		take(w.ID)
	}
	for _, pic := range p.Pictures {
		take(pic.ID)
	}
	for _, o := range p.Origins {
		take(o.ID)
	}
	for _, n := range p.Notes {
		take(n.ID)
	}
	for _, v := range p.Versions {
		take(v.ID)
		for _, s := range v.Seams {
			take(s.ID)
		}
		for _, piece := range v.Pieces {
			take(piece.ID)
			piece.eachID(take)
		}
	}
	for _, d := range p.Derivations {
		if d.Source != nil {
			for _, piece := range d.Source.Pieces {
				take(piece.ID)
				piece.eachID(take)
			}
		}
		for _, s := range d.Stems {
			take(s.ID)
		}
	}
	return taken
}

// eachID calls f with the id of everything that belongs to the piece.
func (p *Piece) eachID(f func(ID)) {
	nodes := func(list []Node) {
		for i := range list {
			f(list[i].ID)
		}
	}
	for i := range p.Edges {
		f(p.Edges[i].ID)
		nodes(p.Edges[i].Nodes)
	}
	for _, l := range p.Lines {
		f(l.ID)
		nodes(l.Nodes)
	}
	for _, d := range p.Darts {
		f(d.ID)
	}
	for _, n := range p.Notches {
		f(n.ID)
	}
	for _, s := range p.Spans {
		f(s.ID)
	}
	for _, s := range p.Stretches {
		f(s.ID)
	}
}

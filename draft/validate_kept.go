package draft

import "slices"

// toile inspects the notes of the toile.
func (v *inspector) toile() {
	if n := len(v.project.Notes); n > MaxToileNotes {
		v.failf("it has %d notes of the toile; at most %d fit", n, MaxToileNotes)
		return
	}
	for i, n := range v.project.Notes {
		v.enter("toile_notes", i, "note of the toile", string(n.ID))
		v.bear(n.ID, "note")
		v.toileNote(n)
		v.leave()
	}
}

func (v *inspector) toileNote(n *ToileNote) {
	v.text("words", n.Words)
	v.word("kind", n.Kind.MarshalText)
	v.length("amount", n.Amount)
	v.number("place", n.At, 0, 1)
	v.number("start", n.From, 0, 1)
	v.number("end", n.To, 0, 1)
	piece := v.ids[n.Piece]
	switch {
	case piece.kind != "piece":
		v.failf("there is no piece %q", n.Piece)
	case n.Edge != "" && !v.has(n.Edge, "edge", piece.piece):
		v.failf("piece %s has no edge %q", piece.piece.Name, n.Edge)
	}
}

// versions inspects what was kept to compare.
func (v *inspector) versions() {
	if n := len(v.project.Versions); n > MaxVersions {
		v.failf("it keeps %d versions; at most %d fit", n, MaxVersions)
		return
	}
	nodes := 0
	for i, x := range v.project.Versions {
		v.enter("versions", i, "version", x.Name)
		v.bear(x.ID, "version")
		v.text("name", x.Name)
		nodes += v.apart(x.Pieces, x.Seams)
		earlier := slices.ContainsFunc(v.project.Versions[:i], func(y *Version) bool { return y.ID == x.Follows })
		if x.Follows != "" && !earlier {
			v.failf("it follows %q, and there is no such version before it", x.Follows)
		}
		if nodes > MaxNodes {
			v.failf("the versions have more than %d nodes together", MaxNodes)
		}
		v.leave()
	}
}

// source inspects the pattern that a fit re-shapes and returns how many nodes it has.
func (v *inspector) source(s *Source) int {
	v.enter("source", -1, "as it was before", "")
	defer v.leave()
	return v.apart(s.Pieces, s.Seams)
}

// apart inspects pieces and seams that are kept apart from those of the project, under the
// same ids, and returns how many nodes they have.
func (v *inspector) apart(pieces []*Piece, seams []*Seam) int {
	whole, ids, roles := v.project, v.ids, v.roles
	v.project = &Project{NextID: whole.NextID, Pieces: pieces, Seams: seams}
	v.ids, v.roles = make(map[ID]bearer), make(map[rolePlayed]bool)
	for _, p := range pieces {
		if p.Cloth != "" || p.Origin != "" || p.Derived != nil {
			v.failf("piece %s has a cloth, an origin or a derivation; what is kept apart has none", p.label())
		}
	}
	v.pieces()
	if v.err == nil {
		v.seams()
	}
	n := v.project.nodeCount()
	v.project, v.ids, v.roles = whole, ids, roles
	return n
}

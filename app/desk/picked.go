package desk

import (
	"slices"

	"hemlet/draft"
)

// Picked is what is selected, in the order in which it was picked. The last one is
// what the inspector speaks of. It is a value; treat the slice as one.
type Picked []Ref

// Has reports whether the ref is picked.
func (p Picked) Has(r Ref) bool {
	return slices.Contains(p, r)
}

// Last returns the ref that was picked last, or one that points at nothing.
func (p Picked) Last() Ref {
	if len(p) == 0 {
		return Ref{}
	}
	return p[len(p)-1]
}

// Of returns the picked refs of the kind, in order.
func (p Picked) Of(k Kind) Picked {
	var out Picked
	for _, r := range p {
		if r.Kind == k {
			out = append(out, r)
		}
	}
	return out
}

// Pieces returns the pieces of which anything is picked, each once, in order.
func (p Picked) Pieces() []draft.ID {
	var ids []draft.ID
	seen := map[draft.ID]bool{}
	for _, r := range p {
		if r.Piece != "" && !seen[r.Piece] {
			seen[r.Piece] = true
			ids = append(ids, r.Piece)
		}
	}
	return ids
}

// Edges returns the picked edges as acts take them.
func (p Picked) Edges() []draft.EdgeRef {
	var refs []draft.EdgeRef
	for _, r := range p.Of(Edge) {
		refs = append(refs, draft.EdgeRef{Piece: r.Piece, Edge: r.Edge})
	}
	return refs
}

// Touches reports whether the piece or a part of it is picked.
func (p Picked) Touches(piece draft.ID) bool {
	for _, r := range p {
		if r.Piece == piece {
			return true
		}
	}
	return false
}

// Toggled returns the selection with the ref added, or taken out if it was in.
// Pieces, edges and points do not mix: the kind picked last decides.
func (p Picked) Toggled(r Ref) Picked {
	var out Picked
	had := false
	for _, have := range p {
		if have == r {
			had = true
			continue
		}
		if have.Kind == r.Kind {
			out = append(out, have)
		}
	}
	if had {
		return out
	}
	return append(out, r)
}

// within returns the refs that the project still holds.
func (p Picked) within(project *draft.Project) Picked {
	var out Picked
	for _, r := range p {
		if r.In(project) {
			out = append(out, r)
		}
	}
	return out
}

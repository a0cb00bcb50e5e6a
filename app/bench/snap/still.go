package snap

import (
	"hemlet/app/desk"
	"hemlet/draft"
)

// exclusion is what moves along with the pointer.
type exclusion struct {
	pieces map[draft.ID]bool
	refs   map[desk.Ref]bool
	// nodes move themselves; ends are nodes whose segments change, themselves moving
	// or not.
	nodes, ends map[draft.ID]bool
}

func excluded(moving []desk.Ref) exclusion {
	var e exclusion
	if len(moving) == 0 {
		return e
	}
	e = exclusion{pieces: map[draft.ID]bool{}, refs: map[desk.Ref]bool{}, nodes: map[draft.ID]bool{}, ends: map[draft.ID]bool{}}
	for _, r := range moving {
		e.refs[r] = true
		switch r.Kind {
		case desk.Piece:
			e.pieces[r.Piece] = true
		case desk.Node:
			e.nodes[r.Node], e.ends[r.Node] = true, true
		case desk.HandleIn, desk.HandleOut:
			e.ends[r.Node] = true
		}
	}
	return e
}

func (e exclusion) piece(t *Things) bool { return e.pieces[t.piece.ID] }

func (e exclusion) moves(r desk.Ref) bool { return e.refs[r] || e.pieces[r.Piece] }

func (e exclusion) stretch(p *stretch) bool {
	return e.ends != nil && (e.refs[p.ref] || e.ends[p.from] || e.ends[p.to])
}

// spot reports whether a place moves: it is a node that does, or lies on something
// of which a part does.
func (e exclusion) spot(t *Things, p *spot) bool {
	if e.refs == nil {
		return false
	}
	if p.ref.Kind == desk.Node {
		return e.nodes[p.ref.Node]
	}
	return e.part(t, p.ref)
}

// part reports whether something moves, or a part of it.
func (e exclusion) part(t *Things, ref desk.Ref) bool {
	if e.moves(ref) {
		return true
	}
	for i := range t.pieces {
		if t.pieces[i].ref == ref && e.stretch(&t.pieces[i]) {
			return true
		}
	}
	return false
}

package draft

import (
	"errors"
	"fmt"
)

// DeletePieceArgs are the arguments of DeletePiece.
type DeletePieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// DeletePiece takes pieces away, and with them the seams that sew them. What was
// derived from them stays as it is and no longer follows.
var DeletePiece = register(Info{
	Name: "delete-piece", Title: "Delete pieces", Group: groupPieces,
	Says: "Takes pieces away, and with them the seams that sew them.",
}, deletePiece)

func deletePiece(p *Project, a DeletePieceArgs) (Outcome, error) {
	gone := make(map[ID]bool, len(a.Pieces))
	var ids []ID
	lineage := Lineage{}
	for _, ref := range a.Pieces {
		piece := p.Piece(ID(ref))
		if piece == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", ref, errGone)
		}
		gone[piece.ID] = true
		ids = append(ids, piece.ID)
		for _, e := range piece.Edges {
			lineage[e.ID] = nil
		}
	}
	if len(ids) == 0 {
		return Outcome{}, errors.New("no piece is named")
	}
	out := Outcome{Project: p.shallow(), followed: lineage, subject: p.subject(distinct(ids))}
	out.Project.Pieces = nil
	for _, piece := range p.Pieces {
		if !gone[piece.ID] {
			out.Project.Pieces = append(out.Project.Pieces, piece)
		}
	}
	out.dropSeams(gone)
	out.dropDerivations(p, gone)
	return out, nil
}

// dropSeams takes out the seams that sew a piece that is gone.
func (o *Outcome) dropSeams(gone map[ID]bool) {
	var kept []*Seam
	for _, s := range o.Project.Seams {
		if s.sews(gone) {
			o.say("Seam %s is taken apart, since it sewed what is gone.", s.label())
			continue
		}
		kept = append(kept, s)
	}
	o.Project.Seams = kept
}

func (s *Seam) sews(pieces map[ID]bool) bool {
	for _, run := range []Run{s.A, s.B} {
		for _, u := range run {
			if pieces[u.Piece] {
				return true
			}
		}
	}
	return false
}

// dropDerivations takes out the derivations that read what is gone and those of
// whose pieces none is left, and frees the pieces that they made. before is the
// project as it was.
func (o *Outcome) dropDerivations(before *Project, gone map[ID]bool) {
	lost := make(map[ID]bool) // derivations that made something that is gone
	left := make(map[ID]bool) // derivations of which a piece is left
	for _, piece := range before.Pieces {
		if piece.Derived == nil {
			continue
		}
		if gone[piece.ID] {
			lost[piece.Derived.Derivation] = true
		} else {
			left[piece.Derived.Derivation] = true
		}
	}
	all := make(map[ID]bool, len(gone))
	for id := range gone {
		all[id] = true
	}
	// What reads a derivation that goes, goes too: again until none is left.
	for n := -1; n != len(all); {
		n = len(all)
		for _, d := range before.Derivations {
			if readsAny(d, all) || lost[d.ID] && !left[d.ID] {
				all[d.ID] = true
			}
		}
	}
	if len(all) > len(gone) {
		o.freeFrom(all)
	}
}

// freeFrom takes out the derivations that are gone; their pieces stay.
func (o *Outcome) freeFrom(gone map[ID]bool) {
	p := o.Project
	var kept []*Derivation
	for _, d := range p.Derivations {
		if !gone[d.ID] {
			kept = append(kept, d)
		}
	}
	p.Derivations = kept
	pieces := append([]*Piece(nil), p.Pieces...)
	for i, piece := range pieces {
		if piece.Derived != nil && gone[piece.Derived.Derivation] {
			free := piece.clone()
			free.Derived = nil
			pieces[i] = free
			o.say("%s stays as it is and no longer follows what it was made from.", piece.label())
		}
	}
	p.Pieces = pieces
}

func readsAny(d *Derivation, gone map[ID]bool) bool {
	for _, in := range d.Inputs {
		if gone[in] {
			return true
		}
	}
	return false
}

// DuplicatePieceArgs are the arguments of DuplicatePiece.
type DuplicatePieceArgs struct {
	Pieces []PieceRef `arg:"piece" says:"the piece, or several"`
	Name   string     `arg:"name,optional" says:"the name of the second where there is one; without it, that of the first with a number"`
}

// DuplicatePiece makes second pieces like the first, with ids of their own, beside
// what lies on the bench. The seams among those that are duplicated are made too,
// those to others stay with the first; the second follows nothing.
var DuplicatePiece = register(Info{
	Name: "duplicate-piece", Title: "Duplicate pieces", Group: groupPieces,
	Says: "Makes second pieces like the first, with the seams among them.",
}, func(p *Project, a DuplicatePieceArgs) (Outcome, error) {
	var ids []ID
	for _, ref := range a.Pieces {
		if p.Piece(ID(ref)) == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", ref, errGone)
		}
		ids = append(ids, ID(ref))
	}
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if ids = distinct(ids); len(ids) == 0 {
		return Outcome{}, errors.New("no piece is named")
	}
	if name != "" && len(ids) > 1 {
		return Outcome{}, errors.New("several pieces cannot get one name")
	}
	ps := newPasting(p, p.Clip(ids))
	if name != "" {
		ps.pieces[0].Name = name
	}
	ps.layOut(nil)
	return ps.finish(), nil
})

// renew gives everything in a piece that may be written to a new id, and returns
// which came in the place of which.
func (p *Piece) renew(ids *idSource) map[ID]ID {
	made := make(map[ID]ID)
	fresh := func(id *ID, kind byte) {
		made[*id] = ids.make(kind)
		*id = made[*id]
	}
	follow := func(id *ID) {
		if n, ok := made[*id]; ok {
			*id = n
		}
	}
	nodes := func(list []Node) {
		for i := range list {
			fresh(&list[i].ID, kindNode)
		}
	}
	fresh(&p.ID, kindPiece)
	for i := range p.Edges {
		fresh(&p.Edges[i].ID, kindEdge)
		nodes(p.Edges[i].Nodes)
	}
	for i := range p.Lines {
		fresh(&p.Lines[i].ID, kindLine)
		nodes(p.Lines[i].Nodes)
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		fresh(&d.ID, kindDart)
		follow(&d.Edge)
		follow(&d.From)
		follow(&d.To)
	}
	for i := range p.Notches {
		fresh(&p.Notches[i].ID, kindNotch)
		follow(&p.Notches[i].Edge)
	}
	for i := range p.Stretches {
		fresh(&p.Stretches[i].ID, kindStretch)
		follow(&p.Stretches[i].Edge)
	}
	for i := range p.Spans {
		s := &p.Spans[i]
		fresh(&s.ID, kindSpan)
		follow(&s.From)
		follow(&s.To)
		for k := range s.Edges {
			follow(&s.Edges[k])
		}
		for k := range s.Lines {
			follow(&s.Lines[k])
		}
	}
	return made
}

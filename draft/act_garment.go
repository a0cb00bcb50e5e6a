package draft

import (
	"errors"
	"fmt"
	"slices"
)

// GroupPiecesArgs are the arguments of GroupPieces.
type GroupPiecesArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Name   string     `arg:"name,optional" says:"what the garment is called; without it, Garment with a number"`
}

// GroupPieces makes a garment of pieces: they are listed together, where the first of
// them stood.
var GroupPieces = register(Info{
	Name: "group-pieces", Title: "Group as a garment", Group: groupLayout,
	Says: "Makes a garment of pieces, so that they are listed and picked together.",
}, func(p *Project, a GroupPiecesArgs) (Outcome, error) {
	name, err := cleanName(a.Name)
	if err != nil {
		return Outcome{}, err
	}
	if name == "" {
		taken := make(map[string]bool)
		for _, piece := range p.Pieces {
			taken[piece.Garment] = true
		}
		for n := 1; name == "" || taken[name]; n++ {
			name = fmt.Sprintf("Garment %d", n)
		}
	}
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Garment = name
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	chosen := chosenPieces(a.Pieces)
	first := slices.IndexFunc(out.Project.Pieces, func(q *Piece) bool { return chosen[q.ID] })
	out.Project.Pieces = together(out.Project.Pieces, chosen, first)
	out.subject = name
	return out, nil
})

// OrderPiecesArgs are the arguments of OrderPieces.
type OrderPiecesArgs struct {
	Pieces  []PieceRef `arg:"pieces" says:"the pieces; among themselves they keep their order"`
	Before  PieceRef   `arg:"before,optional" says:"the piece before which they go; without it they go to the end"`
	Garment *string    `arg:"garment" says:"the garment that they go to; without it they stay in theirs"`
}

// OrderPieces changes the order in which pieces are listed, laid over one another on
// the bench and written to files.
var OrderPieces = register(Info{
	Name: "order-pieces", Title: "Order pieces", Group: groupLayout,
	Says: "Changes the order in which pieces are listed and written.",
}, func(p *Project, a OrderPiecesArgs) (Outcome, error) {
	if len(a.Pieces) == 0 {
		return Outcome{}, errors.New("no piece is named")
	}
	chosen := chosenPieces(a.Pieces)
	var ids []ID
	for _, ref := range a.Pieces {
		if p.Piece(ID(ref)) == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", ref, errGone)
		}
		ids = append(ids, ID(ref))
	}
	at := len(p.Pieces)
	if a.Before != "" {
		if at = p.pieceIndex(ID(a.Before)); at < 0 {
			return Outcome{}, fmt.Errorf("piece %s %w", a.Before, errGone)
		}
		if chosen[ID(a.Before)] {
			return Outcome{}, errors.New("a piece cannot go before itself")
		}
	}
	out := Outcome{Project: p.shallow()}
	if a.Garment != nil {
		name, err := cleanName(*a.Garment)
		if err != nil {
			return Outcome{}, err
		}
		if out, err = eachPiece(p, a.Pieces, func(q *Piece) error {
			q.Garment = name
			return nil
		}); err != nil {
			return Outcome{}, err
		}
	}
	out.Project.Pieces = together(out.Project.Pieces, chosen, at)
	out.subject = p.subject(distinct(ids))
	return out, nil
})

func chosenPieces(refs []PieceRef) map[ID]bool {
	chosen := make(map[ID]bool, len(refs))
	for _, ref := range refs {
		chosen[ID(ref)] = true
	}
	return chosen
}

// together returns the pieces with the chosen ones one after the other before the
// piece at index at.
func together(pieces []*Piece, chosen map[ID]bool, at int) []*Piece {
	out := make([]*Piece, 0, len(pieces))
	var moved []*Piece
	for _, piece := range pieces {
		if chosen[piece.ID] {
			moved = append(moved, piece)
		}
	}
	for i, piece := range pieces {
		if i == at {
			out = append(out, moved...)
		}
		if !chosen[piece.ID] {
			out = append(out, piece)
		}
	}
	if at >= len(pieces) {
		out = append(out, moved...)
	}
	return out
}

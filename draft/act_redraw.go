package draft

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// FollowBlockArgs are the arguments of FollowBlock.
type FollowBlockArgs struct {
	Derivation DerivationRef `arg:"draft" says:"the drafted block, by its name or id"`
}

// FollowBlock lets the pieces of a block follow it that could and have not: those that
// an older version of the program has drafted, and those that something stood in the
// way of.
var FollowBlock = register(Info{
	Name: "follow-block", Title: "Bring a block up to date", Group: groupBlocks,
	Says: "Draws the pieces of a drafted block as the block makes them now; what was changed by hand is carried over.",
}, followBlock)

func followBlock(p *Project, a FollowBlockArgs) (Outcome, error) {
	d := p.Derivation(ID(a.Derivation))
	if d == nil || d.Kind != blockKind {
		return Outcome{}, fmt.Errorf("the drafted block %s %w", a.Derivation, errGone)
	}
	if dr := draftFor(d, p.WearerOf(d)); dr.err != nil {
		return Outcome{}, dr.err
	}
	out := Outcome{Project: p, Made: d.ID, subject: p.derivationLabel(d)}
	if err := redraft(p, &out, d); err != nil {
		return Outcome{}, err
	}
	if slices.Equal(out.Project.Pieces, p.Pieces) && slices.Equal(out.Project.Seams, p.Seams) {
		if len(out.Says) > 0 {
			return Outcome{}, errors.New(strings.Join(out.Says, " "))
		}
		return Outcome{}, fmt.Errorf("%s is up to date", out.subject)
	}
	return out, nil
}

// RedrawPieceArgs are the arguments of RedrawPiece.
type RedrawPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// RedrawPiece draws pieces as their block makes them, without what was changed by
// hand. They keep their cloth, their garment and their place on the bench.
var RedrawPiece = register(Info{
	Name: "redraw-piece", Title: "Redraw from the block", Group: groupBlocks,
	Says: "Draws a piece as its block makes it; what was changed by hand is gone.",
}, func(p *Project, a RedrawPieceArgs) (Outcome, error) {
	lineage := Lineage{}
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		next, err := p.asDrafted(q)
		if err != nil {
			return err
		}
		for id, heirs := range backToBlock(q, next) {
			lineage[id] = heirs
		}
		next.Cloth, next.Garment, next.Place = q.Cloth, q.Garment, q.Place
		*q = *next.clone()
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Lineage, out.generated = lineage, true
	return out, nil
})

// asDrafted returns the piece as its block makes it now.
func (p *Project) asDrafted(piece *Piece) (*Piece, error) {
	if piece.Derived == nil {
		return nil, errors.New("it was not drafted from a block")
	}
	d := p.Derivation(piece.Derived.Derivation)
	if d == nil || d.Kind != blockKind {
		return nil, errors.New("it was not drafted from a block")
	}
	dr := draftFor(d, p.WearerOf(d))
	if dr.err != nil {
		return nil, dr.err
	}
	sp := dr.piece(piece.Derived.Role)
	if sp == nil {
		return nil, fmt.Errorf("the block %s makes no piece %s", dr.block.Title, piece.Derived.Role)
	}
	return pieceOf(dr, sp, d.ID, piece.ID)
}

// backToBlock says which edges of the block stand where the maker's do.
func backToBlock(mine, next *Piece) Lineage {
	here := make(map[ID]bool)
	for i := range next.Edges {
		here[next.Edges[i].ID] = true
	}
	lin := Lineage{}
	for i := range mine.Edges {
		if id := mine.Edges[i].ID; !here[id] {
			lin[id] = nil
		}
	}
	// From the block's edges to the maker's it is known; this is the way back.
	for id, heirs := range mine.fromBlock() {
		for _, h := range heirs {
			if _, own := lin[h.Edge]; own && here[id] {
				lin[h.Edge] = append(lin[h.Edge], Heir{Edge: id, Old0: h.New0, Old1: h.New1, New0: h.Old0, New1: h.Old1})
			}
		}
	}
	for id := range lin {
		slices.SortFunc(lin[id], func(a, b Heir) int { return cmp.Compare(a.Old0, b.Old0) })
	}
	return lin
}

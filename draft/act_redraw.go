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

// FollowPieceArgs are the arguments of FollowPiece.
type FollowPieceArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// FollowPiece lets pieces follow what they are made from that could and have not: that
// which stood in the way is gone, or an older version of the program has made them.
var FollowPiece = register(Info{
	Name: "follow-piece", Title: "Bring pieces up to date", Group: groupBlocks,
	Says: "Draws pieces as the block, or the piece, that they follow makes them now; what was changed by hand is carried over.",
}, followPieces)

func followPieces(p *Project, a FollowPieceArgs) (Outcome, error) {
	if len(a.Pieces) == 0 {
		return Outcome{}, errors.New("no piece is named")
	}
	out := Outcome{Project: p}
	var ids []ID
	for _, ref := range a.Pieces {
		piece := out.Project.Piece(ID(ref))
		if piece == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", ref, errGone)
		}
		ids = append(ids, piece.ID)
		by, d, err := out.Project.makerOfPiece(piece)
		if err != nil {
			return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
		}
		if err := by.trouble(); err != nil {
			return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
		}
		if err := redraft(p, &out, d); err != nil {
			return Outcome{}, err
		}
	}
	out.subject = p.subject(distinct(ids))
	if slices.Equal(out.Project.Pieces, p.Pieces) && slices.Equal(out.Project.Seams, p.Seams) {
		if len(out.Says) > 0 {
			return Outcome{}, errors.New(strings.Join(out.Says, " "))
		}
		return Outcome{}, fmt.Errorf("%s is up to date", out.subject)
	}
	return out, nil
}

// errFollowsNothing says that a piece was not made from anything, or is free by now.
var errFollowsNothing = errors.New("it follows neither a block nor a piece")

// makerOfPiece returns what generates a piece, and its derivation.
func (p *Project) makerOfPiece(piece *Piece) (maker, *Derivation, error) {
	if piece.Derived == nil {
		return nil, nil, errFollowsNothing
	}
	d := p.Derivation(piece.Derived.Derivation)
	if d == nil {
		return nil, nil, errFollowsNothing
	}
	by := p.makerOf(d)
	if by == nil {
		return nil, nil, errFollowsNothing
	}
	return by, d, nil
}

// RedrawPiece draws pieces as their block, or the piece that they follow, makes them,
// without what was changed by hand. They keep their cloth, their garment, their place on
// the bench and what they were made for.
var RedrawPiece = register(Info{
	Name: "redraw-piece", Title: "Redraw from the block", Group: groupBlocks,
	Says: "Draws a piece as its block, or the piece that it follows, makes it; what was changed by hand is gone.",
}, func(p *Project, a RedrawPieceArgs) (Outcome, error) {
	lineage := Lineage{}
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		next, err := p.asMade(q)
		if err != nil {
			return err
		}
		for id, heirs := range backToMade(q, next) {
			lineage[id] = heirs
		}
		next.Cloth, next.Origin, next.Garment, next.Place = q.Cloth, q.Origin, q.Garment, q.Place
		*q = *next.clone()
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Lineage, out.generated = lineage, true
	return out, nil
})

// asMade returns the piece as what it follows makes it now.
func (p *Project) asMade(piece *Piece) (*Piece, error) {
	by, d, err := p.makerOfPiece(piece)
	if err != nil {
		return nil, err
	}
	if err := by.trouble(); err != nil {
		return nil, err
	}
	return by.generate(piece.Derived.Role, d.ID, piece.ID)
}

// backToMade says which edges of what is generated stand where the maker's do.
func backToMade(mine, next *Piece) Lineage {
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
	// A link may have edges under other names now: then the points tell.
	renamed := renamedEdges(mine, next)
	for id, heirs := range lin {
		if !wholly(heirs) {
			lin[id] = renamed[id]
		}
	}
	return lin
}

// wholly reports whether heirs cover all of an edge.
func wholly(heirs []Heir) bool {
	at := 0.0
	for _, h := range heirs {
		if !near(h.Old0, at) {
			return false
		}
		at = h.Old1
	}
	return near(at, 1)
}

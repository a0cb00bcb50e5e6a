package draft

import (
	"errors"
	"fmt"
	"slices"
)

// CutLeftRightArgs are the arguments of CutLeftRight.
type CutLeftRightArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"pieces that are cut several times alike"`
}

// CutLeftRight cuts pieces in mirrored pairs that were cut so many times alike: every
// second copy becomes the left one of a pair. What was sewn to it is sewn to the left one,
// so that its right side is out.
var CutLeftRight = register(Info{
	Name: "cut-left-right", Title: "Cut left and right", Group: groupPieces,
	Says: "Cuts pieces in mirrored pairs that were cut several times alike, and sews every second copy as the left one.",
}, cutLeftRight)

func cutLeftRight(p *Project, a CutLeftRightArgs) (Outcome, error) {
	paired := make(map[ID]bool)
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		if q.Cut.Way != CutSingle || q.Cut.Count < 2 {
			return fmt.Errorf("it is not cut several times alike (%s)", q.Cut)
		}
		if q.Cut.Count%2 != 0 {
			return fmt.Errorf("it is cut %d times, which makes no pairs; set how it is cut", q.Cut.Count)
		}
		q.Cut = CutRule{Way: CutPairs, Count: q.Cut.Count / 2}
		paired[q.ID] = true
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	next := out.Project.shallow()
	next.Seams = slices.Clone(p.Seams)
	for i, s := range p.Seams {
		if moved := s.withPairs(paired); moved != nil {
			next.Seams[i] = moved
		}
	}
	next.sewOtherSides(p, paired, &out)
	out.Project = next
	return out.afterCut()
}

// withPairs returns the seam with every second copy of the pieces as the left one of a
// pair, nil where it sews none of them.
func (s *Seam) withPairs(paired map[ID]bool) *Seam {
	one := *s
	var leftA, leftB, anyA, anyB bool
	one.A, anyA, leftA = s.A.withPairs(paired)
	one.B, anyB, leftB = s.B.withPairs(paired)
	if !anyA && !anyB {
		return nil
	}
	// Where one side alone has become a left one, it is run so that right sides lie
	// together.
	if leftA != leftB && one.A[0].forward() == one.B[0].forward() {
		if leftA {
			one.A = one.A.reversed()
		} else {
			one.B = one.B.reversed()
		}
	}
	return &one
}

func (r Run) withPairs(paired map[ID]bool) (out Run, some, left bool) {
	out = slices.Clone(r)
	for i := range out {
		u := &out[i]
		if !paired[u.Piece] {
			continue
		}
		some = true
		if n := u.Copy.Number; n%2 == 0 {
			u.Copy = CopyRef{Number: n / 2, Mirrored: true}
			left = true
		} else {
			u.Copy.Number = (n + 1) / 2
		}
	}
	return out, some, left
}

// sewOtherSides lets seams of the pieces stand for the other side of the body where there
// is one now and nothing else sews it.
func (p *Project) sewOtherSides(before *Project, paired map[ID]bool, out *Outcome) {
	taken := make(map[string]bool)
	for _, s := range p.Seams {
		taken[runKey(append(slices.Clone(s.A), s.B...))] = true
	}
	for i, s := range p.Seams {
		if s == before.Seams[i] || s.BothSides {
			continue
		}
		a, okA := p.mirrored(s.A)
		b, okB := p.mirrored(s.B)
		if !okA || !okB || taken[runKey(append(slices.Clone(a), b...))] {
			continue
		}
		one := *s
		if p.setBothSides(&one, nil, &Outcome{}) == nil && one.BothSides {
			p.Seams[i] = &one
			out.say("Seam %s stands for the other side of the body as well.", s.label())
		}
	}
}

// TurnForSideArgs are the arguments of TurnForSide.
type TurnForSideArgs struct {
	Piece PieceRef `arg:"piece" says:"the piece"`
}

// TurnForSide turns a piece over for the other side of the body. Unlike MirrorPiece it
// takes the cloth's right side with it: seams are sewn with the other ends together where
// the piece would lie wrong side out otherwise.
var TurnForSide = register(Info{
	Name: "turn-for-side", Title: "Turn over for its side", Group: groupPieces,
	Says: "Turns a piece over that is drawn for the wrong side of the body, and sews it right side out.",
}, turnForSide)

func turnForSide(p *Project, a TurnForSideArgs) (Outcome, error) {
	piece := p.Piece(ID(a.Piece))
	if piece == nil {
		return Outcome{}, fmt.Errorf("piece %s %w", a.Piece, errGone)
	}
	if piece.Cut.Way != CutSingle {
		return Outcome{}, errors.New("it has both its sides already: " + piece.Cut.String())
	}
	turned, err := MirrorPiece.Do(p, MirrorPieceArgs{Pieces: []PieceRef{a.Piece}})
	if err != nil {
		return Outcome{}, err
	}
	next := turned.Project.shallow()
	next.Seams = slices.Clone(next.Seams)
	for i, s := range next.Seams {
		one := *s
		mine, other, ok := one.sidesOf(piece.ID)
		if !ok || mine[0].forward() != other[0].forward() {
			continue
		}
		if some, _ := s.A.on(piece.ID); some {
			one.A = s.A.reversed()
		} else {
			one.B = s.B.reversed()
		}
		next.Seams[i] = &one
	}
	return Outcome{Project: next, followed: turned.Lineage, subject: piece.label(), Says: turned.Says, Leaves: turned.Leaves, Left: turned.Left}, nil
}

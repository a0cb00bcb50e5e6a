package draft

import (
	"errors"
	"fmt"
)

// SetCutArgs are the arguments of SetCut.
type SetCutArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
	Way    CutWay     `arg:"way" says:"as drawn, as mirrored pairs, or unfolded on the fold edge"`
	Count  int        `arg:"count" says:"how many copies, pairs or folded copies" default:"1"`
}

// SetCut says how often and how pieces are cut. A piece is cut on the fold only if
// one of its edges is a fold; if it no longer is, that edge becomes a seam. A seam
// of a copy that is no longer cut must be taken apart first.
var SetCut = register(Info{
	Name: "set-cut", Title: "Set how it is cut", Group: groupPieces,
	Says: "Says how often a piece is cut: as drawn, as mirrored pairs, or on the fold.",
}, func(p *Project, a SetCutArgs) (Outcome, error) {
	if a.Count < 1 || a.Count > MaxCount {
		return Outcome{}, fmt.Errorf("a piece is cut 1 to %d times, not %d", MaxCount, a.Count)
	}
	var said Outcome
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		if a.Way == CutOnFold && q.folds() == 0 {
			return errors.New("none of its edges is a fold; make one edge a fold, and it is cut on it")
		}
		for i := range q.Edges {
			if e := &q.Edges[i]; a.Way != CutOnFold && e.Kind == FoldEdge {
				e.Kind = SeamEdge
				said.say("Edge %s of %s is no longer a fold but a seam.", e.label(), q.label())
			}
		}
		q.Cut = CutRule{Way: a.Way, Count: a.Count}
		return nil
	})
	if err != nil {
		return Outcome{}, err
	}
	out.Says = said.Says
	return out.afterCut()
})

// afterCut returns the outcome of an act that has changed how pieces are cut: it is
// refused where a seam sews a copy that is no longer cut, and a seam that stood for
// both sides of the body, of which there is one now, stands for that.
func (o Outcome) afterCut() (Outcome, error) {
	p := o.Project
	if err := p.usesExist(); err != nil {
		return Outcome{}, err
	}
	for _, s := range p.Seams {
		if !s.BothSides || p.hasOtherSide(s) {
			continue
		}
		one := *s
		one.BothSides = false
		p = p.withSeam(&one)
		o.say("Seam %s no longer stands for the other side of the body.", s.label())
	}
	o.Project = p
	return o, nil
}

func (p *Project) hasOtherSide(s *Seam) bool {
	_, a := p.mirrored(s.A)
	_, b := p.mirrored(s.B)
	return a && b
}

// usesExist reports the first seam that sews something that is not cut.
func (p *Project) usesExist() error {
	for _, s := range p.Seams {
		for _, run := range []Run{s.A, s.B} {
			for _, u := range run {
				if err := p.useExists(u); err != nil {
					return fmt.Errorf("seam %s sews %w; take the seam apart first", s.label(), err)
				}
			}
		}
	}
	return nil
}

// useExists reports whether the piece's cut rule makes what the use speaks of.
func (p *Project) useExists(u EdgeUse) error {
	piece := p.Piece(u.Piece)
	if piece == nil {
		return fmt.Errorf("piece %s, which %w", u.Piece, errGone)
	}
	e, _ := piece.Edge(u.Edge)
	switch {
	case e == nil:
		return fmt.Errorf("edge %s of %s, which %w", u.Edge, piece.label(), errGone)
	case u.Copy.Mirrored && piece.Cut.Way != CutPairs:
		return fmt.Errorf("the left of %s, which is not cut in pairs (%s)", piece.label(), piece.Cut)
	case u.Half == Far && piece.Cut.Way != CutOnFold:
		return fmt.Errorf("the far half of %s, which is not cut on the fold (%s)", piece.label(), piece.Cut)
	case u.Copy.Number < 1 || u.Copy.Number > max(piece.Cut.Count, 1):
		return fmt.Errorf("copy %d of %s, of which there is no such copy (%s)", u.Copy.Number, piece.label(), piece.Cut)
	case e.Kind == FoldEdge:
		return fmt.Errorf("edge %s of %s, which is a fold and is never cut", e.label(), piece.label())
	}
	return nil
}

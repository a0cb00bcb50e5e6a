package draft

import (
	"errors"
	"fmt"
)

// SetLinkArgs are the arguments of SetLink.
type SetLinkArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"facings, those of openings too, or stiffeners"`
	Width  Length     `arg:"width" says:"how wide a facing is, or how far a stiffener lies inside the stitching line"`
}

// SetLink changes the width of a facing, or how far a stiffener lies inside the stitching
// line, after it was made. The piece is made anew; what was edited by hand is carried over.
var SetLink = register(Info{
	Name: "set-link", Title: "Set the width of a facing or the inset of a stiffener", Group: groupCutting,
	Says: "Makes a facing wider or narrower, or a stiffener smaller or larger, that follows another piece.",
}, func(p *Project, a SetLinkArgs) (Outcome, error) {
	if len(a.Pieces) == 0 {
		return Outcome{}, errors.New("no piece is named")
	}
	if a.Width < 0 {
		return Outcome{}, errors.New("the width is 0 or more")
	}
	next := p
	ids := make([]ID, 0, len(a.Pieces))
	for _, r := range a.Pieces {
		piece := p.Piece(ID(r))
		if piece == nil {
			return Outcome{}, fmt.Errorf("piece %s %w", r, errGone)
		}
		d, parent, how, err := next.linkOf(piece)
		if err != nil {
			return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
		}
		width := linkWidthOf(how)
		if width == nil {
			return Outcome{}, fmt.Errorf("%s is neither a facing nor a stiffener", piece.label())
		}
		if next, err = next.withLink(d, width.set(toGrid(float64(a.Width))), parent); err != nil {
			return Outcome{}, fmt.Errorf("%s: %w", piece.label(), err)
		}
		ids = append(ids, piece.ID)
	}
	return Outcome{Project: next, subject: p.subject(distinct(ids))}, nil
})

// linkWidth is the one width that a recipe of a linked piece has, in mm.
type linkWidth struct {
	mm     float64
	inside bool
	set    func(mm float64) recipe
}

// linkWidthOf returns the width of a recipe, nil where it has none or several.
func linkWidthOf(how recipe) *linkWidth {
	switch r := how.(type) {
	case facing:
		return &linkWidth{r.width, false, func(mm float64) recipe { r.width = mm; return r }}
	case holeFacing:
		return &linkWidth{r.width, false, func(mm float64) recipe { r.width = mm; return r }}
	case stiffening:
		return &linkWidth{r.net, true, func(mm float64) recipe { r.net = mm; return r }}
	}
	return nil
}

// LinkWidth returns the width in mm of a facing, or how far a stiffener lies inside the
// stitching line of the piece that it follows; ok is false for any other piece.
func (p *Project) LinkWidth(piece *Piece) (mm float64, inside, ok bool) {
	_, _, how, err := p.linkOf(piece)
	if err != nil {
		return 0, false, false
	}
	if w := linkWidthOf(how); w != nil {
		return w.mm, w.inside, true
	}
	return 0, false, false
}

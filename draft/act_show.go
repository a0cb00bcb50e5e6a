package draft

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ShowPiecesArgs are the arguments of HidePieces, ShowPieces, LockPieces and
// UnlockPieces.
type ShowPiecesArgs struct {
	Pieces []PieceRef `arg:"pieces" says:"the pieces"`
}

// HidePieces takes pieces out of sight on the bench. They stay part of the pattern:
// they are checked, sewn, printed and cut like the others.
var HidePieces = register(Info{
	Name: "hide-pieces", Title: "Hide pieces", Group: groupLayout,
	Says: "Takes pieces out of sight on the bench; they are still checked, printed and cut.",
}, func(p *Project, a ShowPiecesArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Hidden = true
		return nil
	})
})

// ShowPieces brings hidden pieces back into sight.
var ShowPieces = register(Info{
	Name: "show-pieces", Title: "Show pieces", Group: groupLayout,
	Says: "Brings hidden pieces back into sight on the bench.",
}, func(p *Project, a ShowPiecesArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Hidden = false
		return nil
	})
})

// LockPieces holds pieces as they are: their lines and marks, and their place on the
// bench. What they are called and what they are cut from may still change, and a piece
// that follows a block or another piece still follows.
var LockPieces = register(Info{
	Name: "lock-pieces", Title: "Lock pieces", Group: groupLayout,
	Says: "Holds pieces as they are: their lines, their marks and their place on the bench.",
}, func(p *Project, a ShowPiecesArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Locked = true
		return nil
	})
})

// UnlockPieces lets locked pieces be changed again.
var UnlockPieces = register(Info{
	Name: "unlock-pieces", Title: "Unlock pieces", Group: groupLayout,
	Says: "Lets locked pieces be changed again.",
}, func(p *Project, a ShowPiecesArgs) (Outcome, error) {
	return eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Locked = false
		return nil
	})
})

// SetGhostArgs are the arguments of SetGhost.
type SetGhostArgs struct {
	Pieces  []PieceRef `arg:"pieces" says:"the pieces"`
	Opacity float64    `arg:"opacity" says:"how strongly it is seen, from above 0 to 1; 0 makes it a piece of the pattern again" default:"35%"`
}

// SetGhost makes pieces ghosts: they are only looked at, to draw others by, and are
// neither checked nor sewn nor written to files. Seams that sew them rest until they
// are pieces of the pattern again.
var SetGhost = register(Info{
	Name: "set-ghost", Title: "Make a ghost", Group: groupLayout,
	Says: "Makes pieces ghosts, which are only looked at and neither checked, sewn nor cut, or pieces of the pattern again.",
}, func(p *Project, a SetGhostArgs) (Outcome, error) {
	if !(a.Opacity >= 0 && a.Opacity <= 1) {
		return Outcome{}, fmt.Errorf("a ghost is seen between 0 and 100 %%, not %g %%", 100*a.Opacity)
	}
	out, err := eachPiece(p, a.Pieces, func(q *Piece) error {
		q.Ghost = a.Opacity
		return nil
	})
	if err != nil || a.Opacity == 0 {
		return out, err
	}
	ghosts := make(map[ID]bool, len(a.Pieces))
	for _, ref := range a.Pieces {
		ghosts[ID(ref)] = true
	}
	var rest []string
	for _, s := range p.Seams {
		if s.sews(ghosts) {
			rest = append(rest, s.label())
		}
	}
	switch len(rest) {
	case 0:
	case 1:
		out.say("Seam %s rests as long as what it sews is a ghost.", rest[0])
	default:
		out.say("The seams %s rest as long as what they sew is a ghost.", strings.Join(rest, ", "))
	}
	return out, nil
})

// keepLocked refuses an outcome in which a piece that is locked, before and after, is
// gone or has changed in what a lock holds.
func keepLocked(before, after *Project) error {
	for _, p := range before.Pieces {
		if !p.Locked {
			continue
		}
		q := after.Piece(p.ID)
		if q == p || q != nil && (!q.Locked || heldAlike(p, q)) {
			continue
		}
		return fmt.Errorf("%s %w", p.label(), errLocked)
	}
	return nil
}

// errLocked says that a piece is locked.
var errLocked = errors.New("is locked; unlock it first")

// heldAlike reports whether two states of a piece are the same in what a lock holds.
func heldAlike(p, q *Piece) bool {
	return p.Place == q.Place && equalEdges(p.Edges, q.Edges) && equalRest(drawnOf(p), drawnOf(q)) &&
		slices.Equal(p.Stretches, q.Stretches)
}

// drawnOf returns what is drawn of a piece besides its outline.
func drawnOf(p *Piece) *Rest {
	r := restOf(p)
	r.Name, r.Garment, r.Note, r.Layer, r.Cut = "", "", "", 0, CutRule{}
	return r
}

package draft

import (
	"fmt"
)

// A piece can be other than its block makes it now for two reasons. It may have been
// unable to follow when a measure changed: then it is behind, and the pattern is not
// what the measures say. Or nothing stands in its way and it was only not drawn
// since: by an older version of the program, whose estimates or formulas gave slightly
// other figures, or because what stood in its way is gone by now.

// lag is how a piece stands to its block.
type lag struct {
	// err says why it cannot follow, nil where it can.
	err error
	// would is the piece as it would follow, and by how much that is another; unset
	// where it is up to date.
	would followed
	by    change
}

// lagOf works out how the piece stands to its block as drafted now. Seams of the
// maker's own are not looked at; see Project.keepsSewn.
func lagOf(p *Piece, dr *drafted) lag {
	f, err := followDrafted(p, dr)
	if err != nil {
		return lag{err: err}
	}
	if by := changeOf(p, f.piece); !by.none() {
		return lag{would: f, by: by}
	}
	return lag{}
}

// checkLag tells that a piece is behind its block, or older than it, nil where it is
// neither. That is worked out whenever it is asked, never kept: the block may follow
// again.
func (s *Slots) checkLag(p *Project, d *Derivation, dr *drafted, piece *Piece, label string) *Finding {
	if dr.err != nil {
		return nil // said of the block
	}
	l := slotOf(s, "lag", piece.ID, slotInputs{piece, dr}, func() lag { return lagOf(piece, dr) })
	f := &Finding{Piece: piece.ID, Derivation: d.ID, About: piece.label()}
	err := l.err
	if err == nil {
		if l.by.none() {
			return nil
		}
		err = p.keepsSewn(d, piece, l.would)
	}
	if err != nil {
		f.Key, f.Level = "piece/"+string(piece.ID)+"/behind", Problem
		f.Says = fmt.Sprintf("It has not followed %s and is as it was: %s %s", label, sentence(err), mendOf(dr, piece))
		return f
	}
	f.Key, f.Level = "piece/"+string(piece.ID)+"/older", Remark
	f.Value, f.Limit = l.by.most(), changeSlack
	if f.Value > olderLimit {
		f.Level = LookAgain
	}
	f.Says = fmt.Sprintf("%s draws it differently now: %s. Bring the block up to date to take that over, with what was changed by hand; or keep the piece as it is.", label, l.by.words(p.Unit))
	return f
}

// mendOf says what can be done about a piece that cannot follow.
func mendOf(dr *drafted, piece *Piece) string {
	if dr.piece(piece.Derived.Role) == nil {
		return "Delete it, or keep it as it is."
	}
	return "Take back what stands in the way, redraw it from the block, or keep it as it is."
}

// olderLimit is how far, in mm, a piece may be off what its block makes before it is to
// be looked at: the width of a pencil line.
const olderLimit = 0.5

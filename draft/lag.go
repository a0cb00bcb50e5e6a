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

// lagOf works out how the piece stands to what makes it, as that makes it now. Seams of the
// maker's own are not looked at; see Project.keepsSewn.
func lagOf(p *Piece, by maker) lag {
	f, err := followMade(p, by)
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
func (s *Slots) checkLag(p *Project, d *Derivation, by maker, piece *Piece, label string) *Finding {
	if by.trouble() != nil {
		return nil // said of the block
	}
	l := slotOf(s, "lag", piece.ID, slotInputs{piece, by}, func() lag { return lagOf(piece, by) })
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
		f.Says = fmt.Sprintf("It has not followed %s and is as it was: %s %s", label, sentence(err), mendOf(d, by, piece))
		if by.makes(piece.Derived.Role) {
			f.mend("Redraw it, without what was changed by hand", "redraw-piece", "pieces", idText(piece.ID))
		}
		f.mend("Keep it as it is", "keep-piece", "pieces", idText(piece.ID))
		return f
	}
	f.Key, f.Level = "piece/"+string(piece.ID)+"/older", Remark
	f.Value, f.Limit = l.by.most(), changeSlack
	if f.Value > olderLimit {
		f.Level = LookAgain
	}
	if d.Kind == blockKind {
		f.mend("Bring the block up to date", "follow-block", "draft", string(d.ID))
	} else {
		f.mend("Let it follow", "follow-piece", "pieces", idText(piece.ID))
	}
	f.mend("Keep it as it is", "keep-piece", "pieces", idText(piece.ID))
	if d.Kind != blockKind {
		f.Says = fmt.Sprintf("Made from %s anew it would be another: %s. Let it follow to take that over, with what was changed by hand; or keep the piece as it is.", label, l.by.words(p.Unit))
		return f
	}
	f.Says = fmt.Sprintf("%s draws it differently now: %s. Bring the block up to date to take that over, with what was changed by hand; or keep the piece as it is.", label, l.by.words(p.Unit))
	return f
}

// checkLink tells that a linked piece is behind the piece from which it is made, or
// older than it.
func (s *Slots) checkLink(p *Project, d *Derivation) []Finding {
	var out []Finding
	by, label := s.maker(p, d), "the piece from which it is made"
	if parent := p.parentOf(d); parent != nil {
		label = parent.label()
	}
	for _, piece := range p.PiecesOf(d) {
		if err := by.trouble(); err != nil {
			f := Finding{
				Key: "piece/" + string(piece.ID) + "/behind", Level: Problem, Piece: piece.ID, Derivation: d.ID, About: piece.label(),
				Says: fmt.Sprintf("It cannot follow %s and is as it was: %s Keep it as it is, or delete it.", label, sentence(err)),
			}
			f.mend("Keep it as it is", "keep-piece", "pieces", idText(piece.ID))
			f.mend("Delete it", "delete-piece", "pieces", idText(piece.ID))
			out = append(out, f)
			continue
		}
		if f := s.checkLag(p, d, by, piece, label); f != nil {
			out = append(out, *f)
		}
	}
	return out
}

// mendOf says what can be done about a piece that cannot follow.
func mendOf(d *Derivation, by maker, piece *Piece) string {
	if !by.makes(piece.Derived.Role) {
		return "Delete it, or keep it as it is."
	}
	if d.Kind != blockKind {
		return "Take back what stands in the way, redraw it, or keep it as it is."
	}
	return "Take back what stands in the way, redraw it from the block, or keep it as it is."
}

// olderLimit is how far, in mm, a piece may be off what its block makes before it is to
// be looked at: the width of a pencil line.
const olderLimit = 0.5

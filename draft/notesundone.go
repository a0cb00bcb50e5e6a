package draft

import "fmt"

// takenByNotes returns by how many mm notes of the toile that are done have made a stretch
// shorter, 0 where they have made it longer or where that cannot be told.
func (s *Slots) takenByNotes(p *Project, st SpanState) float64 {
	before := s.beforeNotes(p, st.Piece)
	if before == nil {
		return 0
	}
	return max(NewSlots().SpanLength(before, st.Span)-st.Length, 0)
}

// beforeNotes returns a piece as it would be without the notes that were done on it, nil where
// there are none or where it cannot be worked out: each is done once more the other way.
func (s *Slots) beforeNotes(p *Project, piece *Piece) *Piece {
	key := "" // what slots are told apart by
	var whole, tapering []*ToileNote
	for _, n := range p.Notes {
		if n.Piece != piece.ID || !n.Done || n.Edge == "" || n.Kind == OnlyWords {
			continue
		}
		key += fmt.Sprintf("%+v;", *n)
		back := *n
		back.Kind = TakeIn
		if n.Kind == TakeIn {
			back.Kind = LetOut
		}
		if n.Whole {
			whole = append(whole, &back)
		} else {
			tapering = append(tapering, &back)
		}
	}
	if key == "" {
		return nil
	}
	return slotOf(s, "before notes", piece.ID, slotInputs{piece, key}, func() *Piece {
		q := piece.clone()
		q.Locked = false // that it is locked since says nothing against it
		free := p.withPiece(q)
		d := noteDoing{before: free, now: free, ids: p.newIDs(), edges: make(map[EdgeRef]bool), corners: make(map[NodeRef]bool)}
		// Backwards: those that taper were done first.
		for _, notes := range [][]*ToileNote{whole, tapering} {
			if len(notes) == 0 {
				continue
			}
			if err := d.piece(piece.ID, notes); err != nil {
				return nil
			}
		}
		return d.now.Piece(piece.ID)
	})
}

package desk

import "hemlet/draft"

// Isolate puts every piece aside but those that are given: the others are out of sight
// until Rejoin. It is a way of looking and no step to undo; what is made meanwhile is
// seen.
func (d *Desk) Isolate(pieces ...draft.ID) {
	keep := make(map[draft.ID]bool, len(pieces))
	for _, id := range pieces {
		keep[id] = true
	}
	aside := make(map[draft.ID]bool)
	for _, p := range d.Project().Pieces {
		if !keep[p.ID] {
			aside[p.ID] = true
		}
	}
	if len(pieces) == 0 || len(aside) == 0 {
		aside = nil
	}
	d.aside = aside
	d.tell(Sight)
}

// Rejoin brings back what was put aside, and reports whether anything was.
func (d *Desk) Rejoin() bool {
	if d.aside == nil {
		return false
	}
	d.aside = nil
	d.tell(Sight)
	return true
}

// Isolated reports whether pieces are put aside.
func (d *Desk) Isolated() bool { return d.aside != nil }

// Seen reports whether a piece is to be seen on the bench: it is neither hidden nor put
// aside. One that is picked, as in the tray, is seen in any case.
func (d *Desk) Seen(p *draft.Piece) bool {
	return !p.Hidden && !d.aside[p.ID] || d.picked.Touches(p.ID)
}

// keepSight ends the isolation if nothing is left that it shows.
func (d *Desk) keepSight() Change {
	if d.aside == nil {
		return 0
	}
	for _, p := range d.Project().Pieces {
		if !d.aside[p.ID] {
			return 0
		}
	}
	d.aside = nil
	return Sight
}

package tray

import (
	"slices"

	"hemlet/draft"
)

// pickOne picks a piece alone.
func (t *Tray) pickOne(id draft.ID) {
	t.from = id
	t.Pick(id, false)
}

// pickMore adds a piece to what is picked, or takes it out.
func (t *Tray) pickMore(id draft.ID) {
	t.from = id
	t.Pick(id, true)
}

// pickRange picks all pieces that are to be seen in the list from the one that was pressed last
// to this one, which is the last that is picked.
func (t *Tray) pickRange(id draft.ID) {
	list := t.listedPieces()
	from, to := slices.Index(list, t.from), slices.Index(list, id)
	if from < 0 || to < 0 {
		t.pickOne(id)
		return
	}
	pieces := slices.Clone(list[min(from, to) : max(from, to)+1])
	if to < from {
		slices.Reverse(pieces)
	}
	t.PickAll(pieces)
}

// listedPieces returns the pieces whose cards are to be seen, in their order.
func (t *Tray) listedPieces() []draft.ID {
	var list []draft.ID
	for _, id := range t.layout {
		if c := t.cards[id]; c != nil && c.card.Visible() {
			list = append(list, id)
		}
	}
	return list
}

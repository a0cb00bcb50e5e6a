package tray

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/wording"
	"hemlet/draft"
)

// garmentHead is the line above the pieces of a garment; pressing it folds them away.
type garmentHead struct {
	garment   string
	card      *control.DragCard
	eye, lock *control.Button
}

// noGarment is what the pieces are called that belong to none.
const noGarment = "Pieces"

func (t *Tray) newHead(garment string, pieces int) *garmentHead {
	h := &garmentHead{garment: garment}
	name := garment
	if name == "" {
		name = noGarment
	}
	sign := "▾"
	if t.closed[garment] && t.sought == "" {
		sign = "▸"
	}
	h.eye = control.NewButton(control.TinyShape, "eye", "", "Hide all pieces of this garment on the bench, or show them again", func() { t.toggle(shown, t.of(garment)) })
	h.lock = control.NewButton(control.TinyShape, "unlock", "", "Lock all pieces of this garment, or unlock them", func() { t.toggle(locked, t.of(garment)) })
	end := control.Row(0, control.Faint(wording.Count(pieces, "piece")+" "+sign), control.Wide(4, control.Row(0)), h.eye, h.lock)
	row := container.NewBorder(nil, nil, nil, end, control.Centred(control.NewText(name, 14, true, theme.ColorNameForeground).AtLeast(leastText)))
	h.card = control.NewDragCard(control.Inset(4, 3, 6, 3, row), "Fold the pieces of this garment away, or out again. Drag it to another place", nil)
	h.card.Coloured(theme.ColorNameBackground, theme.ColorNameBackground)
	h.card.OnTap = func() {
		t.closed[garment] = !t.closed[garment]
		t.layout = nil
		t.Update()
	}
	h.card.OnDrag = func(at fyne.Position) { t.dragTo(func() []draft.ID { return idsOf(t.of(garment)) }, true, at) }
	h.card.OnDrop = t.drop
	return h
}

// fill shows whether all pieces of the garment are hidden, and locked.
func (h *garmentHead) fill(p *draft.Project) {
	hidden, held := true, true
	for _, piece := range p.Pieces {
		if piece.Garment == h.garment {
			hidden, held = hidden && piece.Hidden, held && piece.Locked
		}
	}
	putEye(h.eye, hidden)
	putLock(h.lock, held)
}

// of names the pieces of a garment.
func (t *Tray) of(garment string) []draft.PieceRef {
	var refs []draft.PieceRef
	for _, p := range t.desk.Project().Pieces {
		if p.Garment == garment {
			refs = append(refs, draft.PieceRef(p.ID))
		}
	}
	return refs
}

func idsOf(refs []draft.PieceRef) []draft.ID {
	ids := make([]draft.ID, len(refs))
	for i, r := range refs {
		ids[i] = draft.ID(r)
	}
	return ids
}

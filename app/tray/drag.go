package tray

import (
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/draft"
)

// dragging is what is taken to another place, and where it would go.
type dragging struct {
	pieces []draft.ID
	// whole says that they are a garment that is taken as a whole.
	whole bool
	to    target
}

// target is a place in the list: before a piece, at the end where that is empty.
type target struct {
	garment string
	before  draft.ID
	// y is where it lies in the list, in screen units.
	y  float32
	ok bool
}

// withPicked returns the pieces that go along with one that is dragged: all that are
// picked if it is.
func (t *Tray) withPicked(id draft.ID) []draft.ID {
	picked := t.desk.Picked().Of(desk.Piece)
	if !picked.Has(desk.PieceRef(id)) {
		return []draft.ID{id}
	}
	return picked.Pieces()
}

// edgeScroll is how near the pointer comes to the top or the foot of the list before
// that moves, and by how much it does at a time, in screen units.
const edgeScroll = 18

// dragTo shows where what is dragged would go with the pointer at a place of the canvas;
// whole says that it is a garment.
func (t *Tray) dragTo(pieces func() []draft.ID, whole bool, at fyne.Position) {
	if t.drag == nil {
		t.drag = &dragging{pieces: pieces(), whole: whole}
	}
	d := fyne.CurrentApp().Driver()
	if y := at.Y - d.AbsolutePositionForObject(t.scroll).Y; y < edgeScroll {
		t.scrollBy(-edgeScroll)
	} else if y > t.scroll.Size().Height-edgeScroll {
		t.scrollBy(edgeScroll)
	}
	y := at.Y - d.AbsolutePositionForObject(t.list).Y
	if t.drag.whole {
		t.drag.to = t.garmentAt(y)
	} else {
		t.drag.to = t.placeAt(y)
	}
	if !t.drag.to.ok {
		t.mark.Hide()
		return
	}
	const thick = 3
	t.mark.Move(fyne.NewPos(0, t.drag.to.y-thick/2))
	t.mark.Resize(fyne.NewSize(t.list.Size().Width, thick))
	t.mark.Show()
	t.mark.Refresh()
}

func (t *Tray) scrollBy(by float32) {
	most := max(t.scroll.Content.MinSize().Height-t.scroll.Size().Height, 0)
	t.scroll.Offset.Y = min(max(t.scroll.Offset.Y+by, 0), most)
	t.scroll.Refresh()
}

// row is one line of the list.
type row struct {
	object  fyne.CanvasObject
	garment string
	piece   draft.ID // empty for the head of the garment
}

// rows lists the lines that are seen, from the top.
func (t *Tray) rows() []row {
	var list []row
	project := t.desk.Project()
	for _, g := range t.garment {
		h := t.heads[g]
		if h == nil {
			continue
		}
		list = append(list, row{h.card, g, ""})
		for _, p := range project.Pieces {
			if c := t.cards[p.ID]; c != nil && p.Garment == g && c.card.Visible() && t.finds(project, p) {
				list = append(list, row{c.card, g, p.ID})
			}
		}
	}
	return list
}

// placeAt returns where pieces would go at a height in the list.
func (t *Tray) placeAt(y float32) target {
	var to target
	for _, r := range t.rows() {
		top, high := r.object.Position().Y, r.object.Size().Height
		switch {
		case r.piece == "" && (y >= top || !to.ok):
			// Under the head of a garment is the place before its first piece.
			to = target{r.garment, t.firstOf(r.garment), top + high + rowGap/2, true}
		case r.piece != "" && y >= top+high/2:
			to = target{r.garment, t.after(r.piece), top + high + rowGap/2, true}
		}
	}
	return to
}

// garmentAt returns before which garment another one would go at a height in the list.
func (t *Tray) garmentAt(y float32) target {
	rows := t.rows()
	if len(rows) == 0 {
		return target{}
	}
	to := target{t.garment[0], t.firstOf(t.garment[0]), rows[0].object.Position().Y - rowGap/2, true}
	for i, r := range rows {
		if i+1 < len(rows) && rows[i+1].piece != "" {
			continue // not the last line of a garment
		}
		foot := r.object.Position().Y + r.object.Size().Height
		head := t.heads[r.garment].card.Position().Y
		if y < (head+foot)/2 {
			break
		}
		to = target{garment: r.garment, y: foot + rowGap/2, ok: true}
		if k := slices.Index(t.garment, r.garment); k+1 < len(t.garment) {
			to.before = t.firstOf(t.garment[k+1])
		}
	}
	return to
}

// firstOf returns the first piece of a garment.
func (t *Tray) firstOf(garment string) draft.ID {
	for _, p := range t.desk.Project().Pieces {
		if p.Garment == garment {
			return p.ID
		}
	}
	return ""
}

// after returns the piece that follows one in the project, empty at the end.
func (t *Tray) after(id draft.ID) draft.ID {
	pieces := t.desk.Project().Pieces
	i := slices.IndexFunc(pieces, func(p *draft.Piece) bool { return p.ID == id })
	if i < 0 || i+1 >= len(pieces) {
		return ""
	}
	return pieces[i+1].ID
}

// drop puts what is dragged where it was let go of.
func (t *Tray) drop() {
	d := t.drag
	t.drag = nil
	t.mark.Hide()
	if d == nil || !d.to.ok {
		return
	}
	args := draft.OrderPiecesArgs{Garment: &d.to.garment}
	if d.whole {
		args.Garment = nil
	}
	for _, id := range d.pieces {
		args.Pieces = append(args.Pieces, draft.PieceRef(id))
	}
	// Before one of themselves is before the one that follows them.
	before := d.to.before
	for slices.Contains(d.pieces, before) {
		before = t.after(before)
	}
	args.Before = draft.PieceRef(before)
	if t.stays(d, before) {
		return
	}
	do(t, draft.OrderPieces, args)
}

// stays reports whether nothing would change.
func (t *Tray) stays(d *dragging, before draft.ID) bool {
	project := t.desk.Project()
	last := d.pieces[len(d.pieces)-1]
	for i, id := range d.pieces {
		p := project.Piece(id)
		if p == nil || !d.whole && p.Garment != d.to.garment || i > 0 && t.after(d.pieces[i-1]) != id {
			return false
		}
	}
	return t.after(last) == before
}

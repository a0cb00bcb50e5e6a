package tray

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// pieceCard is one piece in the tray.
type pieceCard struct {
	card      *control.DragCard
	thumb     *canvas.Image
	name      *control.Text
	cut       *control.Text
	words     *fyne.Container // the name, or the field in which it is typed
	mark      *control.Mark
	eye, lock *control.Button
	piece     *draft.Piece // that the picture shows
}

// The size of a picture in screen units, and how many pixels there are to each.
const (
	thumbW, thumbH = 52, 44
	thumbDPR       = 2
)

// paleHidden is how far the picture of a hidden piece is taken back.
const paleHidden = 0.6

func (t *Tray) newCard(id draft.ID) *pieceCard {
	c := &pieceCard{
		thumb: canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1))),
		name:  control.NewText("", 13, true, theme.ColorNameForeground).AtLeast(leastText),
		cut:   control.NewText("", 11.5, false, theme.ColorNamePlaceHolder).AtLeast(leastText),
		mark:  control.NewMark(control.Holds, 16),
	}
	c.thumb.FillMode = canvas.ImageFillContain
	c.thumb.SetMinSize(fyne.NewSize(thumbW, thumbH))
	c.eye = control.NewButton(control.TinyShape, "eye", "", "Hide this piece on the bench, or show it again; hidden pieces are still checked, printed and cut", func() { t.toggle(shown, t.one(id)) })
	c.lock = control.NewButton(control.TinyShape, "unlock", "", "Lock this piece so that nothing on the bench touches it, or unlock it", func() { t.toggle(locked, t.one(id)) })
	// Beside the name lies only the mark, so that a narrow tray still says most of it.
	c.words = container.NewStack(control.Stack(2,
		container.NewBorder(nil, nil, nil, control.Inset(4, 0, 2, 0, c.mark), c.name),
		container.NewBorder(nil, nil, nil, control.Row(0, c.eye, c.lock), control.Centred(c.cut))))
	row := container.NewBorder(nil, nil, control.Inset(0, 0, 6, 0, c.thumb), nil, control.Centred(c.words))
	c.card = control.NewDragCard(control.Inset(8, 8, 6, 6, row), "Pick this piece and show it; Ctrl picks it too or no longer, Shift all up to it. Drag it to another place or garment; press it twice to rename it", func() { t.pickOne(id) })
	c.card.OnMore = func() { t.pickMore(id) }
	c.card.OnRange = func() { t.pickRange(id) }
	c.card.OnTwice = func() { t.Rename(id) }
	c.card.OnDrag = func(at fyne.Position) { t.dragTo(func() []draft.ID { return t.withPicked(id) }, false, at) }
	c.card.OnDrop = t.drop
	return c
}

func (t *Tray) fill(c *pieceCard, p *draft.Piece) {
	c.name.Set(p.Name)
	c.cut.Set(says(p))
	c.card.SetChosen(t.desk.Picked().Touches(p.ID))
	c.mark.Put(levelOf(t.desk.Count(p.ID)))
	colour, pale := theme.ColorNameForeground, 0.0
	if p.Hidden || p.Ghost > 0 {
		colour, pale = theme.ColorNamePlaceHolder, paleHidden
	}
	c.name.SetColour(colour)
	putEye(c.eye, p.Hidden)
	putLock(c.lock, p.Locked)
	if c.piece == p && c.thumb.Translucency == pale {
		return
	}
	c.thumb.Translucency = pale
	if c.piece != p {
		c.piece = p
		c.thumb.Image = t.thumbs.Paint(t.desk.Slots(), p, &t.palette, thumbW*thumbDPR, thumbH*thumbDPR, thumbDPR)
	}
	c.thumb.Refresh()
}

// says tells how a piece is cut, or why it is not.
func says(p *draft.Piece) string {
	if p.Ghost > 0 {
		return "ghost, not cut"
	}
	if p.Hidden {
		return "hidden · " + p.Cut.String()
	}
	return p.Cut.String()
}

func putEye(b *control.Button, hidden bool) {
	if hidden {
		b.SetIcon("eye-shut", theme.ColorNameForeground)
		return
	}
	b.SetIcon("eye", look.Faint)
}

func putLock(b *control.Button, locked bool) {
	if locked {
		b.SetIcon("lock", theme.ColorNameForeground)
		return
	}
	b.SetIcon("unlock", look.Faint)
}

func levelOf(n desk.Count) control.Level {
	switch {
	case n.Problems > 0:
		return control.Problem
	case n.LookAgain > 0:
		return control.LookAgain
	default:
		return control.Holds
	}
}

// one names a piece as acts take it.
func (t *Tray) one(id draft.ID) []draft.PieceRef { return []draft.PieceRef{draft.PieceRef(id)} }

// trait is what the marks of pieces and garments change: to on, or back.
type trait struct {
	is      func(*draft.Piece) bool
	on, off *draft.Act[draft.ShowPiecesArgs]
}

var (
	shown  = trait{func(p *draft.Piece) bool { return p.Hidden }, draft.HidePieces, draft.ShowPieces}
	locked = trait{func(p *draft.Piece) bool { return p.Locked }, draft.LockPieces, draft.UnlockPieces}
)

// toggle gives the trait to the pieces, or takes it from them if all of them have it.
func (t *Tray) toggle(x trait, pieces []draft.PieceRef) {
	act := x.off
	for _, ref := range pieces {
		if p := t.desk.Project().Piece(draft.ID(ref)); p != nil && !x.is(p) {
			act = x.on
		}
	}
	if act == draft.HidePieces { // what is picked is seen, hidden or not
		for _, ref := range pieces {
			for _, r := range t.desk.Picked() {
				if r.Piece == draft.ID(ref) {
					t.desk.PickLess(r)
				}
			}
		}
	}
	do(t, act, draft.ShowPiecesArgs{Pieces: pieces})
}

// Rename lets the name of a piece be typed in its place.
func (t *Tray) Rename(id draft.ID) {
	c, p := t.cards[id], t.desk.Project().Piece(id)
	if c == nil || p == nil || len(c.words.Objects) > 1 {
		return
	}
	back := func() {
		if len(c.words.Objects) > 1 {
			c.words.Objects = c.words.Objects[:1]
			c.words.Objects[0].Show()
			c.words.Refresh()
		}
	}
	field := control.NewField("The name of the piece; Return takes it, Esc leaves it as it was", func(name string) error {
		return desk.Run(t.desk, draft.RenamePiece, draft.RenamePieceArgs{Piece: draft.PieceRef(id), Name: name})
	})
	field.Put(p.Name)
	field.Done = func() { back(); t.Away() }
	field.OnFocus = func(on bool) {
		if !on {
			back()
		}
	}
	field.OnKey = func(name fyne.KeyName) bool {
		if name != fyne.KeyEscape {
			return false
		}
		field.SetText(p.Name)
		back()
		t.Away()
		return true
	}
	c.words.Objects[0].Hide()
	c.words.Add(control.Compact(field.Object()))
	c.words.Refresh()
	if cv := fyne.CurrentApp().Driver().CanvasForObject(c.words); cv != nil {
		cv.Focus(field)
	}
	field.TypedShortcut(&fyne.ShortcutSelectAll{})
}

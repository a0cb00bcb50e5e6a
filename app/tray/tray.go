// Package tray lists the pieces of the project by garment, each with a small
// picture, how it is cut, and how the checks find it.
package tray

import (
	"fmt"
	"image"
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// Width is how wide the tray is where there is room, and Least how far it gives way,
// in screen units.
const (
	Width = 228
	Least = 168
)

// leastText is the width up to which names are cut short.
const leastText = 10

// Tray is the panel beside the rail.
type Tray struct {
	// Pick is called with a piece that was pressed; more says that it is added to
	// what is picked.
	Pick func(piece draft.ID, more bool)

	desk    *desk.Desk
	thumbs  *bench.Thumbs
	palette paint.Palette
	object  fyne.CanvasObject
	scroll  *container.Scroll
	list    *fyne.Container
	cards   map[draft.ID]*pieceCard
	closed  map[string]bool
	layout  []draft.ID // of the cards as they are listed, with "" before each garment
	garment []string
}

// New returns a tray for the desk.
func New(d *desk.Desk, palette paint.Palette) (*Tray, error) {
	thumbs, err := bench.NewThumbs()
	if err != nil {
		return nil, fmt.Errorf("the tray: %w", err)
	}
	t := &Tray{
		desk: d, thumbs: thumbs, list: control.Stack(8),
		cards: map[draft.ID]*pieceCard{}, closed: map[string]bool{}, Pick: func(draft.ID, bool) {},
	}
	t.setPalette(palette)
	t.scroll = container.NewVScroll(control.Inset(12, 12, 12, 12, t.list))
	t.object = container.New(&least{}, t.scroll)
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			clear(t.cards)
			clear(t.closed)
			t.layout = nil // the pieces may bear the ids of those before
		}
		t.Update()
	})
	t.Update()
	return t, nil
}

// least lets an object be as narrow as the tray may become.
type least struct{}

func (*least) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(Least, o[0].MinSize().Height)
}

func (*least) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// Object returns the panel.
func (t *Tray) Object() fyne.CanvasObject { return t.object }

// SetPalette changes the colours of the pictures.
func (t *Tray) SetPalette(p paint.Palette) {
	t.setPalette(p)
	for _, c := range t.cards {
		c.piece = nil
	}
	t.Update()
}

// setPalette takes the colours in; the pictures lie on cards and not on the bench.
func (t *Tray) setPalette(p paint.Palette) {
	t.palette = p
	t.palette[paint.Bench] = color.NRGBAModel.Convert(theme.Color(look.Card)).(color.NRGBA)
}

// Update shows the document as it now stands.
func (t *Tray) Update() {
	project := t.desk.Project()
	garments := garmentsOf(project)
	if !t.listed(garments, project) {
		t.rebuild(garments, project)
	}
	for _, p := range project.Pieces {
		if c := t.cards[p.ID]; c != nil {
			t.fill(c, p)
		}
	}
}

// garmentsOf lists the garments in the order in which their first pieces come.
func garmentsOf(p *draft.Project) []string {
	var out []string
	seen := map[string]bool{}
	for _, piece := range p.Pieces {
		if !seen[piece.Garment] {
			seen[piece.Garment] = true
			out = append(out, piece.Garment)
		}
	}
	return out
}

// order returns the ids of the pieces as they are listed.
func order(garments []string, p *draft.Project) []draft.ID {
	var ids []draft.ID
	for _, g := range garments {
		ids = append(ids, "")
		for _, piece := range p.Pieces {
			if piece.Garment == g {
				ids = append(ids, piece.ID)
			}
		}
	}
	return ids
}

// listed reports whether the cards are those of the project already.
func (t *Tray) listed(garments []string, p *draft.Project) bool {
	return t.layout != nil && slices.Equal(t.garment, garments) && slices.Equal(t.layout, order(garments, p))
}

func (t *Tray) rebuild(garments []string, p *draft.Project) {
	t.garment, t.layout = garments, order(garments, p)
	t.list.RemoveAll()
	live := map[draft.ID]*pieceCard{}
	for _, g := range garments {
		var cards []*pieceCard
		for _, piece := range p.Pieces {
			if piece.Garment != g {
				continue
			}
			c := t.cards[piece.ID]
			if c == nil {
				c = t.newCard(piece.ID)
			}
			live[piece.ID] = c
			cards = append(cards, c)
		}
		t.list.Add(t.garmentHead(g, cards))
		for _, c := range cards {
			if t.closed[g] {
				c.card.Hide()
			} else {
				c.card.Show()
			}
			t.list.Add(c.card)
		}
	}
	t.cards = live
	t.scroll.Refresh()
}

// garmentHead is the line above the pieces of a garment; pressing it folds them
// away.
func (t *Tray) garmentHead(garment string, cards []*pieceCard) fyne.CanvasObject {
	name := garment
	if name == "" {
		name = "Pieces"
	}
	sign := "▾"
	if t.closed[garment] {
		sign = "▸"
	}
	of := wording.Count(len(cards), "piece") + " " + sign
	row := container.NewBorder(nil, nil, nil, container.NewCenter(control.Faint(of)), control.NewText(name, 14, true, theme.ColorNameForeground).AtLeast(leastText))
	head := control.NewCard(control.Inset(4, 4, 4, 4, row), "Fold the pieces of this garment away, or out again", nil)
	head.Coloured(theme.ColorNameBackground, theme.ColorNameBackground)
	head.OnTap = func() {
		t.closed[garment] = !t.closed[garment]
		t.layout = nil
		t.Update()
	}
	return head
}

// pieceCard is one piece in the tray.
type pieceCard struct {
	card  *control.Card
	thumb *canvas.Image
	name  *control.Text
	cut   *control.Text
	mark  *control.Mark
	piece *draft.Piece // that the picture shows
}

// The size of a picture in screen units, and how many pixels there are to each.
const (
	thumbW, thumbH = 52, 44
	thumbDPR       = 2
)

func (t *Tray) newCard(id draft.ID) *pieceCard {
	c := &pieceCard{
		thumb: canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1))),
		name:  control.NewText("", 13, true, theme.ColorNameForeground).AtLeast(leastText),
		cut:   control.NewText("", 11.5, false, theme.ColorNamePlaceHolder).AtLeast(leastText),
		mark:  control.NewMark(control.Holds, 16),
	}
	c.thumb.FillMode = canvas.ImageFillContain
	c.thumb.SetMinSize(fyne.NewSize(thumbW, thumbH))
	text := control.Centred(control.Stack(2, c.name, c.cut))
	row := container.NewBorder(nil, nil, control.Inset(0, 0, 6, 0, c.thumb), container.NewVBox(c.mark), text)
	c.card = control.NewCard(control.Inset(8, 8, 10, 8, row), "Pick this piece and show it; with Shift, pick it too", func() { t.Pick(id, false) })
	c.card.OnMore = func() { t.Pick(id, true) }
	return c
}

func (t *Tray) fill(c *pieceCard, p *draft.Piece) {
	c.name.Set(p.Name)
	c.cut.Set(p.Cut.String())
	c.card.SetChosen(t.desk.Picked().Touches(p.ID))
	c.mark.Put(levelOf(t.desk.Count(p.ID)))
	if c.piece != p {
		c.piece = p
		c.thumb.Image = t.thumbs.Paint(t.desk.Slots(), p, &t.palette, thumbW*thumbDPR, thumbH*thumbDPR, thumbDPR)
		c.thumb.Refresh()
	}
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

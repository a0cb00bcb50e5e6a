// Package tray lists the pieces of the project by garment, each with a small
// picture, how it is cut, whether it is seen and locked, and how the checks find it.
// Pieces are picked, found, renamed, and taken to another place or garment there.
package tray

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
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
	// what is picked, or taken out of it.
	Pick func(piece draft.ID, more bool)
	// PickAll is called with pieces that are picked together.
	PickAll func(pieces []draft.ID)
	// Say shows an error or a remark in the status line.
	Say func(text string)
	// Away gives the keys back where they were.
	Away func()

	desk    *desk.Desk
	thumbs  *bench.Thumbs
	palette paint.Palette
	object  fyne.CanvasObject
	scroll  *container.Scroll
	list    *fyne.Container
	find    *control.Field
	none    *control.Text
	sought  string // what is looked for, in small letters
	cards   map[draft.ID]*pieceCard
	heads   map[string]*garmentHead
	closed  map[string]bool
	layout  []draft.ID // of the cards as they are listed, with "" before each garment
	garment []string
	drag    *dragging // under way, nil for none
	from    draft.ID  // where a range of pieces begins that is picked
	mark    *control.Plane
	resting desk.Resting
}

// New returns a tray for the desk.
func New(d *desk.Desk, palette paint.Palette) (*Tray, error) {
	thumbs, err := bench.NewThumbs()
	if err != nil {
		return nil, fmt.Errorf("the tray: %w", err)
	}
	t := &Tray{
		desk: d, thumbs: thumbs, list: control.Stack(rowGap), mark: control.NewPlane(look.Chalk, "", 1),
		cards: map[draft.ID]*pieceCard{}, heads: map[string]*garmentHead{}, closed: map[string]bool{},
		Pick: func(draft.ID, bool) {}, PickAll: func([]draft.ID) {}, Say: func(string) {}, Away: func() {},
		none: control.NewText("", 12.5, false, look.Faint),
	}
	t.setPalette(palette)
	t.mark.Hide()
	over := container.NewWithoutLayout(t.mark)
	t.scroll = container.NewVScroll(control.Inset(12, 2, 12, 12, container.NewStack(t.list, over)))
	t.object = container.New(&least{}, container.NewBorder(control.Compact(control.Inset(12, 12, 12, 4, t.findBox())), nil, nil, nil, t.scroll))
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			clear(t.cards)
			clear(t.heads)
			clear(t.closed)
			t.layout, t.drag, t.from = nil, nil, "" // the pieces may bear the ids of those before
			t.find.SetText("")
		}
		t.Update()
	})
	t.Update()
	return t, nil
}

// rowGap lies between two rows, in screen units.
const rowGap = 8

// least lets an object be as narrow as the tray may become.
type least struct{}

func (*least) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(Least, o[0].MinSize().Height)
}

func (*least) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// findBox is the field that leaves only those pieces in the list whose name, garment or
// cloth holds what is typed.
func (t *Tray) findBox() fyne.CanvasObject {
	t.find = control.NewField("List only the pieces whose name, garment or cloth holds these letters; Esc lists all", nil)
	t.find.SetPlaceHolder("Find a piece")
	t.find.OnChanged = func(text string) {
		t.sought = strings.ToLower(strings.TrimSpace(text))
		t.layout = nil
		t.Update()
	}
	t.find.OnKey = func(name fyne.KeyName) bool {
		if name == fyne.KeyEscape && t.find.Text != "" {
			t.find.SetText("")
			return true
		}
		return false
	}
	t.find.OnSubmitted = func(string) { t.pickFirst() }
	return control.Stack(4, t.find.Object(), t.none)
}

// Find gives the keys to the field that looks for pieces.
func (t *Tray) Find() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(t.find); c != nil {
		c.Focus(t.find)
	}
}

// pickFirst picks the first piece of the list.
func (t *Tray) pickFirst() {
	for _, id := range t.layout {
		if id != "" {
			t.pickOne(id)
			return
		}
	}
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

// SetSeen tells whether anybody sees the tray; unseen it does no work.
func (t *Tray) SetSeen(on bool) {
	if t.resting.Seen(on) {
		t.Update()
	}
}

// Update shows the document as it now stands.
func (t *Tray) Update() {
	if t.resting.Rests() {
		return
	}
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
	for _, g := range garments {
		if h := t.heads[g]; h != nil {
			h.fill(project)
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
func (t *Tray) order(garments []string, p *draft.Project) []draft.ID {
	var ids []draft.ID
	for _, g := range garments {
		ids = append(ids, "")
		for _, piece := range p.Pieces {
			if piece.Garment == g && t.finds(p, piece) {
				ids = append(ids, piece.ID)
			}
		}
	}
	return ids
}

// finds reports whether a piece is what is looked for.
func (t *Tray) finds(p *draft.Project, piece *draft.Piece) bool {
	if t.sought == "" {
		return true
	}
	text := piece.Name + "\n" + piece.Garment
	if c := p.Cloth(piece.Cloth); c != nil {
		text += "\n" + c.Name
	}
	return strings.Contains(strings.ToLower(text), t.sought)
}

// listed reports whether the cards are those of the project already.
func (t *Tray) listed(garments []string, p *draft.Project) bool {
	return t.layout != nil && slices.Equal(t.garment, garments) && slices.Equal(t.layout, t.order(garments, p))
}

func (t *Tray) rebuild(garments []string, p *draft.Project) {
	t.garment, t.layout = garments, t.order(garments, p)
	t.list.RemoveAll()
	live, heads := map[draft.ID]*pieceCard{}, map[string]*garmentHead{}
	found := false
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
			if t.finds(p, piece) {
				cards = append(cards, c)
			}
		}
		if len(cards) == 0 {
			continue
		}
		found = true
		heads[g] = t.newHead(g, len(cards))
		t.list.Add(heads[g].card)
		for _, c := range cards {
			if t.closed[g] && t.sought == "" {
				c.card.Hide()
			} else {
				c.card.Show()
			}
			t.list.Add(c.card)
		}
	}
	t.cards, t.heads = live, heads
	t.none.Hide()
	if t.none.Set(""); !found && t.sought != "" {
		t.none.Set("No piece is called so.")
		t.none.Show()
	}
	t.scroll.Refresh()
}

// do does an act on pieces and tells what went wrong.
func do[A any](t *Tray, act *draft.Act[A], args A) {
	if err := desk.Run(t.desk, act, args); err != nil {
		t.Say(err.Error())
	}
}

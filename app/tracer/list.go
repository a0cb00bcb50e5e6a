package tracer

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
)

// Sizes in screen units: of the list at its narrowest, of a picture on a card, and how
// many pixels there are to a unit.
const (
	listLeast    = 188
	thumbW       = 56
	thumbH       = 56
	thumbDPR     = 2
	leastText    = 10
	listRoom     = 12
	thumbMargin  = 1
	markSize     = 14
	cardsBetween = 8
)

// pictureList is the list of the pictures at the left.
type pictureList struct {
	r       *Room
	object  fyne.CanvasObject
	rows    *fyne.Container
	count   *control.Text
	scroll  *container.Scroll
	cards   []*pictureCard
	painter *sheet.Painter
}

// pictureCard is one picture in the list.
type pictureCard struct {
	id    draft.ID
	card  *control.Card
	thumb *canvas.Image
	name  *control.Text
	says  *control.Text
	mark  *control.Mark
	// shows and of are what the card was filled from.
	shows *draft.Picture
	of    *paint.Pyramid
	unit  draft.Unit
}

func newPictureList(r *Room) *pictureList {
	l := &pictureList{r: r, rows: control.Stack(cardsBetween), count: control.Faint("")}
	l.painter, _ = sheet.NewPainter() // without it the cards bear words alone
	add := control.NewButton(control.WordShape, "add", "Add a picture…", "Bring in a scan, a photograph, or the pictures of a scanned PDF", r.host.Choose)
	head := control.Inset(4, 4, 4, 0, container.NewBorder(nil, nil, nil, container.NewCenter(l.count),
		control.NewText("Pictures", 14, true, theme.ColorNameForeground).AtLeast(leastText)))
	all := control.Stack(cardsBetween, head, l.rows, control.Inset(0, 2, 0, 0, add))
	l.scroll = container.NewVScroll(control.Inset(listRoom, listRoom, listRoom, listRoom, all))
	l.object = container.New(leastWide(listLeast), control.Compact(l.scroll))
	return l
}

// leastWide lets an object be as narrow as so many screen units.
type leastWide float32

func (w leastWide) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(float32(w), o[0].MinSize().Height)
}

func (leastWide) Layout(o []fyne.CanvasObject, size fyne.Size) {
	o[0].Move(fyne.Position{})
	o[0].Resize(size)
}

// update shows the pictures, the one in hand marked.
func (l *pictureList) update() {
	pics := l.r.pictures()
	l.count.Set("none yet")
	if len(pics) > 0 {
		l.count.Set(wording.Count(len(pics), "picture"))
	}
	if !l.lists(pics) {
		l.rows.RemoveAll()
		l.cards = nil
		for _, pic := range pics {
			c := l.newCard(pic.ID)
			l.cards = append(l.cards, c)
			l.rows.Add(c.card)
		}
	}
	for i, pic := range pics {
		l.fill(l.cards[i], pic)
		l.cards[i].card.SetChosen(pic == l.r.chosen())
	}
	l.scroll.Refresh()
}

// lists reports whether the cards are those of the pictures already.
func (l *pictureList) lists(pics []*draft.Picture) bool {
	if len(l.cards) != len(pics) {
		return false
	}
	for i, pic := range pics {
		if l.cards[i].id != pic.ID {
			return false
		}
	}
	return true
}

func (l *pictureList) newCard(id draft.ID) *pictureCard {
	c := &pictureCard{
		id: id, thumb: canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1))),
		name: control.NewText("", 13, true, theme.ColorNameForeground).AtLeast(leastText),
		says: control.NewText("", 11.5, false, theme.ColorNamePlaceHolder).AtLeast(leastText),
		mark: control.NewMark(control.Note, markSize),
	}
	c.thumb.FillMode = canvas.ImageFillContain
	c.thumb.SetMinSize(fyne.NewSize(thumbW, thumbH))
	says := container.NewBorder(nil, nil, control.Inset(0, 0, 5, 0, container.NewCenter(c.mark)), nil, control.Centred(c.says))
	text := control.Centred(control.Stack(4, c.name, says))
	row := container.NewBorder(nil, nil, control.Inset(0, 0, 8, 0, c.thumb), nil, text)
	c.card = control.NewCard(control.Inset(8, 7, 10, 7, row), "Work on this picture", func() { l.r.choose(id) })
	return c
}

func (l *pictureList) fill(c *pictureCard, pic *draft.Picture) {
	read, unit := l.r.read(pic), l.r.unit()
	if c.shows == pic && c.of == read.sizes && c.unit == unit {
		return
	}
	c.shows, c.of, c.unit = pic, read.sizes, unit
	c.name.Set(pic.Name)
	says, level := trueness(pic, unit)
	c.says.Set(says)
	c.mark.Put(level)
	if img := l.thumbnail(pic, read.sizes); img != nil {
		c.thumb.Image = img
		c.thumb.Refresh()
	}
}

// thumbnail returns a small picture as it lies on the bench, nil until it was read.
func (l *pictureList) thumbnail(pic *draft.Picture, of *paint.Pyramid) image.Image {
	if of == nil || l.painter == nil {
		return nil
	}
	pal := cardPalette(l.r.palette)
	layer := &sheet.Layer{Things: []*sheet.Thing{{Marks: bench.PictureMarks(pic, of, 1, false, "")}}}
	return l.painter.Picture(&pal, thumbW*thumbDPR, thumbH*thumbDPR, thumbDPR, thumbMargin, layer)
}

// repaint has the cards filled anew, after a change of the colours.
func (l *pictureList) repaint() {
	for _, c := range l.cards {
		c.shows = nil
	}
}

// trueness says in a few words how a picture was made true to size, and how well.
func trueness(pic *draft.Picture, unit draft.Unit) (string, control.Level) {
	if pic.True == nil {
		return "not true yet", control.LookAgain
	}
	says, level, off := "by "+trueWords[pic.True.By], control.Holds, pic.True.Error
	if off > 0 {
		says = "off " + exactly(off, unit)
	}
	if pic.Joined != nil {
		off = max(off, pic.Joined.Error)
		says = "off " + exactly(off, unit)
	}
	if off > 0 {
		_, level = worth(off)
	}
	return says, level
}

// trueWords are the ways to make a picture true in words.
var trueWords = map[draft.Truing]string{
	draft.ByLength: "lengths", draft.ByResolution: "resolution", draft.ByFrame: "a frame", draft.ByGrid: "squared paper",
}

// placeFree returns where the middle of a picture so large goes, in mm, so that it lies
// at the right of all that lies on the bench.
func placeFree(p *draft.Project, w, h float64) geom.Point {
	const gap = 20 // mm between pictures
	box := geom.EmptyRect()
	for _, pic := range p.Pictures {
		box = box.Union(pic.Box())
	}
	if box.Empty() {
		for _, piece := range p.Pieces {
			box = box.Union(piece.DrawnPath().Transform(piece.Place.Affine()).Bounds())
		}
	}
	if box.Empty() {
		return geom.Point{}
	}
	return geom.Pt(box.Max.X+gap+w/2, box.Max.Y-h/2)
}

package station

import (
	"image"
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
)

// The size of a picture of a figure on a card, in screen units, and how many pixels
// there are to each.
const (
	cardPictureW, cardPictureH = 46, 54
	pictureDPR                 = 2
)

// wearerCard is one wearer in the list.
type wearerCard struct {
	id      draft.ID
	card    *control.Card
	picture *canvas.Image
	name    *control.Text
	size    *control.Text
	mark    *control.Mark
	shows   *draft.Wearer
	unit    draft.Unit
}

// wearersLeast is how narrow the list of wearers may become, in screen units.
const wearersLeast = 188

// buildLeft makes the list of wearers and what can be done with the one that is shown.
func (m *Measure) buildLeft() {
	m.list = control.Stack(8)
	m.deeds = newWearerDeeds(m)
	add := control.NewButton(control.WordShape, "add", "Add a wearer", "Add somebody, or something, that garments are made for", m.Begin)
	read := control.NewButton(control.QuietShape, "open", "Read from a file…", "Add the wearer that a file describes", func() { m.ways.Read() })
	rows := control.Stack(8, m.list, control.Inset(0, 2, 0, 0, add), read, m.deeds.object)
	m.listScroll = container.NewVScroll(control.Inset(12, 12, 12, 12, rows))
	back := control.NewButton(control.WordShape, "fit", "Back to Fit", "Go back to the pattern that waits to be fitted, to the wearer that is shown here", func() {
		id := draft.ID("")
		if w := m.Wearer(); w != nil {
			id = w.ID
		}
		m.ways.Fit(id)
	})
	line := control.Tall(1, control.NewPlane(look.Border, "", 0))
	m.toFit = control.Stack(0, line, control.Inset(12, 9, 12, 11, back))
	m.toFit.Hide()
	m.left = container.New(leastWide(wearersLeast), control.Compact(container.NewBorder(nil, m.toFit, nil, nil, m.listScroll)))
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

// updateList shows the wearers, the chosen one marked.
func (m *Measure) updateList(chosen *draft.Wearer) {
	p := m.desk.Project()
	if !m.listed(p.Wearers) {
		m.list.RemoveAll()
		m.cards = nil
		count := wording.Count(len(p.Wearers), "wearer")
		if len(p.Wearers) == 0 {
			count = "none yet"
		}
		m.list.Add(control.Inset(4, 4, 4, 0, container.NewBorder(nil, nil, nil, container.NewCenter(control.Faint(count)),
			control.NewText("Wearers", 14, true, theme.ColorNameForeground).AtLeast(10))))
		for _, w := range p.Wearers {
			c := m.newWearerCard(w.ID)
			m.cards = append(m.cards, c)
			m.list.Add(c.card)
		}
	}
	for i, w := range p.Wearers {
		m.fillCard(m.cards[i], w)
		m.cards[i].card.SetChosen(chosen != nil && w.ID == chosen.ID && !m.adding)
	}
	m.deeds.update(chosen)
	m.listScroll.Refresh()
}

// listed reports whether the cards are those of the wearers already.
func (m *Measure) listed(wearers []*draft.Wearer) bool {
	if len(m.cards) != len(wearers) || len(m.list.Objects) == 0 {
		return false
	}
	for i, w := range wearers {
		if m.cards[i].id != w.ID {
			return false
		}
	}
	return true
}

func (m *Measure) newWearerCard(id draft.ID) *wearerCard {
	const leastText = 10
	c := &wearerCard{
		id: id, picture: canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1))),
		name: control.NewText("", 13, true, theme.ColorNameForeground).AtLeast(leastText),
		size: control.NewText("", 11.5, false, theme.ColorNamePlaceHolder).AtLeast(leastText),
		mark: control.NewMark(control.Holds, 16),
	}
	c.picture.FillMode = canvas.ImageFillContain
	c.picture.SetMinSize(fyne.NewSize(cardPictureW, cardPictureH))
	text := control.Centred(control.Stack(2, c.name, c.size))
	row := container.NewBorder(nil, nil, control.Inset(0, 0, 8, 0, c.picture), container.NewVBox(c.mark), text)
	c.card = control.NewCard(control.Inset(8, 6, 10, 6, row), "Show the measures of this wearer", func() { m.Choose(id) })
	return c
}

func (m *Measure) fillCard(c *wearerCard, w *draft.Wearer) {
	unit := m.desk.Project().Unit
	if c.shows == w && c.unit == unit {
		return
	}
	c.shows, c.unit = w, unit
	resolved := body.Resolve(w.Given())
	c.name.Set(w.Name)
	size := w.Build.String()
	if k, ok := resolved.Get("stature"); ok {
		about := ""
		if k.Estimated {
			about = "≈ "
		}
		size = about + unit.Format(k.Value) + " · " + size
	}
	c.size.Set(size)
	c.mark.Put(worst(slipsOf(w, unit)))
	c.picture.Image = m.paintFigure(figure.Draw(resolved, w.Build, figure.Front, ownLevels(w)...), cardPictureW, cardPictureH, look.Card)
	c.picture.Refresh()
}

// ownLevels returns the levels of a wearer besides those that every wearer has.
func ownLevels(w *draft.Wearer) []string {
	var names []string
	for _, l := range w.Levels {
		if !isBodyLevel(l.Name) {
			names = append(names, l.Name)
		}
	}
	return names
}

// paintFigure returns a picture of a figure on a ground in a colour of the look.
func (m *Measure) paintFigure(d *figure.Drawing, w, h int, ground fyne.ThemeColorName) image.Image {
	pal := m.palette
	if c, ok := theme.Color(ground).(color.NRGBA); ok {
		pal[paint.Bench] = c
	}
	box := figureBox(d)
	v := paint.NewView(w*pictureDPR, h*pictureDPR, pictureDPR).Fit(box, 3)
	img := image.NewRGBA(image.Rect(0, 0, w*pictureDPR, h*pictureDPR))
	m.painter.Paint(img, v, &pal, &paint.Scene{Items: []*paint.Item{{Marks: figureMarks(d)}}})
	return img
}

// wearerDeeds is what can be done with the wearer that is shown.
type wearerDeeds struct {
	m       *Measure
	object  *fyne.Container
	title   *control.Text
	compare *control.Choice
	others  []draft.ID
}

func newWearerDeeds(m *Measure) *wearerDeeds {
	d := &wearerDeeds{m: m}
	d.title = control.NewText("", 13, true, look.Ink).AtLeast(10)
	d.compare = control.NewChoice("Show the measures of another wearer beside, and the differences", nil, func(i int) {
		m.other = ""
		if i > 0 && i <= len(d.others) {
			m.other = d.others[i-1]
		}
		m.Update()
	})
	deed := func(icon, word, hint string, do func()) fyne.CanvasObject {
		return control.NewButton(control.QuietShape, icon, word, hint, do)
	}
	d.object = control.Stack(6, control.Rule(), d.title,
		control.Faint("Compare with"), d.compare.Object(),
		control.Inset(0, 4, 0, 0, deed("new", "Copy", "Add a second wearer with the same measures", m.copyWearer)),
		deed("fit", "Scale…", "Make every measure larger or smaller by one ratio", m.askScale),
		deed("save", "Save to a file…", "Write this wearer to a file of its own", func() { m.ways.Save(m.Wearer()) }),
		deed("print", "Measuring sheet…", "Write a blank sheet with the figure, to note measures on by hand", func() { m.ways.Sheet(m.Wearer().Build) }),
		deed("remove", "Remove", "Take this wearer away; what was drafted or fitted for it stays as it is and follows nobody", m.removeWearer),
	)
	return d
}

func (d *wearerDeeds) update(w *draft.Wearer) {
	show(d.object, w != nil)
	if w == nil {
		return
	}
	d.title.Set(w.Name)
	words, on := []string{"nobody"}, 0
	d.others = d.others[:0]
	for _, o := range d.m.desk.Project().Wearers {
		if o.ID == w.ID {
			continue
		}
		d.others = append(d.others, o.ID)
		words = append(words, o.Name)
		if o.ID == d.m.other {
			on = len(words) - 1
		}
	}
	d.compare.Offer(words, on)
	for _, o := range d.object.Objects[2:4] {
		show(o, len(d.others) > 0)
	}
}

func (m *Measure) copyWearer() {
	w := m.Wearer()
	out, err := desk.RunFolded(m.desk, draft.CopyWearer, draft.CopyWearerArgs{Wearer: draft.WearerRef(w.ID)}, "")
	if err != nil {
		m.ways.Say(err.Error())
		return
	}
	m.other = w.ID
	m.Choose(out.Made)
	m.ways.Say(out.Project.Wearer(out.Made).Name + " has the measures of " + w.Name + "; both are shown side by side.")
	m.form.begin()
}

func (m *Measure) removeWearer() {
	w := m.Wearer()
	if run(m, draft.RemoveWearer, draft.RemoveWearerArgs{Wearer: draft.WearerRef(w.ID)}) {
		m.ways.Say(w.Name + " is taken away. Undo brings it back.")
	}
}

func (m *Measure) askScale() {
	w := m.Wearer()
	m.ways.AskText(TextQuestion{
		Title: "Scale " + w.Name, Label: "Ratio", Word: "Scale", Text: "1/6",
		Hint: "The new size over the old: 1/6, 110 %, or two lengths such as 30cm/164cm",
		Says: "Every measure is multiplied by it. 1/6 makes a doll of a person; two lengths, such as 30cm/164cm, make a body of the first height out of one of the second. What is worn underneath stays as thick as it is.",
		Take: func(text string) error {
			ratio, err := draft.ParseNumber(text)
			if err != nil {
				return err
			}
			return desk.Run(m.desk, draft.ScaleWearer, draft.ScaleWearerArgs{Wearer: draft.WearerRef(w.ID), Ratio: ratio})
		},
	})
}

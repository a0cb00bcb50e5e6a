package station

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft/figure"
)

// buildSays says in a line what each build is for.
var buildSays = map[figure.Build][2]string{
	figure.Upright: {"Upright", "A person, a doll, a figure that stands on two legs."},
	figure.Muzzled: {"With a muzzle", "An animal on two legs: tall ears, a long tail."},
	figure.Wide:    {"Wide", "The belly is the widest, hardly a neck, large feet."},
}

// The size of the picture of a build, in screen units.
const buildPictureW, buildPictureH = 176, 236

// buildChooser shows the three builds to choose from.
type buildChooser struct {
	m        *Measure
	object   fyne.CanvasObject
	pictures map[figure.Build]*canvas.Image
	cancel   fyne.CanvasObject
	title    *control.Text
}

func newBuildChooser(m *Measure) *buildChooser {
	c := &buildChooser{m: m, pictures: map[figure.Build]*canvas.Image{}}
	cards := container.NewGridWrap(fyne.NewSize(buildPictureW, buildPictureH+94))
	for _, b := range figure.Builds() {
		img := canvas.NewImageFromImage(nil)
		img.FillMode = canvas.ImageFillContain
		img.SetMinSize(fyne.NewSize(buildPictureW-24, buildPictureH))
		c.pictures[b] = img
		says := buildSays[b]
		text := control.Stack(3, control.NewText(says[0], 14, true, look.Ink), control.NewProse(says[1], 12, false, look.Faint, buildPictureW-28))
		cards.Add(control.NewCard(control.Inset(12, 12, 12, 14, control.Stack(10, img, text)), says[1], func() { m.add(b) }))
	}
	c.title = control.NewText("Whom shall we make it for?", 20, true, look.Ink)
	c.cancel = control.NewButton(control.QuietShape, "", "Back to the wearers", "Add nobody (Esc)", func() { m.Back() })
	read := control.NewButton(control.QuietShape, "open", "Read from a file…", "Add the wearer that a file describes", func() { m.ways.Read() })
	blank := control.NewButton(control.QuietShape, "print", "Print a measuring sheet…", "Write a blank sheet with the figure, to note measures on by hand", func() { m.ways.Sheet(figure.Upright) })
	rows := control.Stack(12, c.title,
		control.NewProse("Choose the build that is most like the body. It is only what the figure is drawn as: the pattern follows the measures, at any size, from a doll's house to a giant.", 13, false, look.Faint, 3*buildPictureW).Flowing(),
		control.Inset(0, 6, 0, 6, cards),
		control.Row(10, read, blank, c.cancel),
		samplesRow(m.ways.Samples))
	scroll := container.NewVScroll(container.New(inMiddle{}, control.Inset(24, 24, 24, 24, rows)))
	c.object = control.On(look.Bench, scroll)
	c.repaint()
	return c
}

// samplesRow offers the wearers that come with Hemlet.
func samplesRow(samples []SampleWearer) fyne.CanvasObject {
	row := control.Row(10, control.NewText("Or try one of ours:", 12.5, false, look.Faint))
	for _, w := range samples {
		row.Add(control.NewButton(control.QuietShape, "", w.Name, "Add "+w.Name+", with all measures, to try things out", w.Add))
	}
	show(row, len(samples) > 0)
	return row
}

// inMiddle lays an object in the middle, no wider than the cards beside one another.
type inMiddle struct{}

// chooserWide is the width of three cards with the room round them, in screen units.
const chooserWide = 3*(buildPictureW+8) + 2*24

func (inMiddle) MinSize(o []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, o[0].MinSize().Height)
}

func (inMiddle) Layout(o []fyne.CanvasObject, size fyne.Size) {
	width := min(size.Width, chooserWide)
	o[0].Resize(fyne.NewSize(width, size.Height))
	high := o[0].MinSize().Height
	o[0].Resize(fyne.NewSize(width, high))
	o[0].Move(fyne.NewPos((size.Width-width)/2, max((size.Height-high)/2, 0)))
}

func (c *buildChooser) update(wearers bool) {
	show(c.cancel, wearers)
	c.title.Set("Whom shall we make it for?")
	if wearers {
		c.title.Set("Add a wearer")
	}
}

// repaint draws the pictures in the colours of the look.
func (c *buildChooser) repaint() {
	for b, img := range c.pictures {
		img.Image = c.m.paintFigure(figure.Draw(nil, b, figure.Front), buildPictureW-24, buildPictureH, look.Card)
		img.Refresh()
	}
}

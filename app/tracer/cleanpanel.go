package tracer

import (
	"fmt"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
)

// cleanPanel is the panel of the step.
type cleanPanel struct {
	c      *clean
	object fyne.CanvasObject
	state  *control.Prose
	again  *control.Button
	sight  *control.Pill
	ground *control.Pill
	light  *control.Pill
	tint   *fyne.Container
	swatch *canvas.Rectangle
	pick   *control.Button
	forget *control.Button
	grid   *control.Check
	// What explains a setting that is on.
	shadows, colours, squares *control.Prose
	specks                    *control.Field
}

// labelWide is the width of the labels of the panels, in screen units.
const labelWide = 104

// faintly returns small text that explains what stands above it.
func faintly(text string) *control.Prose {
	return control.NewProse(text, 11.5, false, look.Faint, inner)
}

func newCleanPanel(c *clean) *cleanPanel {
	p := &cleanPanel{c: c}
	p.sight = control.NewPill("Which of the two is seen; the left and right keys change it", []string{"both", "before", "after"}, func(i int) {
		c.sight = sight(i)
		c.redraw()
	})
	p.state = faintly("")
	p.again = control.NewButton(control.SmallShape, "", "Clean it again", "Go on where it was stopped", func() {
		c.effort.own = nil
		c.Room.update()
	})
	p.ground = control.NewPill("Whether the pattern is darker or lighter than what it lies on", []string{"dark on light", "light on dark"}, func(i int) {
		c.finds.settings.Dark = i == 1
		c.Room.update()
	})
	p.light = control.NewPill("How evenly the picture is lit", []string{"even", "with shadows"}, func(i int) {
		c.finds.settings.Local = i == 1
		c.Room.update()
	})
	p.shadows = faintly("What is ink is decided anew for each place, as a photograph by a window needs it.")
	p.colours = faintly("A colour of print, such as blue squares or a second size in red, can be taken for paper.")
	p.squares = faintly("The squares are found by their spacing, in any colour, even black.")
	p.buildTint()
	p.grid = control.NewCheck("Take out printed squares", func(on bool) {
		c.finds.settings.Squares = on
		c.Room.update()
	})
	p.specks = control.NewField("Spots of ink up to this size across are taken out; 0 leaves all", func(text string) error {
		mm, err := c.unit().Parse(text)
		if err != nil {
			return err
		}
		if !(mm >= 0 && mm <= mostSpeck) {
			return fmt.Errorf("between 0 and %s: what is larger is no speck", c.unit().Format(mostSpeck))
		}
		c.finds.settings.Speck = speckArea(mm)
		c.Room.update()
		return nil
	})
	p.object = control.Stack(8,
		control.LabelledBy(labelWide, "See", control.Row(0, p.sight)),
		p.state, control.Row(0, p.again), control.Rule(),
		control.LabelledBy(labelWide, "The pattern is", control.Row(0, p.ground)),
		control.LabelledBy(labelWide, "The light is", control.Row(0, p.light)),
		p.shadows,
		control.Rule(),
		p.tint,
		p.colours, p.grid, p.squares,
		control.LabelledBy(labelWide, "Specks up to", p.specks.Object()),
	)
	return p
}

// mostSpeck is the largest size across of a speck in mm: beyond it lie the small pieces of
// a doll.
const mostSpeck = 5.0

// speckArea is the area of a round speck of the size across, and speckAcross the other way.
func speckArea(mm float64) float64    { return math.Pi / 4 * mm * mm }
func speckAcross(mm2 float64) float64 { return math.Sqrt(4 / math.Pi * mm2) }

func (p *cleanPanel) buildTint() {
	p.swatch = canvas.NewRectangle(color.Transparent)
	p.swatch.CornerRadius = 4
	p.swatch.SetMinSize(fyne.NewSquareSize(18))
	p.pick = control.NewButton(control.SmallShape, "", "Pick it…", "Click in the picture on a line of the colour that is to be taken for paper", func() { p.c.pick(!p.c.picking) })
	p.forget = control.NewButton(control.SmallShape, "", "Keep it", "Take the colour for ink again", func() {
		p.c.finds.settings.Tint = nil
		p.c.Room.update()
	})
	p.tint = control.LabelledBy(labelWide, "Printed colour", control.Row(8, p.swatch, p.pick, p.forget))
}

func (p *cleanPanel) update() {
	c, s := p.c, p.c.finds.settings
	p.sight.Put(int(c.sight))
	p.ground.Put(index(s.Dark))
	p.light.Put(index(s.Local))
	p.grid.Put(s.Squares)
	p.specks.Put(plainLength(speckAcross(s.Speck), c.unit()))
	p.pick.SetChosen(c.picking)
	show(p.shadows, s.Local)
	show(p.colours, s.Tint == nil)
	show(p.squares, s.Squares)
	show(p.swatch, s.Tint != nil)
	show(p.forget, s.Tint != nil)
	p.pick.SetWord("Pick it…")
	if s.Tint != nil {
		p.swatch.FillColor = color.NRGBA{R: uint8(s.Tint.Colour[0]), G: uint8(s.Tint.Colour[1]), B: uint8(s.Tint.Colour[2]), A: 255}
		p.swatch.Refresh()
		p.pick.SetWord("Another…")
	}
	p.putState()
	p.object.Refresh()
}

// putState says what came of it.
func (p *cleanPanel) putState() {
	c := p.c
	show(p.again, c.effort.stopped() && c.of.same(c.inputs()))
	switch {
	case c.chosen() == nil:
		p.state.PutAs("There is no picture yet.", look.Faint)
	case c.picking:
		p.state.PutAs("Click in the picture, in the middle of a line of that colour.", look.Chalk)
	case c.effort.fault != "":
		p.state.PutAs(wording.Sentence(c.effort.fault), look.PinText)
	case c.effort.stopped():
		p.state.PutAs("It was stopped; what is shown is as it was before.", look.OchreText)
	case c.effort.own != nil || c.after == nil:
		p.state.PutAs("The picture is being cleaned …", look.Faint)
	case c.specks > 0:
		p.state.PutAs(wording.Count(c.specks, "speck")+" taken out. What is black under “after” will be followed.", look.MossText)
	default:
		p.state.PutAs("What is black under “after” will be followed.", look.MossText)
	}
}

// index is 1 for true.
func index(on bool) int {
	if on {
		return 1
	}
	return 0
}

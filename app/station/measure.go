package station

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/body"
	"hemlet/draft/figure"
	"hemlet/geom"
)

// MeasureWays is what the station asks of the window.
type MeasureWays struct {
	Say func(text string)
	// Focus gives the keys to a field.
	Focus func(fyne.Focusable)
	// AskText asks for one line of text.
	AskText func(q TextQuestion)
	// Read asks for the file of a wearer and adds it; Save asks where to write one.
	Read func()
	Save func(w *draft.Wearer)
	// Samples are the wearers that come with Hemlet, each added by its Add.
	Samples []SampleWearer
	// Sheet asks where to write the blank measuring sheet, drawn in the build.
	Sheet func(b figure.Build)
	// View is told when the figure is seen at another scale.
	View func()
	// Draft goes on to the station that drafts for the wearer; nil where there is none.
	Draft func(wearer draft.ID)
	// Fit goes back to the pattern that waits to be fitted to the wearer.
	Fit func(wearer draft.ID)
}

// SampleWearer is a wearer that comes with Hemlet.
type SampleWearer struct {
	Name string
	Add  func()
}

// TextQuestion is a question for one line of text.
type TextQuestion struct {
	Title, Label, Hint string
	// Text stands in the field at first, Says is told under it, Word takes it.
	Text, Says, Word string
	// Take is given the text; after an error the question stays.
	Take func(text string) error
}

// Measure is the station where bodies are measured: the wearers at the left, the
// figure with the places of the measures in the middle, the fields at the right.
type Measure struct {
	desk    *desk.Desk
	ways    MeasureWays
	palette paint.Palette
	painter *paint.Painter

	// chosen is the wearer whose measures are shown, other the one that is compared
	// with; either may be gone.
	chosen, other draft.ID
	// adding says that the builds are shown to choose from, though there are wearers.
	adding bool
	// focus is the measure that has the keys, pointed the one under the pointer.
	focus, pointed string

	left, centre, side *fyne.Container
	list               *fyne.Container
	listScroll         *container.Scroll
	toFit              fyne.CanvasObject
	cards              []*wearerCard
	deeds              *wearerDeeds
	chooser            *buildChooser
	sheet              *sheet.Sheet
	how                *howCard
	picture            *fyne.Container
	form               *measureForm

	drawn drawnFor
}

// drawnFor is what the figure was drawn from last.
type drawnFor struct {
	wearer, other *draft.Wearer
	unit          draft.Unit
	shown         string
}

// NewMeasure returns the station for the desk.
func NewMeasure(d *desk.Desk, palette paint.Palette, ways MeasureWays) (*Measure, error) {
	m := &Measure{desk: d, ways: ways, palette: palette}
	var err error
	if m.painter, err = paint.New(); err != nil {
		return nil, err
	}
	if m.sheet, err = sheet.New(palette); err != nil {
		return nil, err
	}
	m.buildLeft()
	m.buildCentre()
	m.form = newMeasureForm(m)
	m.side = container.NewStack()
	return m, nil
}

// Left returns the list of the wearers, Centre the figure and Side the fields.
func (m *Measure) Left() fyne.CanvasObject { return m.left }

// Centre returns the figure, or the builds to choose from.
func (m *Measure) Centre() fyne.CanvasObject { return m.centre }

// Side returns the fields.
func (m *Measure) Side() fyne.CanvasObject { return m.side }

// Percent returns the scale of the figure, and Fit shows all of it.
func (m *Measure) Percent() float64 {
	if m.adding || m.Wearer() == nil {
		return 0
	}
	return m.sheet.Percent()
}

// Fit shows all of the figure.
func (m *Measure) Fit() { m.sheet.Fit() }

// Back goes from the builds back to the wearer, and reports whether it did.
func (m *Measure) Back() bool {
	if m.adding && len(m.desk.Project().Wearers) > 0 {
		m.adding = false
		m.Update()
		return true
	}
	return false
}

// Says is what the status line says where there is nothing else to say.
func (m *Measure) Says() string {
	if m.Wearer() == nil {
		return "Measure: choose the build that is most like the body; every measure can be changed later."
	}
	return "Measure: type what you took and press Return for the next. What you leave empty is estimated from the others."
}

// SetPalette changes the colours of the pictures.
func (m *Measure) SetPalette(p paint.Palette) {
	m.palette = p
	m.sheet.SetPalette(p)
	for _, c := range m.cards {
		c.shows = nil
	}
	m.chooser.repaint()
	m.Update()
}

// Wearer returns the wearer whose measures are shown, nil where there is none.
func (m *Measure) Wearer() *draft.Wearer {
	p := m.desk.Project()
	if w := p.Wearer(m.chosen); w != nil {
		return w
	}
	if len(p.Wearers) > 0 {
		return p.Wearers[0]
	}
	return nil
}

// Choose shows the measures of a wearer.
func (m *Measure) Choose(id draft.ID) {
	m.chosen, m.adding = id, false
	if m.other == id {
		m.other = ""
	}
	m.Update()
}

// Ask shows a measure of a wearer and gives its field the keys.
func (m *Measure) Ask(wearer draft.ID, measure string) {
	m.Choose(wearer)
	m.form.goTo(measure)
}

// compared returns the wearer that is compared with, nil for none.
func (m *Measure) compared() *draft.Wearer {
	w := m.desk.Project().Wearer(m.other)
	if w == m.Wearer() {
		return nil
	}
	return w
}

// Changed shows a change of the document.
func (m *Measure) Changed(c desk.Change) {
	if c.Has(desk.Opened) {
		m.chosen, m.other, m.adding, m.focus = "", "", false, ""
	}
	if c.Has(desk.Document | desk.Opened) {
		m.Update()
	}
}

// FitWaits says that a pattern waits to be fitted to whom is measured, to which a button
// leads back.
func (m *Measure) FitWaits(on bool) {
	show(m.toFit, on)
	m.left.Refresh()
}

// Begin shows the builds to choose from, for another wearer.
func (m *Measure) Begin() {
	m.adding = true
	m.Update()
}

// add adds a wearer of the build and gives the keys to its name.
func (m *Measure) add(b figure.Build) {
	out, err := desk.RunFolded(m.desk, draft.AddWearer, draft.AddWearerArgs{Name: m.freeName(), Build: b}, "")
	if err != nil {
		m.ways.Say(err.Error())
		return
	}
	m.Choose(out.Made)
	m.form.begin()
}

// unnamedWearer is what a wearer is called until it has a name of its own, with a number
// after it where there are several.
const unnamedWearer = "Wearer"

// freeName returns a name that no wearer bears.
func (m *Measure) freeName() string {
	for n := 1; ; n++ {
		name := unnamedWearer
		if n > 1 {
			name = fmt.Sprintf("%s %d", unnamedWearer, n)
		}
		if !slices.ContainsFunc(m.desk.Project().Wearers, func(w *draft.Wearer) bool { return w.Name == name }) {
			return name
		}
	}
}

// run does an act and says why it could not.
func run[A any](m *Measure, act *draft.Act[A], args A) bool {
	if err := desk.Run(m.desk, act, args); err != nil {
		m.ways.Say(err.Error())
		return false
	}
	return true
}

// Update shows the document as it now stands.
func (m *Measure) Update() {
	w := m.Wearer()
	if w != nil {
		m.chosen = w.ID
	}
	choosing := w == nil || m.adding
	m.updateList(w)
	if choosing {
		m.chooser.update(w != nil)
		put(m.centre, m.chooser.object)
	} else {
		put(m.centre, m.picture)
	}
	if w == nil {
		put(m.side, m.form.empty)
		return
	}
	put(m.side, m.form.object)
	resolved := body.Resolve(w.Given())
	m.form.update(w, resolved)
	m.draw()
	m.showFocus()
}

// put makes the object the only one in the container.
func put(c *fyne.Container, o fyne.CanvasObject) {
	if len(c.Objects) == 1 && c.Objects[0] == o {
		return
	}
	c.Objects = []fyne.CanvasObject{o}
	c.Refresh()
}

// buildCentre makes the figure with the card that says how a measure is taken.
func (m *Measure) buildCentre() {
	m.sheet.OnHover = func(id string, _ geom.Point, on bool) { m.point(id, on) }
	m.sheet.OnTap = func(id string, _ geom.Point) {
		if id != "" {
			m.form.goTo(id)
		}
	}
	m.sheet.OnView = func() { m.ways.View() }
	m.how = newHowCard(m)
	m.picture = container.NewStack(m.sheet, container.New(&atBottom{m}, m.how.object))
	m.chooser = newBuildChooser(m)
	m.centre = container.NewStack()
}

// point shows what is under the pointer.
func (m *Measure) point(id string, on bool) {
	if !on {
		id = ""
	}
	if m.pointed != id {
		m.pointed = id
		m.how.update()
	}
}

// showFocus lights the place of the measure that has the keys.
func (m *Measure) showFocus() {
	if m.focus == "" {
		m.sheet.Highlight()
	} else {
		m.sheet.Highlight(m.focus)
	}
	m.how.update()
}

// atBottom lays the card that says how a measure is taken along the foot, and leaves
// the figure the rest.
type atBottom struct{ m *Measure }

// The height of the card and the room round it, in screen units: it is higher where it
// is narrow.
const (
	howHigh       = 112
	howNarrowHigh = 244
	howNarrow     = 420
	howMargin     = 16
)

func (*atBottom) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *atBottom) Layout(o []fyne.CanvasObject, size fyne.Size) {
	width, high := min(size.Width-2*howMargin, 640), float32(howHigh)
	if width < howNarrow {
		high = howNarrowHigh
	}
	o[0].Resize(fyne.NewSize(width, high))
	o[0].Move(fyne.NewPos((size.Width-width)/2, size.Height-high-howMargin))
	l.m.sheet.SetMargins(paint.Margins{Left: 26, Top: 24, Right: 26, Bottom: float64(high) + 2*howMargin})
}

// pad lays an object on a rounded card.
func pad(o fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(control.NewPlane(look.Card, look.Border, 10), control.Inset(16, 12, 16, 12, o))
}

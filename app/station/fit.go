package station

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/geom"
)

// FitWays is what the station Fit asks of the window.
type FitWays struct {
	// Bench is what lies in the middle: the pieces with what stands for which measure.
	Bench fyne.CanvasObject
	Say   func(string)
	// Name lets the name of a piece be typed.
	Name func(piece draft.ID)
	// Turned is told that another step was opened.
	Turned func()
	// Pick picks the refs on the bench and brings their pieces into sight.
	Pick func(refs ...desk.Ref)
	// Place brings a place of a piece into the middle of the bench.
	Place func(piece draft.ID, at geom.Point)
	// Over has that drawn over the pieces; nil ends it.
	Over func(*bench.Over)
	// Before has the outlines of the project drawn beside what is only tried; nil ends it.
	Before func(p *draft.Project)
	// Fit shows all pieces, whatever the size of the pictures under them.
	Fit func()
	// Away gives the keys back to the bench, Focus gives them to a field.
	Away  func()
	Focus func(fyne.Focusable)
	// Wearer goes to where the measures of a wearer are noted, NewWearer to where one is
	// added; Read asks for the file of one, and Samples are those that come with Hemlet.
	Wearer    func(draft.ID)
	NewWearer func()
	Read      func()
	Samples   []SampleWearer
	// Trace goes to where a paper pattern becomes pieces.
	Trace func()
	// True goes to where the pattern is proven.
	True func()
	// Aside does work off the window's goroutine, and what it returns on it.
	Aside func(work func() (then func()))
}

// Fitting is the station where a pattern that was made for one body is re-shaped to
// another: what it was made for, for whom it is to be, and what became of it.
type Fitting struct {
	desk *desk.Desk
	ways FitWays

	scope  *fitScope
	made   *fitMadeFor
	whom   *fitWhom
	see    *fitSee
	table  *fitTable
	trial  *fitTrial
	mends  *mendTrial
	bodies bodyOf

	left   fyne.CanvasObject
	centre *fyne.Container
	tables fyne.CanvasObject
	heads  [stepCount]*stepHead
	// above and below are the heads of the steps over and under what the open one holds.
	above, below *fyne.Container
	rows         *fyne.Container
	scroll       *container.Scroll
	foot         *fyne.Container
	// stood is at which step the history stood last.
	stood int
	step  fitStep
	seen  bool
	// looked says that the pieces of the document were shown here once.
	looked bool
}

// fitStep is one of the three steps, of which one is open.
type fitStep int

// The steps in order.
const (
	stepMade fitStep = iota
	stepWhom
	stepSee
	stepCount
)

var stepTitles = [stepCount]string{"Made for", "For whom", "See it"}

var stepHints = [stepCount]string{
	"Say for which body the pattern was made, and which stretches of it stand for which measures",
	"Say whom it is to fit, how much ease it keeps, and have it fitted",
	"See what became of it, and change what each stretch is to measure",
}

// Widths at the left, in screen units: of all of it, and of what it holds.
const (
	fitWide  = 304
	fitRoom  = fitWide - 2*14
	fitInner = fitRoom - 2*12
)

// NewFit returns the station for the desk.
func NewFit(d *desk.Desk, ways FitWays) *Fitting {
	f := &Fitting{desk: d, ways: ways, bodies: bodyOf{}}
	f.mends = newMendTrial(trialRoom{desk: d, before: func(p *draft.Project) { f.ways.Before(p) }, aside: func(work func() func()) { f.ways.Aside(work) }, report: f.report, done: func() {
		f.Update()
		ways.Away()
	}})
	f.trial = newFitTrial(f)
	f.scope = newFitScope(f)
	f.made, f.whom, f.see = newFitMadeFor(f), newFitWhom(f), newFitSee(f)
	f.table = newFitTable(f)
	f.build()
	f.AddSection(f.lookSection())
	f.AddSection(f.scaleSection())
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			f.forget()
		}
	})
	return f
}

// Left returns the steps, Centre the bench with the table under it.
func (f *Fitting) Left() fyne.CanvasObject   { return f.left }
func (f *Fitting) Centre() fyne.CanvasObject { return f.centre }

func (f *Fitting) build() {
	f.above, f.below, f.rows = control.Stack(4), control.Stack(4), control.Stack(0)
	for s := range stepCount {
		f.heads[s] = newStepHead(stepTitles[s], stepHints[s], func() { f.Open(s) })
	}
	f.scroll = container.NewVScroll(control.Inset(14, 4, 14, 12, f.rows))
	f.foot = control.Stack(8)
	line := func() fyne.CanvasObject { return control.Tall(1, control.NewPlane(look.Border, "", 0)) }
	foot := control.Stack(0, control.Inset(14, 4, 14, 8, f.below), line(), control.Inset(14, 9, 14, 11, f.foot))
	head := control.Inset(14, 12, 14, 6, control.Stack(8, f.scope.object, f.above))
	f.left = control.Wide(fitWide, control.Compact(container.NewBorder(head, foot, nil, nil, f.scroll)))
	tables := control.On(look.Paper, container.NewBorder(line(), nil, nil, nil, f.table.object))
	f.tables = control.Compact(tables)
	f.centre = container.New(benchOver{f.table.more}, f.ways.Bench, f.tables)
	f.lay()
}

// lay lists the heads of the steps, all of them in sight, under that of the open one what
// it holds.
func (f *Fitting) lay() {
	f.above.Objects, f.below.Objects = nil, nil
	for s, h := range f.heads {
		if h.open(fitStep(s) == f.step); fitStep(s) <= f.step {
			f.above.Add(h.object)
		} else {
			f.below.Add(h.object)
		}
	}
	f.rows.Objects = []fyne.CanvasObject{f.panel().object()}
	f.foot.Objects = f.panel().foot()
	f.foot.Refresh()
	f.left.Refresh()
	f.scroll.Refresh()
}

// fitPanel is what a step holds: what can be said there, what leads on, and a line that
// tells how it stands.
type fitPanel interface {
	object() fyne.CanvasObject
	foot() []fyne.CanvasObject
	update()
	stands() (says string, done bool)
}

func (f *Fitting) panelOf(s fitStep) fitPanel {
	return [stepCount]fitPanel{f.made, f.whom, f.see}[s]
}

func (f *Fitting) panel() fitPanel { return f.panelOf(f.step) }

// Open opens a step.
func (f *Fitting) Open(s fitStep) {
	if f.step == s {
		return
	}
	f.drop()
	f.table.putDown()
	f.step = s
	f.lay()
	f.scroll.ScrollToTop()
	f.Update()
	f.ways.Turned()
}

// OpenStep opens a step by its number from 0: what the pattern was made for, for whom it is
// to be, what became of it. Others do nothing.
func (f *Fitting) OpenStep(n int) {
	if n >= 0 && n < int(stepCount) {
		f.Open(fitStep(n))
	}
}

// drop ends what is only tried.
func (f *Fitting) drop() {
	if f.whom.working {
		f.whom.stop()
	}
	f.trial.drop()
	f.mends.drop()
}

// Shown brings the station up to date when it is entered: at the step that is next.
func (f *Fitting) Shown() {
	f.seen = true
	f.scope.follow()
	f.enter()
	f.Update()
	if !f.looked {
		f.looked = true
		f.ways.Fit()
	}
}

// enter opens the first step in which something is left to be said, the last where the
// pattern is fitted already.
func (f *Fitting) enter() {
	next := stepSee
	if f.fit() == nil {
		if next = stepWhom; !f.made.enough() {
			next = stepMade
		}
	}
	if f.step != next {
		f.step = next
		f.lay()
	}
}

// Hidden tells that the station is left.
func (f *Fitting) Hidden() {
	f.seen = false
	f.drop()
	f.ways.Over(nil)
}

// Says is what the status line says.
func (f *Fitting) Says() string {
	return "Fit: " + [stepCount]string{
		stepMade: "say what the pattern was made for; pick two points, or edges, on the bench to say what they stand for.",
		stepWhom: "choose whom it is to fit, and press Fit it.",
		stepSee:  "drag a figure under Wants, or press it to type one; the pieces follow.",
	}[f.step]
}

// Changed shows a change of the document or of what is picked.
func (f *Fitting) Changed(c desk.Change) {
	if c.Has(desk.Selection) {
		f.table.follow(f.desk.Picked())
	}
	_, at := f.desk.History().Steps()
	if at < f.stood {
		f.table.putDown() // undone: the row in hand tells of what was done
	}
	f.stood = at
	if c.Has(desk.Document | desk.Opened | desk.Selection) {
		f.Update()
	}
}

// forget drops what belonged to the document before.
func (f *Fitting) forget() {
	f.drop()
	f.scope.forget()
	f.table.forget()
	f.see.forget()
	f.made.unfolded, f.made.wornOpen, f.made.begun = false, false, nil
	clear(f.bodies)
	f.step, f.looked = stepMade, false
	f.lay()
}

// Update shows everything as it now stands. While a target is dragged only the table and
// the bench follow, so that nothing moves under the pointer.
func (f *Fitting) Update() {
	f.mends.settle()
	f.trial.settle()
	if f.mends.live() {
		return
	}
	if !f.trial.live() {
		f.scope.update()
		for s, h := range f.heads {
			says, done := f.panelOf(fitStep(s)).stands()
			h.put(says, done)
		}
		f.panel().update()
	}
	f.table.update()
	f.see.tellTrial()
	f.drawOver()
}

// run does an act by its name, as one step to undo, and reports whether it was done.
func (f *Fitting) run(act string, args map[string]string) (draft.Outcome, error) {
	f.drop()
	out, err := f.desk.Project().Do(draft.Mend{Act: act, Args: args})
	if err != nil {
		return out, err
	}
	f.desk.Take(out, "")
	return out, nil
}

// Repaint takes in the colours after a change between light and dark.
func (f *Fitting) Repaint() {
	f.see.legend.update(f.see.picture, f.fit())
	f.drawOver()
}

// report shows the error, if there is one.
func (f *Fitting) report(err error) {
	if err != nil {
		f.ways.Say(sentence(err.Error()))
	}
}

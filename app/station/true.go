package station

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
)

// TrueWays is what the station True asks of the window.
type TrueWays struct {
	// Bench is what lies in the middle: the pieces with the letters of their seams.
	Bench fyne.CanvasObject
	Say   func(string)
	// Show picks the refs on the bench and brings them into the middle.
	Show func(refs ...desk.Ref)
	// Away gives the keys back to the bench.
	Away func()
	// Before has the outlines of the project drawn beside what is only tried; nil ends it.
	Before func(p *draft.Project)
	// AskReason asks why a finding may stay.
	AskReason func(f draft.Finding, take func(reason string) error)
	// Walk rolls one side of the seam along the other; nil where that cannot be done.
	Walk func(seam draft.ID)
	// Measure goes to where the measure of a wearer is noted; nil where that cannot be done.
	Measure func(wearer draft.ID, measure string)
	// Join shows the pieces laid together at an end of the seam; nil where that cannot be
	// done.
	Join func(seam draft.ID, end draft.EdgeEnd)
	// Report asks where to write what the checks find.
	Report func()
	// Sew takes up the act by which a seam is made.
	Sew func()
	// Name lets the name of a piece be typed.
	Name func(piece draft.ID)
	// Aside does work off the window's goroutine, and what it returns on it.
	Aside func(work func() (then func()))
}

// Truing is the station where a pattern is proven before cloth is cut: what the checks
// find, each with what mends it, the table of seams, what has to be sewn yet, and the
// proofs on the wearer.
type Truing struct {
	desk *desk.Desk
	ways TrueWays

	trial    *mendTrial
	findings *findingList
	seams    *seamTable
	seam     *seamCard
	unsewn   *unsewnList
	proofs   *proofTable

	left   fyne.CanvasObject
	centre *fyne.Container
	tables fyne.CanvasObject
	foot   *fyne.Container
	beside *tableAside
	tabs   *control.Pill
	filter *control.Pill
	tab    int
	seen   bool
}

// What the foot shows.
const (
	tabSeams = iota
	tabProofs
	tabUnsewn
)

// tabWords are the words for them.
var tabWords = []string{tabSeams: "Seams", tabProofs: "On the wearer", tabUnsewn: "Not sewn yet"}

// NewTrue returns the station for the desk.
func NewTrue(d *desk.Desk, ways TrueWays) *Truing {
	t := &Truing{desk: d, ways: ways}
	t.trial = newMendTrial(trialRoom{desk: d, before: func(p *draft.Project) { t.ways.Before(p) }, aside: func(work func() func()) { t.ways.Aside(work) }, report: t.report, done: func() {
		t.Update()
		ways.Away()
	}})
	t.findings = newFindingList(t)
	t.seams = newSeamTable(t)
	t.seam = newSeamCard(t)
	t.unsewn = newUnsewnList(t)
	t.proofs = newProofTable(t)
	t.build()
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			t.forget()
		}
	})
	return t
}

// Left returns the findings, Centre the bench with the tables under it.
func (t *Truing) Left() fyne.CanvasObject   { return t.left }
func (t *Truing) Centre() fyne.CanvasObject { return t.centre }

func (t *Truing) build() {
	t.left = t.findings.object
	t.tabs = control.NewPill("What is listed here", slices.Clone(tabWords), t.turnTo)
	t.filter = control.NewPill("Which seams are listed", slices.Clone(seamFilterWords), func(i int) { t.seams.setFilter(seamFilter(i)) })
	report := control.NewButton(control.QuietShape, "export", "Write the report…", "Write what the checks find, the seams and the proofs to a PDF", func() {
		t.trial.drop()
		t.ways.Report()
	})
	t.foot = container.NewStack()
	t.beside = newTableAside(t.seams.object, t.seam.object, "All seams", func() { t.seams.choose("", false) })
	room := container.New(tablesRoom{}, t.tabs, t.filter, report, t.foot)
	tables := control.On(look.Paper, container.NewBorder(control.Tall(1, control.NewPlane(look.Border, "", 0)), nil, nil, nil, room))
	t.tables = control.Compact(tables)
	t.centre = container.New(benchOver{t.seams.more}, t.ways.Bench, t.tables)
	t.turn()
}

// turnTo shows another of the tables.
func (t *Truing) turnTo(i int) {
	t.trial.drop()
	t.tab = i
	t.turn()
	t.Update()
}

func (t *Truing) turn() {
	show(t.filter, t.tab == tabSeams)
	switch t.tab {
	case tabSeams:
		t.foot.Objects = []fyne.CanvasObject{t.beside.object}
	case tabProofs:
		t.foot.Objects = []fyne.CanvasObject{t.proofs.object}
	case tabUnsewn:
		t.foot.Objects = []fyne.CanvasObject{t.unsewn.object}
	}
	t.foot.Refresh()
}

// ShowUnsewn lists the edges that are sewn to nothing yet, with the seams that suggest
// themselves.
func (t *Truing) ShowUnsewn() {
	t.tabs.Put(tabUnsewn)
	t.turnTo(tabUnsewn)
}

// GiveRoom gives the bench the room of the tables too, or takes that back.
func (t *Truing) GiveRoom(on bool) {
	if t.tables.Visible() == on {
		show(t.tables, !on)
		t.centre.Refresh()
	}
}

// Shown brings the station up to date when it is entered, Hidden ends what is only tried.
func (t *Truing) Shown() {
	t.seen = true
	t.Update()
}

// Hidden tells that the station is left.
func (t *Truing) Hidden() {
	t.seen = false
	t.trial.drop()
}

// Says is what the status line says.
func (t *Truing) Says() string {
	return "True: press a finding to see its place; point at a mend to try it, press it to have it done."
}

// Changed shows a change of the document or of what is picked.
func (t *Truing) Changed(c desk.Change) {
	if c.Has(desk.Selection) {
		t.seams.follow(t.desk.Picked())
	}
	if c.Has(desk.Document | desk.Opened | desk.Selection) {
		t.Update()
	}
}

// forget drops what belonged to the document before.
func (t *Truing) forget() {
	t.trial.drop()
	t.findings.chosen, t.seams.chosen, t.proofs.chosen = "", "", ""
}

// Update shows everything as it now stands. While a mend is only tried, that is seen on
// the bench alone: all else tells of the document, and nothing moves under the pointer.
func (t *Truing) Update() {
	t.trial.settle()
	if t.trial.live() {
		return
	}
	t.findings.update()
	t.tabs.Word(tabUnsewn, tabWords[tabUnsewn]+" "+count(len(edgesWithoutPartner(t.desk.Project()))))
	switch t.tab {
	case tabSeams:
		t.seams.update()
		t.seam.update()
	case tabProofs:
		t.proofs.update()
	case tabUnsewn:
		t.unsewn.update()
	}
}

// Choose takes a finding in hand by its key and shows its place.
func (t *Truing) Choose(key string) { t.findings.choose(key, true) }

// place returns what a finding points at: of a seam all its edges.
func (t *Truing) place(f draft.Finding) []desk.Ref {
	if s := t.desk.Project().Seam(f.Seam); s != nil {
		return desk.SeamRefs(s)
	}
	return t.desk.Place(f)
}

// show shows on the bench what a finding points at: of a kink the pieces laid together.
func (t *Truing) show(f draft.Finding) {
	if !t.showJoint(f) {
		t.ways.Show(t.place(f)...)
	}
}

// report shows the error, if there is one.
func (t *Truing) report(err error) {
	if err != nil {
		t.ways.Say(err.Error())
	}
}

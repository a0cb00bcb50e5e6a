package shell

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench"
	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/inspect"
	"hemlet/app/look"
	"hemlet/app/station"
	"hemlet/app/tool"
	"hemlet/app/tracer"
	"hemlet/app/tray"
	"hemlet/app/wording"
	"hemlet/draft"
)

// Shell is one window with one document.
type Shell struct {
	// StateDir is the folder that the journals lie in, empty for the user's own.
	StateDir string
	// BlocksDir is the folder of the user's own blocks, empty for the user's own place
	// for such things.
	BlocksDir string

	app  fyne.App
	win  fyne.Window
	mode look.Mode

	desk  *desk.Desk
	bench *bench.Bench
	hand  *tool.Hand
	// tools are those of all groups in order.
	tools      []tool.Tool
	toolGroups [][]tool.Tool
	tray       *tray.Tray
	inspect    *inspect.Inspector
	make       *station.Make
	first      *station.Start
	// madeSample is the sample as it comes with the program, once it was read;
	// sampleOpen says that it lies open, as it came or changed since.
	madeSample *draft.Project
	sampleOpen bool
	draft      *station.Draft
	measure    *station.Measure
	tracer     *tracer.Room
	fitting    *station.Fitting
	truing     *station.Truing

	top     *topBar
	rail    *rail
	strip   *toolStrip
	aside   *asideBar
	card    *actCard
	walk    *walkCard
	joins   *joinsCard
	history *historyCard
	toile   *toileCard
	scans   *scans
	status  *statusBar
	hover   *hoverLabel
	welcome *welcome
	guide   *guide
	// left, centre and side hold what the seat puts there, main all columns.
	left, centre, side *fyne.Container
	main               *fyne.Container
	// whole is all of the window: the lines at the top, the columns, the status line.
	whole    *fyne.Container
	seats    []*seat
	seat     *seat // the station that is seen
	station  string
	commands []*command
	finder   *finder
	// acts are all that can be taken up, by heading.
	acts  []tool.ActGroup
	menu  *fyne.MainMenu
	files *files
	// decoding is held while a picture is decoded: one after the other, for each may take
	// hundreds of megabytes on the way.
	decoding sync.Mutex
	// question is the box that waits for an answer, nil where there is none.
	question *question
	// putOff is to be done once the present event is over.
	putOff []func()
}

// The stations that there are, in the order of the journey.
const (
	stationShape = "Shape"
	stationMake  = "Make"
)

// prefLook is the preference that keeps the choice between the light and the dark
// look, by these words.
const (
	prefLook  = "look"
	lightWord = "light"
	darkWord  = "dark"
)

// New makes the window of an app. It shows an empty project until something is
// opened.
func New(a fyne.App) (*Shell, error) {
	s := &Shell{app: a, win: a.NewWindow("Hemlet")}
	s.desk = desk.New(s.blank())
	s.mode = s.savedMode()
	a.Settings().SetTheme(look.NewTheme(s.mode))
	palette := s.palette()
	var err error
	if s.bench, err = bench.New(s.desk, palette); err != nil {
		return nil, err
	}
	if s.tray, err = tray.New(s.desk, palette); err != nil {
		return nil, err
	}
	s.hand = s.bench.Hand(s.Say)
	s.toolGroups = tool.Groups(s.hand)
	s.tools = slices.Concat(s.toolGroups...)
	s.inspect = inspect.New(s.desk, s.hand)
	s.inspect.Jump, s.inspect.Say, s.inspect.Walk = s.jump, s.Say, s.WalkSeam
	s.inspect.ScalePicture, s.inspect.TracePicture = s.scalePicture, s.tracePicked
	s.inspect.Mend = func(f draft.Finding) {
		s.enter(stationTrue)
		s.truing.Choose(f.Key)
	}
	s.inspect.AskCloth, s.inspect.AskReason = s.askCloth, s.askReason
	s.make = station.NewMake(s.desk, s.Say, s.askExport)
	s.make.SetPaper(a.Preferences().String(prefPaper))
	s.make.OnPaper = func(name string) { a.Preferences().SetString(prefPaper, name) }
	s.files = newFiles(s)
	s.tray.Pick, s.tray.Say, s.tray.Away = s.pickPiece, s.Say, s.focusBench
	s.tray.PickAll = func(ids []draft.ID) {
		var refs []desk.Ref
		for _, id := range ids {
			refs = append(refs, desk.PieceRef(id))
		}
		s.desk.Pick(refs...)
		s.Say(wording.Count(len(refs), "piece") + " picked.")
	}
	if s.first, err = s.newFirst(); err != nil {
		return nil, err
	}
	if s.measure, err = s.newMeasure(); err != nil {
		return nil, err
	}
	if s.draft, err = s.newDraft(); err != nil {
		return nil, err
	}
	if s.tracer, err = s.newTracer(); err != nil {
		return nil, err
	}
	s.build()
	s.connect()
	s.takeTool(s.tools[0])
	s.enter(stationShape)
	s.desk.Listen(s.changed)
	s.desk.OnDone = s.done
	s.changed(desk.Document | desk.Selection | desk.File | desk.Opened)
	return s, nil
}

// Window returns the window.
func (s *Shell) Window() fyne.Window { return s.win }

// Desk returns the document that lies open.
func (s *Shell) Desk() *desk.Desk { return s.desk }

// build puts the window together.
func (s *Shell) build() {
	s.acts = tool.ActGroups()
	s.commands = s.allCommands()
	s.top, s.strip, s.card = newTopBar(s), newToolStrip(s), newActCard(s)
	s.toile = newToileCard(s)
	s.scans = &scans{s: s}
	s.history, s.aside, s.walk, s.joins = newHistoryCard(s), newAsideBar(s), newWalkCard(s), newJoinsCard(s)
	s.status, s.hover, s.welcome = newStatusBar(s), newHoverLabel(), newWelcome(s)
	s.finder = newFinder(s)
	s.left, s.centre, s.side = container.NewStack(), container.NewStack(), container.NewStack()
	s.fitting = s.newFitting()
	s.truing = s.newTruing()
	s.seats = s.allSeats()
	s.rail = newRail(s)
	s.main = container.New(columns{}, s.rail.object, control.Upright(), s.left, control.Upright(), s.centre, control.Upright(), s.side)
	line := func() fyne.CanvasObject { return control.Tall(1, control.NewPlane(look.Border, "", 0)) }
	s.guide = newGuide(s)
	s.whole = control.Column(control.Stack(0, s.top.object, line(), s.guide.bar.object), s.main, control.Stack(0, line(), s.status.object))
	s.win.SetContent(container.NewStack(control.NewPlane(look.Paper, "", 0), s.whole, s.hover.object))
	s.win.SetPadded(false)
	s.menu = s.mainMenu()
	s.win.SetMainMenu(s.menu)
	s.win.Resize(fyne.NewSize(1280, 800))
	s.win.SetMaster()
	s.win.SetCloseIntercept(s.files.close)
	s.win.SetOnDropped(s.files.dropped)
}

// stacked lays objects over one another.
func stacked(objects ...fyne.CanvasObject) fyne.CanvasObject { return container.NewStack(objects...) }

// columns lays out the rail, what lies at the left, the middle and the side, with thin
// lines between. The middle gets what room there is; where that is little, the left
// gives way to it. What is hidden takes no room, nor does the line beside it.
type columns struct{}

// The places of the columns.
const (
	leftColumn   = 2
	middleColumn = 4
	sideColumn   = 6
)

// middleWants is the width up to which the left gives way to the middle, in screen
// units: that of the tools without their words.
const middleWants = 420

// away reports whether the column is not there: it is hidden, or is the line beside
// one that is.
func (columns) away(objects []fyne.CanvasObject, i int) bool {
	switch i {
	case leftColumn, leftColumn + 1:
		return !objects[leftColumn].Visible()
	case sideColumn, sideColumn - 1:
		return !objects[sideColumn].Visible()
	}
	return false
}

func (l columns) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := fyne.Size{}
	for i, o := range objects {
		if l.away(objects, i) {
			continue
		}
		m := o.MinSize()
		size.Width += m.Width
		size.Height = max(size.Height, m.Height)
	}
	return size
}

func (l columns) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	widths := make([]float32, len(objects))
	rest := size.Width
	for i, o := range objects {
		if i != middleColumn && i != leftColumn && !l.away(objects, i) {
			widths[i] = o.MinSize().Width
			rest -= widths[i]
		}
	}
	if !l.away(objects, leftColumn) {
		least := objects[leftColumn].MinSize().Width
		widths[leftColumn] = max(min(rest-middleWants, tray.Width), least)
	}
	widths[middleColumn] = max(rest-widths[leftColumn], 0)
	x := float32(0)
	for i, o := range objects {
		o.Move(fyne.NewPos(x, 0))
		o.Resize(fyne.NewSize(widths[i], size.Height))
		x += widths[i]
	}
}

// connect lets the parts hear of one another.
func (s *Shell) connect() {
	s.bench.Later = s.later
	s.bench.LoadPicture = s.loadPicture
	s.bench.Covers = s.covers
	s.bench.Aside = aside
	s.bench.OnMove = s.status.pointer
	s.bench.OnView = s.status.view
	s.bench.OnKey = s.key
	s.bench.OnRune = s.letter
	s.bench.OnMenu = s.contextMenu
	s.hand.Back = s.putAway
	control.KeyElsewhere = s.keyElsewhere
	control.RuneElsewhere = s.runeElsewhere
	control.ShowHint = s.hint
	c := s.win.Canvas()
	c.SetOnTypedKey(s.unfocusedKey)
	c.SetOnTypedRune(s.runeElsewhere)
	s.addShortcuts(c)
}

// keyElsewhere takes the keys that the control in focus has no use for.
func (s *Shell) keyElsewhere(e *fyne.KeyEvent) {
	switch {
	case s.question != nil:
		s.question.key(e)
	case e.Name == fyne.KeyEscape && s.joins.joined != nil:
		s.putAway()
	case e.Name == fyne.KeyEscape && !s.seatFocused():
		s.focusBench()
	default:
		s.stationKey(e)
	}
}

// seatFocused reports whether what the station has in the place of the bench has the
// keys already.
func (s *Shell) seatFocused() bool {
	return !s.benchSeen() && s.seat.focus != nil && s.win.Canvas().Focused() == s.seat.focus
}

// runeElsewhere takes the letters that the control in focus has no use for: they are
// for the bench, or for what the station that is seen has in its place.
func (s *Shell) runeElsewhere(r rune) {
	if s.question == nil && s.seat.focus != nil && r != ' ' { // which presses what is in focus
		s.seat.focus.TypedRune(r)
	}
}

// stationKey hands a key to the bench where that is to be seen; elsewhere only the
// keys that the station asks for and those that lead to other places count, so that
// nothing changes unseen.
func (s *Shell) stationKey(e *fyne.KeyEvent) {
	if s.benchSeen() {
		s.bench.TypedKey(e)
		return
	}
	if s.seat.key != nil && s.seat.key(e.Name) {
		return
	}
	switch e.Name {
	case fyne.KeyEscape:
		if s.seat.back == nil || !s.seat.back() {
			s.enter(stationShape)
		}
	case fyne.KeyF1, fyne.KeyF2, fyne.KeyF3, fyne.KeyF4, fyne.KeyF5, fyne.KeyF6, fyne.KeyF7, fyne.KeyF8, fyne.KeyF9, fyne.KeyF10, fyne.KeyF11:
		s.key(e.Name)
	}
}

// unfocusedKey takes the keys while nothing is in focus.
func (s *Shell) unfocusedKey(e *fyne.KeyEvent) {
	if s.question != nil {
		s.question.key(e)
		return
	}
	s.stationKey(e)
}

// focusBench gives the keys back to the bench, or to what the station that is seen has
// in its place.
func (s *Shell) focusBench() {
	if s.seat != nil && s.seat.focus != nil {
		s.win.Canvas().Focus(s.seat.focus)
		return
	}
	s.win.Canvas().Unfocus()
}

// changed shows a change of the document.
func (s *Shell) changed(c desk.Change) {
	s.actChanged(c)
	s.sightChanged(c)
	s.top.update()
	s.status.update()
	s.updateCommands()
	if c.Has(desk.File | desk.Document | desk.Opened) {
		s.win.SetTitle(s.title())
	}
	if c.Has(desk.Opened) {
		s.scans.opened()
		s.welcome.update()
		s.measure.FitWaits(false)
	}
	if c.Has(desk.Document | desk.Opened) {
		s.history.update()
		s.toile.update()
		s.scans.update()
	}
	if c.Has(desk.Document) {
		s.welcome.update()
		if !s.desk.Trying() {
			s.files.note()
		}
	}
	if s.seat.changed != nil {
		s.seat.changed(c)
	}
	s.guide.changed(c)
}

// relay lays the window out anew once a line of it has come or gone.
func (s *Shell) relay() { s.whole.Refresh() }

func (s *Shell) title() string {
	t := s.desk.Project().Name
	if s.desk.Dirty() {
		t += " (edited)"
	}
	return t + " · Hemlet"
}

// done tells what an act did besides what its name promises.
func (s *Shell) done(x desk.Done) {
	if says := x.Says(); len(says) > 0 {
		s.Say(strings.Join(says, " "))
	}
}

// Say shows a line of text in the status line for a while.
func (s *Shell) Say(text string) { s.status.say(text) }

// hint shows what a control is for: in the status line and, where it lies on the
// canvas, beside it.
func (s *Shell) hint(text string, at fyne.CanvasObject) {
	s.status.hint(text)
	s.hover.show(text, at)
}

// putAway takes up the tool that picks in the place of the one in hand.
func (s *Shell) putAway() {
	s.takeTool(s.tools[0])
	s.focusBench()
}

// takeTool puts a tool in hand.
func (s *Shell) takeTool(t tool.Tool) {
	s.bench.SetTool(t)
	if t != s.tools[0] {
		s.status.quiet() // what was said belongs to what was in hand before
	}
	s.card.hide()
	if w, ok := t.(*tool.Walk); !ok || w != s.walk.walk {
		s.walk.hide()
	}
	if j, ok := t.(*tool.Joined); !ok || j != s.joins.joined {
		s.joins.hide()
	}
	_, walks := t.(*tool.Walk)
	if s.station == stationTrue { // elsewhere it would take the bench away from where it is seen
		s.truing.GiveRoom(walks)
	}
	s.strip.update()
	s.status.update()
}

// jump shows a place on the bench, wherever we are.
func (s *Shell) jump(refs ...desk.Ref) {
	s.toBench()
	s.bench.Reveal(refs...)
	s.focusBench()
}

// fitLost shows all where none of the pieces that can be seen is in view.
func (s *Shell) fitLost() {
	for _, p := range s.desk.Project().Pieces {
		pos, size, ok := s.bench.Where(p.ID)
		if ok && overlap(fyne.Position{}, s.bench.Size(), pos, size) > 0 {
			return
		}
	}
	s.bench.FitPieces()
}

func (s *Shell) pickPiece(id draft.ID, more bool) {
	if more {
		s.desk.PickMore(desk.PieceRef(id))
		return
	}
	s.jump(desk.PieceRef(id))
}

// fault says what is wrong with what is only tried at the present station.
func (s *Shell) fault() string {
	if s.seat == nil || s.seat.fault == nil {
		return ""
	}
	return s.seat.fault()
}

// nextFinding jumps to the next thing that the checks found.
func (s *Shell) nextFinding() {
	all := s.desk.Findings()
	if len(all) == 0 {
		says := "The checks find nothing to mend."
		if fault := s.fault(); fault != "" {
			says = "The block in hand: " + fault + ". The panel at the right says why."
		}
		s.Say(says)
		return
	}
	s.status.at = (s.status.at + 1) % len(all)
	f := all[s.status.at]
	if s.station == stationTrue {
		s.truing.Choose(f.Key)
	} else {
		s.jump(s.desk.Place(f)...)
	}
	s.Say(s.countedFinding(s.status.at) + ": " + s.briefly(f))
}

// countedFinding says which of the findings one is, counted as the foot line counts them:
// problems and what is to be looked at together, notes by themselves.
func (s *Shell) countedFinding(at int) string {
	all := s.desk.Findings()
	note := func(f draft.Finding) bool { return f.Level == draft.Remark }
	nth, of := 0, 0
	for i, f := range all {
		if note(f) == note(all[at]) {
			of++
			if i <= at {
				nth++
			}
		}
	}
	if note(all[at]) {
		return fmt.Sprintf("Note %d of %d", nth, of)
	}
	return fmt.Sprintf("%d of %d", nth, of)
}

// briefly says a finding in a few words, what matters most first; the panel says all
// of it.
func (s *Shell) briefly(f draft.Finding) string {
	project := s.desk.Project()
	if seam := project.Seam(f.Seam); seam != nil && f.Level == draft.Problem {
		if st, err := s.desk.Slots().SeamState(project, seam); err == nil && !st.Holds {
			return st.Off(project).Says(project.Unit) + " (" + f.About + ")"
		}
	}
	says, _, _ := strings.Cut(f.Says, ". ")
	return fmt.Sprintf("%s, %s: %s", inspect.LevelOf(f.Level).Word(), f.About, strings.TrimSuffix(says, "."))
}

func (s *Shell) palette() paint.Palette { return *look.Palette(s.mode.Variant()) }

// savedMode returns the look that was chosen last, light where none was.
func (s *Shell) savedMode() look.Mode {
	if s.app.Preferences().String(prefLook) == darkWord {
		return look.Dark
	}
	return look.Light
}

// dark reports whether the dark look is on.
func (s *Shell) dark() bool { return s.mode == look.Dark }

// SetDark puts the dark or the light look on and keeps the choice.
func (s *Shell) SetDark(on bool) {
	word := lightWord
	s.mode = look.Light
	if on {
		word = darkWord
		s.mode = look.Dark
	}
	s.app.Preferences().SetString(prefLook, word)
	s.app.Settings().SetTheme(look.NewTheme(s.mode))
	s.bench.SetPalette(s.palette())
	s.tray.SetPalette(s.palette())
	for _, st := range s.seats {
		if st.palette != nil {
			st.palette(s.palette())
		}
	}
	s.top.update()
}

// setUnit changes the unit in which lengths are shown.
func (s *Shell) setUnit(u draft.Unit) {
	if err := s.desk.SetUnit(u); err != nil {
		s.Say(err.Error())
		return
	}
	s.app.Preferences().SetString(prefUnit, u.String())
}

// sayFor is how long a line of text stays in the status line, newsFor how long it stays
// even if the pointer or the keys come to something that says what it is for.
const (
	sayFor  = 9 * time.Second
	newsFor = 4 * time.Second
)

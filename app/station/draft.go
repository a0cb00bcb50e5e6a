package station

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/block"
	"hemlet/geom"
)

// DraftHost is what the station asks of the window.
type DraftHost struct {
	Say func(string)
	// NewWearer begins with somebody to draft for; Measures goes to where a wearer's
	// measures are taken.
	NewWearer func()
	Measures  func(wearer draft.ID)
	// Drafted shows the pieces that a block has made.
	Drafted func(pieces []draft.ID)
	// AskName asks for the name of a new block; take says why one cannot be had.
	AskName func(title, says, propose string, take func(name string) error)
	// OpenPath opens a file or folder in the program that the desktop has for it.
	OpenPath func(path string) error
	// Folder returns the user's folder of blocks; it is asked for once the station is
	// to be seen.
	Folder func() string
	// View is told when the picture is zoomed, Pointer where the pointer is on the sheet
	// of the construction, false where it has left.
	View    func()
	Pointer func(at geom.Point, on bool)
	// Trace goes to where pictures of patterns become pieces.
	Trace func()
	// Tried is told when the block in hand was drafted anew.
	Tried func()
}

// Draft is the station where blocks are drafted for a wearer: what blocks there are,
// how the chosen one lies on the wearer and what it is made of, and its construction
// step by step.
type Draft struct {
	desk    *desk.Desk
	host    DraftHost
	palette paint.Palette

	library *library
	// chosen is the name of the block in hand, wearer whom it is drafted for.
	chosen string
	wearer draft.ID
	// tried are the choices made for blocks that are not drafted yet, by block.
	tried map[string][]draft.Setting
	// now is what is shown, before what was there before the last change, which was
	// one of the names in changed.
	now, before *trial
	changed     string
	show        showing
	stepwise    bool

	list   *blockList
	panel  *draftPanel
	steps  *stepView
	sheet  *sheet.Sheet
	legend *legend
	centre *fyne.Container
	side   *fyne.Container
	notice *fyne.Container
	mode   *control.Pill

	seen bool
	stop chan struct{}
}

// showing says which of the two drafts is drawn.
type showing int

const (
	showBoth showing = iota
	showBefore
	showNow
)

// NewDraft returns the station for the desk.
func NewDraft(d *desk.Desk, palette paint.Palette, host DraftHost) (*Draft, error) {
	s := &Draft{desk: d, host: host, palette: palette, tried: map[string][]draft.Setting{}}
	var err error
	if s.sheet, err = sheet.New(palette); err != nil {
		return nil, err
	}
	thumbs, err := sheet.NewPainter()
	if err != nil {
		return nil, fmt.Errorf("the pictures of blocks: %w", err)
	}
	s.library = &library{}
	s.sheet.SetMargins(onWearerMargins)
	s.sheet.OnView = host.View
	s.sheet.OnHover = func(id string, at geom.Point, on bool) {
		s.hovered(id)
		host.Pointer(at, on && s.stepwise)
	}
	s.sheet.OnTap = func(id string, _ geom.Point) { s.tapped(id) }
	s.sheet.OnKey = s.Key
	s.list = newBlockList(s, thumbs)
	s.panel = newDraftPanel(s)
	s.steps = newStepView(s)
	s.legend = newLegend(s)
	s.build()
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			s.forget()
		}
	})
	return s, nil
}

// forget drops all that belonged to the document before, whether the station is seen or
// not.
func (s *Draft) forget() {
	s.now, s.before, s.changed, s.wearer = nil, nil, "", ""
	s.tried = map[string][]draft.Setting{}
}

// Left returns the list of blocks, Centre the drawing, Side the panel.
func (s *Draft) Left() fyne.CanvasObject   { return s.list.object }
func (s *Draft) Centre() fyne.CanvasObject { return s.centre }
func (s *Draft) Side() fyne.CanvasObject   { return s.side }

// Focus returns what has the keys when nothing else wants them.
func (s *Draft) Focus() fyne.Focusable { return s.sheet }

// Percent is the scale of the drawing, and Fit shows all of it.
func (s *Draft) Percent() float64 { return s.sheet.Percent() }
func (s *Draft) Fit()             { s.sheet.Fit() }

// SetPalette changes the colours.
func (s *Draft) SetPalette(p paint.Palette) {
	s.palette = p
	s.sheet.SetPalette(p)
	s.list.setPalette(p)
}

func (s *Draft) build() {
	s.mode = control.NewPill("Whether the block is seen on the wearer, or how it is constructed, step by step", []string{"on the wearer", "step by step"}, func(i int) { s.setStepwise(i == 1) })
	s.notice = container.NewCenter()
	bar := control.Inset(16, 12, 16, 0, control.Row(0, s.mode))
	over := container.NewBorder(bar, control.Stack(0, s.legend.object, s.steps.detail), nil, nil)
	s.centre = container.NewStack(control.NewPlane(look.Bench, "", 0), s.sheet, over, s.notice)
	s.side = container.NewStack(s.panel.object)
}

// Shown brings the station up to date when it is entered, and begins to look after the
// user's blocks.
func (s *Draft) Shown() {
	s.seen = true
	if s.library.folder == "" {
		s.library = newLibrary(s.host.Folder())
	}
	s.library.look()
	s.Update()
	s.watch()
}

// Hidden ends what is only done while the station is seen.
func (s *Draft) Hidden() {
	s.seen = false
	if s.stop != nil {
		close(s.stop)
		s.stop = nil
	}
}

// watchEvery is how often the user's folder is looked at while the station is seen.
const watchEvery = time.Second

// watch looks at the user's folder every now and then, off the window's goroutine.
func (s *Draft) watch() {
	if s.stop != nil {
		return
	}
	s.stop = make(chan struct{})
	go func(stop chan struct{}) {
		tick := time.NewTicker(watchEvery)
		defer tick.Stop()
		for {
			select {
			case <-stop:
				return
			case <-tick.C:
				if fresh := s.library.fresh(); fresh != nil {
					control.OnMain(func() {
						if s.seen {
							s.reload(fresh)
						}
					})
				}
			}
		}
	}(s.stop)
}

// reload takes in the user's blocks after one was saved, and says so.
func (s *Draft) reload(fresh *reading) {
	if said := s.library.take(fresh); said != "" {
		s.host.Say(said)
	}
	s.Update()
}

// Changed shows a change of the document.
func (s *Draft) Changed(c desk.Change) {
	if c.Has(desk.Document | desk.Opened) {
		s.Update()
	}
}

// Choose takes a block in hand.
func (s *Draft) Choose(name string) {
	if s.chosen != name {
		s.chosen = name
		s.steps.at = -1
		s.sheet.Fit()
		s.Update()
	}
}

// For drafts for another wearer.
func (s *Draft) For(w draft.ID) {
	if s.wearer != w {
		s.wearer = w
		s.sheet.Fit()
		s.Update()
	}
}

// Chosen returns the name of the block in hand.
func (s *Draft) Chosen() string { return s.chosen }

// Update shows everything as it now stands.
func (s *Draft) Update() {
	p := s.desk.Project()
	w := p.Wearer(s.wearer)
	if w == nil && len(p.Wearers) > 0 {
		w = p.Wearers[0]
	}
	if s.wearer = ""; w != nil {
		s.wearer = w.ID
	}
	if _, ok := s.library.named(s.chosen); !ok && !s.library.faulty(s.chosen) {
		s.chosen = s.library.first()
	}
	s.try(p, w)
	s.list.update()
	s.draw()
	s.steps.update()
	s.panel.update()
	beside := s.panel.object
	if s.stepwise {
		beside = s.steps.object
	}
	if s.side.Objects[0] != beside {
		s.side.Objects = []fyne.CanvasObject{beside}
		s.side.Refresh()
	}
	s.legend.update()
	s.host.Tried()
}

// Fault says in a few words why the block in hand cannot be drafted; empty text where it
// can, or where it is drafted already, for then the checks of the project say it.
func (s *Draft) Fault() string {
	if s.now == nil || s.now.derivation != nil {
		return ""
	}
	return s.now.fault()
}

// try drafts the block in hand and keeps what was there before.
func (s *Draft) try(p *draft.Project, w *draft.Wearer) {
	d, b := s.source(p, w)
	if b == nil {
		s.now, s.before, s.changed = nil, nil, ""
		return
	}
	next := try(b, w, d, s.tried[b.Name])
	next.made = madeBy(p, d)
	last := s.now
	s.now = next
	if last == nil || !next.like(last) {
		s.before, s.changed = nil, ""
		return
	}
	names, text := next.moved(last)
	if len(names) == 0 && !text {
		return
	}
	// Steps of one value are one change: before is what was there before the first.
	key := fmt.Sprint(names, text)
	if last.sheet != nil && (key != s.changed || s.before == nil) {
		s.before = last
	}
	s.changed = key
	if s.before != nil && s.before.sheet == nil {
		s.before = nil
	}
}

// source returns what the block in hand is drafted from: the derivation that has made
// pieces of it for the wearer with the text that it keeps, or the library.
func (s *Draft) source(p *draft.Project, w *draft.Wearer) (*draft.Derivation, *block.Block) {
	if d := s.derivation(p, w, s.chosen); d != nil {
		if b, err := draft.BlockOf(d); err == nil {
			return d, b
		}
	}
	if e, ok := s.library.named(s.chosen); ok {
		return nil, e.Block
	}
	if s.now != nil && s.now.block.Name == s.chosen { // as it was before its file went wrong
		return nil, s.now.block
	}
	return nil, nil
}

// derivation returns what has made pieces of the block for the wearer, the last where
// there are several, or nil.
func (s *Draft) derivation(p *draft.Project, w *draft.Wearer, name string) *draft.Derivation {
	if w == nil {
		return nil
	}
	for i := len(p.Derivations) - 1; i >= 0; i-- {
		d := p.Derivations[i]
		if p.WearerOf(d) != w || len(p.PiecesOf(d)) == 0 {
			continue
		}
		if b, err := draft.BlockOf(d); err == nil && b.Name == name {
			return d
		}
	}
	return nil
}

func (s *Draft) setStepwise(on bool) {
	if s.stepwise == on {
		return
	}
	s.stepwise = on
	s.mode.Put(0)
	if on {
		s.mode.Put(1)
	}
	s.sheet.SetMargins(onWearerMargins)
	if on {
		s.sheet.SetMargins(stepMargins)
	}
	s.Update()
	s.sheet.Fit()
	if c := fyne.CurrentApp().Driver().CanvasForObject(s.sheet); c != nil {
		c.Focus(s.sheet)
	}
}

// What is left free round the drawing, in screen units: for the bar over it and the
// words of the levels, and below for the text about a step.
var (
	onWearerMargins = paint.Margins{Left: 64, Top: 62, Right: 40, Bottom: 64}
	stepMargins     = paint.Margins{Left: 60, Top: 70, Right: 60, Bottom: 190}
)

// Back leaves the construction, and reports whether it was shown.
func (s *Draft) Back() bool {
	was := s.stepwise
	s.setStepwise(false)
	return was
}

// Says is what the status line says.
func (s *Draft) Says() string {
	if s.stepwise {
		return "Up and Down go through the steps; click a point or a line to go to its step. Esc leads back to the wearer."
	}
	return "Draft: choose a block, see how it lies on the wearer, set what you want otherwise, and draft it."
}

// hovered tells what lies under the pointer.
func (s *Draft) hovered(id string) {
	s.steps.hovered(id)
	control.ShowHint(s.hintFor(id), nil)
}

func (s *Draft) tapped(id string) {
	if s.stepwise {
		s.steps.tapped(id)
		return
	}
	if name, ok := cutID(id, measureIDs); ok {
		s.panel.focusMeasure(name)
	}
}

func (s *Draft) hintFor(id string) string {
	if s.now == nil {
		return ""
	}
	unit := s.desk.Project().Unit
	if name, ok := cutID(id, measureIDs); ok {
		return wordsOf(s.now.block, name) + ": " + s.now.shows(name, unit)
	}
	if role, ok := cutID(id, pieceIDs); ok && s.now.sheet != nil {
		for _, p := range s.now.drawn() {
			if p.Role != role {
				continue
			}
			says := p.Title + ", " + p.Cut + describeSpans(p, unit)
			if made := s.now.made[role]; made != nil && made.ByHand() {
				says += " · as it stands, with what was changed by hand; dotted as the block makes it"
			}
			return says
		}
	}
	return ""
}

// Key goes through the steps; it reports whether the key was of use.
func (s *Draft) Key(name fyne.KeyName) bool { return s.stepwise && s.steps.key(name) }

func cutID(id, kind string) (string, bool) {
	if len(id) > len(kind) && id[:len(kind)] == kind {
		return id[len(kind):], true
	}
	return "", false
}

// describeSpans says how long the edges and lines of a piece are that stand for measures.
func describeSpans(p *block.Piece, u draft.Unit) string {
	out := ""
	for _, s := range p.Spans {
		if s.From != "" {
			continue // how far apart two points are is told where it is pointed at
		}
		sum := 0.0
		for _, path := range stretchOf(p, s) {
			sum += path.Length()
		}
		if sum > 0 {
			out += " · " + s.Name + " " + u.Format(sum)
		}
	}
	return out
}

// folderName is the folder as people read it: from their own home on.
func folderName(path string) string {
	path = filepath.Clean(path)
	home, err := os.UserHomeDir()
	if err != nil {
		return path
	}
	if rest, ok := strings.CutPrefix(path, home+string(filepath.Separator)); ok {
		return "~" + string(filepath.Separator) + rest
	}
	return path
}

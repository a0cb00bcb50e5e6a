package tracer

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// Host is what the room asks of the window.
type Host struct {
	// Say shows a line of text for a while; Status shows anew what Says returns.
	Say    func(text string)
	Status func()
	// Choose asks for a file, a picture or a scanned PDF, and hands it to Bring.
	Choose func()
	// Keep returns what puts the bytes of a picture file beside the document; that may be
	// done aside.
	Keep func() (func(name string, content []byte) (draft.PictureFile, error), error)
	// Load returns what reads a picture of the document, aside, with the dots an inch
	// that its file tells, 0 where it tells none.
	Load func(pic *draft.Picture) func() (img image.Image, dpi float64, err error)
	// Focus gives the keys to a field, or to the pictures for nil.
	Focus func(fyne.Focusable)
	// View is told when the pictures are seen at another scale, Pointer where the pointer
	// is in mm.
	View    func()
	Pointer func(at geom.Point, on bool)
	// Leave goes to the bench; made are pieces that were put there.
	Leave func(made []draft.ID)
	// Aside does work off the window's goroutine and what that returns on it.
	Aside func(work func() func())
	// Modifiers returns the modifier keys that are held.
	Modifiers func() fyne.KeyModifier
}

// Room is the room with its steps.
type Room struct {
	desk    *desk.Desk
	host    Host
	palette paint.Palette

	steps []step
	step  step
	// hand is the picture in hand; it may be gone.
	hand draft.ID
	// seen says that the room is seen.
	seen bool

	files *shelf
	sheet *sheet.Sheet
	loupe *loupe
	// shown are the layers that the sheet shows.
	shown []*sheet.Layer
	drawn map[draft.ID]*drawnPicture
	list  *pictureList
	side  *side
	job   *job
	// pdf is a scanned PDF whose pictures are listed, nil for none.
	pdf *scannedPDF
	// doings are what was done in the room itself, the last one last.
	doings []doing
	// trouble says what could not be brought in last.
	trouble string

	centre *fyne.Container
}

// New returns the room for the desk.
func New(d *desk.Desk, palette paint.Palette, host Host) (*Room, error) {
	if host.Modifiers == nil {
		host.Modifiers = heldModifiers
	}
	r := &Room{desk: d, host: host, palette: palette, drawn: map[draft.ID]*drawnPicture{}}
	r.files = newShelf(r)
	var err error
	if r.sheet, err = sheet.New(palette); err != nil {
		return nil, err
	}
	if r.loupe, err = newLoupe(r); err != nil {
		return nil, err
	}
	r.list = newPictureList(r)
	r.steps = allSteps(r)
	r.side = newSide(r)
	r.step = r.steps[0]
	r.connect()
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			r.opened()
		}
	})
	r.centre = container.NewStack(r.sheet, r.loupe.object, newEmpty(r))
	return r, nil
}

// heldModifiers asks the driver, where it knows.
func heldModifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// connect lets the sheet speak to the step that is taken.
func (r *Room) connect() {
	r.sheet.OnPress = func(at geom.Point) bool { return r.step.press(at) }
	r.sheet.OnDrag = func(at geom.Point) { r.step.drag(at) }
	r.sheet.OnDrop = func(at geom.Point) { r.step.drop(at) }
	r.sheet.OnTap = func(id string, at geom.Point) { r.step.tapped(id, at) }
	r.sheet.OnHover = func(id string, at geom.Point, on bool) {
		r.host.Pointer(at, on)
		if r.step.moved(id, at, on); !on {
			r.unmagnify()
		}
	}
	r.sheet.OnKey = func(k fyne.KeyName) bool { return r.step.key(k, r.host.Modifiers()) }
	r.sheet.OnRune = func(key rune) bool {
		switch key {
		case '[':
			r.turn(1)
		case ']':
			r.turn(-1)
		default:
			return false
		}
		return true
	}
	r.sheet.OnView = func() {
		r.host.View()
		r.step.viewed()
	}
	r.sheet.Pointer = func() desktop.Cursor { return r.step.pointer() }
}

// Left returns the list of pictures, Centre the pictures themselves and Side the steps.
func (r *Room) Left() fyne.CanvasObject { return r.list.object }

// Centre returns the pictures.
func (r *Room) Centre() fyne.CanvasObject { return r.centre }

// Side returns the steps.
func (r *Room) Side() fyne.CanvasObject { return r.side.object }

// Focus is what has the keys when nothing else wants them.
func (r *Room) Focus() fyne.Focusable { return r.sheet }

// Percent returns the scale of what is seen, 0 where nothing is.
func (r *Room) Percent() float64 {
	if len(r.pictures()) == 0 {
		return 0
	}
	return r.sheet.Percent()
}

// Fit shows all pictures.
func (r *Room) Fit() { r.sheet.Fit() }

// Says is the line at the foot of the window.
func (r *Room) Says() string { return r.step.hint() }

// Key gets the keys that the control in focus has no use for.
func (r *Room) Key(k fyne.KeyName) bool { return r.step.key(k, r.host.Modifiers()) }

// Back leaves off slow work or puts the magnifier away. It never leads out of the room:
// what is marked here would be out of sight by a key that is there to leave off.
func (r *Room) Back() bool {
	if r.working() {
		r.stop()
		r.update()
	} else {
		r.unmagnify()
	}
	return true
}

// Shown brings the room up to date when it is entered, Hidden puts it to rest.
func (r *Room) Shown() {
	r.seen = true
	r.step.entered()
	r.update()
}

// Hidden puts the room to rest.
func (r *Room) Hidden() {
	r.seen = false
	r.step.left()
	r.unmagnify()
	r.stop()
	r.files.rest()
	for _, s := range r.steps {
		if s, ok := s.(interface{ rest() }); ok {
			s.rest()
		}
	}
}

// SetPalette changes the colours.
func (r *Room) SetPalette(p paint.Palette) {
	r.palette = p
	r.sheet.SetPalette(p)
	r.loupe.sheet.SetPalette(p)
	r.list.repaint()
	r.update()
}

// Changed shows a change of the document.
func (r *Room) Changed(c desk.Change) {
	if c.Has(desk.Document | desk.Opened) {
		r.update()
		r.findAgain()
	}
}

// findAgain shows all pictures where none is in sight any more, such as after the one that
// was looked at was taken away.
func (r *Room) findAgain() {
	pics := r.pictures()
	if !r.seen || len(pics) == 0 {
		return
	}
	seen := r.sheet.View().Visible()
	for _, pic := range pics {
		if b := pic.Box(); b.Min.X < seen.Max.X && seen.Min.X < b.Max.X && b.Min.Y < seen.Max.Y && seen.Min.Y < b.Max.Y {
			return
		}
	}
	r.sheet.Fit()
}

// opened begins anew with another document; the ids of its pictures may be those of the
// one before.
func (r *Room) opened() {
	r.stop()
	r.files.clear()
	clear(r.drawn)
	r.hand, r.pdf, r.trouble, r.doings = "", nil, "", nil
	for _, s := range r.steps {
		if s, ok := s.(interface{ newDocument() }); ok {
			s.newDocument()
		}
	}
	if r.seen {
		r.goTo(r.steps[0].name())
		return
	}
	r.step = r.steps[0]
}

// Take takes a picture in hand and begins with it.
func (r *Room) Take(id draft.ID) {
	r.hand = id
	name := stepTrue
	if pic := r.chosen(); pic == nil || pic.True != nil {
		name = stepPictures
	}
	r.goTo(name)
	r.sheet.Fit()
}

func (r *Room) unit() draft.Unit { return r.desk.Project().Unit }

func (r *Room) say(text string) { r.host.Say(text) }

// pictures returns all pictures of the document, bottom first.
func (r *Room) pictures() []*draft.Picture { return r.desk.Project().Pictures }

// chosen returns the picture in hand, nil where there is none at all.
func (r *Room) chosen() *draft.Picture {
	if pic := r.desk.Project().Picture(r.hand); pic != nil {
		return pic
	}
	if all := r.pictures(); len(all) > 0 {
		return all[0]
	}
	return nil
}

// choose takes a picture in hand.
func (r *Room) choose(id draft.ID) {
	if r.hand == id {
		return
	}
	r.stop()
	r.step.left()
	r.hand = id
	r.step.entered()
	r.update()
}

// chooseAt takes the picture in hand that is topmost at a place.
func (r *Room) chooseAt(at geom.Point) {
	if pic := r.pictureAt(at); pic != nil {
		r.choose(pic.ID)
	}
}

// pictureAt returns the picture that is topmost at a place, or nil.
func (r *Room) pictureAt(at geom.Point) *draft.Picture {
	for _, pic := range slices.Backward(r.stacked()) {
		if geom.Polygon(r.lineOf(pic)...).Contains(at) {
			return pic
		}
	}
	return nil
}

// stacked returns the pictures as they are seen, bottom first: the one in hand lies on top.
func (r *Room) stacked() []*draft.Picture {
	hand := r.chosen()
	var all []*draft.Picture
	for _, pic := range r.pictures() {
		if pic != hand {
			all = append(all, pic)
		}
	}
	if hand != nil {
		all = append(all, hand)
	}
	return all
}

// stepNamed returns the step with the name, or nil.
func (r *Room) stepNamed(name string) step {
	for _, s := range r.steps {
		if s.name() == name {
			return s
		}
	}
	return nil
}

// goTo takes up a step.
func (r *Room) goTo(name string) {
	next := r.stepNamed(name)
	if next == nil || next == r.step {
		return
	}
	r.stop()
	r.unmagnify()
	if r.seen {
		r.step.left()
	}
	r.step = next
	if r.seen {
		r.step.entered()
	}
	r.update()
	r.host.Focus(nil)
}

// fitTo shows a picture as large as there is room.
func (r *Room) fitTo(pics ...*draft.Picture) {
	box := geom.EmptyRect()
	for _, pic := range pics {
		box = box.Union(geom.RectOf(r.lineOf(pic)...))
	}
	r.sheet.FitTo(box)
}

// reach returns how many mm so many screen units cover.
func (r *Room) reach(units float64) float64 { return r.sheet.View().MM(units) }

// update shows everything as it now stands, if the room is seen.
func (r *Room) update() {
	if !r.seen {
		return
	}
	if pic := r.chosen(); pic != nil {
		r.hand = pic.ID
	}
	r.list.update()
	r.side.update() // which makes the panel of a step that is taken for the first time
	r.step.update()
	r.side.compact.Refresh()
	show(r.centre.Objects[2], len(r.pictures()) == 0)
	r.redraw()
	r.host.Status()
}

// run does an act as one step to undo and tells why it could not be done.
func run[A any](r *Room, act *draft.Act[A], args A) bool {
	if err := desk.Run(r.desk, act, args); err != nil {
		r.say(err.Error())
		return false
	}
	return true
}

// show shows an object or hides it.
func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

package tracer

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/geom"
)

// way is a way to make a picture true to size, as it sits in the step.
type way interface {
	// word is what it is called, asks what is to be done.
	word() string
	asks() string
	panel() fyne.CanvasObject
	// taken tells that the way is taken, or another picture with it.
	taken(pic *draft.Picture)
	update(pic *draft.Picture)
	layers(pic *draft.Picture) []*sheet.Layer
	// spots are what can be taken hold of, nil for none.
	spots() *spots
	tapped(pic *draft.Picture, at geom.Point)
	moved(pic *draft.Picture, at geom.Point, on bool)
	key(k fyne.KeyName) bool
	hint() string
}

// trueStep is the step in which a picture is made true to size.
type trueStep struct {
	plain
	ways []way
	way  way

	pill *control.Pill
	asks *control.Prose
	body *fyne.Container
	told *fyne.Container
	all  *fyne.Container
	// lay is the picture in hand as it was seen last, nil before.
	lay *draft.Picture
}

func newTrueStep(r *Room) step {
	s := &trueStep{plain: plain{r}}
	s.ways = []way{newByLength(s), newByFrame(s), newByGrid(s), newByResolution(s)}
	s.way = s.ways[0]
	return s
}

// newDocument forgets what was marked in the pictures of the document before.
func (s *trueStep) newDocument() {
	s.lay = nil
	for _, w := range s.ways {
		if w, ok := w.(interface{ newDocument() }); ok {
			w.newDocument()
		}
	}
}

func (*trueStep) name() string { return stepTrue }

func (s *trueStep) says() string {
	if len(s.pictures()) > 1 {
		return "Say how large something in each picture is."
	}
	return "Say how large something in the picture is."
}

func (s *trueStep) hint() string { return "True to size: " + s.way.hint() }

func (s *trueStep) standing() standing {
	all, done := s.pictures(), 0
	for _, pic := range all {
		if pic.True != nil {
			done++
		}
	}
	switch {
	case len(all) == 0:
		return standing{}
	case done == len(all):
		return standing{done: true, says: s.worst()}
	case len(all) == 1:
		return standing{says: "not yet"}
	}
	return standing{says: fmt.Sprintf("%d of %d", done, len(all))}
}

// worst says by how much the picture is off that is off by most.
func (s *trueStep) worst() string {
	most := 0.0
	for _, pic := range s.pictures() {
		most = max(most, pic.True.Error)
	}
	if most == 0 {
		return ""
	}
	return "off " + exactly(most, s.unit())
}

func (s *trueStep) panel() fyne.CanvasObject {
	words := make([]string, len(s.ways))
	for i, w := range s.ways {
		words[i] = w.word()
	}
	s.pill = control.NewPill("How the picture is made true to size", words, func(i int) { s.take(s.ways[i]) })
	s.asks = control.NewProse("", 12.5, false, look.Faint, inner)
	s.body = container.NewStack(s.way.panel())
	s.told = control.Stack(8)
	s.all = control.Stack(10, control.Row(0, s.pill), s.asks, s.body, s.told)
	return s.all
}

// take takes a way up.
func (s *trueStep) take(w way) {
	s.stop()
	s.unmagnify()
	s.way = w
	s.body.Objects = []fyne.CanvasObject{w.panel()}
	s.entered()
	s.Room.update()
}

func (s *trueStep) entered() {
	if pic := s.chosen(); pic != nil {
		s.fitTo(pic)
		s.lay = pic
		s.way.taken(pic)
	}
}

func (s *trueStep) left() { s.lay = nil }

func (s *trueStep) update() {
	if s.pill == nil {
		return
	}
	for i, w := range s.ways {
		if w == s.way {
			s.pill.Put(i)
		}
	}
	s.asks.Put(s.way.asks())
	pic := s.chosen()
	show(s.all, pic != nil)
	if pic == nil {
		s.lay = nil
		return
	}
	if s.lay != nil && s.lay.ID == pic.ID && s.lay.Place != pic.Place {
		s.sheet.LookAt(inkKept(s.sheet.View(), s.lay, pic))
		s.unmagnify() // which shows what lay there before
	}
	s.lay = pic
	s.way.update(pic)
	s.told.RemoveAll()
	if pic.Locked {
		s.told.Add(s.lockedCard(pic))
	}
	if pic.True != nil {
		s.told.Add(s.trueCard(pic))
	}
}

// lockedCard says that the picture is locked, and unlocks it.
func (r *Room) lockedCard(pic *draft.Picture) fyne.CanvasObject {
	unlock := control.NewButton(control.SmallShape, "unlock", "Unlock", "Let the picture be changed again", func() {
		off := false
		run(r, draft.SetPicture, draft.SetPictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(pic.ID)}, Locked: &off})
	})
	return control.Told(control.LookAgain, pic.Name+" is locked", "It was locked on the bench, so that nothing changes it.", inner, "", nil, unlock)
}

// trueCard says how the picture was made true to size, and how well.
func (s *trueStep) trueCard(pic *draft.Picture) fyne.CanvasObject {
	u := s.unit()
	scale := fmt.Sprintf("In its middle a pixel covers %.3f mm: %.0f dots an inch.", pic.Scale(), draft.MMPerInch/pic.Scale())
	title := "True by " + trueWords[pic.True.By]
	if e := pic.True.Error; e > 0 {
		means, level := worth(e)
		return control.Told(level, title+", off by "+exactly(e, u), means+" "+scale, inner, "", nil, s.nextPicture()...)
	}
	return control.Told(control.Holds, title, "By how much it is off cannot be told from that alone: a second known length would show it. "+scale, inner, "", nil, s.nextPicture()...)
}

// nextPicture offers the next picture that is not true yet, if there is one.
func (s *trueStep) nextPicture() []fyne.CanvasObject {
	for _, pic := range s.pictures() {
		if pic.True == nil {
			return []fyne.CanvasObject{control.NewButton(control.SmallShape, "", "Next picture: "+pic.Name, "Make the next picture true to size", func() { s.choose(pic.ID) })}
		}
	}
	return nil
}

// trueBy makes the picture true; steps of the same fold are one to undo.
func (s *trueStep) trueBy(pic *draft.Picture, args draft.TruePictureArgs, fold string) bool {
	args.Picture = draft.PictureRef(pic.ID)
	if _, err := desk.RunFolded(s.desk, draft.TruePicture, args, fold); err != nil {
		s.say(err.Error())
		return false
	}
	return true
}

// picture shows the others faintly.
func (s *trueStep) picture(pic *draft.Picture) (*paint.Pyramid, float64) {
	if pic != s.chosen() {
		return nil, othersStrong
	}
	return nil, 1
}

// othersStrong is how strongly the pictures are seen that are not in hand.
const othersStrong = 0.3

func (s *trueStep) layers() []*sheet.Layer {
	if pic := s.chosen(); pic != nil {
		return s.way.layers(pic)
	}
	return nil
}

func (s *trueStep) press(at geom.Point) bool {
	x := s.way.spots()
	return x != nil && s.chosen() != nil && x.press(at)
}

func (s *trueStep) drag(at geom.Point) {
	if x := s.way.spots(); x != nil { // another way may be taken while the button is down
		x.drag(at)
	}
}

func (s *trueStep) drop(at geom.Point) {
	if x := s.way.spots(); x != nil {
		x.drop(at)
	}
}

func (s *trueStep) tapped(_ string, at geom.Point) {
	pic := s.chosen()
	if pic == nil {
		return
	}
	if spotAt(pic, at) == nil {
		s.chooseAt(at)
		return
	}
	s.way.tapped(pic, at)
}

func (s *trueStep) moved(_ string, at geom.Point, on bool) {
	if pic := s.chosen(); pic != nil {
		s.way.moved(pic, at, on)
	}
}

func (s *trueStep) key(k fyne.KeyName, mods fyne.KeyModifier) bool {
	if x := s.way.spots(); x != nil && x.key(k, mods) {
		return true
	}
	return s.way.key(k)
}

func (s *trueStep) pointer() desktop.Cursor {
	if s.way.spots() != nil {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}

package shell

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench"
	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// WalkSeam walks a seam on the bench: where the bench is seen already, or else at the
// station Shape.
func (s *Shell) WalkSeam(seam draft.ID) {
	if s.seat == nil || s.seat.focus != fyne.Focusable(s.bench) {
		s.enter(stationShape)
	}
	w := tool.NewWalk(s.hand, seam)
	if _, err := w.Walker(); err != nil {
		s.Say(err.Error())
		return
	}
	s.takeTool(w) // which puts away the walk before, and shows what was seen before that
	s.walk.show(w, s.bench.Sight())
	s.focusBench()
}

// walkPicked walks the first seam of the picked edges.
func (s *Shell) walkPicked() {
	if seams := s.pickedSeams(); len(seams) > 0 {
		s.WalkSeam(seams[0].ID)
	}
}

// picksSewn reports whether a picked edge is sewn to anything.
func (s *Shell) picksSewn() bool { return len(s.pickedSeams()) > 0 }

func (s *Shell) pickedSeams() []*draft.Seam {
	return s.desk.SeamsOf(s.desk.Picked().Of(desk.Edge))
}

// walkSays returns what the status line says at a station: what can be done while a seam
// is walked or seen with its pieces laid together, else what the station says.
func (s *Shell) walkSays(says func() string) func() string {
	return func() string {
		switch t := s.bench.Tool().(type) {
		case *tool.Walk, *tool.Joined:
			return t.Info().Name + ": " + t.Info().Hint
		}
		return says()
	}
}

// walkCard lies at the foot of the bench while a seam is walked: where the walk stands,
// what drives it, and what can be done at the place of contact.
type walkCard struct {
	s      *Shell
	object *fyne.Container
	walk   *tool.Walk
	// before is what was seen of the bench before.
	before bench.Sight

	title    *control.Text
	names    [2]*control.Text
	done     [2]*control.Text
	left     [2]*control.Text
	says     *control.Prose
	mark     *control.Mark
	notch    *control.Prose
	play     *control.Button
	slider   *control.Slider
	otherEnd *control.Button
	// playing is closed to stop the walk that goes by itself, nil while none does.
	playing chan struct{}
}

// The card in screen units.
const (
	walkCardWide  = 640
	walkCardPad   = 14
	walkCardInner = walkCardWide - 2*walkCardPad
	walkCardClear = 10
	walkNameWide  = 280
	walkDoneWide  = 150
)

// sliderStep is what one step of the slider is, in mm.
const sliderStep = 0.1

func newWalkCard(s *Shell) *walkCard {
	c := &walkCard{s: s}
	c.title = control.NewText("", 14, true, look.Ink).AtLeast(90)
	c.otherEnd = control.NewButton(control.QuietShape, "other-end", "From the other end", "Begin at the other end of the seam, so that what does not fit is left over here", func() { c.turned((*tool.Walk).OtherEnd) })
	deeds := control.Row(6,
		control.NewButton(control.QuietShape, "swap", "Swap the sides", "Let the side that rolls lie still, and the other one roll", func() { c.turned((*tool.Walk).Swap) }),
		c.otherEnd,
		control.NewButton(control.QuietShape, "", "Leave the walk", "The pieces lie as they did (Esc)", s.putAway))
	head := container.NewBorder(nil, nil, control.Inset(0, 4, 8, 4, control.NewIcon("walk", look.Chalk, 20)), deeds, control.Inset(0, 5, 8, 0, c.title))
	rows := control.Stack(5, head)
	for i, word := range [...]string{"lies still", "rolls along"} {
		c.names[i] = control.NewText("", 12.5, true, look.Ink).AtLeast(walkNameWide - 80)
		c.done[i] = control.NewText("", 12.5, false, look.Ink).Aligned(fyne.TextAlignTrailing)
		c.left[i] = control.NewText("", 12.5, true, look.Chalk).Aligned(fyne.TextAlignTrailing)
		rows.Add(control.Row(8,
			control.Wide(72, control.NewText(word, 12, false, look.Faint)),
			control.Wide(walkNameWide, c.names[i]), control.Spring(),
			control.Wide(walkDoneWide-30, c.done[i]), control.Wide(90, c.left[i])))
	}
	c.mark = control.NewMark(control.Holds, 15)
	c.says = control.NewProse("", 12.5, false, look.Ink, walkCardInner-24)
	rows.Add(container.NewBorder(nil, nil, control.Inset(0, 1, 8, 0, container.NewVBox(c.mark)), nil, c.says))
	c.notch = control.NewProse("", 12.5, false, look.Ink, walkCardInner-24)
	rows.Add(control.Inset(23, 0, 0, 0, c.notch))
	c.slider = control.NewSlider(func(at int) { c.with(func(w *tool.Walk) { w.Go(c.fromSlider(at)) }) })
	leap := func(icon, hint string, to tool.Leap) fyne.CanvasObject {
		return control.NewButton(control.IconShape, icon, "", hint, func() { c.with(func(w *tool.Walk) { w.Leap(to) }) })
	}
	step := func(icon, hint string, by float64) fyne.CanvasObject {
		return control.NewButton(control.IconShape, icon, "", hint, func() { c.with(func(w *tool.Walk) { w.Arrow(geom.Pt(by, 0)) }) })
	}
	c.play = control.NewButton(control.IconShape, "play", "", "Let it walk by itself, or stop (Space)", c.togglePlay)
	left := control.Row(0, leap("to-start", "Where the walk begins (Home)", tool.LeapStart), leap("notch-back", "Back to the notch before (Page Up)", tool.LeapBefore),
		step("step-back", "Back by 1 mm (Left)", -1), c.play)
	right := control.Row(0, step("step-on", "On by 1 mm (Right)", 1), leap("notch-on", "On to the next notch (Page Down)", tool.LeapNext), leap("to-end", "As far as it goes (End)", tool.LeapEnd))
	notch := control.NewButton(control.WordShape, "notch", "Notch here", "Mark this place with a notch on both sides (N)", func() { c.with((*tool.Walk).NotchHere) })
	rows.Add(container.NewBorder(nil, nil, left, control.Row(8, right, notch), c.slider))
	card := container.NewStack(control.NewGround(look.Paper, look.Border, 12), control.Inset(walkCardPad, 10, walkCardPad, 11, rows))
	c.object = container.New(walkPlace{}, card)
	c.object.Hide()
	return c
}

// with does something with the walk and gives the keys back to the bench.
func (c *walkCard) with(do func(*tool.Walk)) {
	if c.walk != nil {
		do(c.walk)
		c.s.focusBench()
	}
}

// turned lets the walk lie otherwise, and brings it into sight again.
func (c *walkCard) turned(do func(*tool.Walk)) {
	c.with(do)
	if c.walk != nil {
		c.fit()
	}
}

// show puts the card up for a walk, and brings the walk into sight.
func (c *walkCard) show(w *tool.Walk, before bench.Sight) {
	c.walk, c.before = w, before
	w.OnChange, w.OnPlay = c.update, c.togglePlay
	c.s.cover(c.object)
	c.fit()
	c.update()
}

// fit shows the seam as large as there is room, with what lies beside it.
func (c *walkCard) fit() {
	walker, err := c.walk.Walker()
	if err != nil {
		return
	}
	// On how many of its places the walk is looked at, for a piece that turns on its way
	// does so slowly, and how much beside the lines is shown, as a share of their length.
	const (
		looks  = 6
		beside = 0.16
	)
	box := geom.EmptyRect()
	for k := range looks + 1 {
		step := walker.At(walker.Length() * float64(k) / looks)
		for _, side := range [...]draft.Side{draft.SideA, draft.SideB} {
			done, rest := walker.Lines(side, step)
			for _, path := range append(done, rest...) {
				box = box.Union(path.Bounds())
			}
		}
	}
	box = box.Grow(beside * max(walker.SideLength(draft.SideA), walker.SideLength(draft.SideB)))
	c.s.bench.ShowBox(box, float64(c.object.Objects[0].MinSize().Height)+walkCardClear)
}

// hide takes the card away and shows what was seen before.
func (c *walkCard) hide() {
	if c.walk == nil {
		return
	}
	c.stop()
	c.walk.OnChange, c.walk.OnPlay = nil, nil
	c.walk = nil
	c.object.Hide()
	c.s.bench.SetSight(c.before)
}

func (c *walkCard) fromSlider(at int) float64 {
	walker, err := c.walk.Walker()
	if err != nil {
		return 0
	}
	return min(float64(at)*sliderStep, walker.Length())
}

// update shows where the walk stands.
func (c *walkCard) update() {
	if c.walk == nil {
		return
	}
	told, err := c.walk.Tells()
	if err != nil { // the seam was taken apart
		c.s.later(func() {
			if c.walk != nil {
				c.s.putAway()
			}
		})
		return
	}
	walker, _ := c.walk.Walker()
	c.title.Set(told.Title)
	for i, side := range told.Sides {
		c.names[i].Set(side.Name)
		c.done[i].Set(side.Done)
		c.left[i].Set(side.Left)
	}
	level := control.Holds
	if !told.Holds {
		level = control.Problem
	}
	c.mark.Put(level)
	c.says.PutAs(told.Says, level.Colour())
	colour := look.MossText
	if told.NotchOff {
		colour = look.OchreText
	}
	c.notch.PutAs(told.Notch, colour)
	c.slider.Put(int(c.walk.At()/sliderStep+0.5), max(int(walker.Length()/sliderStep+0.999), 1))
	c.otherEnd.SetChosen(c.walk.FromEnd())
	c.object.Refresh()
	c.s.bench.Redraw()
}

// A walk that goes by itself takes playTime from end to end, in steps of playTick.
const (
	playTime = 7 * time.Second
	playTick = 33 * time.Millisecond
)

// togglePlay lets the walk go by itself, from the start if it has come to the end, or
// stops it.
func (c *walkCard) togglePlay() {
	if c.playing != nil {
		c.stop()
		return
	}
	if c.walk == nil {
		return
	}
	walker, err := c.walk.Walker()
	if err != nil {
		return
	}
	if c.walk.At() >= walker.Length() {
		c.walk.Go(0)
	}
	stop := make(chan struct{})
	c.playing = stop
	c.play.SetIcon("pause", look.Chalk)
	c.s.focusBench()
	go c.beat(stop)
}

// beat goes on with the walk until it is stopped.
func (c *walkCard) beat(stop chan struct{}) {
	ticker := time.NewTicker(playTick)
	defer ticker.Stop()
	last := time.Now()
	for {
		select {
		case <-stop:
			return
		case now := <-ticker.C:
			by := now.Sub(last)
			last = now
			control.OnMain(func() { c.goOn(stop, by) })
		}
	}
}

// goOn goes on by as much as the time that has passed.
func (c *walkCard) goOn(of chan struct{}, by time.Duration) {
	if c.playing != of || c.walk == nil {
		return
	}
	walker, err := c.walk.Walker()
	if err != nil || c.s.seat.focus != fyne.Focusable(c.s.bench) {
		c.stop()
		return
	}
	c.walk.Go(c.walk.At() + walker.Length()*float64(by)/float64(playTime))
	if c.walk.At() >= walker.Length() {
		c.stop()
	}
}

// stop stops the walk that goes by itself.
func (c *walkCard) stop() {
	if c.playing != nil {
		close(c.playing)
		c.playing = nil
		c.play.SetIcon("play", "")
	}
}

// walkPlace lays the card in the middle of the foot.
type walkPlace struct{}

func (walkPlace) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (walkPlace) Layout(o []fyne.CanvasObject, size fyne.Size) {
	wide := min(walkCardWide, size.Width-2*walkCardClear)
	high := o[0].MinSize().Height
	o[0].Move(fyne.NewPos((size.Width-wide)/2, size.Height-high-walkCardClear))
	o[0].Resize(fyne.NewSize(wide, high))
}

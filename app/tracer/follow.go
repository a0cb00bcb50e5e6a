package tracer

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace"
	"hemlet/geom/trace/follow"
)

// ways is the step in which the ink is followed.
type ways struct {
	plain
	finds  *finds
	effort effort
	panels *followPanel
	// of is what was followed last, or is being followed.
	of inputs
	// picked is the id of the line that is looked at, 0 for none.
	picked int

	// framing says that the next drag draws the frame that is read; from is where it began
	// and box what it is so far.
	framing bool
	from    geom.Point
	box     *geom.Rect

	// guiding is the line that is followed by hand, nil for none; guide is what it goes by.
	guiding *guiding
	guide   *readyGuide

	shown drawnLines
	layer *sheet.Layer
}

// readyGuide is a guide that has read its pictures, and of what it was made.
type readyGuide struct {
	of       inputs
	guide    *follow.Guide
	prepared trace.Prepared
}

// drawnLines is what the lines were drawn from.
type drawnLines struct {
	rev    int
	faint  bool
	guided bool
	picked int
	unit   draft.Unit
}

func newFollow(f *finds) *ways {
	return &ways{plain: plain{f.Room}, finds: f, effort: effort{r: f.Room}}
}

func (*ways) name() string { return stepFollow }

func (w *ways) says() string {
	if w.guiding != nil {
		return "Click along the line, at corners above all: between two clicks the way follows the ink."
	}
	return "Say what the line is, and tick the outlines that are to become pieces."
}

func (w *ways) hint() string {
	switch {
	case w.guiding != nil && len(w.guiding.stops) == 0:
		return "Follow by hand: click where the line begins, best at a corner. The wheel zooms, a drag moves the picture; Esc leaves off."
	case w.guiding != nil:
		return "Click sets a stop, S makes the last one a corner or smooth, Backspace takes it back, Enter closes the line, E ends it as a line inside, Esc leaves off."
	case w.framing:
		return "Follow: drag a box round what is to be read. Esc leaves off."
	}
	return "Follow: click an outline to look at it, Space ticks it or takes the tick away."
}

func (w *ways) standing() standing {
	if len(w.pictures()) == 0 {
		return standing{idle: true}
	}
	n := len(w.finds.taken())
	switch {
	case n == 0 && len(w.finds.onBench()) > 0:
		return standing{done: true, says: "on the bench"}
	case n == 0:
		return standing{}
	}
	return standing{done: true, says: fmt.Sprintf("%d of %d", n, len(w.finds.lines))}
}

func (w *ways) panel() fyne.CanvasObject {
	w.panels = newFollowPanel(w)
	return w.panels.object
}

func (w *ways) entered() { w.effort.own = nil }

func (w *ways) left() {
	w.framing, w.box, w.guiding = false, nil, nil
}

// newDocument forgets what was read of the pictures of the document before.
func (w *ways) newDocument() { w.guide, w.of, w.picked = nil, inputs{}, 0 }

// rest lets go of the ink that was read, while the room is not seen.
func (w *ways) rest() { w.guide = nil }

func (w *ways) update() {
	w.finds.prune()
	if w.guiding != nil && !w.stand(w.guide.of.pictures) {
		w.guiding = nil
		w.say("The picture was changed: the line that was being followed by hand is left off.")
	}
	w.begin()
	if w.panels != nil {
		w.panels.update()
	}
}

// begin follows the ink unless that was done, is under way or was stopped.
func (w *ways) begin() {
	groups, now := w.finds.groups(), w.finds.inputs()
	if len(groups) == 0 || w.guiding != nil || w.finds.last != nil && !w.finds.stale() {
		return
	}
	if w.of.same(now) && (w.effort.own != nil || w.effort.fault != "") {
		return
	}
	for _, g := range groups {
		for _, pic := range g {
			if w.read(pic).image == nil {
				return // it comes here again once the picture was read
			}
		}
	}
	w.of = now
	var sources [][]tracing.Source
	for _, g := range groups {
		sources = append(sources, w.finds.sources(g))
	}
	pause := shortPause
	if w.finds.last == nil {
		pause = 0
	}
	open, first := w.finds.manner == mannerOpen, w.read(now.pictures[0])
	w.effort.begin("Following the ink", now.pictures, pause, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		if open {
			tell(0, "Looking at the ink")
			var err error
			if now.settings.Manner, err = now.looks(ctx, first); err != nil {
				return nil, err
			}
		}
		traced, err := followAll(ctx, sources, now.settings, tell)
		if err != nil {
			return nil, err
		}
		last, names := &followed{from: now, traced: traced, leftOut: leftOut(traced), groups: groups}, namesOf(traced)
		return func() {
			if open {
				w.finds.manner, w.finds.settings.Manner, w.of = mannerLooked, now.settings.Manner, now
			}
			first := w.finds.last == nil
			w.finds.take(last, names)
			if first {
				w.showAll(now.pictures)
			}
		}, nil
	})
}

// showAll shows the pictures that were followed whole where not every line of them is in
// sight, such as while a known length is looked at closely.
func (w *ways) showAll(pics []*draft.Picture) {
	seen := w.sheet.View().Visible()
	for _, l := range w.finds.lines {
		if b := l.Path.Bounds(); !seen.Contains(b.Min) || !seen.Contains(b.Max) {
			w.fitTo(pics...)
			return
		}
	}
}

// set changes a setting and has the ink followed anew.
func (w *ways) set(change func(s *tracing.Settings)) {
	change(&w.finds.settings)
	w.Room.update()
}

// pick looks at a line, or at none.
func (w *ways) pick(l *line) {
	w.picked = 0
	if l != nil {
		w.picked = l.id
	}
	if w.panels != nil {
		w.panels.update()
	}
	w.redraw()
}

// lookAt looks at a line that was chosen in the list, where it is seen.
func (w *ways) lookAt(l *line) {
	w.pick(l)
	w.finds.bringInSight(l)
}

// pickedLine returns the line that is looked at, nil for none.
func (w *ways) pickedLine() *line {
	for _, l := range w.finds.lines {
		if l.id == w.picked {
			return l
		}
	}
	return nil
}

// tick has a line become a piece, or not.
func (w *ways) tick(l *line, on bool) {
	w.finds.does("a tick", func() { l.taken = on })
	w.finds.changed()
	w.Room.update()
}

// dropLine takes a line that was followed by hand out of the list.
func (w *ways) dropLine(l *line) {
	w.finds.does("dropping a line", func() {
		for i, x := range w.finds.lines {
			if x == l {
				w.finds.lines = append(append([]*line{}, w.finds.lines[:i]...), w.finds.lines[i+1:]...)
				break
			}
		}
	})
	w.finds.changed()
	w.Room.update()
}

func (w *ways) picture(*draft.Picture) (*paint.Pyramid, float64) { return nil, 1 }

func (w *ways) pointer() desktop.Cursor {
	if w.framing || w.guiding != nil {
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}

// frame begins to draw the frame that is read, or reads all again.
func (w *ways) frame(on bool) {
	if !on && !w.framing {
		w.crop(nil)
	}
	w.framing, w.box = on, nil
	w.Room.update()
	w.host.Focus(nil)
}

func (w *ways) press(at geom.Point) bool {
	if w.framing {
		w.from, w.box = at, &geom.Rect{Min: at, Max: at}
	}
	return w.framing
}

func (w *ways) drag(at geom.Point) {
	if w.framing {
		b := geom.RectOf(w.from, at)
		w.box = &b
		w.redraw()
	}
}

// leastFrame is the least side of a frame in screen units: a smaller one is a click.
const leastFrame = 8

func (w *ways) drop(at geom.Point) {
	if !w.framing || w.box == nil {
		return
	}
	b := geom.RectOf(w.from, at)
	w.box = nil
	if least := w.reach(leastFrame); b.W() < least || b.H() < least {
		w.redraw()
		return
	}
	w.framing = false
	w.crop(&b)
}

// crop has only what lies in a box be read of the pictures that are followed, or all of
// them for nil, as one step to undo.
func (w *ways) crop(b *geom.Rect) {
	var pics []*draft.Picture
	for _, g := range w.finds.groups() {
		pics = append(pics, g...)
	}
	fold := "read all"
	if b != nil {
		fold = fmt.Sprintf("read %v", *b)
	}
	for _, pic := range pics {
		args := draft.CropPictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(pic.ID)}}
		if b != nil {
			args.Corners = cropOf(pic, *b)
		} else if pic.Crop == nil {
			continue
		}
		if _, err := desk.RunFolded(w.desk, draft.CropPicture, args, fold); err != nil {
			w.say(wording.Sentence(err.Error()) + ".")
			break
		}
	}
	w.Room.update()
}

// cropOf returns the corners of a box in the pixels of a picture, as far as they lie in it.
func cropOf(pic *draft.Picture, b geom.Rect) []draft.Pixel {
	var out []draft.Pixel
	for _, c := range []geom.Point{geom.Pt(b.Min.X, b.Max.Y), b.Max, geom.Pt(b.Max.X, b.Min.Y), b.Min} {
		if px, ok := pic.PixelAt(c); ok {
			out = append(out, draft.Pixel(geom.Pt(min(max(px.X, 0), float64(pic.Wide)), min(max(px.Y, 0), float64(pic.High)))))
		}
	}
	return out
}

// cropped reports whether only a part is read of a picture that is followed.
func (w *ways) cropped() bool {
	for _, g := range w.finds.groups() {
		for _, pic := range g {
			if pic.Crop != nil {
				return true
			}
		}
	}
	return false
}

func (w *ways) tapped(id string, at geom.Point) {
	if w.guiding != nil {
		w.guideTo(at)
		return
	}
	for _, l := range w.finds.lines {
		if l.thing() == id {
			w.pick(l)
			return
		}
	}
	w.pick(nil)
	w.chooseAt(at)
}

func (w *ways) moved(id string, at geom.Point, on bool) {
	if w.guiding != nil {
		w.guiding.move(at, on)
	}
}

func (w *ways) key(k fyne.KeyName, _ fyne.KeyModifier) bool {
	if w.guiding != nil {
		return w.guideKey(k)
	}
	switch k {
	case fyne.KeyEscape:
		if !w.framing {
			return false
		}
		w.framing, w.box = false, nil
		w.Room.update()
		return true
	case fyne.KeySpace:
		if l := w.pickedLine(); l != nil {
			w.tick(l, !l.taken)
			return true
		}
	case fyne.KeyDelete, fyne.KeyBackspace:
		if l := w.pickedLine(); l != nil && l.byHand {
			w.dropLine(l)
			return true
		}
	}
	return false
}

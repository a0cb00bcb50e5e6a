package tracer

import (
	"context"
	"errors"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// byFrame makes a photograph true by the corners of a rectangle whose size is known.
type byFrame struct {
	s      *trueStep
	frames map[draft.ID]*frame
	marks  spots
	// lastSize, lastWide and lastHigh are what was said of the sheet last: sheets of a pattern are
	// mostly alike.
	lastSize           int
	lastWide, lastHigh float64
	// fits says that the edges are fitted after a corner was moved.
	fits bool

	all        *fyne.Container
	size       *control.Choice
	wide, high *control.Field
	fit        *control.Check
	seek       *control.Button
	apply      *control.Button
	told       *fyne.Container
}

func newByFrame(s *trueStep) *byFrame {
	w := &byFrame{s: s, frames: map[draft.ID]*frame{}, fits: true}
	w.marks = spots{r: s.Room, list: w.corners, keep: w.keep, changed: func(*spot, bool) { w.moveDone() }}
	names := make([]string, len(sheetSizes))
	for i, z := range sheetSizes {
		names[i] = z.name
	}
	w.size = control.NewChoice("How large the sheet is that shows in the picture", names, w.choose)
	w.wide = w.side("From the left to the right corner, as the picture lies", func(f *frame) *float64 { return &f.wide })
	w.high = w.side("From the upper to the lower corner, as the picture lies", func(f *frame) *float64 { return &f.high })
	w.fit = control.NewCheck("Fit the corners to the edges", func(on bool) {
		w.fits = on
		if f := w.frame(); f != nil && !on {
			f.fit, f.fault = nil, ""
		}
		w.moveDone()
	})
	w.fit.Put(true)
	w.seek = control.NewButton(control.QuietShape, "search", "Find the sheet", "Look for the largest sheet in the picture, and put the corners there", func() { w.find() })
	w.apply = control.NewButton(control.WordShape, "true", "Make it true", "Make the picture true by these corners; the perspective goes", w.makeTrue)
	w.told = control.Stack(0)
	swap := control.NewButton(control.SmallShape, "", "Swap sides", "Exchange width and height", w.swap)
	w.all = control.Stack(8,
		control.Labelled("The sheet is", w.size.Object()),
		control.Labelled("Wide and high", container.NewGridWithColumns(2, w.wide.Object(), w.high.Object())),
		control.Row(8, w.seek, swap), w.fit, w.told, w.apply)
	return w
}

// side makes the field of a side of the sheet.
func (w *byFrame) side(hint string, of func(*frame) *float64) *control.Field {
	return control.NewField(hint, func(text string) error {
		mm, err := w.s.unit().Parse(text)
		f := w.frame()
		switch {
		case err != nil:
			return err
		case !(mm > 0):
			return errors.New("a side is above 0")
		case f == nil:
			return nil
		}
		w.marks.does("the size of the sheet", "", w.keep(), func() { *of(f), f.size = mm, len(sheetSizes)-1 })
		w.s.Room.update()
		return nil
	})
}

func (w *byFrame) newDocument() {
	clear(w.frames)
	w.marks.last = nil
}

func (*byFrame) word() string { return "Frame" }

func (*byFrame) asks() string {
	return "For a photograph: bring the corners onto those of a sheet, mat or printed frame that lies flat with the pattern."
}

func (w *byFrame) panel() fyne.CanvasObject { return w.all }
func (w *byFrame) spots() *spots            { return &w.marks }

// frame returns the frame of the picture in hand, nil without one.
func (w *byFrame) frame() *frame {
	pic := w.s.chosen()
	if pic == nil {
		return nil
	}
	f := w.frames[pic.ID]
	if f == nil {
		f = newFrame(pic)
		if w.lastWide > 0 {
			f.size, f.wide, f.high = w.lastSize, w.lastWide, w.lastHigh
		}
		w.frames[pic.ID] = f
	}
	return f
}

// corners lists the corners of the picture in hand.
func (w *byFrame) corners() []*spot {
	f := w.frame()
	if f == nil {
		return nil
	}
	return f.corners[:]
}

// keep returns what brings the frame of the picture in hand back as it now stands.
func (w *byFrame) keep() func() {
	f := w.frame()
	if f == nil {
		return func() {}
	}
	was, at := *f, f.pixels()
	return func() {
		*f = was
		for i, c := range f.corners {
			c.at = at[i]
		}
	}
}

// taken looks for the sheet once.
func (w *byFrame) taken(*draft.Picture) {
	if f := w.frame(); f != nil && !f.sought {
		w.find()
	}
}

// find looks for the sheet in the picture in hand.
func (w *byFrame) find() {
	pic, f := w.s.chosen(), w.frame()
	read := w.s.read(pic)
	if read.image == nil {
		return // asked for again once it is there
	}
	f.sought = true
	before := f.pixels()
	w.s.work("Looking for the sheet", []*draft.Picture{pic}, func(ctx context.Context, _ func(float64, string)) (func(), error) {
		raster, err := read.raster(ctx)
		if err != nil {
			return nil, err
		}
		corners, err := scan.FindFrame(raster)
		if err != nil {
			return func() {
				if f.pixels() == before {
					f.fault = err.Error()
				}
				w.s.Room.update()
			}, nil
		}
		fit, err := scan.FitFrame(raster, corners)
		return func() {
			if f.pixels() != before {
				return // the maker has put them elsewhere meanwhile
			}
			if f.put(pic, corners); err == nil {
				f.take(pic, fit)
			}
			w.s.Room.update()
		}, nil
	})
}

// moveDone fits the edges near the corners as they lie now.
func (w *byFrame) moveDone() {
	pic, f := w.s.chosen(), w.frame()
	if pic == nil {
		return
	}
	f.fit, f.fault = nil, ""
	read := w.s.read(pic)
	if !w.fits || read.image == nil {
		w.s.Room.update()
		return
	}
	rough := f.pixels()
	w.s.work("Fitting the edges", []*draft.Picture{pic}, func(ctx context.Context, _ func(float64, string)) (func(), error) {
		raster, err := read.raster(ctx)
		if err != nil {
			return nil, err
		}
		fit, err := scan.FitFrame(raster, rough)
		return func() {
			if f.pixels() != rough {
				return
			}
			if err != nil {
				f.fault = err.Error()
			} else {
				f.take(pic, fit)
			}
			w.s.Room.update()
		}, nil
	})
	w.s.Room.update()
}

func (w *byFrame) choose(i int) {
	f := w.frame()
	if f == nil {
		return
	}
	w.marks.does("the size of the sheet", "", w.keep(), func() {
		f.size = i
		if z := sheetSizes[i]; z.wide > 0 {
			f.wide, f.high = z.wide, z.high
			if f.fit != nil && f.fit.Swapped(f.wide, f.high) {
				f.wide, f.high = f.high, f.wide
			}
		}
	})
	w.s.Room.update()
}

func (w *byFrame) swap() {
	if f := w.frame(); f != nil {
		w.marks.does("swapping the sides", "", w.keep(), func() { f.wide, f.high = f.high, f.wide })
		w.s.Room.update()
	}
}

func (w *byFrame) makeTrue() {
	pic, f := w.s.chosen(), w.frame()
	if pic == nil {
		return
	}
	args := draft.TruePictureArgs{Frame: &draft.KnownFrame{Corners: f.pixels(), Width: f.wide, Height: f.high}}
	if off, ok := f.off(); ok {
		mm := draft.Length(off)
		args.Error = &mm
	}
	f.applied = args.Frame
	if w.s.trueBy(pic, args, "") {
		w.lastSize, w.lastWide, w.lastHigh = f.size, f.wide, f.high
		w.s.fitTo(w.s.chosen())
	}
}

func (w *byFrame) update(pic *draft.Picture) {
	f := w.frame()
	if !f.sought && w.s.read(pic).image != nil && w.s.step == step(w.s) && !w.s.working() {
		w.find()
	}
	u := w.s.unit()
	w.size.Put(f.size)
	w.wide.Put(u.Format(f.wide))
	w.high.Put(u.Format(f.high))
	w.told.Objects = []fyne.CanvasObject{w.tells(f)}
	w.told.Refresh()
	open := !f.isApplied(pic)
	show(w.told, open)
	show(w.apply, open)
}

// tells says how well the corners lie.
func (w *byFrame) tells(f *frame) fyne.CanvasObject {
	u := w.s.unit()
	if f.fault != "" {
		return control.Told(control.LookAgain, "The edges are not fitted", wording.Sentence(f.fault)+". The corners lie where you put them.", inner, "", nil)
	}
	off, ok := f.off()
	switch {
	case ok:
		means, level := worth(off)
		says := means
		if f.fit.Drawn {
			says += " The edges are drawn lines, of which the middle counts."
		}
		if f.fit.Swapped(f.wide, f.high) {
			says += " Width and height seem to be exchanged."
			level = max(level, control.LookAgain)
		}
		return control.Told(level, "The edges are off by "+exactly(off, u), says, inner, "", nil)
	case w.fits:
		return control.NewProse("Drag each corner near that of the sheet: it is fitted to the edges.", 12, false, look.Faint, inner)
	}
	return control.NewProse("The corners lie where you put them; by how much they are off cannot be told.", 12, false, look.Faint, inner)
}

func (w *byFrame) layers(pic *draft.Picture) []*sheet.Layer {
	f := w.frame()
	var at [4]geom.Point
	for i, c := range f.corners {
		at[i] = pic.Place.Apply(c.at)
	}
	line := sheet.Dashed(paint.Chalk, 1.4)
	if f.fit != nil {
		line = sheet.Solid(paint.Chalk, 1.4)
	}
	marks := []paint.Mark{sheet.Lined(geom.Polygon(at[:]...), line)}
	for i, c := range f.corners {
		marks = append(marks, spotMark(at[i], paint.Chalk, c == w.marks.last)...)
	}
	u := w.s.unit()
	marks = append(marks, plate(at[0].Lerp(at[1], 0.5), 0, -8, u.Format(f.wide)), plate(at[0].Lerp(at[3], 0.5), 0, 4, u.Format(f.high)))
	return []*sheet.Layer{onLayer(marks...)}
}

func (w *byFrame) tapped(pic *draft.Picture, at geom.Point) {
	// A click brings the nearest corner there.
	f := w.frame()
	var best *spot
	dist := 0.0
	for _, c := range f.corners {
		if d := pic.Place.Apply(c.at).Dist(at); best == nil || d < dist {
			best, dist = c, d
		}
	}
	w.marks.last = best
	back := w.keep()
	if w.marks.put(best, at) {
		w.marks.does("the place of a corner", "", back, w.moveDone)
	}
}

func (w *byFrame) moved(_ *draft.Picture, at geom.Point, on bool) {
	if on {
		w.s.magnify(at)
	}
}

func (*byFrame) key(fyne.KeyName) bool { return false }

func (w *byFrame) hint() string {
	return "drag the corners, or click where the nearest one goes. The arrow keys move the last by a pixel, with Shift by ten, with Alt by a tenth."
}

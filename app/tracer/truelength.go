package tracer

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// length is a distance of two places in a picture that is known, or is going to be.
type length struct {
	from, to *spot
	// mm is 0 until it was typed.
	mm    float64
	field *control.Field
	says  *control.Text
}

// byLength makes a picture true by two places in it and their true distance, or several
// such.
type byLength struct {
	s *trueStep
	// known are the lengths by picture, half the first end of one that is begun.
	known map[draft.ID][]*length
	half  *spot
	at    geom.Point // of the pointer while one is begun
	marks spots

	all  *fyne.Container
	rows *fyne.Container
	told *control.Prose
	// listed are the lengths that the rows show.
	listed []*length
}

func newByLength(s *trueStep) *byLength {
	w := &byLength{s: s, known: map[draft.ID][]*length{}}
	w.marks = spots{r: s.Room, list: w.ends, keep: w.keep, changed: func(_ *spot, nudged bool) {
		fold := ""
		if nudged {
			fold = "nudge an end"
		}
		w.apply(fold)
		s.Room.update()
	}}
	w.rows = control.Stack(6)
	w.told = control.NewProse("", 12, false, look.Faint, inner)
	w.all = control.Stack(8, w.rows, w.told)
	return w
}

func (w *byLength) newDocument() {
	clear(w.known)
	w.half, w.marks.last, w.listed = nil, nil, nil
}

func (*byLength) word() string { return "Length" }

func (w *byLength) asks() string {
	return "Click the two ends of something whose length you know, such as a ruler or a test square, as far apart as you can. Then type how long it truly is."
}

func (w *byLength) panel() fyne.CanvasObject { return w.all }
func (w *byLength) spots() *spots            { return &w.marks }

func (w *byLength) taken(*draft.Picture) { w.half = nil }

// keep returns what brings the lengths of the picture in hand back as they now stand.
func (w *byLength) keep() func() {
	pic := w.s.chosen()
	if pic == nil {
		return func() {}
	}
	list, half := slices.Clone(w.known[pic.ID]), w.half
	var was []length
	for _, k := range list {
		was = append(was, length{from: &spot{pic.ID, k.from.at}, to: &spot{pic.ID, k.to.at}, mm: k.mm})
	}
	var halfAt geom.Point
	if half != nil {
		halfAt = half.at
	}
	return func() {
		for i, k := range list {
			k.from.at, k.to.at, k.mm = was[i].from.at, was[i].to.at, was[i].mm
		}
		if w.half = half; half != nil {
			half.at = halfAt
		}
		w.known[pic.ID], w.marks.last = list, nil
	}
}

// ends lists the ends of the lengths of the picture in hand.
func (w *byLength) ends() []*spot {
	var list []*spot
	if pic := w.s.chosen(); pic != nil {
		for _, k := range w.known[pic.ID] {
			list = append(list, k.from, k.to)
		}
		if w.half != nil && w.half.pic == pic.ID {
			list = append(list, w.half)
		}
	}
	return list
}

func (w *byLength) tapped(pic *draft.Picture, at geom.Point) {
	x := spotAt(pic, at)
	w.marks.last = x
	if w.half == nil || w.half.pic != pic.ID {
		w.marks.does("the end of a length", "", w.keep(), func() { w.half, w.at = x, at })
		w.s.Room.update()
		return
	}
	if w.half.at.Dist(x.at) < 1 {
		w.s.say("The two ends lie in one pixel; click the other end.")
		return
	}
	k := &length{from: w.half, to: x}
	w.marks.does("the end of a length", "", w.keep(), func() {
		w.half = nil
		w.known[pic.ID] = append(w.known[pic.ID], k)
	})
	w.s.Room.update()
	w.s.host.Focus(k.field)
}

func (w *byLength) moved(_ *draft.Picture, at geom.Point, on bool) {
	if !on {
		return
	}
	w.at = at
	w.s.magnify(at)
	if w.half != nil {
		w.s.redraw()
	}
}

func (w *byLength) key(k fyne.KeyName) bool {
	switch k {
	case fyne.KeyEscape:
		if w.half == nil {
			return false
		}
		w.half = nil
		w.s.redraw()
		return true
	case fyne.KeyBackspace, fyne.KeyDelete:
		return w.takeBack()
	}
	return false
}

// takeBack takes away the end that was placed last or, after that, the length.
func (w *byLength) takeBack() bool {
	pic := w.s.chosen()
	switch {
	case w.half != nil:
		w.half = nil
		w.s.redraw()
		return true
	case pic != nil && len(w.known[pic.ID]) > 0:
		list := w.known[pic.ID]
		w.drop(list[len(list)-1])
		return true
	}
	return false
}

// drop takes a length away; what is left of them makes the picture true.
func (w *byLength) drop(k *length) {
	id := k.from.pic
	w.marks.does("taking a length away", "", w.keep(), func() {
		w.known[id] = slices.DeleteFunc(w.known[id], func(x *length) bool { return x == k })
		w.marks.last = nil
		w.apply("")
	})
	w.s.Room.update()
}

// given returns the lengths of a picture that were typed.
func (w *byLength) given(id draft.ID) []draft.KnownLength {
	var list []draft.KnownLength
	for _, k := range w.known[id] {
		if k.mm > 0 {
			list = append(list, draft.KnownLength{From: k.from.at, To: k.to.at, Distance: k.mm})
		}
	}
	return list
}

// apply makes the picture in hand true by the lengths that were typed.
func (w *byLength) apply(fold string) {
	pic := w.s.chosen()
	if pic == nil {
		return
	}
	if list := w.given(pic.ID); len(list) > 0 {
		w.s.trueBy(pic, draft.TruePictureArgs{Lengths: list}, fold)
	}
}

func (w *byLength) update(pic *draft.Picture) {
	list := w.known[pic.ID]
	if !slices.Equal(w.listed, list) {
		w.listed = slices.Clone(list)
		w.rows.RemoveAll()
		for i, k := range list {
			w.rows.Add(w.row(i, k))
		}
	}
	u := w.s.unit()
	for _, k := range list {
		seen := pic.Place.Apply(k.from.at).Dist(pic.Place.Apply(k.to.at))
		if k.mm == 0 {
			k.field.Put("")
			k.says.Set("shown as " + u.Format(seen))
			continue
		}
		k.field.Put(u.Format(k.mm))
		k.says.Set("")
		if len(list) > 1 { // a single one is met whatever it says
			k.says.Set("off by " + exactly(math.Abs(seen-k.mm), u))
		}
	}
	w.told.Put(w.tells(pic))
}

// row makes the row of a length.
func (w *byLength) row(i int, k *length) fyne.CanvasObject {
	k.field = control.NewField("How long it truly is, such as 20 cm or 8 in", func(text string) error {
		mm, err := w.s.unit().Parse(text)
		switch {
		case err != nil:
			return err
		case !(mm > 0):
			return errors.New("a length is above 0")
		}
		w.marks.does("the figure of a length", "", w.keep(), func() {
			k.mm = mm
			w.apply("")
		})
		w.s.Room.update()
		return nil
	})
	k.field.Done = func() { w.s.host.Focus(nil) }
	k.field.OnKey = func(name fyne.KeyName) bool { return w.nudges(k, name, w.s.host.Modifiers()) }
	k.field.OnShortcut = func(x fyne.Shortcut) bool {
		c, ok := x.(*desktop.CustomShortcut)
		return ok && w.nudges(k, c.KeyName, c.Modifier)
	}
	k.says = control.Faint("").AtLeast(leastText)
	away := control.NewButton(control.TinyShape, "remove", "", "Take this length away", func() { w.drop(k) })
	number := control.Wide(16, control.NewText(fmt.Sprint(i+1), 12.5, true, look.Chalk))
	return container.NewBorder(nil, nil, container.NewCenter(number), container.NewCenter(away),
		container.NewBorder(nil, nil, control.Wide(112, k.field.Object()), nil, control.Inset(8, 0, 4, 0, control.Centred(k.says))))
}

// nudges moves the end that was placed last by a key that came to the field of its length, as
// long as nothing is typed there: the keys go to the field with the second click.
func (w *byLength) nudges(k *length, name fyne.KeyName, mods fyne.KeyModifier) bool {
	if last := w.marks.last; k.field.Typing() || last != k.from && last != k.to {
		return false
	}
	return w.marks.key(name, mods)
}

// clickOff is how far a careful click lies off, in pixels of the screen: the two ends of
// a length add up as the root of squares.
const clickOff = 0.5

// tells says how well the lengths agree, or what to do next.
func (w *byLength) tells(pic *draft.Picture) string {
	list := w.given(pic.ID)
	u := w.s.unit()
	switch {
	case w.half != nil && w.half.pic == pic.ID:
		return "Now the other end."
	case len(w.known[pic.ID]) == 0:
		return "The magnifier shows where the click goes; zoom in with the wheel. The arrow keys move the last end by a pixel, with Shift by ten, with Alt by a tenth."
	case len(list) == 0:
		return "Type how long it truly is."
	case len(list) == 1:
		off := math.Sqrt2 * clickOff * pic.Scale()
		return fmt.Sprintf("An end that lies half a pixel off makes %s on this length. A second length, across to the first, shows whether the picture is evenly scaled.", exactly(off, u))
	}
	known := make([]scan.Known, len(list))
	for i, k := range list {
		known[i] = scan.Known{From: k.From, To: k.To, Length: k.Distance}
	}
	sc, err := scan.ScaleOf(known)
	if err != nil {
		return wording.Sentence(err.Error())
	}
	if sc.Uneven && pic.Place.G == 0 && pic.Place.H == 0 {
		return fmt.Sprintf("Lengths across and up disagree by %.1f %%: the picture is stretched or was taken aslant. A frame or squared paper takes that away.", 100*math.Abs(sc.Across/sc.Up-1))
	}
	if sc.RMS > offCoarse {
		return fmt.Sprintf("Length %d is off by most: is its figure right, and do its ends lie where they should?", sc.Worst+1)
	}
	return fmt.Sprintf("Length %d is off by most.", sc.Worst+1)
}

func (w *byLength) layers(pic *draft.Picture) []*sheet.Layer {
	var marks []paint.Mark
	u := w.s.unit()
	for i, k := range w.known[pic.ID] {
		a, b := pic.Place.Apply(k.from.at), pic.Place.Apply(k.to.at)
		marks = append(marks, sheet.Lined(geom.Path{geom.Line(a, b)}, sheet.Solid(paint.Chalk, 1.4)))
		for _, x := range []*spot{k.from, k.to} {
			marks = append(marks, spotMark(pic.Place.Apply(x.at), paint.Chalk, x == w.marks.last)...)
		}
		text := fmt.Sprint(i + 1)
		if k.mm > 0 {
			text += ": " + u.Format(k.mm)
		}
		marks = append(marks, plate(a.Lerp(b, 0.5), 0, -8, text))
	}
	if w.half != nil && w.half.pic == pic.ID {
		a := pic.Place.Apply(w.half.at)
		marks = append(marks, sheet.Lined(geom.Path{geom.Line(a, w.at)}, sheet.Dashed(paint.Chalk, 1.2)))
		marks = append(marks, spotMark(a, paint.Chalk, true)...)
	}
	if len(marks) == 0 {
		return nil
	}
	return []*sheet.Layer{onLayer(marks...)}
}

// plate is a label on a ground of its own, legible over any picture.
func plate(at geom.Point, dx, dy float64, text string) paint.Mark {
	return paint.Text{At: at, DX: dx, DY: dy, Text: text, Size: 11.5, Weight: paint.SemiBold, Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate), Anchor: paint.Middle}
}

func (w *byLength) hint() string {
	if w.half != nil {
		return "click the other end. Esc begins anew; the arrow keys move the end that was placed last."
	}
	return "click one end of a length that you know. Ends can be dragged; the arrow keys move the last by a pixel, with Shift by ten, with Alt by a tenth."
}

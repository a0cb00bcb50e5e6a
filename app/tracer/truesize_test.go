package tracer

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// roomBench is the room in a window of the toolkit's test driver, over pictures that lie in
// memory.
type roomBench struct {
	*Room
	t     *testing.T
	win   fyne.Window
	desk  *desk.Desk
	said  string
	mods  fyne.KeyModifier
	files map[string]seenFile
}

// seenFile is what the file of a picture holds.
type seenFile struct {
	image image.Image
	dpi   float64
}

func newBench(t *testing.T, pics ...seenFile) *roomBench {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.NewTheme(look.Light))
	b := &roomBench{t: t, desk: desk.New(draft.New("winter show")), files: map[string]seenFile{}}
	b.win = test.NewTempWindow(t, nil)
	var err error
	b.Room, err = New(b.desk, *look.Palette(look.Light.Variant()), Host{
		Say:    func(text string) { b.said = text },
		Status: func() {}, Choose: func() {}, View: func() {}, Pointer: func(geom.Point, bool) {}, Leave: func([]draft.ID) {},
		Keep: func() (func(string, []byte) (draft.PictureFile, error), error) {
			return nil, fmt.Errorf("nothing is kept here")
		},
		Load: func(pic *draft.Picture) func() (image.Image, float64, error) {
			f, ok := b.files[pic.Hash]
			return func() (image.Image, float64, error) {
				if !ok {
					return nil, 0, fmt.Errorf("%s is not beside the project", pic.Name)
				}
				return f.image, f.dpi, nil
			}
		},
		Focus: func(f fyne.Focusable) {
			if f == nil {
				b.win.Canvas().Unfocus()
				return
			}
			b.win.Canvas().Focus(f)
		},
		Aside: func(work func() func()) {
			go func() {
				then := work()
				events <- then
			}()
		},
		Modifiers: func() fyne.KeyModifier { return b.mods },
	})
	if err != nil {
		t.Fatal(err)
	}
	b.win.SetPadded(false)
	b.win.SetContent(container.NewBorder(nil, nil, b.Left(), b.Side(), b.Centre()))
	b.win.Resize(fyne.NewSize(1280, 800))
	b.desk.Listen(b.Changed)
	b.Shown()
	for i, f := range pics {
		b.add(fmt.Sprintf("sheet %d", i+1), f)
	}
	return b
}

// add lays a picture beside the others and waits until it was read.
func (b *roomBench) add(name string, f seenFile) draft.ID {
	b.t.Helper()
	hash := strings.Repeat(fmt.Sprintf("%02x", len(b.files)+1), 32)
	b.files[hash] = f
	size := f.image.Bounds()
	b.lay([]draft.PictureFile{{Name: name, Hash: hash, Ext: "png", Wide: size.Dx(), High: size.Dy(), DPI: f.dpi}})
	pics := b.pictures()
	pic := pics[len(pics)-1]
	await(b.t, "the picture to be read", func() bool { return b.read(pic).image != nil })
	b.sheet.Frame(620, 700)
	return pic.ID
}

func seen(t *testing.T, p tracetest.Picture, err error) seenFile {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return seenFile{image: p.Image}
}

// pos returns where in the sheet's widget a place on the bench lies.
func (b *roomBench) pos(at geom.Point) fyne.Position {
	v := b.sheet.View()
	px := v.ToPx(at).Mul(1 / v.DPR)
	return fyne.NewPos(float32(px.X), float32(px.Y))
}

// click clicks a pixel of a picture, as near as the pointer's own steps allow.
func (b *roomBench) click(id draft.ID, px geom.Point) {
	at := b.desk.Project().Picture(id).Place.Apply(px)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = b.pos(at)
	b.sheet.MouseMoved(&desktop.MouseEvent{PointEvent: e.PointEvent})
	b.sheet.MouseDown(e)
	b.sheet.MouseUp(e)
}

// pull drags from one pixel of a picture to another.
func (b *roomBench) pull(id draft.ID, from, to geom.Point) {
	place := b.desk.Project().Picture(id).Place
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = b.pos(place.Apply(from))
	b.sheet.MouseDown(e)
	end := b.pos(place.Apply(to))
	for _, p := range []fyne.Position{fyne.NewPos((e.Position.X+end.X)/2, (e.Position.Y+end.Y)/2), end} {
		b.sheet.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: p}})
	}
	b.sheet.DragEnd()
}

func (b *roomBench) wayNamed(word string) way {
	b.t.Helper()
	s := b.stepNamed(stepTrue).(*trueStep)
	b.goTo(stepTrue)
	for _, w := range s.ways {
		if w.word() == word {
			s.take(w)
			return w
		}
	}
	b.t.Fatalf("there is no way %s", word)
	return nil
}

func (b *roomBench) idle() { await(b.t, "the work to end", func() bool { return !b.working() }) }

func grey(w, h int) seenFile {
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = byte(200 + i%40)
	}
	return seenFile{image: img}
}

// scaleOf returns how many mm a pixel of the picture covers.
func (b *roomBench) scaleOf(i int) float64 { return b.pictures()[i].Scale() }

// Two clicks and a typed distance make a picture true; a second one shows by how much it
// is off; the arrow keys move an end by a pixel, ten, a tenth; all is undone step by step.
func TestTrueByLength(t *testing.T) {
	b := newBench(t, grey(1000, 800))
	w := b.wayNamed("Length").(*byLength)
	id := b.pictures()[0].ID
	before := b.pictures()[0]
	b.click(id, geom.Pt(100, 400))
	if w.half == nil || w.tells(before) != "Now the other end." {
		t.Fatalf("after one click: %q", w.tells(before))
	}
	b.click(id, geom.Pt(900, 400))
	list := w.known[id]
	if len(list) != 1 || b.win.Canvas().Focused() != fyne.Focusable(list[0].field) {
		t.Fatalf("%d lengths; the keys are on %T", len(list), b.win.Canvas().Focused())
	}
	// With the keys at the empty field the arrows move the end that was placed last.
	was := list[0].to.at
	list[0].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	list[0].field.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyUp, Modifier: fyne.KeyModifierAlt})
	if got := list[0].to.at; !got.Near(was.Add(geom.Pt(-1, -0.1)), 1e-6) || !b.loupe.shown {
		t.Errorf("from the field the end was moved from %v to %v, magnified: %v", was, got, b.loupe.shown)
	}
	// The pointer goes in steps of the screen; set the ends to what was meant.
	list[0].from.at, list[0].to.at = geom.Pt(100, 400), geom.Pt(900, 400)
	test.Type(list[0].field, "20cm")
	list[0].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	pic := b.pictures()[0]
	if math.Abs(pic.Scale()-0.25) > 1e-9 || pic.True == nil || pic.True.By != draft.ByLength {
		t.Fatalf("a pixel covers %g mm, true %v", pic.Scale(), pic.True)
	}
	if !pic.Middle().Near(before.Middle(), 1e-6) {
		t.Error("the picture moved")
	}
	b.click(id, geom.Pt(500, 100))
	b.click(id, geom.Pt(500, 700))
	list = w.known[id]
	list[1].from.at, list[1].to.at = geom.Pt(500, 100), geom.Pt(500, 700)
	test.Type(list[1].field, "15")
	typing := list[1].to.at
	list[1].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	list[1].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if list[1].to.at != typing {
		t.Error("an arrow key that moves in what is typed moves the end as well")
	}
	test.Type(list[1].field, "3mm")
	list[1].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	pic = b.pictures()[0]
	// The scale with the least squares: (800*200 + 600*153)/(800² + 600²).
	k := (800*200 + 600*153) / (800.0*800 + 600*600)
	rms := math.Sqrt((math.Pow(800*k-200, 2) + math.Pow(600*k-153, 2)) / 2)
	if math.Abs(pic.Scale()-k) > 1e-9 || math.Abs(pic.True.Error-rms) > 1e-6 {
		t.Errorf("a pixel covers %g mm, want %g; off by %g, want %g", pic.Scale(), k, pic.True.Error, rms)
	}
	if says := w.told; says == nil || !strings.Contains(w.tells(pic), "stretched") {
		t.Errorf("lengths that disagree by 2 %% are told as %q", w.tells(pic))
	}
	last := w.marks.last.at
	b.mods = 0
	b.Key(fyne.KeyRight)
	b.mods = fyne.KeyModifierShift
	b.Key(fyne.KeyRight)
	b.mods = fyne.KeyModifierAlt
	b.Key(fyne.KeyUp)
	if got := w.marks.last.at; !got.Near(last.Add(geom.Pt(11, -0.1)), 1e-6) {
		t.Errorf("nudged from %v to %v", last, got)
	}
	if at, _ := b.place(w.marks.last); !b.loupe.shown || !b.loupe.at.Near(at, 1e-6) {
		t.Errorf("nudged, the end at %v is not what is magnified: %v, %v", at, b.loupe.at, b.loupe.shown)
	}
	b.mods = 0
	steps := 0
	for b.pictures()[0].True != nil && steps < 10 {
		b.desk.Undo()
		steps++
	}
	if b.pictures()[0].Place != before.Place || steps > 4 {
		t.Errorf("after %d steps back the picture lies at %v, not %v", steps, b.pictures()[0].Place, before.Place)
	}
	b.Key(fyne.KeyBackspace)
	if len(w.known[id]) != 1 {
		t.Errorf("%d lengths are left", len(w.known[id]))
	}
}

// What the file says of the resolution is shown and only believed when it is taken.
func TestTrueByResolution(t *testing.T) {
	f := grey(1200, 900)
	f.dpi = 300
	b := newBench(t, f)
	w := b.wayNamed("Resolution").(*byResolution)
	if b.pictures()[0].True != nil || !w.take.Visible() || w.take.Word != "Take 300 dots an inch" {
		t.Fatalf("true %v, the button says %q", b.pictures()[0].True, w.take.Word)
	}
	w.take.Tapped(nil)
	if pic := b.pictures()[0]; pic.True == nil || pic.True.By != draft.ByResolution || math.Abs(pic.Scale()-25.4/300) > 1e-9 {
		t.Errorf("true %v, a pixel covers %g mm", pic.True, pic.Scale())
	}
	test.Type(w.field, "600")
	w.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if math.Abs(b.scaleOf(0)-25.4/600) > 1e-9 {
		t.Errorf("a pixel covers %g mm", b.scaleOf(0))
	}
	b.desk.Undo()
	if math.Abs(b.scaleOf(0)-25.4/300) > 1e-9 {
		t.Errorf("undone: a pixel covers %g mm", b.scaleOf(0))
	}
}

// photo is a small photograph of a sheet of the cape.
func photo(t *testing.T, sheet int) (seenFile, tracetest.Picture) {
	t.Helper()
	sheets, _, _ := tracetest.Cape()
	c := tracetest.Phone(uint64(3 + sheet))
	c.W, c.H = 1600, 1200
	p, err := c.See(sheets[sheet])
	return seen(t, p, err), p
}

// The sheet in a photograph is found by itself, its size and which way it lies are
// understood, and it makes the picture true to the truth of the camera; a corner that is
// dragged away comes back to the edges.
func TestTrueByFrame(t *testing.T) {
	f, truth := photo(t, 0)
	b := newBench(t, f)
	id := b.pictures()[0].ID
	w := b.wayNamed("Frame").(*byFrame)
	b.idle()
	fr := w.frame()
	if fr.fit == nil {
		t.Fatalf("the sheet was not found: %s", fr.fault)
	}
	if fr.wide != 297 || fr.high != 210 {
		t.Errorf("A4 lies %g wide and %g high", fr.wide, fr.high)
	}
	near := func(what string) {
		t.Helper()
		const slack = 1.0 // px
		for _, c := range fr.corners {
			best := math.Inf(1)
			for _, p := range truth.Frame {
				best = min(best, p.Dist(c.at))
			}
			if best > slack {
				t.Errorf("%s: a corner at %v is %.2f px off the truth", what, c.at, best)
			}
		}
	}
	near("found")
	from := fr.corners[2].at
	b.pull(id, from, from.Add(geom.Pt(-14, -12)))
	b.idle()
	near("dragged")
	var dragged [4]geom.Point
	for i, c := range fr.corners {
		dragged[i] = c.at
	}
	b.pull(id, dragged[1], dragged[1].Add(geom.Pt(-200, 150)))
	b.idle()
	_, back := b.Undoes()
	if back == nil {
		t.Fatal("a dragged corner cannot be taken back")
	}
	back()
	for i, c := range fr.corners {
		if c.at != dragged[i] {
			t.Errorf("corner %d is back at %v, not at %v", i, c.at, dragged[i])
		}
	}
	if fr.fit == nil {
		t.Error("the fit is not back")
	}
	before := b.pictures()[0]
	w.apply.Tapped(nil)
	if what, back := b.Undoes(); back != nil {
		t.Errorf("%s would be taken back before the document", what)
	}
	pic := b.pictures()[0]
	if pic.True == nil || pic.True.By != draft.ByFrame || !(pic.True.Error > 0 && pic.True.Error < 0.3) {
		t.Fatalf("true %v", pic.True)
	}
	// Distances between the printed marks as the camera has them and as they are now.
	for i, p := range truth.Marks {
		for _, q := range truth.Marks[:i] {
			want := truth.Map.Apply(p).Dist(truth.Map.Apply(q))
			if got := pic.Place.Apply(p).Dist(pic.Place.Apply(q)); math.Abs(got-want) > 0.3 {
				t.Errorf("%.2f mm are %.2f in the picture", want, got)
			}
		}
	}
	b.desk.Undo()
	if b.pictures()[0] != before {
		t.Error("it is not undone")
	}
	w.fit.SetChecked(false)
	b.pull(id, fr.corners[0].at, geom.Pt(40, 40))
	if _, ok := fr.off(); ok || !fr.corners[0].at.Near(geom.Pt(40, 40), 8) {
		t.Errorf("a corner that is not fitted lies at %v", fr.corners[0].at)
	}
}

// Crossed corners are refused with a word, and nothing changes.
func TestCrossedCornersAreRefused(t *testing.T) {
	b := newBench(t, grey(900, 700))
	w := b.wayNamed("Frame").(*byFrame)
	b.idle()
	fr, before := w.frame(), b.pictures()[0]
	w.fits = false
	fr.corners[0].at, fr.corners[1].at = fr.corners[1].at, fr.corners[0].at
	w.apply.Tapped(nil)
	if b.pictures()[0] != before || b.said == "" {
		t.Errorf("said %q", b.said)
	}
}

// The squares of squared paper are found, and one typed square makes the picture true.
func TestTrueBySquares(t *testing.T) {
	s := tracetest.Drawn(0.5, cuff())
	s.W, s.H = 160, 120
	s = s.Under(s.Squared(tracetest.Tone{.55, .7, .9}, 5, .2))
	p, err := tracetest.Plain(150, 11).See(s)
	b := newBench(t, seen(t, p, err))
	w := b.wayNamed("Squares").(*byGrid)
	b.idle()
	pic := b.pictures()[0]
	if w.found[pic.ID] == nil {
		t.Fatalf("no squares: %s", w.faults[pic.ID])
	}
	test.Type(w.field, "5mm")
	w.field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	w.apply.Tapped(nil)
	pic = b.pictures()[0]
	want := 25.4 / 150
	if pic.True == nil || pic.True.By != draft.ByGrid || math.Abs(pic.Scale()/want-1) > 0.002 {
		t.Errorf("true %v, a pixel covers %g mm, want %g", pic.True, pic.Scale(), want)
	}
}

// Looking for squares that was stopped does not begin again by itself.
func TestSquaresStop(t *testing.T) {
	b := newBench(t, grey(500, 400))
	w := b.wayNamed("Squares").(*byGrid)
	if !b.Back() || b.working() {
		t.Error("the work goes on")
	}
	b.update()
	if id := b.pictures()[0].ID; b.working() || w.found[id] != nil || w.faults[id] != "" {
		t.Error("it began again")
	}
}

// A picture without squares is told as such.
func TestNoSquares(t *testing.T) {
	b := newBench(t, grey(500, 400))
	w := b.wayNamed("Squares").(*byGrid)
	b.idle()
	if id := b.pictures()[0].ID; w.faults[id] == "" || !w.apply.Off() {
		t.Errorf("told %q", w.faults[id])
	}
}

// What was worked out of a picture that has changed meanwhile is dropped.
func TestWorkOnAChangedPictureIsDropped(t *testing.T) {
	b := newBench(t, grey(300, 200))
	pic := b.pictures()[0]
	done := false
	b.work("Waiting", []*draft.Picture{pic}, func(context.Context, func(float64, string)) (func(), error) {
		return func() { done = true }, nil
	})
	b.turn(1)
	b.idle()
	if done || !strings.Contains(b.said, "changed meanwhile") {
		t.Errorf("done %v, said %q", done, b.said)
	}
}

// The ink that is looked at stays in sight, and as large, when its picture becomes true to
// size, and when that is undone.
func TestInkStaysInSight(t *testing.T) {
	b := newBench(t, grey(1000, 800))
	w := b.wayNamed("Length").(*byLength)
	id := b.pictures()[0].ID
	b.click(id, geom.Pt(100, 700))
	b.click(id, geom.Pt(200, 700))
	b.sheet.LookAt(b.pictures()[0].Place.Apply(geom.Pt(150, 690)), 3)
	seen := func() [2]geom.Point {
		v := b.sheet.View()
		var out [2]geom.Point
		for i, px := range []geom.Point{geom.Pt(100, 700), geom.Pt(200, 700)} {
			out[i] = v.ToPx(b.pictures()[0].Place.Apply(px))
		}
		return out
	}
	before := seen()
	same := func(when string) {
		t.Helper()
		for i, p := range seen() {
			if !p.Near(before[i], 0.01) {
				t.Errorf("%s: the ink is seen at %v, before at %v", when, p, before[i])
			}
		}
	}
	test.Type(w.known[id][0].field, "80cm")
	w.known[id][0].field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if pic := b.pictures()[0]; math.Abs(pic.Scale()-8) > 0.5 {
		t.Fatalf("a pixel covers %g mm", pic.Scale())
	}
	same("made true")
	b.desk.Undo()
	same("undone")
	b.desk.Redo()
	same("redone")
}

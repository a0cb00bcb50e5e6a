package tracer

import (
	"context"
	"image"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/bench/paint"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/draft"
	"hemlet/draft/tracing"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// sight says which of the two pictures is seen.
type sight int

const (
	seeBoth sight = iota
	seeBefore
	seeAfter
)

// clean is the step that takes out of a picture what is not the line.
type clean struct {
	plain
	finds  *finds
	effort effort
	panels *cleanPanel

	// after is what is followed, of the picture in hand with those that are joined to it,
	// nil until it is there; place leads from its pixels to mm, and of is what it was made
	// from.
	after  *paint.Pyramid
	place  geom.Homography
	of     inputs
	specks int

	sight sight
	// at is where the divider lies, as a share of the width of what is seen.
	at float64
	// picking says that the next click picks a printed colour.
	picking bool
	// overDivider says that the pointer is on the divider.
	overDivider bool
	layer       *sheet.Layer
	drawnAs     dividerAt
}

// dividerAt is what the layer of the cleaned picture was drawn from.
type dividerAt struct {
	after *paint.Pyramid
	place geom.Homography
	view  paint.View
	at    float64
	sight sight
	faint float64
}

func newClean(f *finds) *clean {
	return &clean{plain: plain{f.Room}, finds: f, effort: effort{r: f.Room}, at: 0.5}
}

func (*clean) name() string { return stepClean }

func (*clean) says() string {
	return "Take out what is not the line. Drag the divider to compare before and after; the picture itself is never changed."
}

func (c *clean) hint() string {
	if c.picking {
		return "Clean: click on a line of the printed colour that is to be taken for paper. Esc leaves off."
	}
	return "Clean: drag the divider, or choose before or after. What is black after cleaning is what will be followed."
}

func (c *clean) standing() standing {
	if len(c.pictures()) == 0 {
		return standing{idle: true}
	}
	return standing{done: c.finds.last != nil && !c.finds.stale()}
}

func (c *clean) panel() fyne.CanvasObject {
	c.panels = newCleanPanel(c)
	return c.panels.object
}

func (c *clean) entered() { c.effort.own = nil }

func (c *clean) left() { c.picking = false }

// newDocument forgets the cleaned picture of the document before.
func (c *clean) newDocument() { c.after, c.of, c.layer = nil, inputs{}, nil }

// inputs are those of the cleaned picture: how it is followed afterwards does not count.
func (c *clean) inputs() inputs {
	in := inputs{settings: c.finds.settings, pictures: c.finds.group(c.chosen())}
	in.settings.Manner, in.settings.Tol, in.settings.Gap, in.settings.Least, in.settings.KeepSmall = 0, 0, 0, 0, false
	return in
}

func (c *clean) update() {
	if !samePictures(c.of.pictures, c.finds.group(c.chosen())) {
		c.after = nil
	}
	c.begin()
	if c.panels != nil {
		c.panels.update()
	}
}

// samePictures reports whether the pictures are the same ones, as they were or changed.
func samePictures(a, b []*draft.Picture) bool {
	return slices.EqualFunc(a, b, func(p, q *draft.Picture) bool { return p.ID == q.ID })
}

// begin cleans the pictures unless that was done, is under way or was stopped.
func (c *clean) begin() {
	now := c.inputs()
	if len(now.pictures) == 0 || c.of.same(now) && (c.after != nil || c.effort.own != nil || c.effort.fault != "") {
		return
	}
	for _, pic := range now.pictures {
		if c.read(pic).image == nil {
			return // it comes here again once the picture was read
		}
	}
	pause := shortPause
	if c.after == nil {
		pause = 0
	}
	c.of = now
	sources := c.finds.sources(now.pictures)
	c.effort.begin("Cleaning", now.pictures, pause, func(ctx context.Context, tell func(float64, string)) (func(), error) {
		made, err := tracing.Prepare(ctx, sources, now.settings, tell)
		if err != nil {
			return nil, err
		}
		sizes := paint.NewPyramid(fieldWithin(made.Field, made.Map, now.pictures))
		return func() { c.after, c.place, c.specks = sizes, made.Map, made.Field.Specks }, nil
	})
}

// fieldImage returns a field as a grey picture: ink black, paper white.
func fieldImage(f *scan.Field) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, f.W, f.H))
	for i, v := range f.V {
		img.Pix[i] = uint8(min(int(v), scan.Paper) * 255 / scan.Paper)
	}
	return img
}

// bareShare is the share of a field beyond what counts of the pictures below which it is
// shown with the rest: a rim of paper that nobody sees.
const bareShare = 0.01

// fieldWithin returns a field as a picture that shows only what counts of the pictures; to
// leads from its pixels to mm.
func fieldWithin(f *scan.Field, to geom.Homography, pics []*draft.Picture) image.Image {
	grey := fieldImage(f)
	back, ok := to.Invert()
	if !ok {
		return grey
	}
	inside := make([]bool, len(grey.Pix))
	for _, pic := range pics {
		var px []geom.Point
		for _, at := range pic.Outline() {
			px = append(px, back.Apply(at))
		}
		fillWithin(inside, f.W, f.H, px)
	}
	bare := 0
	for _, in := range inside {
		if !in {
			bare++
		}
	}
	if float64(bare) <= bareShare*float64(len(inside)) {
		return grey
	}
	img := image.NewRGBA(grey.Rect)
	for i, in := range inside {
		if in {
			v := grey.Pix[i]
			copy(img.Pix[4*i:], []uint8{v, v, v, 255})
		}
	}
	return img
}

// fillWithin marks the pixels, w by h, whose middles lie within a polygon.
func fillWithin(inside []bool, w, h int, polygon []geom.Point) {
	for y := range h {
		at := float64(y) + 0.5
		var cuts []float64
		for i, a := range polygon {
			b := polygon[(i+1)%len(polygon)]
			if (a.Y <= at) != (b.Y <= at) {
				cuts = append(cuts, a.X+(at-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			from := max(0, int(math.Ceil(cuts[i]-0.5)))
			for x := from; x < w && float64(x)+0.5 < cuts[i+1]; x++ {
				inside[y*w+x] = true
			}
		}
	}
}

// strength is how strongly the cleaned picture is seen: less while it is being made anew.
func (c *clean) strength() float64 {
	if c.effort.own != nil {
		return 0.55
	}
	return 1
}

func (c *clean) layers() []*sheet.Layer {
	if c.sight == seeBefore || c.after == nil {
		return nil
	}
	now := dividerAt{c.after, c.place, c.sheet.View(), c.at, c.sight, c.strength()}
	if c.sight == seeAfter {
		now.view = paint.View{}
	}
	if c.layer == nil || c.drawnAs != now {
		c.drawnAs, c.layer = now, c.divider()
	}
	return []*sheet.Layer{c.layer}
}

// handleArm is half the length of the double arrow on the divider, in screen units.
const handleArm = 13

// divider draws the cleaned picture right of the divider, and the divider itself; the
// cleaned picture alone where only that is wanted.
func (c *clean) divider() *sheet.Layer {
	v := c.sheet.View()
	seen := v.Visible()
	x, place := c.dividerX(), c.place
	if c.sight == seeAfter {
		return &sheet.Layer{Aside: true, Things: []*sheet.Thing{{Marks: []paint.Mark{
			paint.Picture{Of: c.after, Place: &place, Opacity: c.strength()},
		}}}}
	}
	right := geom.Rect{Min: geom.Pt(x, seen.Min.Y), Max: geom.Pt(seen.Max.X, seen.Max.Y)}
	line := paint.Line{Colour: inked(look.Chalk, 1), Width: 2}
	arm, mid := v.MM(handleArm), geom.Pt(x, seen.Center().Y)
	plate := func(dx float64, text string, a paint.Anchor) paint.Mark {
		return paint.Text{
			At: geom.Pt(x, seen.Max.Y), DX: dx, DY: 76, Text: text, Size: 12, Weight: paint.SemiBold, Anchor: a,
			Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate),
		}
	}
	return &sheet.Layer{Aside: true, Things: []*sheet.Thing{{Marks: []paint.Mark{
		paint.Picture{Of: c.after, Place: &place, Opacity: c.strength(), Only: &right},
		paint.Shape{Path: geom.Path{geom.Line(geom.Pt(x, seen.Min.Y), geom.Pt(x, seen.Max.Y))}, Line: line},
		paint.Arrow{A: mid.Sub(geom.Pt(arm, 0)), B: mid.Add(geom.Pt(arm, 0)), Both: true, Line: line},
		plate(-14, "before", paint.End), plate(14, "after", paint.Start),
	}}}}
}

// dividerX is where the divider lies in mm.
func (c *clean) dividerX() float64 {
	seen := c.sheet.View().Visible()
	return seen.Min.X + c.at*seen.W()
}

// viewed draws the divider where it stays while the view moves.
func (c *clean) viewed() {
	if c.sight == seeBoth {
		c.redraw()
	}
}

// grip is how near the pointer comes to the divider to take it, in screen units.
const grip = 9

func (c *clean) onDivider(at geom.Point) bool {
	return c.sight == seeBoth && c.after != nil && !c.picking && math.Abs(at.X-c.dividerX()) < c.reach(grip)
}

func (c *clean) press(at geom.Point) bool { return c.onDivider(at) }

func (c *clean) drag(at geom.Point) {
	seen := c.sheet.View().Visible()
	c.at = min(max((at.X-seen.Min.X)/seen.W(), 0.02), 0.98)
	c.redraw()
}

func (c *clean) drop(geom.Point) {}

func (c *clean) moved(_ string, at geom.Point, on bool) { c.overDivider = on && c.onDivider(at) }

func (c *clean) pointer() desktop.Cursor {
	switch {
	case c.picking:
		return desktop.CrosshairCursor
	case c.overDivider:
		return desktop.HResizeCursor
	}
	return desktop.DefaultCursor
}

func (c *clean) key(k fyne.KeyName, _ fyne.KeyModifier) bool {
	if k == fyne.KeyEscape && c.picking {
		c.pick(false)
		return true
	}
	return false
}

// pick begins or leaves off to pick a printed colour.
func (c *clean) pick(on bool) {
	c.picking = on
	c.Room.update()
	if on {
		c.host.Focus(nil)
	}
}

func (c *clean) tapped(_ string, at geom.Point) {
	if !c.picking {
		c.chooseAt(at)
		return
	}
	pic := c.pictureAt(at)
	if pic == nil {
		c.say("Click on the picture.")
		return
	}
	img := c.read(pic).image
	px, ok := pic.PixelAt(at)
	if img == nil || !ok {
		return
	}
	if b := img.Bounds(); pic.Wide > 0 && b.Dx() != pic.Wide {
		px = geom.Pt(px.X*float64(b.Dx())/float64(pic.Wide), px.Y*float64(b.Dy())/float64(pic.High))
	}
	tint, err := scan.TintAt(img, image.Pt(int(px.X), int(px.Y)).Add(img.Bounds().Min))
	if err != nil {
		c.say("Click in the middle of a coloured line: " + err.Error() + ".")
		return
	}
	c.finds.settings.Tint = &tint
	c.pick(false)
}

package bench

import (
	"context"
	"fmt"
	"image"
	"runtime/trace"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/bench/paint"
	"hemlet/app/bench/snap"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// Bench is the drawing surface as a widget. It shows the document on a desk and
// hands what the pointer and the keys do to the tool in hand.
type Bench struct {
	widget.BaseWidget

	// OnMove is told where the pointer is, false when it has left.
	OnMove func(at geom.Point, on bool)
	// OnView is told when the view has changed.
	OnView func()
	// OnKey gets the keys and letters that neither the bench nor the tool uses, and
	// says whether it did.
	OnKey  func(name fyne.KeyName) bool
	OnRune func(r rune) bool
	// OnMenu is asked for a menu at a place of the canvas.
	OnMenu func(r desk.Ref, at geom.Point, canvasPos fyne.Position)
	// Modifiers returns the modifier keys that are held.
	Modifiers func() fyne.KeyModifier
	// Later does something once the present event is over.
	Later func(func())
	// Aside does work off the window's goroutine, and what it returns on it.
	Aside func(work func() (then func()))
	// LoadPicture returns what reads the pixels of a picture of the project; that is done
	// off the window's goroutine.
	LoadPicture func(*draft.Picture) func() (image.Image, error)
	// Now returns the time, for telling double clicks.
	Now func() time.Time

	// covered is how much of the top lies under other things, in screen units.
	covered float32

	desk     *desk.Desk
	scene    *scene
	painter  *paint.Painter
	layers   *paint.Layers
	view     paint.View
	palette  paint.Palette
	still    *paint.Scene
	pictures pictures
	raster   *canvas.Raster
	hand     *tool.Hand // what the tools and the arrow keys work with
	tool     tool.Tool  // the one in hand, nil for none
	pointer  pointer
	// whole says that the view shows all pieces, or those that are in fitting, and was
	// not moved since; they are fitted anew unless that was done for this size of the
	// bench.
	whole, sized bool
	fitting      []draft.ID
	// bare says that pictures are left out of what is shown so, where there are pieces.
	bare bool
	// Covers, where not nil, tells what lies over the bench now.
	Covers func() []Cover
	// faint says that pictures are only hinted at and cannot be taken hold of.
	faint bool
	// away says that pictures are not drawn at all.
	away bool
	// apart says that the pieces have another size than the pictures, or another business.
	apart bool
	// free says that nothing catches the pointer; guides are the maker's own lines.
	free   bool
	guides []snap.Guide
	// pulled is the guide in hand, nil for none, pulledFrom where it was, nil for a new
	// one; guideUnder is the one under the pointer, -1 for none.
	pulled     *snap.Guide
	pulledFrom *snap.Guide
	guideUnder int
	// over is the pointer as it last was with no button held.
	over tool.Pointer
	// before is the project whose outlines are drawn dashed, nil for none.
	before *draft.Project
	// later is one whose outlines are drawn in dots.
	later *draft.Project
	// laidOver is what a station has drawn over the pieces, nil for nothing.
	laidOver *Over
}

// New returns a bench for the desk in the palette.
func New(d *desk.Desk, palette paint.Palette) (*Bench, error) {
	painter, err := paint.New()
	if err != nil {
		return nil, fmt.Errorf("the bench: %w", err)
	}
	b := &Bench{
		desk: d, scene: newScene(), painter: painter, layers: paint.NewLayers(painter),
		palette: palette, view: paint.NewView(1, 1, 1), whole: true, guideUnder: -1,
		Modifiers: currentModifiers, Now: time.Now, Later: func(f func()) { go fyne.Do(f) },
	}
	b.pictures = pictures{byHash: map[string]*readPicture{}, items: map[draft.ID]pictureItem{}}
	b.Aside = func(work func() func()) { go func() { fyne.Do(work()) }() }
	b.scene.seen = d.Seen
	b.hand = &tool.Hand{Desk: d, Inside: b.scene.inside, Within: b.scene.within, Scroll: b.Scroll, Catches: b.catch, Free: func() bool { return b.free }, Touch: b.touch, Show: b.show}
	b.raster = canvas.NewRaster(b.generate)
	b.raster.ScaleMode = canvas.ImageScalePixels
	b.ExtendBaseWidget(b)
	b.take()
	d.Listen(func(c desk.Change) {
		if c.Has(desk.Opened) {
			b.opened()
		}
		if c.Has(desk.Document | desk.Selection | desk.Sight) {
			b.take()
		}
	})
	return b, nil
}

// opened drops all that belonged to the document before.
func (b *Bench) opened() {
	b.putDown()
	b.scene.hover, b.over = desk.Ref{}, tool.Pointer{}
	b.guides, b.pulled, b.guideUnder = nil, nil, -1
	b.before, b.later, b.laidOver = nil, nil, nil
	b.whole, b.sized, b.fitting, b.bare = true, false, nil, true
}

// take takes in the document as it now stands.
func (b *Bench) take() {
	b.scene.update(b.desk.Project(), b.desk.Slots(), b.desk.Picked())
	b.redraw()
}

// SetCovered says how much of the bench's top lies under other things, in screen
// units; what is shown keeps clear of it.
func (b *Bench) SetCovered(units float32) {
	if b.covered != units {
		b.covered, b.sized = units, false
		b.redraw()
	}
}

// Covered returns how much of the bench's top lies under other things, in screen units.
func (b *Bench) Covered() float32 { return b.covered }

// Redraw has the bench drawn anew: what the tool in hand draws over it has changed.
func (b *Bench) Redraw() { b.redraw() }

func (b *Bench) redraw() { b.raster.Refresh() }

// SetPalette changes the colours.
func (b *Bench) SetPalette(p paint.Palette) {
	b.palette = p
	b.redraw()
}

// SetTool puts a tool in hand; what the one before had under way is dropped.
func (b *Bench) SetTool(t tool.Tool) {
	b.putDown()
	b.tool = t
	b.redraw()
}

// putDown drops what the tool in hand has under way.
func (b *Bench) putDown() {
	if lasting, ok := b.tool.(tool.Lasting); ok {
		lasting.PutDown()
	} else if b.tool != nil {
		b.tool.Cancel()
	}
}

// Tool returns the tool in hand.
func (b *Bench) Tool() tool.Tool { return b.tool }

// CreateRenderer implements fyne.Widget.
func (b *Bench) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(b.raster) }

// MinSize implements fyne.Widget.
func (b *Bench) MinSize() fyne.Size { return fyne.NewSize(240, 200) }

// generate paints the bench for the raster: w by h device pixels.
func (b *Bench) generate(w, h int) image.Image {
	defer trace.StartRegion(context.Background(), "paint bench").End()
	if img := b.Frame(w, h); img != nil {
		return img
	}
	return image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
}

// Frame paints what changed since the last frame and returns the picture, which
// the next frame paints over. It is nil where there is nothing to paint on.
func (b *Bench) Frame(w, h int) *image.RGBA {
	dpr := 1.0
	if width := b.raster.Size().Width; width > 0 {
		dpr = float64(w) / float64(width)
	}
	if before := b.view; before.W != w || before.H != h || before.DPR != dpr {
		b.view = b.view.Resized(w, h, dpr)
		b.sized = false
	}
	if b.whole && !b.sized {
		b.sized = true
		b.view = b.fitted(b.fitting...)
		if b.OnView != nil {
			b.Later(b.OnView) // not while the window is being painted
		}
	}
	img, _ := b.layers.Frame(b.view, &b.palette, b.stillScene(), b.movingScene())
	return img
}

// laidStill returns the pieces that lie still in the place of the bench's own, as they are
// laid to be walked or laid together, and whether there are any such.
func (b *Bench) laidStill() ([]draft.Laid, bool) {
	if b.tool == nil {
		return nil, false
	}
	switch marks := b.tool.Marks(); {
	case marks.Walk != nil:
		return marks.Walk.Step.Still, true
	case marks.Joint != nil:
		return marks.Joint.Laid, true
	}
	return nil, false
}

// stillScene returns the scene of what stands still, the same as before where
// nothing of it changed.
func (b *Bench) stillScene() *paint.Scene {
	items := b.pictureItems()
	if laid, ok := b.laidStill(); ok {
		items = append(append(items, b.scene.faded()...), b.scene.laidStill(laid)...)
	} else {
		items = append(items, b.scene.still()...)
	}
	grid := b.grid()
	if b.still != nil && b.still.Grid == grid && slices.Equal(b.still.Items, items) {
		return b.still
	}
	b.still = &paint.Scene{Grid: grid, Items: items}
	return b.still
}

func (b *Bench) movingScene() *paint.Scene {
	var marks tool.Marks
	if b.tool != nil {
		marks = b.tool.Marks()
	}
	leftward := b.leftward
	b.scene.view, b.scene.covered = b.view, float64(b.covered)
	if marks.Walk != nil {
		return &paint.Scene{Items: b.scene.walking(marks.Walk, leftward)}
	}
	if marks.Joint != nil {
		return &paint.Scene{Items: append(b.scene.joined(marks.Joint), b.beforeLaid(marks.Joint.Laid)...)}
	}
	items := b.scene.lively(b.desk.Report(), marks, leftward)
	items = append(items, b.beforeItems()...)
	items = append(items, b.overItems()...)
	if len(b.guides) > 0 || b.pulled != nil {
		items = append([]*paint.Item{b.guideItem()}, items...)
	}
	return &paint.Scene{Items: append(b.pictureFrames(), items...)}
}

// Hand returns what tools work with at this bench. say shows a line of text.
func (b *Bench) Hand(say func(string)) *tool.Hand {
	b.hand.Say = say
	return b.hand
}

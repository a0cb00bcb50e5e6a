package sheet

import (
	"fmt"
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/geom"
)

// Sheet is the widget. The wheel zooms about the pointer, a drag moves the picture,
// and + - 0 zoom by keys. It belongs to the window's goroutine.
type Sheet struct {
	widget.BaseWidget

	// OnHover is told what lies under the pointer and where that is, in mm: empty id
	// where it is nothing, on is false once the pointer has left.
	OnHover func(id string, at geom.Point, on bool)
	// OnTap is told what was clicked, with an empty id for a click beside everything.
	OnTap func(id string, at geom.Point)
	// OnKey gets the keys that the sheet has no use for and says whether it used
	// them; OnRune the letters.
	OnKey  func(name fyne.KeyName) bool
	OnRune func(r rune) bool
	// OnView is told when the view has changed.
	OnView func()
	// OnPress is asked whether something at a place, in mm, is taken hold of by the
	// press there. What is taken OnDrag moves with the pointer and OnDrop lets go of; it
	// neither moves the view nor counts as a click.
	OnPress        func(at geom.Point) bool
	OnDrag, OnDrop func(at geom.Point)
	// Pointer says how the pointer looks, nil for the usual way: a hand over what can
	// be clicked.
	Pointer func() desktop.Cursor

	painter *paint.Painter
	layers  *paint.Layers
	view    paint.View
	palette paint.Palette
	raster  *canvas.Raster

	shown  []*Layer
	items  map[*Layer]*paint.Item
	still  *paint.Scene
	moving *paint.Scene
	grid   paint.Grid

	lit   []string
	hover string
	// margins are what is left free round the drawing when it is fitted.
	margins paint.Margins
	// whole says that the view shows all of the drawing and was not moved since;
	// sized that this was done for the present size.
	whole, sized bool

	pressed desktop.MouseButton
	dragged bool
	// taken says that the press has taken hold of something.
	taken bool
	last  fyne.Position
}

// usualMargin is what is left free on every side, in screen units.
const usualMargin = 28

// New returns an empty sheet in the palette.
func New(palette paint.Palette) (*Sheet, error) {
	painter, err := paint.New()
	if err != nil {
		return nil, fmt.Errorf("the sheet: %w", err)
	}
	s := &Sheet{
		painter: painter, layers: paint.NewLayers(painter), palette: palette,
		view: paint.NewView(1, 1, 1), whole: true, items: map[*Layer]*paint.Item{},
		margins: paint.Margins{Left: usualMargin, Top: usualMargin, Right: usualMargin, Bottom: usualMargin},
	}
	s.raster = canvas.NewRaster(s.generate)
	s.raster.ScaleMode = canvas.ImageScalePixels
	s.ExtendBaseWidget(s)
	return s, nil
}

// CreateRenderer implements fyne.Widget.
func (s *Sheet) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.raster) }

// MinSize implements fyne.Widget.
func (s *Sheet) MinSize() fyne.Size { return fyne.NewSize(120, 100) }

// Put shows the layers, bottom first, in the place of those before. Until the view
// was moved by hand the drawing stays fitted: it is fitted anew where it grew out of
// sight or shrank to less than half, and otherwise keeps its place, so that one sees
// what moved.
func (s *Sheet) Put(layers ...*Layer) {
	if slices.Equal(s.shown, layers) {
		return
	}
	first := s.bounds().Empty()
	s.shown = slices.Clone(layers)
	live := make(map[*Layer]bool, len(layers))
	for _, l := range layers {
		live[l] = true
	}
	for l := range s.items {
		if !live[l] {
			delete(s.items, l)
		}
	}
	s.still, s.moving = nil, nil
	if s.whole && (first || s.outgrown()) {
		s.sized = false
	}
	s.redraw()
}

// SetGrid puts squared paper under the drawing.
func (s *Sheet) SetGrid(g paint.Grid) {
	if s.grid != g {
		s.grid, s.still = g, nil
		s.redraw()
	}
}

// SetPalette changes the colours.
func (s *Sheet) SetPalette(p paint.Palette) {
	s.palette = p
	s.redraw()
}

// Highlight lights up the things with the ids, and no others.
func (s *Sheet) Highlight(ids ...string) {
	if !slices.Equal(s.lit, ids) {
		s.lit, s.moving = slices.Clone(ids), nil
		s.redraw()
	}
}

// Highlighted returns the ids that are lit up.
func (s *Sheet) Highlighted() []string { return slices.Clone(s.lit) }

func (s *Sheet) redraw() { s.raster.Refresh() }

func (s *Sheet) generate(w, h int) image.Image {
	if img := s.Frame(w, h); img != nil {
		return img
	}
	return image.NewRGBA(image.Rect(0, 0, max(w, 1), max(h, 1)))
}

// Frame paints what changed since the last frame at w by h device pixels and returns
// the picture, which the next frame paints over. It is nil where there is nothing to
// paint on.
func (s *Sheet) Frame(w, h int) *image.RGBA {
	dpr := 1.0
	if width := s.raster.Size().Width; width > 0 {
		dpr = float64(w) / float64(width)
	}
	if v := s.view; v.W != w || v.H != h || v.DPR != dpr {
		s.view = v.Resized(w, h, dpr)
		s.sized = false
	}
	if s.whole && !s.sized && w > 1 && h > 1 {
		s.sized = true
		s.view = s.fitted()
		if s.OnView != nil {
			go control.OnMain(s.OnView) // not while the window is being painted
		}
	}
	img, _ := s.layers.Frame(s.view, &s.palette, s.stillScene(), s.movingScene())
	return img
}

func (s *Sheet) stillScene() *paint.Scene {
	if s.still == nil {
		s.still = &paint.Scene{Grid: s.grid}
		for _, l := range s.shown {
			s.still.Items = append(s.still.Items, s.item(l))
		}
	}
	return s.still
}

// item returns the layer as it is painted, the same as long as it is the same layer.
func (s *Sheet) item(l *Layer) *paint.Item {
	if it := s.items[l]; it != nil {
		return it
	}
	it := &paint.Item{Place: l.Place}
	for _, t := range l.Things {
		it.Marks = append(it.Marks, t.Marks...)
	}
	s.items[l] = it
	return it
}

// movingScene returns what is laid over the drawing: the things that are lit up and
// the one under the pointer.
func (s *Sheet) movingScene() *paint.Scene {
	if s.moving != nil {
		return s.moving
	}
	s.moving = &paint.Scene{}
	for _, l := range s.shown {
		it := &paint.Item{Place: l.Place}
		for _, t := range l.Things {
			switch {
			case t.ID == "":
			case slices.Contains(s.lit, t.ID):
				it.Marks = append(it.Marks, t.lit(false)...)
			case t.ID == s.hover:
				it.Marks = append(it.Marks, t.lit(true)...)
			}
		}
		if len(it.Marks) > 0 {
			s.moving.Items = append(s.moving.Items, it)
		}
	}
	return s.moving
}

// bounds returns the box of the drawing without what lies aside, in mm.
func (s *Sheet) bounds() geom.Rect { return Bounds(s.shown...) }

// Bounds returns the box of what the layers draw, in mm, without those that lie aside.
func Bounds(layers ...*Layer) geom.Rect {
	box := geom.EmptyRect()
	for _, l := range layers {
		if l.Aside {
			continue
		}
		for _, t := range l.Things {
			if b := t.bounds(); !b.Empty() {
				box = box.Union(transformed(b, l.place()))
			}
		}
	}
	return box
}

// transformed returns the box of a box's corners where the map puts them.
func transformed(b geom.Rect, m geom.Affine) geom.Rect {
	return geom.RectOf(m.Apply(b.Min), m.Apply(b.Max),
		m.Apply(geom.Pt(b.Min.X, b.Max.Y)), m.Apply(geom.Pt(b.Max.X, b.Min.Y)))
}

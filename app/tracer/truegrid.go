package tracer

import (
	"context"
	"errors"
	"fmt"
	"math"

	"fyne.io/fyne/v2"

	"hemlet/app/bench/paint"
	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/sheet"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/scan"
)

// byGrid makes a picture true by the squared paper that it shows.
type byGrid struct {
	s *trueStep
	// found are the squares by picture; faults say why none were.
	found  map[draft.ID]*scan.Grid
	sought map[draft.ID]bool // looked for, or begun to
	faults map[draft.ID]string
	square float64 // mm
	// applied is what the pictures were last made true by.
	applied map[draft.ID]draft.PixelMap

	all   *fyne.Container
	field *control.Field
	apply *control.Button
	told  *fyne.Container
}

// usualSquare is the side of a square that is proposed, in mm: what squared paper mostly
// has (common practice, no source).
const usualSquare = 5

func newByGrid(s *trueStep) *byGrid {
	w := &byGrid{s: s, found: map[draft.ID]*scan.Grid{}, sought: map[draft.ID]bool{}, faults: map[draft.ID]string{}, applied: map[draft.ID]draft.PixelMap{}, square: usualSquare}
	w.field = control.NewField("How far the printed lines lie apart, one from the next", func(text string) error {
		mm, err := s.unit().Parse(text)
		switch {
		case err != nil:
			return err
		case !(mm > 0):
			return errors.New("a square is larger than that")
		}
		w.square = mm
		s.Room.update()
		return nil
	})
	find := control.NewButton(control.QuietShape, "search", "Find the squares", "Look for the printed lines in the picture", w.find)
	w.apply = control.NewButton(control.WordShape, "true", "Make it true", "Make the picture true by these squares; skew and perspective go", w.makeTrue)
	w.told = control.Stack(0)
	w.all = control.Stack(8, control.Labelled("One square is", w.field.Object()), control.Row(0, find), w.told, w.apply)
	return w
}

func (w *byGrid) newDocument() {
	clear(w.found)
	clear(w.sought)
	clear(w.faults)
	clear(w.applied)
}

func (*byGrid) word() string { return "Squares" }

func (*byGrid) asks() string {
	return "For a pattern on squared paper or over a cutting mat: its lines are found, and skew and perspective are taken away."
}

func (w *byGrid) panel() fyne.CanvasObject { return w.all }

// taken looks for the squares once.
func (w *byGrid) taken(pic *draft.Picture) {
	if !w.sought[pic.ID] {
		w.find()
	}
}

func (w *byGrid) find() {
	pic := w.s.chosen()
	if pic == nil {
		return
	}
	read := w.s.read(pic)
	if read.image == nil {
		return
	}
	w.sought[pic.ID] = true
	w.s.work("Looking for squares", []*draft.Picture{pic}, func(ctx context.Context, _ func(float64, string)) (func(), error) {
		raster, err := read.raster(ctx)
		if err != nil {
			return nil, err
		}
		grid, err := scan.FindGrid(ctx, raster)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return func() {
			delete(w.found, pic.ID)
			delete(w.faults, pic.ID)
			if err != nil {
				w.faults[pic.ID] = err.Error()
			} else {
				w.found[pic.ID] = &grid
			}
			w.s.Room.update()
		}, nil
	})
}

// mapOf returns the map from pixels to mm that the squares give.
func (w *byGrid) mapOf(g *scan.Grid) draft.PixelMap {
	return draft.PixelMap(g.Map.Then(geom.Scaling(w.square, w.square)))
}

// off returns by how many mm the crossings are off.
func (w *byGrid) off(g *scan.Grid) float64 { return g.RMS / g.Spacing * w.square }

func (w *byGrid) makeTrue() {
	pic := w.s.chosen()
	if pic == nil || w.found[pic.ID] == nil {
		return
	}
	g := w.found[pic.ID]
	m := w.mapOf(g)
	off := draft.Length(w.off(g))
	w.applied[pic.ID] = m
	if w.s.trueBy(pic, draft.TruePictureArgs{Map: &m, Error: &off}, "") {
		w.s.fitTo(w.s.chosen())
	}
}

func (w *byGrid) update(pic *draft.Picture) {
	u := w.s.unit()
	w.field.Put(u.Format(w.square))
	g, fault := w.found[pic.ID], w.faults[pic.ID]
	if !w.sought[pic.ID] && w.s.read(pic).image != nil && !w.s.working() {
		w.find()
	}
	w.apply.SetOff(g == nil)
	says := "The squares were not looked for to the end."
	if w.s.working() || !w.sought[pic.ID] {
		says = "The squares are looked for."
	}
	var card fyne.CanvasObject = control.NewProse(says, 12, false, look.Faint, inner)
	switch {
	case fault != "":
		card = control.Told(control.LookAgain, "No squares were found", wording.Sentence(fault)+".", inner, "", nil)
	case g != nil:
		means, level := worth(w.off(g))
		says := fmt.Sprintf("%s %d crossings, a square of %.1f pixels, turned by %.1f° and out of square by %.2f°.",
			means, g.Crossings, g.Spacing, math.Abs(g.Turn)*180/math.Pi, math.Abs(g.Skew)*180/math.Pi)
		if g.Minor > 1 {
			says += fmt.Sprintf(" A stronger line comes every %d squares: every %s.", g.Minor, u.Format(float64(g.Minor)*w.square))
		}
		card = control.Told(level, "The lines are off by "+exactly(w.off(g), u), says, inner, "", nil)
	}
	w.told.Objects = []fyne.CanvasObject{card}
	w.told.Refresh()
	open := g == nil || pic.True == nil || pic.True.By != draft.ByGrid || w.applied[pic.ID] != w.mapOf(g)
	show(w.told, open)
	show(w.apply, open)
}

// mostSquares is how many squares are drawn over the picture each way.
const mostSquares = 60

// layers draws the squares that were found over those of the picture.
func (w *byGrid) layers(pic *draft.Picture) []*sheet.Layer {
	g := w.found[pic.ID]
	if g == nil {
		return nil
	}
	back, ok := g.Map.Invert()
	if !ok {
		return nil
	}
	box := geom.EmptyRect()
	for _, c := range [...]geom.Point{{}, {X: float64(pic.Wide)}, {Y: float64(pic.High)}, {X: float64(pic.Wide), Y: float64(pic.High)}} {
		box = box.Include(g.Map.Apply(c))
	}
	middle := g.Map.Apply(geom.Pt(float64(pic.Wide)/2, float64(pic.High)/2))
	span := func(from, to, mid float64) (int, int) {
		const half = mostSquares / 2
		return int(max(math.Ceil(from), math.Round(mid)-half)), int(min(math.Floor(to), math.Round(mid)+half))
	}
	x0, x1 := span(box.Min.X, box.Max.X, middle.X)
	y0, y1 := span(box.Min.Y, box.Max.Y, middle.Y)
	at := func(x, y int) geom.Point { return pic.Place.Apply(back.Apply(geom.Pt(float64(x), float64(y)))) }
	line := sheet.Fainter(sheet.Solid(paint.Chalk, 1), 0.7)
	var marks []paint.Mark
	for x := x0; x <= x1; x++ {
		marks = append(marks, sheet.Lined(geom.Path{geom.Line(at(x, y0), at(x, y1))}, line))
	}
	for y := y0; y <= y1; y++ {
		marks = append(marks, sheet.Lined(geom.Path{geom.Line(at(x0, y), at(x1, y))}, line))
	}
	if len(marks) == 0 {
		return nil
	}
	return []*sheet.Layer{onLayer(marks...)}
}

func (*byGrid) spots() *spots                          { return nil }
func (*byGrid) tapped(*draft.Picture, geom.Point)      {}
func (*byGrid) moved(*draft.Picture, geom.Point, bool) {}
func (*byGrid) key(fyne.KeyName) bool                  { return false }

func (*byGrid) hint() string {
	return "the blue lines have to lie on the printed ones; then say how large one square is."
}

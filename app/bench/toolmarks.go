package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/tool"
	"hemlet/geom"
)

// helpDash is that of lines that only explain.
var helpDash = paint.Dash{4, 3}

// toolItems draws what the tool in hand lays over the bench; plates grow to the left
// where the bench ends soon to the right, or a card lies over it there.
func (s *scene) toolItems(m tool.Marks, leftward func(at geom.Point, text string) bool) []*paint.Item {
	var items []*paint.Item
	for _, r := range m.Glow {
		items = append(items, s.glow(r, paint.Of(paint.Chalk)))
	}
	d := &toolDrawing{leftward: leftward}
	if m.Box != nil {
		d.box(*m.Box)
	}
	for _, l := range m.Lines {
		d.line(l)
	}
	d.tape(m.Tape)
	for _, dot := range m.Dots {
		d.dot(dot)
	}
	d.caught(m.Caught)
	for _, p := range m.Plates {
		d.plate(p)
	}
	if m.Plate != "" {
		d.plate(tool.Plate{Text: m.Plate, At: m.PlateAt})
	}
	if len(d.item.Marks) > 0 {
		items = append(items, &d.item)
	}
	return items
}

type toolDrawing struct {
	item     paint.Item
	leftward func(at geom.Point, text string) bool
}

func (d *toolDrawing) add(m paint.Mark) { d.item.Marks = append(d.item.Marks, m) }

func (d *toolDrawing) box(r geom.Rect) {
	path := geom.Polygon(r.Min, geom.Pt(r.Max.X, r.Min.Y), r.Max, geom.Pt(r.Min.X, r.Max.Y))
	d.add(paint.Shape{Path: path, Fill: paint.Faded(paint.Chalk, 0.1), Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: 1, Dash: helpDash}})
}

func (d *toolDrawing) line(l tool.MarkLine) {
	shape := paint.Shape{Path: l.Path, Line: paint.Line{Colour: paint.Of(paint.Chalk), Width: 1.8, Join: paint.Round, Cap: paint.RoundCap}}
	switch l.Ink {
	case tool.InkHelp:
		shape.Line = paint.Line{Colour: paint.Of(paint.Chalk), Width: 1, Dash: helpDash}
	case tool.InkWrong:
		shape.Line.Colour = paint.Of(paint.Pin)
	}
	if l.Tint {
		shape.Fill = paint.Faded(shape.Line.Colour.Token, 0.1)
	}
	d.add(shape)
}

func (d *toolDrawing) tape(places []geom.Point) {
	chalk := paint.Of(paint.Chalk)
	for i := 1; i < len(places); i++ {
		d.add(paint.Shape{Path: geom.Path{geom.Line(places[i-1], places[i])}, Line: paint.Line{Colour: chalk, Width: 1.6}})
	}
	for _, p := range places {
		d.add(paint.Dot{At: p, Kind: paint.HandleEnd, Colour: chalk})
	}
}

func (d *toolDrawing) dot(m tool.MarkDot) {
	dot := paint.Dot{At: m.At, Colour: paint.Of(paint.Chalk), Fill: paint.Of(paint.Node), Large: m.Large}
	if m.Large {
		dot.Fill = dot.Colour
	}
	switch m.Kind {
	case tool.SmoothDot:
		dot.Kind = paint.SmoothNode
	case tool.HandleDot:
		dot.Kind = paint.HandleEnd
	case tool.CrossDot:
		dot.Kind = paint.Cross
	}
	d.add(dot)
}

// A plate stands so far beside and above its place, and the word of a catch so far
// beside and below, in screen units.
const (
	plateBeside = 18
	plateOver   = 20
	wordBeside  = 12
	wordAside   = 24 // with the ground that it has
	wordBelow   = 24
)

func (d *toolDrawing) plate(p tool.Plate) {
	text := paint.Text{
		At: p.At, DX: plateBeside, DY: -plateOver, Text: p.Text, Size: 12, Weight: paint.SemiBold,
		Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate),
	}
	if p.Quiet {
		text.Colour, text.Plate, text.Halo = paint.Of(paint.Chalk), paint.Colour{}, paint.Of(paint.Bench)
		text.DX, text.DY = wordBeside, -wordBeside
	}
	if d.leftward(p.At, p.Text) {
		text.DX, text.Anchor = -text.DX, paint.End
	}
	d.add(text)
}

// caught marks the place by which the pointer was caught, each kind in its own form,
// and says what it was.
func (d *toolDrawing) caught(c tool.Catch) {
	if !c.Caught() {
		return
	}
	colour := paint.Of(paint.Chalk)
	if c.Kind == tool.CaughtLevel {
		colour = paint.Of(paint.Level)
	}
	for _, path := range c.Help {
		d.add(paint.Shape{Path: path, Line: paint.Line{Colour: colour, Width: 1, Dash: helpDash}})
	}
	forms := map[tool.CatchKind]paint.DotKind{
		tool.CaughtPoint: paint.Ring, tool.CaughtCrossing: paint.Cross, tool.CaughtMiddle: paint.Wedge,
		tool.CaughtSquare: paint.Square, tool.CaughtTangent: paint.Ring,
	}
	form, ok := forms[c.Kind]
	if !ok {
		form = paint.Plus
	}
	d.add(paint.Dot{At: c.At, Kind: form, Colour: colour, Large: c.Fixed()})
	text := paint.Text{
		At: c.At, DX: wordAside, DY: wordBelow, Text: c.Word, Size: 11,
		Colour: colour, Plate: paint.Of(paint.Bench), // legible over what lies there
	}
	if d.leftward(c.At, c.Word) {
		text.DX, text.Anchor = -text.DX, paint.End
	}
	d.add(text)
}

package bench

import (
	"math"
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Over is what a station has drawn over the pieces. It is not changed once it was handed
// over.
type Over struct {
	// Patches are laid into the pieces, under everything else.
	Patches []Patch
	// Outlines are drawn at their places.
	Outlines []Outline
	Spans    []SpanMark
	Notes    []OverNote
}

// Patch colours a part of a piece, in the piece's own millimetres.
type Patch struct {
	Piece  draft.ID
	Path   geom.Path
	Colour paint.Colour
}

// Outline is a line of a piece, laid by a map of its own.
type Outline struct {
	Path  geom.Path
	Place geom.Affine
	Fill  paint.Colour
	Line  paint.Line
}

// anchored has a text that always stands grow to where the bench has room for it.
func (b *Bench) anchored(text paint.Text, place geom.Affine) paint.Text {
	switch at := b.view.ToPx(place.Apply(text.At)).X / float64(b.view.W); {
	case at < overSide:
		text.Anchor = paint.Start
		text.DX -= overStands
	case at > 1-overSide:
		text.Anchor = paint.End
		text.DX += overStands
	}
	return text
}

// A text on a plate grows inwards within this share of the width from either side of the
// bench, and stands then so far over its place, in screen units.
const (
	overSide   = 0.16
	overStands = 16
)

// SpanMark is a stretch of a piece with the figure that is told of it.
type SpanMark struct {
	Piece draft.ID
	Span  draft.Span
	// Text stands over its middle as far as there is room; of a Strong one it always does.
	Text   string
	Colour paint.Token
	Strong bool
	// Lines are those that the stretch is measured along, or between the points of which it
	// runs, where the piece has not got them yet.
	Lines []draft.Line
}

// OverNote is a text on a plate at a place of a piece.
type OverNote struct {
	Piece draft.ID
	At    geom.Point
	Text  string
}

// ShowOver has that drawn over the pieces; nil ends it.
func (b *Bench) ShowOver(o *Over) {
	if b.laidOver != o {
		b.laidOver = o
		b.redraw()
	}
}

// overItems returns what the station has drawn over the pieces.
func (b *Bench) overItems() []*paint.Item {
	if b.laidOver == nil {
		return nil
	}
	var items []*paint.Item
	byPiece := map[draft.ID]*paint.Item{}
	on := func(id draft.ID) (*body, *paint.Item) {
		body := b.scene.bodies[id]
		if body == nil {
			return nil, nil
		}
		if byPiece[id] == nil {
			byPiece[id] = &paint.Item{Place: body.place}
			items = append(items, byPiece[id])
		}
		return body, byPiece[id]
	}
	for _, p := range b.laidOver.Patches {
		if _, item := on(p.Piece); item != nil {
			item.Marks = append(item.Marks, paint.Shape{Path: p.Path, Fill: p.Colour})
		}
	}
	for _, l := range b.laidOver.Outlines {
		items = append(items, &paint.Item{Place: l.Place, Marks: []paint.Mark{paint.Shape{Path: l.Path, Fill: l.Fill, Line: l.Line}}})
	}
	clear(byPiece) // the stretches lie over the outlines
	figures := figuring{view: b.view}
	for _, s := range b.laidOver.Spans {
		if body, item := on(s.Piece); item != nil {
			marks, figure := spanMarks(body, s)
			item.Marks = append(item.Marks, marks...)
			figures.add(body, figure)
		}
	}
	items = append(items, figures.items(b.anchored)...)
	clear(byPiece)
	var taken []geom.Rect
	for _, n := range b.laidOver.Notes {
		if body, item := on(n.Piece); item != nil {
			text := b.noteText(n, body.place, &taken)
			item.Marks = append(item.Marks, text, paint.Dot{At: n.At, Kind: paint.HandleEnd, Colour: paint.Of(paint.Plate)})
		}
	}
	return items
}

// noteText returns the text of a note on its plate, over its place or, where that would cover
// another note, beside that as near as there is room.
func (b *Bench) noteText(n OverNote, place geom.Affine, taken *[]geom.Rect) paint.Text {
	var first paint.Text
	for i, over := range noteOvers {
		text := b.anchored(paint.Text{
			At: n.At, DY: -over, Text: n.Text, Size: 12, Weight: paint.SemiBold, Anchor: paint.Middle,
			Colour: paint.Of(paint.PlateText), Plate: paint.Of(paint.Plate),
		}, place)
		if i == 0 {
			first = text
		}
		box, _ := textBox(b.view, place, text)
		box = box.Grow(notePlate * b.view.DPR)
		if !slices.ContainsFunc(*taken, box.Overlaps) {
			*taken = append(*taken, box)
			return text
		}
	}
	return first
}

// noteOvers are how far over its place the text of a note is tried, in screen units, the
// usual one first; below 0 it stands under its place. notePlate is how far its plate reaches
// beyond the text.
var noteOvers = []float64{noteOver, -26, noteOver + 24, -50, noteOver + 48, -74}

const notePlate = 7

// Sizes in screen units: how wide the line of a stretch is, how far inside its edges it
// runs, and how far over its place a note stands.
const (
	spanWidth, spanStrong = 1.3, 2.6
	spanInset             = 11
	spanText              = 11
	noteOver              = 14
)

// spanMarks draws a stretch: with an arrow at either end where it runs straight, beside the
// edges or along the lines that it is measured along. Its figure is yet to find its place.
func spanMarks(b *body, s SpanMark) ([]paint.Mark, spanFigure) {
	colour := paint.Of(s.Colour)
	line := paint.Line{Colour: colour, Width: spanWidth}
	if s.Strong {
		line.Width = spanStrong
	}
	piece, inset := b.piece, 0.0
	if len(s.Lines) > 0 {
		with := *piece
		with.Lines = append(slices.Clone(piece.Lines), s.Lines...)
		piece = &with
	}
	paths := spanned(piece, s.Span)
	var marks []paint.Mark
	if len(s.Span.Edges) > 0 {
		inset = spanInset
	}
	if s.Span.Way != draft.Straight && len(paths) == 1 && len(s.Span.Edges)+len(s.Span.Lines) == 0 {
		measured, help := alongWay(b.piece, paths[0], s.Span.Way)
		paths = []geom.Path{measured}
		marks = append(marks, paint.Shape{Path: help, Line: paint.Line{Colour: colour, Width: 1, Dash: helpDash}})
	}
	var middle geom.Path
	for _, path := range paths {
		marks = append(marks, dimensionLine(path, inset, line))
		if middle == nil || path.Length() > middle.Length() {
			middle = path
		}
	}
	return marks, spanFigure{mark: s, path: middle, inset: inset}
}

// alongWay returns the part along or across the grain of a straight way, which is what is
// measured of it, and the rest of the way to its end.
func alongWay(p *draft.Piece, path geom.Path, way draft.SpanWay) (measured, rest geom.Path) {
	from, to := path.Start(), path.End()
	up := p.GrainWay()
	turn := from.Add(up.Mul(to.Sub(from).Dot(up)))
	if way == draft.AcrossGrain {
		turn = from.Add(to.Sub(turn))
	}
	return geom.Path{geom.Line(from, turn)}, geom.Path{geom.Line(turn, to)}
}

// SpanRefs points at what a stretch is measured along: its edges, its lines, or the points
// between which it runs.
func SpanRefs(piece draft.ID, s draft.Span) []desk.Ref {
	var refs []desk.Ref
	for _, id := range s.Edges {
		refs = append(refs, desk.EdgeRef(piece, id))
	}
	for _, id := range s.Lines {
		refs = append(refs, desk.ThingRef(desk.Line, piece, id))
	}
	if len(refs) == 0 {
		refs = append(refs, desk.NodeRef(piece, s.From), desk.NodeRef(piece, s.To))
	}
	return refs
}

// ShowPlace brings a place of a piece into the middle, so large that a piece fills the bench
// no more than it did.
func (b *Bench) ShowPlace(piece draft.ID, at geom.Point) {
	body := b.scene.bodies[piece]
	if body == nil || !b.laid() {
		return
	}
	box := body.box
	half := placeShare * math.Max(box.W(), box.H())
	on := body.place.Apply(at)
	b.look(b.fittedBox(geom.Rect{Min: on.Sub(geom.Pt(half, half)), Max: on.Add(geom.Pt(half, half))}, 0))
}

// placeShare is which part of the size of a piece is shown to either side of a place of it.
const placeShare = 0.4

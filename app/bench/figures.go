package bench

import (
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/geom"
)

// spanFigure is the figure of a stretch and what it may stand on.
type spanFigure struct {
	mark  SpanMark
	path  geom.Path
	inset float64
}

// text returns the figure at a share of the stretch.
func (f *spanFigure) text(b *body, tape geom.Tape, share float64) paint.Text {
	at := tape.At(tape.Length() * share)
	off := b.place.ApplyVector(f.path.Tangent(at).Left()).Mul(f.inset)
	text := paint.Text{
		At: f.path.At(at), DX: off.X, DY: letterDrop - off.Y, Text: f.mark.Text, Size: spanText, Weight: paint.SemiBold,
		Colour: paint.Of(f.mark.Colour), Anchor: paint.Middle, Halo: paint.Of(paint.Cloth), Room: tape.Length(),
	}
	if f.mark.Strong {
		text.Size, text.Room, text.Halo = 12, 0, paint.Colour{}
		text.Colour, text.Plate = paint.Of(paint.PlateText), paint.Of(paint.Plate)
	}
	return text
}

// figureShares are the places along a stretch where its figure is tried, as shares of it.
var figureShares = []float64{0.5, 0.4, 0.6, 0.32, 0.68, 0.24, 0.76, 0.16, 0.84}

// figuring finds places for the figures of stretches, where they cover neither one another
// nor the names and letters on the pieces.
type figuring struct {
	view   paint.View
	bodies []*body // of each figure its piece
	list   []spanFigure
	taken  []geom.Rect // on the screen, in device pixels
}

func (g *figuring) add(b *body, f spanFigure) {
	if f.mark.Text != "" && f.path.Length() > 0 {
		g.bodies, g.list = append(g.bodies, b), append(g.list, f)
	}
}

// items returns the words of the pieces once more, which the stretches have crossed, and
// over them the figures. One that has no free place is left out, unless it is in hand:
// anchored keeps that on the bench.
func (g *figuring) items(anchored func(paint.Text, geom.Affine) paint.Text) []*paint.Item {
	var items []*paint.Item
	var told []*body
	for _, b := range g.bodies {
		if !slices.Contains(told, b) {
			told = append(told, b)
			items = append(items, g.words(b))
		}
	}
	for _, strong := range []bool{true, false} {
		for i := range g.list {
			f, b := &g.list[i], g.bodies[i]
			if f.mark.Strong != strong {
				continue
			}
			tape := f.path.Tape()
			if strong {
				text := anchored(f.text(b, tape, figureShares[0]), b.place)
				g.take(b, text)
				items = append(items, &paint.Item{Place: b.place, Marks: []paint.Mark{text}})
			} else if text, ok := g.free(b, f, tape); ok {
				items = append(items, &paint.Item{Place: b.place, Marks: []paint.Mark{text}})
			}
		}
	}
	return items
}

// figureOver is by how many screen units a figure may stand out of the box round its piece;
// one that needs more is left out until one looks nearer.
const figureOver = 4

// free returns the figure at the first place where it covers nothing and stays on its piece.
func (g *figuring) free(b *body, f *spanFigure, tape geom.Tape) (paint.Text, bool) {
	corner, other := g.view.ToPx(b.box.Min), g.view.ToPx(b.box.Max)
	on := geom.RectOf(corner, other).Grow(figureOver * g.view.DPR)
	for _, share := range figureShares {
		text := f.text(b, tape, share)
		box, shown := textBox(g.view, b.place, text)
		if shown && on.Contains(box.Min) && on.Contains(box.Max) && !slices.ContainsFunc(g.taken, box.Overlaps) {
			g.taken = append(g.taken, box)
			return text, true
		}
	}
	return paint.Text{}, false
}

func (g *figuring) take(b *body, text paint.Text) {
	if box, shown := textBox(g.view, b.place, text); shown {
		g.taken = append(g.taken, box)
	}
}

// words returns what is written on a piece, with a halo to stand over lines.
func (g *figuring) words(b *body) *paint.Item {
	item := &paint.Item{Place: b.place}
	if b.drawn.item == nil {
		return item
	}
	for _, m := range b.drawn.item.Marks {
		if arrow, ok := m.(paint.Arrow); ok {
			item.Marks = append(item.Marks, arrow) // by which the letters stand as they do on the piece
		}
		if text, ok := m.(paint.Text); ok {
			if text.Halo == (paint.Colour{}) {
				text.Halo = paint.Of(paint.Cloth)
			}
			item.Marks = append(item.Marks, text)
			g.take(b, text)
		}
	}
	return item
}

// smallestWord is the size in screen units below which words are left out.
const smallestWord = 9

// How far letters reach above and below their baseline, as shares of their size.
const (
	letterUp, letterDown = 0.85, 0.25
)

// textBox returns about where a text stands on the screen, in device pixels, and whether
// it has the room that it takes at its smallest.
func textBox(v paint.View, place geom.Affine, t paint.Text) (geom.Rect, bool) {
	wide := float64(len([]rune(t.Text))) * t.Size * letterWide * v.DPR
	size := t.Size
	if t.Room > 0 {
		room := t.Room * v.Scale
		if wide > room {
			size *= room / wide
			wide = room
		}
		if size < smallestWord && t.Least == 0 {
			return geom.Rect{}, false
		}
		size = max(size, smallestWord)
	}
	at := v.ToPx(place.Apply(t.At)).Add(geom.Pt(t.DX, t.DY).Mul(v.DPR))
	left := at.X - wide*[...]float64{paint.Start: 0, paint.Middle: 0.5, paint.End: 1}[t.Anchor]
	size *= v.DPR
	return geom.Rect{Min: geom.Pt(left, at.Y-letterUp*size), Max: geom.Pt(left+wide, at.Y+letterDown*size)}, true
}

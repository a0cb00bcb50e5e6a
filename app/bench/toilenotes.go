package bench

import (
	"strconv"

	"hemlet/app/bench/paint"
	"hemlet/draft"
)

// How a note of the toile is drawn, in screen units: a stroke square to the edge, to the
// side to which it moves, and the number and words beside its far end.
const (
	noteStroke = 20
	noteWord   = 15
	noteLine   = 1.8
)

// noteItems draws the notes of the toile that are still to do, each with its number in the
// list. What is done shows as the shape itself.
func (s *scene) noteItems() []*paint.Item {
	var items []*paint.Item
	for k, n := range s.project.Notes {
		b := s.bodies[n.Piece]
		if n.Done || b == nil {
			continue
		}
		at, out, ok := s.project.NoteAt(n)
		if !ok {
			continue
		}
		if n.Kind != draft.LetOut {
			out = out.Mul(-1) // into the piece, where words alone stand as well
		}
		way := b.place.ApplyVector(out)
		colour := paint.Of(paint.Ochre)
		item := &paint.Item{Place: b.place}
		if n.Kind != draft.OnlyWords {
			item.Marks = append(item.Marks, paint.Tick{At: at, Dir: out, Length: 2 * noteStroke, Count: 1, Line: paint.Line{Colour: colour, Width: noteLine}})
		}
		text := paint.Text{
			At: at, DX: way.X * (noteStroke + noteWord), DY: letterDrop - way.Y*(noteStroke+noteWord),
			Text: strconv.Itoa(k+1) + ": " + s.project.NoteSays(n), Size: stretchWord + 1, Weight: paint.SemiBold,
			Colour: paint.Of(paint.Ink), Plate: paint.Of(paint.Bench), Rim: colour, Anchor: paint.Middle,
		}
		if abs(way.X) > abs(way.Y) {
			text.Anchor = paint.Start
			if way.X < 0 {
				text.Anchor = paint.End
			}
			text.DX = way.X * (noteStroke + 6)
		}
		item.Marks = append(item.Marks, paint.Dot{At: at, Kind: paint.Ring, Colour: colour, Large: true}, text)
		items = append(items, item)
	}
	return items
}

package bench

import (
	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// show brings the pieces into sight together, if any of them is out of it.
func (b *Bench) show(pieces ...draft.ID) {
	if !b.laid() {
		return // all will be seen
	}
	box, seen := b.scene.bounds(pieces...), b.clearOf(pieces...)
	if !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		b.fit(pieces...)
	}
}

// Where returns the box that the pieces take on the bench as it is seen, in screen
// units, and whether any of them is there.
func (b *Bench) Where(pieces ...draft.ID) (pos fyne.Position, size fyne.Size, ok bool) {
	box := geom.EmptyRect()
	for _, id := range pieces {
		if body := b.scene.bodies[id]; body != nil {
			box = box.Union(body.box)
			ok = true
		}
	}
	if !ok {
		return pos, size, false
	}
	dpr := b.view.DPR
	low, high := b.view.ToPx(geom.Pt(box.Min.X, box.Max.Y)), b.view.ToPx(geom.Pt(box.Max.X, box.Min.Y))
	pos = fyne.NewPos(float32(low.X/dpr), float32(low.Y/dpr))
	return pos, fyne.NewSize(float32((high.X-low.X)/dpr), float32((high.Y-low.Y)/dpr)), true
}

// Touchables returns what the tool in hand would touch, each with those places of a raster
// over the bench at which it would. The places are in screen units, and step units apart.
func (b *Bench) Touchables(step float32) map[desk.Ref][]fyne.Position {
	if !b.laid() {
		return nil
	}
	takes := b.takes()
	can := func(k desk.Kind) bool {
		// The points of a piece can be touched along its edges, wherever they are shown.
		return takes(k) || k == desk.Edge && takes(desk.Node)
	}
	out := map[desk.Ref][]fyne.Position{}
	mm, size := b.view.MM(1), b.Size()
	for y := step / 2; y < size.Height; y += step {
		for x := step / 2; x < size.Width; x += step {
			ref := b.scene.hitAt(b.view.UnitsToMM(float64(x), float64(y)), mm, can).ref
			if takes(desk.Piece) && ref.Kind != desk.Nothing {
				ref = desk.PieceRef(ref.Piece) // any part of it stands for it
			}
			if ref.Kind != desk.Nothing {
				out[ref] = append(out[ref], fyne.NewPos(x, y))
			}
		}
	}
	return out
}

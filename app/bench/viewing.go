package bench

import (
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Fit shows all pieces.
func (b *Bench) Fit() {
	b.fit(b.scene.bounds())
	b.fitted = b.view.Scale / b.view.DPR
	b.viewed()
}

// FitPicked shows the pieces of which something is picked, or all.
func (b *Bench) FitPicked() {
	b.fit(b.scene.bounds(piecesOf(b.desk.Picked())...))
	b.viewed()
}

func piecesOf(refs []desk.Ref) []draft.ID {
	var ids []draft.ID
	for _, r := range refs {
		if !contains(ids, r.Piece) {
			ids = append(ids, r.Piece)
		}
	}
	return ids
}

func (b *Bench) fit(box geom.Rect) {
	if box.Empty() {
		return
	}
	b.view = b.view.Fit(box, fitMargin)
}

// ZoomBy scales the view about its middle.
func (b *Bench) ZoomBy(factor float64) {
	b.view = b.view.ZoomAt(geom.Pt(float64(b.view.W)/2, float64(b.view.H)/2), factor)
	b.viewed()
}

// TrueSize shows a millimetre as a millimetre on a screen of 96 dots an inch.
func (b *Bench) TrueSize() { b.ZoomBy(100 / b.view.Percent()) }

// Percent returns the scale as a share of true size on a screen of 96 dots an
// inch, times 100.
func (b *Bench) Percent() float64 { return b.view.Percent() }

// Scroll moves the picture by a vector in mm on the bench.
func (b *Bench) Scroll(by geom.Point) {
	b.view = b.view.Pan(by.X*b.view.Scale, -by.Y*b.view.Scale)
	b.viewed()
}

// Reveal picks the refs and brings their pieces into sight if they are not.
func (b *Bench) Reveal(refs ...desk.Ref) {
	if len(refs) == 0 {
		return
	}
	b.desk.Pick(refs...)
	box := b.scene.bounds(piecesOf(refs)...)
	seen := b.view.Visible()
	if !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		if box.W() > seen.W() || box.H() > seen.H() {
			b.fit(box)
		} else {
			b.view = b.view.Centre(box.Center())
		}
		b.viewed()
	}
}

func (b *Bench) viewed() {
	b.redraw()
	if b.OnView != nil {
		b.OnView()
	}
}

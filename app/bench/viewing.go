package bench

import (
	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/geom"
)

// fitMargin is what Fit leaves free on every side, as a share of the bench.
const fitMargin = 0.06

// Fit shows all pieces. Until the view is moved they are fitted anew whenever the
// bench changes its size.
func (b *Bench) Fit() {
	b.fit(b.scene.bounds())
	b.whole = true
	b.viewed()
}

// FitPicked shows the pieces of which something is picked, or all.
func (b *Bench) FitPicked() { b.fit(b.scene.bounds(b.desk.Picked().Pieces()...)) }

func (b *Bench) fit(box geom.Rect) { b.look(b.fitted(box)) }

// fitted returns the view that shows the box as large as there is room.
func (b *Bench) fitted(box geom.Rect) paint.View {
	w, h := float64(b.view.W)/b.view.DPR, float64(b.view.H)/b.view.DPR
	return b.view.FitWithin(box, paint.Margins{
		Left: fitMargin * w, Right: fitMargin * w, Bottom: fitMargin * h,
		Top: float64(b.covered) + fitMargin*h,
	})
}

// ZoomBy scales the view about its middle.
func (b *Bench) ZoomBy(factor float64) {
	b.look(b.view.ZoomAt(geom.Pt(float64(b.view.W)/2, float64(b.view.H)/2), factor))
}

// TrueSize shows a millimetre as a millimetre on a screen of 96 dots an inch.
func (b *Bench) TrueSize() { b.ZoomBy(100 / b.view.Percent()) }

// Percent returns the scale as a share of true size on a screen of 96 dots an
// inch, times 100.
func (b *Bench) Percent() float64 { return b.view.Percent() }

// Scroll moves the picture by a vector in mm on the bench.
func (b *Bench) Scroll(by geom.Point) {
	b.look(b.view.Pan(by.X*b.view.Scale, -by.Y*b.view.Scale))
}

// Reveal picks the refs and brings their pieces into sight if they are not.
func (b *Bench) Reveal(refs ...desk.Ref) {
	if len(refs) == 0 {
		return
	}
	b.desk.Pick(refs...)
	box := b.scene.bounds(desk.Picked(refs).Pieces()...)
	seen := b.view.Visible()
	if !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		if box.W() > seen.W() || box.H() > seen.H() {
			b.fit(box)
		} else {
			b.look(b.view.Centre(box.Center()))
		}
	}
}

// look moves the view.
func (b *Bench) look(v paint.View) {
	b.view, b.whole = v, false
	b.viewed()
}

func (b *Bench) viewed() {
	b.redraw()
	if b.OnView != nil {
		b.OnView()
	}
}

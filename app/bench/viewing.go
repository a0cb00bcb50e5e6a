package bench

import (
	"slices"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// fitMargin is what Fit leaves free on every side, as a share of the bench.
const fitMargin = 0.06

// asideHigh is what lies over the foot of the bench while pieces are put aside, in
// screen units.
const asideHigh = 72

// Fit shows all pieces. Until the view is moved they are fitted anew whenever the
// bench changes its size.
//
// Pictures of which the pieces stand apart (SetApart) do not count beside pieces.
func (b *Bench) Fit() {
	b.bare = false
	b.fit()
}

// FitPieces shows all pieces, whatever the size of the pictures under them; where there is no
// piece, the pictures.
func (b *Bench) FitPieces() {
	b.bare = true
	b.fit()
}

// platesAbove returns how much room the plates above the pieces need, in screen units.
func (b *Bench) platesAbove(pieces ...draft.ID) float64 {
	most := 0
	count := map[draft.ID]int{}
	report := b.desk.Report()
	for _, state := range report.Seams {
		piece := offPiece(b.scene.project, state)
		if state.Holds || desk.SeamWaived(report, state.Seam.ID) || len(pieces) > 0 && !slices.Contains(pieces, piece) {
			continue
		}
		count[piece]++
		most = max(most, count[piece])
	}
	if most == 0 {
		return 0
	}
	return plateAbove + plateHigh + plateStep*float64(most-1)
}

// fit shows the pieces, or all. A bench that has not been seen yet has no size, and does
// it once it has one.
func (b *Bench) fit(pieces ...draft.ID) {
	b.whole, b.sized, b.fitting = true, b.laid(), pieces
	if b.sized {
		b.view = b.fitted(pieces...)
	}
	b.viewed()
}

// takeSize takes in the size of a bench that has got it only now and was not painted since.
func (b *Bench) takeSize() {
	size, dpr := b.Size(), b.view.DPR
	if size.Width < 1 || size.Height < 1 {
		return
	}
	b.view = b.view.Resized(int(float64(size.Width)*dpr+0.5), int(float64(size.Height)*dpr+0.5), dpr)
}

// laid reports whether the bench has been given its size.
func (b *Bench) laid() bool { return b.view.W > 1 && b.view.H > 1 }

// fitted returns the view that shows the pieces, or all, as large as there is room.
func (b *Bench) fitted(pieces ...draft.ID) paint.View {
	box := b.scene.bounds(pieces...)
	if len(pieces) == 0 && (!b.bare && !b.apart || box.Empty()) {
		box = box.Union(b.pictureBox())
	}
	return b.fittedBox(box, b.platesAbove(pieces...))
}

// fittedBox returns the view that shows a box as large as there is room, with so many
// units free above it.
func (b *Bench) fittedBox(box geom.Rect, above float64) paint.View {
	w, h := float64(b.view.W)/b.view.DPR, float64(b.view.H)/b.view.DPR
	foot := fitMargin * h
	if b.desk.Isolated() {
		foot = max(foot, asideHigh)
	}
	return b.view.FitWithin(box, paint.Margins{
		Left: fitMargin * w, Right: fitMargin * w, Bottom: foot,
		Top: float64(b.covered) + max(fitMargin*h, above),
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
	if !b.laid() {
		return // all will be seen
	}
	pieces := desk.Picked(refs).Pieces()
	box, seen := b.scene.bounds(pieces...), b.clearOf(pieces...)
	if seen.Contains(box.Min) && seen.Contains(box.Max) {
		return
	}
	if box.W() > seen.W() || box.H() > seen.H() {
		b.fit(pieces...)
		return
	}
	middle := b.view.Visible().Center().Sub(seen.Center())
	b.look(b.view.Centre(box.Center().Add(middle)))
}

// clearOf returns the part of the bench, in mm, in which the pieces can be seen with
// the plates above them and nothing lying over them.
func (b *Bench) clearOf(pieces ...draft.ID) geom.Rect {
	seen := b.view.Visible()
	seen.Max.Y -= (float64(b.covered) + b.platesAbove(pieces...)) * b.view.DPR / b.view.Scale
	return seen
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

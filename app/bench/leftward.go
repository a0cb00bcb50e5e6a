package bench

import (
	"fyne.io/fyne/v2"

	"hemlet/geom"
)

// Cover is what lies over a part of the bench, in its own screen units.
type Cover struct {
	Pos  fyne.Position
	Size fyne.Size
}

// plateTurns is the share of the width beyond which a plate would run out of the bench, and
// plateLetter how wide a letter of its text is at most on average, in screen units.
const (
	plateTurns  = 0.62
	plateLetter = 8
)

// leftward reports whether a plate with the text at a place in mm is to grow to the left: to
// the right the bench ends soon, or it would run under what lies over the bench.
func (b *Bench) leftward(at geom.Point, text string) bool {
	px := b.view.ToPx(at)
	if px.X > plateTurns*float64(b.view.W) {
		return true
	}
	if b.Covers == nil {
		return false
	}
	x, y := float32(px.X/b.view.DPR), float32(px.Y/b.view.DPR)
	end := x + plateBeside + plateLetter*float32(len([]rune(text)))
	for _, c := range b.Covers() {
		beside := y-2*plateOver < c.Pos.Y+c.Size.Height && y+plateOver > c.Pos.Y
		if beside && x < c.Pos.X+c.Size.Width && end > c.Pos.X {
			return true
		}
	}
	return false
}

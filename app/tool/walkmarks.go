package tool

import (
	"strconv"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// WalkMarks is a seam that is walked, as it is drawn in the place of the pieces, which
// fade.
type WalkMarks struct {
	// Step holds the pieces as they lie.
	Step draft.WalkStep
	// Still is the side that lies still.
	Still draft.Side
	// Done and Rest are what is walked of the two sides, and what is to come.
	Done, Rest [2][]geom.Path
	// Ends says that one of the sides has come to its end: what is to come of the other is
	// left over.
	Ends bool
	// Told says how far it has come, or what is left over.
	Told []Plate
}

// Stepped is a tool that the arrow keys and their like work, in the place of what is
// picked.
type Stepped interface {
	// Arrow takes an arrow key as a way in mm, and Leap a larger one; they report whether
	// they did.
	Arrow(by geom.Point) bool
	Leap(to Leap) bool
}

// Leap is where a key leads at once.
type Leap int

// The leaps: by Home and End, and by Page Up and Page Down.
const (
	LeapStart Leap = iota
	LeapEnd
	LeapNext
	LeapBefore
)

// Rune implements Typist: N notches both sides here; Space is for what walks by itself.
func (w *Walk) Rune(r rune) bool {
	switch r {
	case 'n', 'N':
		w.NotchHere()
	case ' ':
		if w.OnPlay == nil {
			return false
		}
		w.OnPlay()
	default:
		return false
	}
	return true
}

// Back implements Typist.
func (*Walk) Back() bool { return false }

// Next implements Typist.
func (*Walk) Next() bool { return false }

// Typing implements Typist.
func (*Walk) Typing() bool { return false }

// notch marks the place on both sides.
func (w *Walk) notch(walker *draft.Walker) error {
	d := w.hand.Desk
	step := walker.At(w.at)
	w.notched++
	fold := "walk " + string(w.seam) + " " + strconv.Itoa(w.notched)
	for _, side := range [...]draft.Side{draft.SideA, draft.SideB} {
		use, along := walker.EdgeAt(side, step)
		args := draft.AddNotchArgs{Edge: draft.EdgeRef{Piece: use.Piece, Edge: use.Edge}, At: draft.EdgePlace{At: along}}
		if _, err := desk.RunFolded(d, draft.AddNotch, args, fold); err != nil {
			return err
		}
	}
	w.changed()
	return nil
}

package tool

import (
	"math"

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

// notch marks the place on both sides. Where the other side is notched within what pinning
// takes up, or this one, those notches are taken for the mark.
func (w *Walk) notch(walker *draft.Walker) error {
	args := draft.AddSeamMarkArgs{Seam: draft.SeamRef(w.seam), At: draft.EdgePlace{At: w.fromStart(walker)}, Side: w.still, Takes: w.takes(walker)}
	if err := desk.Run(w.hand.Desk, draft.AddSeamMark, args); err != nil {
		return err
	}
	if off := math.Abs(walker.SideLength(w.still) - walker.Wanted(w.still)); w.fromEnd && off > meet {
		w.hand.say("Notches of a seam are matched from its start. As long as the sides do not fit, the notch on the other side does not lie here.")
	}
	return nil
}

// fromStart returns how far along the still side, from where that begins, the two touch.
func (w *Walk) fromStart(walker *draft.Walker) float64 {
	if w.fromEnd {
		return walker.SideLength(w.still) - w.at
	}
	return w.at
}

// takes returns the notch of each side that the mark here stands for: the nearest one
// within what pinning takes up.
func (w *Walk) takes(walker *draft.Walker) []draft.NotchRef {
	var nearest [2]*draft.WalkStop
	for _, s := range walker.Stops() {
		if s.Notch.Mark != "" || math.Abs(s.At-w.at) > meet {
			continue
		}
		if have := nearest[s.Side]; have == nil || math.Abs(s.At-w.at) < math.Abs(have.At-w.at) {
			nearest[s.Side] = &s
		}
	}
	var out []draft.NotchRef
	for _, s := range nearest {
		if s != nil {
			out = append(out, draft.NotchRef{Piece: s.Use.Piece, Notch: s.Notch.ID})
		}
	}
	return out
}

package tool

import (
	"math"
	"strconv"

	"hemlet/app/desk"
	"hemlet/app/wording"
	"hemlet/draft"
)

// WalkTold is what a walk says in words.
type WalkTold struct {
	// Title names the seam by its letter and its name.
	Title string
	// Sides are the two sides, that which lies still first.
	Sides [2]WalkSide
	// Says is how the two fit, Holds whether they do.
	Says  string
	Holds bool
	// Notch is what there is to say of the notches at the place of contact, NotchOff that
	// they do not meet there.
	Notch    string
	NotchOff bool
}

// WalkSide is one side of a walk: what it is called, how far along it the two touch, and
// what is left.
type WalkSide struct{ Name, Done, Left string }

// Tells says where the walk stands. The error says why there is none.
func (w *Walk) Tells() (WalkTold, error) {
	walker, err := w.Walker()
	if err != nil {
		return WalkTold{}, err
	}
	project := w.hand.Desk.Project()
	unit := project.Unit
	seam, step := walker.Seam, walker.At(w.at)
	told := WalkTold{Title: desk.Letter(project, seam.ID) + ": " + seam.Name}
	sides := [...]WalkSide{
		draft.SideA: {draft.SideName(project, seam.A), unit.FormatBare(step.AtA) + " of " + unit.Format(walker.SideLength(draft.SideA)), unit.Format(step.RestA) + " left"},
		draft.SideB: {draft.SideName(project, seam.B), unit.FormatBare(step.AtB) + " of " + unit.Format(walker.SideLength(draft.SideB)), unit.Format(step.RestB) + " left"},
	}
	told.Sides = [2]WalkSide{sides[w.still], sides[draft.SideB-w.still]}
	told.Says, told.Holds = w.fits(walker)
	told.Notch, told.NotchOff = w.notchTold(walker)
	return told, nil
}

// leastTold is the least difference that is told, in mm: less cannot be seen.
const leastTold = 0.05

// fits says how the two sides fit.
func (w *Walk) fits(walker *draft.Walker) (string, bool) {
	project := w.hand.Desk.Project()
	unit := project.Unit
	state, err := w.hand.Desk.Slots().SeamState(project, walker.Seam)
	if err != nil {
		return err.Error(), false
	}
	text := ""
	if state.Want != 1 {
		text = wording.Sentence(draft.SideName(project, sideOf(walker.Seam, walker.Seam.Fuller))+": "+takenIn[walker.Seam.Fullness]+
			" as it is walked, "+strconv.FormatFloat(state.Want, 'g', 3, 64)+" to 1.") + " "
	}
	where := "end"
	if w.fromEnd {
		where = "start"
	}
	off := state.Off(project)
	says := wording.Sentence(off.Says(unit))
	switch {
	case math.Abs(state.Diff) < leastTold:
		return text + "Both sides come to the " + where + " together.", true
	case state.Holds:
		return text + says + ", which sewing takes up.", true
	case off.Short:
		return text + says + ": it ends before the other side does.", false
	default:
		return text + says + ": that is left over at the " + where + ".", false
	}
}

// takenIn says what becomes of the length of the fuller side.
var takenIn = map[draft.Fullness]string{
	draft.Plain: "taken in", draft.Ease: "eased in", draft.Gathers: "gathered", draft.Pleats: "laid in pleats",
}

func sideOf(s *draft.Seam, k draft.Side) draft.Run {
	if k == draft.SideA {
		return s.A
	}
	return s.B
}

// meet is within which two notches meet, in mm: what pinning takes up. (Common practice,
// no source.)
const meet = 0.5

// notchTold says of the notch at the place of contact whether the other side has one too.
func (w *Walk) notchTold(walker *draft.Walker) (text string, off bool) {
	project := w.hand.Desk.Project()
	var here *draft.WalkStop
	nearest, away := 0.0, math.Inf(1)
	for _, s := range walker.Stops() {
		if math.Abs(s.At-w.at) <= sameStop {
			here = &s
			break
		}
	}
	if here == nil {
		return "", false
	}
	for _, s := range walker.Stops() {
		if d := s.At - w.at; s.Side != here.Side && math.Abs(d) < away {
			nearest, away = d, math.Abs(d)
		}
	}
	other := draft.SideName(project, sideOf(walker.Seam, draft.SideB-here.Side))
	switch {
	case away <= meet:
		return "The notches of both sides meet here.", false
	case math.IsInf(away, 1):
		return here.Piece.Name + " has a notch here, and " + other + " has none.", true
	case nearest < 0:
		return here.Piece.Name + " has a notch here; the nearest of " + other + " is " + project.Unit.Format(away) + " before.", true
	default:
		return here.Piece.Name + " has a notch here; the nearest of " + other + " is " + project.Unit.Format(away) + " further on.", true
	}
}

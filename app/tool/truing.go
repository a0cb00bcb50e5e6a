package tool

import (
	"math"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// trueReach is how far, in screen units, a point that is dragged is drawn to the place
// at which a seam that it changes has the length that is meant.
const trueReach = 6

// trueSlack is how far off, in mm, a seam may be at that place: far below what is
// measured, well above the grid of the document.
const trueSlack = 1e-4

// trueSteps bounds the search for the place; the secant steps converge in four or five.
const trueSteps = 8

// trued returns the way, next to by and in its direction, at which one of the seams that
// the dragged point or handle changes holds to the length that is meant.
func (s *Select) trued(by geom.Point, mm float64) (geom.Point, Catch, bool) {
	way := by.Len()
	picked := s.hand.Desk.Picked()
	start := s.moving.Start()
	piece := start.Piece(s.under.Piece)
	if !s.under.AtNode() || len(picked) != 1 || piece == nil || way < leastTrue*mm {
		return by, Catch{}, false
	}
	for _, seam := range start.Seams {
		if !touches(seam, piece, edgesAt(piece, s.under)) {
			continue
		}
		off := func(t float64) float64 { return s.offAt(start, seam, by.Mul(t)) }
		if t, ok := zeroNear(off, trueReach*mm/way, trueReach*mm); ok {
			by := by.Mul(t)
			word := "seam " + desk.Letter(start, seam.ID) + " holds"
			return by, Catch{Kind: CaughtLength, At: s.held.Add(by), Word: word}, true
		}
	}
	return by, Catch{}, false
}

// leastTrue is how far, in screen units, a point must have been dragged to have a
// direction.
const leastTrue = 4

// touches reports whether one of the edges of the piece is sewn in the seam.
func touches(seam *draft.Seam, piece *draft.Piece, edges []int) bool {
	for _, i := range edges {
		if i >= 0 && desk.SeamRefs(seam).Has(desk.EdgeRef(piece.ID, piece.Edges[i].ID)) {
			return true
		}
	}
	return false
}

// offAt returns by how much the seam is off, in mm, once what is picked has moved; it is
// not a number where that cannot be.
func (s *Select) offAt(start *draft.Project, seam *draft.Seam, by geom.Point) float64 {
	var out draft.Outcome
	var err error
	if s.under.Kind == desk.Node {
		out, err = draft.MoveNodes.Do(start, nodeArgs(start, s.hand.Desk.Picked(), by))
	} else {
		var args draft.MoveHandleArgs
		if args, err = handleArgs(start, s.under, by); err == nil {
			out, err = draft.MoveHandle.Do(start, args)
		}
	}
	if err != nil {
		return math.NaN()
	}
	state, err := draft.NewSlots().SeamState(out.Project, seam)
	if err != nil {
		return math.NaN()
	}
	return state.Diff
}

// zeroNear returns a zero of f no farther than reach from 1, by secant steps. It does
// not look where f is off by more than its value can change on the way: most, twice.
func zeroNear(f func(float64) float64, reach, most float64) (float64, bool) {
	t0, f0 := 1., f(1)
	if !(math.Abs(f0) <= 2*most) {
		return 0, false
	}
	t1 := 1 - reach/2
	f1 := f(t1)
	for range trueSteps {
		if math.Abs(f0) < trueSlack {
			return t0, math.Abs(t0-1) <= reach
		}
		if f0 == f1 || math.IsNaN(f1) {
			return 0, false
		}
		t := t0 - f0*(t0-t1)/(f0-f1)
		if !(math.Abs(t-1) <= 4*reach) {
			return 0, false
		}
		t1, f1 = t0, f0
		t0, f0 = t, f(t)
	}
	return 0, false
}

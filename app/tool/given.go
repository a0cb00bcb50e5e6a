package tool

import (
	"math"
	"slices"
	"strconv"

	"hemlet/app/desk"
	"hemlet/draft"
)

// Given is what the pointer has given to an act, for finding out what its fields begin
// with.
type Given struct {
	Project *draft.Project
	// Refs are the things that were taken, in order.
	Refs []desk.Ref
	// has are the parameters that have been given or set by hand.
	has map[string]bool
}

// Has reports whether a parameter has been given by the pointer or set by hand.
func (g Given) Has(param string) bool { return g.has[param] }

// Piece returns the piece that was taken first, or of which a part was, or nil.
func (g Given) Piece() *draft.Piece {
	for _, r := range g.Refs {
		if p := g.Project.Piece(r.Piece); p != nil {
			return p
		}
	}
	return nil
}

// Edge returns the edge that was taken first, and whether one was.
func (g Given) Edge() (draft.EdgeRef, bool) {
	for _, r := range g.Refs {
		if r.Kind == desk.Edge {
			return draft.EdgeRef{Piece: r.Piece, Edge: r.Edge}, true
		}
	}
	return draft.EdgeRef{}, false
}

// EdgeLength returns the length in mm of the edges that were taken, 0 for none.
func (g Given) EdgeLength() float64 {
	sum := 0.0
	for _, r := range g.Refs {
		if p := g.Project.Piece(r.Piece); p != nil && r.Kind == desk.Edge {
			if _, i := p.Edge(r.Edge); i >= 0 {
				sum += p.EdgeLength(i)
			}
		}
	}
	return sum
}

// Sewn reports whether an edge that was taken is sewn in a seam.
func (g Given) Sewn() bool {
	for _, s := range g.Project.Seams {
		for _, u := range slices.Concat(s.A, s.B) {
			if slices.Contains(g.Refs, desk.EdgeRef(u.Piece, u.Edge)) {
				return true
			}
		}
	}
	return false
}

// Allowance returns the widest allowance of the piece in mm, which tells the scale that
// is worked in; 0 without one.
func (g Given) Allowance() float64 {
	widest := 0.0
	if p := g.Piece(); p != nil {
		for _, e := range p.Edges {
			widest = max(widest, e.Allowance.Start, e.Allowance.End)
		}
	}
	return widest
}

// Size returns the longer side of the box round the piece in mm, 0 without one.
func (g Given) Size() float64 {
	p := g.Piece()
	if p == nil {
		return 0
	}
	box := p.DrawnPath().Bounds()
	return max(box.W(), box.H())
}

// Round returns a length near mm as a hand would set it, as an act reads it: a round
// figure in the unit of the project.
func (g Given) Round(mm float64) string {
	return lengthText(roundLength(mm, g.Project.Unit))
}

// roundLength returns a round figure near mm in the unit, at least the finest step.
func roundLength(mm float64, u draft.Unit) float64 {
	steps := []struct{ below, step float64 }{{1, 0.1}, {5, 0.5}, {20, 1}, {100, 5}, {math.Inf(1), 10}}
	one := 1.0
	if u == draft.Inch || u == draft.InchFraction {
		one = draft.MMPerInch
		steps = []struct{ below, step float64 }{{0.25, 1. / 32}, {0.5, 1. / 16}, {2, 1. / 8}, {6, 1. / 4}, {math.Inf(1), 1. / 2}}
	}
	for _, s := range steps {
		if mm/one < s.below {
			return max(math.Round(mm/one/s.step), 1) * s.step * one
		}
	}
	return mm
}

// lengthText writes a length in mm as acts read it.
func lengthText(mm float64) string { return figure(mm) + "mm" }

// figure writes a number with all its digits.
func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

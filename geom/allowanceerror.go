package geom

import "fmt"

// OutlineError says why an outline can have no cut line.
type OutlineError struct {
	Edge int   // index of the edge, -1 if it is about the whole outline
	At   Point // the place, in mm; the zero Point where there is none
	Why  string
}

func (e *OutlineError) Error() string {
	switch {
	case e.Edge < 0:
		return e.Why
	case e.At == Point{}:
		return fmt.Sprintf("edge %d %s", e.Edge+1, e.Why)
	}
	return fmt.Sprintf("edge %d, at (%.2f, %.2f) mm: %s", e.Edge+1, e.At.X, e.At.Y, e.Why)
}

// tooIntricate says of the whole outline that its cut line is beyond the limits.
const tooIntricate = "the outline is too intricate for an allowance: it has too many points, or they lie too close together for the width"

// Intricate reports whether the outline may be sound, but its cut line would take
// more time or memory than the limits allow.
func (e *OutlineError) Intricate() bool { return e.Why == tooIntricate }

// SplitError says that what is taken off inside cuts the piece apart.
type SplitError struct {
	// Parts are the outlines that are left, counter-clockwise, largest first.
	Parts []Path
}

func (e *SplitError) Error() string {
	return fmt.Sprintf("taking this much off inside would cut the piece into %d parts", len(e.Parts))
}

// VanishedError says that what is taken off inside leaves nothing.
type VanishedError struct {
	// Largest is about the widest allowance in mm, at the edge where most is
	// taken off and with all others in proportion, that leaves something; 0 if
	// none was found.
	Largest float64
}

func (e *VanishedError) Error() string {
	if e.Largest <= 0 {
		return "taking this much off inside leaves nothing of the piece"
	}
	return fmt.Sprintf("taking this much off inside leaves nothing of the piece; about %.3g mm is the most it can give", e.Largest)
}

// largestSteps is the number of halvings in the search for the largest width
// that leaves something: one part in a thousand.
const largestSteps = 10

// largestWidth searches the share of all widths that still leaves something; 0 if
// that takes more comparisons than are left.
func largestWidth(edges []AllowanceEdge, widest float64, budget int) float64 {
	ws := &allowanceWork{budget: budget}
	lo, hi := 0.0, 1.0
	for range largestSteps {
		m := (lo + hi) / 2
		_, err := ws.run(edges, m)
		if isTooIntricate(err) {
			return 0
		}
		if isVanished(err) {
			hi = m
		} else {
			lo = m
		}
	}
	return lo * widest
}

func isTooIntricate(err error) bool {
	o, ok := err.(*OutlineError)
	return ok && o.Intricate()
}

func isVanished(err error) bool {
	_, ok := err.(*VanishedError)
	return ok
}

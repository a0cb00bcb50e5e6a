// Package regular finds what is nearly regular about an outline, such as a corner that is
// nearly square or two edges that are nearly equally long, and makes exact what of it is
// taken.
//
// A traced or hand-drawn outline is off by some tenths of a millimetre everywhere. What
// its maker meant is known only to whoever uses it: so everything here is a suggestion
// with its price, the distance in mm that the farthest point would move, and nothing is
// done that was not taken. What is taken holds exactly and together, with the least
// movement of the whole.
package regular

import (
	"math"

	"hemlet/geom"
)

// Outline is a path of lines and cubics, closed or open, whose corners are known.
type Outline struct {
	Path geom.Path
	// Corner says for each segment whether it starts at a corner. Both ends of an open
	// path are corners whatever it says.
	Corner []bool
}

// Kind is a kind of regularity.
type Kind uint8

const (
	Straight  Kind = iota + 1 // an edge is one straight line
	Square                    // two edges meet at a right angle
	Smooth                    // two edges go smoothly into each other
	Upright                   // an edge is straight and runs along Options.Up
	Level                     // an edge is straight and runs square to Options.Up
	Parallel                  // two edges are straight and parallel
	Equal                     // two edges are equally long
	Abreast                   // two corners lie equally far along Options.Up: at one height
	InLine                    // two corners lie equally far across Options.Up: one above the other
	Symmetric                 // the whole is its own mirror image
	OnFold                    // an edge is straight and square to both its neighbours: the axis of a drawn half
)

var kindNames = [...]string{
	Straight: "straight", Square: "square", Smooth: "smooth", Upright: "upright", Level: "level",
	Parallel: "parallel", Equal: "equal", Abreast: "abreast", InLine: "in line", Symmetric: "symmetric", OnFold: "on fold",
}

// String returns the kind in a word or two.
func (k Kind) String() string {
	if int(k) >= len(kindNames) || k == 0 {
		return "no kind"
	}
	return kindNames[k]
}

// Suggestion is one regularity that an outline nearly has. Edges and corners are counted
// along the path: edge i runs from corner i to the next one, and corner 0 is the first at
// or after the start of the path. In a path without corners every node counts as one.
type Suggestion struct {
	Kind    Kind
	Edges   []int
	Corners []int
	// Off is how far the farthest point of the outline would move, in mm, if this alone
	// were taken.
	Off float64
	// Misses is by how much the outline misses it now: radians for Square, Smooth,
	// Upright, Level, Parallel and OnFold (the worse corner), mm for the others.
	Misses float64
	// Axis are two points of the axis of Symmetric, as the outline has it now, and of the
	// edge of OnFold.
	Axis [2]geom.Point
	// Up is the direction that Upright, Level, Abreast and InLine go by.
	Up geom.Point
	// pairing: corner i is the mirror image of corner pairing-i, of Symmetric.
	pairing int
}

// Options says what is near enough to be suggested.
type Options struct {
	// Tol is the farthest that a suggestion may move a point, in mm; DefaultTol if 0.
	Tol float64
	// Angle is the largest angle in radians that a suggestion takes away; DefaultAngle
	// if 0. It keeps short edges from being turned at will.
	Angle float64
	// Up is the direction of the grain, or up in the picture; (0, 1) if zero.
	Up geom.Point
}

const (
	// DefaultTol is 0.5 mm: a tracing with a tolerance of 0.2 mm of a pen line that was
	// drawn by hand.
	DefaultTol = 0.5
	// DefaultAngle is 3 degrees: what one does not see on a set square's edge.
	DefaultAngle = 3 * math.Pi / 180
)

func (o Options) filled() Options {
	if !(o.Tol > 0) {
		o.Tol = DefaultTol
	}
	if !(o.Angle > 0) {
		o.Angle = DefaultAngle
	}
	if o.Up = o.Up.Unit(); o.Up == (geom.Point{}) || !o.Up.Finite() {
		o.Up = geom.Pt(0, 1)
	}
	return o
}

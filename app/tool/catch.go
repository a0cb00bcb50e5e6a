package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// CatchKind says what a place was caught by.
type CatchKind int

// What can catch the pointer. Points, middles, crossings and the feet of square and
// touching lines are places of their own; the rest are lines on which the place
// still slides.
const (
	CaughtNothing  CatchKind = iota
	CaughtPoint              // a point of an outline or a line, the tip of a dart, a notch
	CaughtCrossing           // where two lines cross
	CaughtMiddle             // half way along an edge or a line
	CaughtSquare             // where a line from the beginning meets another square, or leaves it square
	CaughtTangent            // where a line from the beginning touches another, or goes on from it
	CaughtEdge               // on an edge or on a line
	CaughtGuide              // on a guide
	CaughtLevel              // on a level of the wearer
	CaughtLength             // as far from the beginning as something is long
	CaughtGrid               // on a crossing of the squared paper
)

// Catch is a place by which the pointer was caught.
type Catch struct {
	Kind CatchKind
	// At is the place in mm on the bench, that of the pointer where nothing caught it.
	At geom.Point
	// On is the thing that caught it, where it is a thing.
	On desk.Ref
	// Word says what it was.
	Word string
	// Slides says that the place is not one of its own and may go on along the line.
	Slides bool
	// Help are the lines that explain it, such as the level that was met, on the bench.
	Help []geom.Path
}

// Caught reports whether anything caught the pointer.
func (c Catch) Caught() bool { return c.Kind != CaughtNothing }

// Fixed reports whether the place is one of its own and not only on a line.
func (c Catch) Fixed() bool {
	return c.Kind > CaughtNothing && c.Kind <= CaughtTangent && !c.Slides
}

// FromStart reports whether the place lies on a line that leaves the beginning of the
// gesture and may go on along it.
func (c Catch) FromStart() bool {
	return c.Slides && (c.Kind == CaughtSquare || c.Kind == CaughtTangent)
}

// Reach is what is asked of the bench when a place is to be caught.
type Reach struct {
	// At is the place on the bench, MM how many millimetres a screen unit covers.
	At geom.Point
	MM float64
	// From, where not nil, is where the gesture began: lines square to and touching
	// others, and equal lengths, start there.
	From *geom.Point
	// Moving is what moves along with the pointer and so catches nothing.
	Moving []desk.Ref
}

// Catch returns what catches the pointer, for a gesture that began at from, nil for
// one that begins now. Ctrl holds it off. With nothing to catch it the place is that
// of the pointer itself.
func (h *Hand) Catch(p Pointer, from *geom.Point) Catch {
	return h.CatchBut(p, from)
}

// CatchBut is Catch that passes over what moves along with the pointer.
func (h *Hand) CatchBut(p Pointer, from *geom.Point, moving ...desk.Ref) Catch {
	if !h.catching(p) {
		return Catch{At: p.At}
	}
	return h.Catches(Reach{At: p.At, MM: p.MM, From: from, Moving: moving})
}

// catching reports whether anything may catch the pointer.
func (h *Hand) catching(p Pointer) bool {
	return h.Catches != nil && !p.Keys.Ctrl && (h.Free == nil || !h.Free())
}

// Under returns what of the given kinds lies under the pointer, and its nearest place
// to it on the bench.
func (h *Hand) Under(p Pointer, kinds ...desk.Kind) (desk.Ref, geom.Point) {
	if h.Touch == nil {
		return desk.Ref{}, p.At
	}
	return h.Touch(p.At, p.MM, kinds...)
}

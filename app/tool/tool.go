// Package tool holds what a hand can take up at the bench, one file each. A tool
// turns pointer events into the arguments of acts. It owns the gesture under way
// and no document, and knows neither the bench nor the other tools.
package tool

import (
	"time"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Keys are the modifier keys that are held.
type Keys struct{ Shift, Ctrl, Alt bool }

// Pointer is where the pointer is and what it touches.
type Pointer struct {
	// At is the place on the bench in mm.
	At geom.Point
	// Hit is what lies under it, Snap the nearest place of that: the node itself,
	// or the nearest place on the edge.
	Hit  desk.Ref
	Snap geom.Point
	// MM is how many millimetres one screen unit covers.
	MM   float64
	Keys Keys
	// Caught is what catches a gesture that begins here, as Hand.Catch tells.
	Caught Catch
	// Clicks counts presses in quick succession at one place, from 1.
	Clicks int
}

// Info describes a tool to people.
type Info struct {
	Name, Icon string
	// Key is the letter that takes the tool up.
	Key string
	// Hint is one line about what it does and which keys change that.
	Hint string
}

// Tool is one thing to take in hand. Press, Drag and Release come in that order;
// Hover comes while no button is held.
type Tool interface {
	Info() Info
	Press(Pointer)
	Drag(Pointer)
	Release(Pointer)
	Hover(Pointer)
	// Enter finishes what was gathered, Cancel drops it; they report whether there
	// was anything.
	Enter() bool
	Cancel() bool
	// Marks is what the tool draws over the bench.
	Marks() Marks
}

// Picky is a tool that takes only some kinds of things: others are neither touched nor
// shown as if a click would take them.
type Picky interface {
	// Takes returns the kinds, none for nothing at all.
	Takes() []desk.Kind
}

// Cursor is the form of the pointer over the bench.
type Cursor int

// The forms of the pointer.
const (
	ArrowCursor Cursor = iota
	CrossCursor        // something is put or measured here
	PointCursor        // a click picks what is under it
	MoveCursor         // a drag moves what is under it
	GrabCursor         // a drag moves the view
	AcrossCursor
	UprightCursor
)

// Pointed is a tool that knows which form of the pointer fits what a press would do.
type Pointed interface {
	Cursor(Pointer) Cursor
}

// Hand is what every tool works with.
type Hand struct {
	Desk *desk.Desk
	// Inside returns what lies in a box on the bench.
	Inside func(geom.Rect) []desk.Ref
	// Within returns what lies in a closed loop on the bench.
	Within func(geom.Path) []desk.Ref
	// Scroll moves the view by mm on the bench.
	Scroll func(by geom.Point)
	// Catches returns what catches a place on the bench; tools ask Catch.
	Catches func(Reach) Catch
	// Free reports whether nothing is to catch the pointer at all; nil stands for no.
	Free func() bool
	// Touch returns what of the kinds, of all where none is given, lies at a place on
	// the bench; tools ask Under.
	Touch func(at geom.Point, mm float64, kinds ...desk.Kind) (desk.Ref, geom.Point)
	// Show brings pieces into sight together, if any of them is out of it.
	Show func(pieces ...draft.ID)
	// Back puts the tool in hand away and takes up the one that picks.
	Back func()
	// Say shows an error or a remark in the status line.
	Say func(text string)
	// Now returns the time; nil stands for the clock.
	Now func() time.Time

	nudged time.Time
	nudges int
}

// Lasting is a tool that Cancel leaves step by step; PutDown leaves it at once.
type Lasting interface{ PutDown() }

func (h *Hand) back() {
	if h.Back != nil {
		h.Back()
	}
}

// report shows the error, if there is one.
func (h *Hand) report(err error) {
	if err != nil {
		h.say(err.Error())
	}
}

// say shows a line of text, if there is one.
func (h *Hand) say(text string) {
	if text != "" && h.Say != nil {
		h.Say(text)
	}
}

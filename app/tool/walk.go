package tool

import (
	"context"
	"math"
	runtimetrace "runtime/trace"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Walk walks a seam: the pieces of one side lie still and those of the other roll along
// them, by dragging, by the keys, or by itself.
type Walk struct {
	hand *Hand
	seam draft.ID
	// still is the side that lies still, fromEnd says at which end it begins.
	still   draft.Side
	fromEnd bool
	// at is how far along the still side the two touch, in mm.
	at float64

	// walker is that of project, or err says why there is none.
	project *draft.Project
	walker  *draft.Walker
	err     error

	drag *walkDrag
	// OnPlay, if set, begins to walk by itself, or stops.
	OnPlay func()
	// OnChange is told when there is anything else to show.
	OnChange func()
}

// walkDrag is a drag under way: by how far the pointer was off the place of contact, where
// that was, and how far along the still side.
type walkDrag struct {
	off, contact geom.Point
	from         float64
}

// NewWalk returns the walk along a seam, from its start.
func NewWalk(h *Hand, seam draft.ID) *Walk { return &Walk{hand: h, seam: seam} }

// Info implements Tool.
func (*Walk) Info() Info {
	return Info{
		Name: "Walk", Icon: "walk",
		Hint: "Drag along the seam, or step with the arrow keys (Shift: 10 mm, Ctrl: 0.1 mm); Page Up and Down go from notch to notch, Space walks by itself, N notches both sides, Esc puts the walk away.",
	}
}

// Takes implements Picky: nothing is picked while a seam is walked.
func (*Walk) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Walk) Cursor(Pointer) Cursor { return GrabCursor }

// Seam returns the seam that is walked.
func (w *Walk) Seam() draft.ID { return w.seam }

// Walker returns the walk in the document as it stands, or why there is none.
func (w *Walk) Walker() (*draft.Walker, error) {
	d := w.hand.Desk
	if p := d.Project(); p != w.project {
		w.project = p
		walk := d.Slots().Walker
		if w.fromEnd {
			walk = d.Slots().WalkerFromEnd
		}
		if w.walker, w.err = walk(p, w.seam, w.still); w.err == nil {
			w.at = min(w.at, w.walker.Length())
		}
	}
	return w.walker, w.err
}

// At returns how far along the still side the two touch, in mm.
func (w *Walk) At() float64 { return w.at }

// Go goes to a place of the still side.
func (w *Walk) Go(at float64) {
	walker, err := w.Walker()
	if err != nil {
		return
	}
	defer runtimetrace.StartRegion(context.Background(), "walk step").End()
	if at = min(max(at, 0), walker.Length()); at != w.at {
		w.at = at
		w.changed()
	}
}

// stepGrid is to what steps by the keys are held, in mm, so that they come to whole
// figures whatever was dragged before.
const stepGrid = 0.1

// Arrow implements Stepped: to the right and upwards goes on, else back.
func (w *Walk) Arrow(by geom.Point) bool {
	way := by.X + by.Y
	w.Go(math.Round((w.at+way)/stepGrid) * stepGrid)
	return true
}

// sameStop is within which notches are one place to stop at, in mm.
const sameStop = 0.05

// Leap implements Stepped: to an end, or from notch to notch.
func (w *Walk) Leap(to Leap) bool {
	walker, err := w.Walker()
	if err != nil {
		return true
	}
	switch to {
	case LeapStart:
		w.Go(0)
	case LeapEnd:
		w.Go(walker.Length())
	case LeapNext:
		for _, s := range walker.Stops() {
			if s.At > w.at+sameStop {
				w.Go(s.At)
				return true
			}
		}
		w.Go(walker.Length())
	case LeapBefore:
		stops := walker.Stops()
		for i := len(stops) - 1; i >= 0; i-- {
			if stops[i].At < w.at-sameStop {
				w.Go(stops[i].At)
				return true
			}
		}
		w.Go(0)
	}
	return true
}

// Swap lets the other side lie still, with the two touching where they do.
func (w *Walk) Swap() {
	walker, err := w.Walker()
	if err != nil {
		return
	}
	step := walker.At(w.at)
	w.still = draft.SideB - w.still
	if w.at = step.AtA; w.still == draft.SideB {
		w.at = step.AtB
	}
	w.anew()
}

// OtherEnd begins at the other end of the seam.
func (w *Walk) OtherEnd() {
	w.fromEnd, w.at = !w.fromEnd, 0
	w.anew()
}

// FromEnd reports whether the walk begins at the end of the seam.
func (w *Walk) FromEnd() bool { return w.fromEnd }

// anew makes the walker anew.
func (w *Walk) anew() {
	w.project = nil
	w.changed()
}

func (w *Walk) changed() {
	if w.OnChange != nil {
		w.OnChange()
	}
}

// Changed tells that the document has changed.
func (w *Walk) Changed() { w.changed() }

// Press implements Tool.
func (w *Walk) Press(p Pointer) {
	if walker, err := w.Walker(); err == nil {
		contact := walker.At(w.at).Contact
		w.drag = &walkDrag{contact.Sub(p.At), contact, w.at}
	}
}

// Drag implements Tool: the place of contact follows the pointer along the still side. A
// notch holds it unless Ctrl is held.
func (w *Walk) Drag(p Pointer) {
	walker, err := w.Walker()
	if err != nil || w.drag == nil {
		return
	}
	want := p.At.Add(w.drag.off)
	at := w.drag.offEnd(walker, nearestStep(walker, w.at, want), want)
	if !p.Keys.Ctrl {
		at = caughtStop(walker, at, notchCatch*p.MM)
	}
	w.Go(at)
}

// offEnd returns where a drag leads that began at an end of the walk: there is only one way
// to go, and the piece goes it as far as the hand does towards the middle of the seam,
// whichever way the line sets out at its end. Nobody who follows the line is led astray:
// it is never shorter than that.
func (d *walkDrag) offEnd(walker *draft.Walker, at float64, want geom.Point) float64 {
	length := walker.Length()
	on := walker.ContactAt(length / 2).Sub(d.contact)
	if on.Len() == 0 {
		return at
	}
	way := max(want.Sub(d.contact).Dot(on)/on.Len(), 0)
	switch d.from {
	case 0:
		return max(at, min(way, length))
	case length:
		return min(at, max(length-way, 0))
	}
	return at
}

// notchCatch is how near, in screen units, a notch holds a drag.
const notchCatch = 5

// caughtStop returns the nearest notch within reach, or the place itself.
func caughtStop(walker *draft.Walker, at, reach float64) float64 {
	best := at
	for _, s := range walker.Stops() {
		if d := math.Abs(s.At - at); d <= reach {
			best, reach = s.At, d
		}
	}
	return best
}

// The search of a drag: over how many places it looks, and into how many parts it divides
// the best of them, twice over.
const (
	dragLooks = 24
	dragParts = 10
)

// nearestStep returns the place of the still side whose contact is nearest to where the
// pointer would have it, not further from the present one than about twice the way that
// the pointer went: so that a line that comes back on itself is not jumped across.
func nearestStep(walker *draft.Walker, from float64, want geom.Point) float64 {
	dist := func(a float64) float64 { return walker.ContactAt(a).Dist(want) }
	best, least := from, dist(from)
	span := 2 * least
	for _, parts := range [...]int{dragLooks, dragParts, dragParts} {
		middle := best
		for k := -parts; k <= parts; k++ {
			a := min(max(middle+span*float64(k)/float64(parts), 0), walker.Length())
			if d := dist(a); d < least {
				best, least = a, d
			}
		}
		span /= float64(parts)
	}
	return best
}

// Release implements Tool.
func (w *Walk) Release(Pointer) { w.drag = nil }

// Dragging reports whether a drag is under way.
func (w *Walk) Dragging() bool { return w.drag != nil }

// Hover implements Tool.
func (*Walk) Hover(Pointer) {}

// Enter implements Tool.
func (*Walk) Enter() bool { return false }

// Cancel implements Tool: it puts the walk away.
func (w *Walk) Cancel() bool {
	w.hand.back()
	return true
}

// PutDown implements Lasting.
func (w *Walk) PutDown() { w.drag = nil }

// NotchHere marks the place of contact on both sides, as one step to undo.
func (w *Walk) NotchHere() {
	walker, err := w.Walker()
	if err != nil {
		w.hand.report(err)
		return
	}
	w.hand.report(w.notch(walker))
}

// Marks implements Tool.
func (w *Walk) Marks() Marks {
	walker, err := w.Walker()
	if err != nil {
		return Marks{}
	}
	step := walker.At(w.at)
	m := &WalkMarks{Step: step, Still: w.still, Ends: w.at >= walker.Length()}
	for _, side := range [...]draft.Side{draft.SideA, draft.SideB} {
		m.Done[side], m.Rest[side] = walker.Lines(side, step)
	}
	m.Told = w.plates(step, m)
	return Marks{Walk: m}
}

// plates says at the place of contact how far the walk has come, and at its end what is
// left over.
func (w *Walk) plates(step draft.WalkStep, m *WalkMarks) []Plate {
	unit := w.hand.Desk.Project().Unit
	if !m.Ends {
		on := step.AtA
		if w.still == draft.SideB {
			on = step.AtB
		}
		return []Plate{{Text: unit.Format(on), At: step.Contact}}
	}
	for side, left := range [...]float64{step.RestA, step.RestB} {
		if rest := m.Rest[side]; len(rest) > 0 && left >= leastTold {
			return []Plate{{Text: unit.Format(left) + " left over", At: rest[len(rest)-1].End()}}
		}
	}
	return nil
}

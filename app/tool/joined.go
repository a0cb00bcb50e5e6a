package tool

import (
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// Joined shows the pieces laid together at one end of a seam, as they lie once it is sewn
// and pressed open, with the line that runs on across it. It changes nothing.
type Joined struct {
	hand *Hand
	seam draft.ID
	end  draft.EdgeEnd
	pan  *Pan
	// OnChange is told when there is anything else to show, and OnEnd when another end of
	// the seam is shown.
	OnChange, OnEnd func()
}

// NewJoined returns what shows the pieces joined at an end of a seam.
func NewJoined(h *Hand, seam draft.ID, end draft.EdgeEnd) *Joined {
	return &Joined{hand: h, seam: seam, end: end, pan: NewPan(h)}
}

// Info implements Tool.
func (*Joined) Info() Info {
	return Info{
		Name: "Joined", Icon: "smooth",
		Hint: "The pieces lie as they do once they are sewn. Left and right lead to the start and the end of the seam, a drag moves the view, Esc lays everything back.",
	}
}

// Takes implements Picky: nothing is picked meanwhile.
func (*Joined) Takes() []desk.Kind { return nil }

// Cursor implements Pointed.
func (*Joined) Cursor(Pointer) Cursor { return GrabCursor }

// Seam returns the seam, and End the end of it that is shown.
func (j *Joined) Seam() draft.ID     { return j.seam }
func (j *Joined) End() draft.EdgeEnd { return j.end }

// Joint returns the joint in the document as it stands, or false where no line runs on.
func (j *Joined) Joint() (draft.SeamJoint, bool) {
	return j.hand.Desk.Slots().Joint(j.hand.Desk.Project(), j.seam, j.end)
}

// Has reports whether a line runs on across that end of the seam.
func (j *Joined) Has(end draft.EdgeEnd) bool {
	_, ok := j.hand.Desk.Slots().Joint(j.hand.Desk.Project(), j.seam, end)
	return ok
}

// Go shows the other end of the seam, if a line runs on across it.
func (j *Joined) Go(end draft.EdgeEnd) {
	if end == j.end || !j.Has(end) {
		return
	}
	j.end = end
	if j.OnEnd != nil {
		j.OnEnd()
	}
	j.Changed()
}

// Changed tells that the document has changed.
func (j *Joined) Changed() {
	if j.OnChange != nil {
		j.OnChange()
	}
}

// Arrow implements Stepped: to the left is the start of the seam, to the right its end.
func (j *Joined) Arrow(by geom.Point) bool {
	switch {
	case by.X < 0:
		j.Go(draft.EdgeStart)
	case by.X > 0:
		j.Go(draft.EdgeFinish)
	}
	return true
}

// Leap implements Stepped.
func (j *Joined) Leap(to Leap) bool {
	switch to {
	case LeapStart:
		j.Go(draft.EdgeStart)
	case LeapEnd:
		j.Go(draft.EdgeFinish)
	}
	return true
}

// Press implements Tool: a drag moves the view.
func (j *Joined) Press(p Pointer) { j.pan.Press(p) }

// Drag implements Tool.
func (j *Joined) Drag(p Pointer) { j.pan.Drag(p) }

// Release implements Tool.
func (j *Joined) Release(p Pointer) { j.pan.Release(p) }

// Hover implements Tool.
func (*Joined) Hover(Pointer) {}

// Enter implements Tool.
func (*Joined) Enter() bool { return false }

// Cancel implements Tool: it lays everything back.
func (j *Joined) Cancel() bool {
	j.hand.back()
	return true
}

// PutDown implements Lasting.
func (j *Joined) PutDown() { j.pan.Cancel() }

package tracer

import (
	"hemlet/draft"
)

// doing is something that was done in the room itself, such as a mark that was set. The
// document knows nothing of it, or not all, so that the room takes it back.
type doing struct {
	// what names it in the line at the foot.
	what string
	// fold, where not empty, makes one of doings that follow one another, such as nudges.
	fold string
	// back brings back what was; holds reports whether it can, such as whether the line
	// that it belongs to is still being followed. Nil for always.
	back  func()
	holds func() bool

	step step
	// was and is are the document before and after; they differ where the doing changed
	// that too.
	was, is *draft.Project
}

// mostDoings is how many doings can be taken back: as many as anyone remembers.
const mostDoings = 200

// does does something that can be taken back.
func (r *Room) does(d doing, do func()) {
	d.step, d.was = r.step, r.desk.Project()
	do()
	d.is = r.desk.Project()
	if n := len(r.doings); d.fold != "" && n > 0 {
		if last := &r.doings[n-1]; last.fold == d.fold && last.step == d.step && last.is == d.was {
			last.is = d.is
			return
		}
	}
	if r.doings = append(r.doings, d); len(r.doings) > mostDoings {
		r.doings = append([]doing(nil), r.doings[1:]...)
	}
}

// lately returns the index of the doing of the step that is taken which came after all
// that was done to the document, or -1.
func (r *Room) lately() int {
	now := r.desk.Project()
	for i := len(r.doings) - 1; i >= 0; i-- {
		d := &r.doings[i]
		if d.step == r.step && d.is == now && (d.holds == nil || d.holds()) {
			return i
		}
	}
	return -1
}

// Undoes returns what was done last in the room itself, after the last step of the
// document, and what takes that back; nil where there is no such thing.
func (r *Room) Undoes() (what string, back func()) {
	i := r.lately()
	if i < 0 {
		return "", nil
	}
	return r.doings[i].what, func() { r.takeBack(i) }
}

func (r *Room) takeBack(i int) {
	d := r.doings[i]
	r.doings = r.doings[:i]
	r.stop() // what was begun by it
	if d.was != d.is {
		r.desk.Undo()
	}
	d.back()
	r.update()
}

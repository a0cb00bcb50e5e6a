package station

import (
	"strings"
	"time"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// mendWeigher finds out of the deeds that are offered how far each moves anything, before
// anybody points at one: aside, one after the other, once nothing has happened for a moment.
type mendWeigher struct {
	m *mendTrial
	// waits are the deeds that are not weighed yet, by what offers them.
	waits map[any][]*deedCard
	timer *time.Timer
	busy  bool
}

// weighAfter is how long nothing new is offered before deeds are weighed: a drag offers them
// anew at every step.
const weighAfter = 250 * time.Millisecond

func newMendWeigher(m *mendTrial) *mendWeigher {
	return &mendWeigher{m: m, waits: map[any][]*deedCard{}}
}

// add has deeds weighed in the place of those that the same owner offered before.
func (w *mendWeigher) add(owner any, cards []*deedCard) {
	w.waits[owner] = cards
	w.soon()
}

func (w *mendWeigher) soon() {
	if w.timer != nil {
		w.timer.Stop()
	}
	w.timer = time.AfterFunc(weighAfter, func() { control.OnMain(w.next) })
}

// next weighs one of the deeds that wait, unless one is looked at or done: that goes first.
func (w *mendWeigher) next() {
	if w.busy {
		return
	}
	if w.m.live() || w.m.doing || w.m.at != nil {
		w.soon()
		return
	}
	owner, c := w.first()
	if c == nil {
		return
	}
	p := w.m.room.desk.Project()
	w.busy = true
	w.m.room.aside(func() func() {
		x := weighed(p, c.deed)
		return func() {
			w.busy = false
			if w.m.room.desk.Project() != p {
				w.soon() // it is weighed on what has come of it, if it is still offered then
				return
			}
			if list := w.waits[owner]; len(list) > 0 && list[0] == c {
				w.waits[owner] = list[1:]
			}
			c.tell(p.Unit, x)
			w.next()
		}
	})
}

// first returns a deed that waits, and who offers it.
func (w *mendWeigher) first() (any, *deedCard) {
	for owner, list := range w.waits {
		for len(list) > 0 && list[0].told {
			list = list[1:]
		}
		if w.waits[owner] = list; len(list) > 0 {
			return owner, list[0]
		}
		delete(w.waits, owner)
	}
	return nil, nil
}

// weight is what a deed makes of a project and how far it moves outlines, in mm.
type weight struct {
	out   draft.Outcome
	moved float64
	err   error
}

// weighed does the deed on a project.
func weighed(p *draft.Project, d deed) weight {
	var x weight
	if x.out, x.err = d.do(p); x.err == nil {
		x.moved = draft.Movement(p, x.out.Project)
	}
	return x
}

// tell says on the card how far the deed moves anything, and what else it changes.
func (c *deedCard) tell(u draft.Unit, x weight) {
	c.told = true
	c.besides = ""
	switch {
	case x.err != nil:
		c.moves.Set("It cannot be done as things stand")
		return
	case len(x.out.Besides) == 0:
		c.moves.Set(movesWords(u, x.moved))
		return
	}
	c.moves.Set(movesWords(u, x.moved) + ", and changes " + besidesCount(len(x.out.Besides)))
	c.besides = "Besides, it makes " + wording.List(x.out.Besides) + "."
}

func besidesCount(n int) string {
	if n == 1 {
		return "1 more length"
	}
	return count(n) + " more lengths"
}

// looked says while the deed is shown what else it changes.
func (c *deedCard) looked() {
	c.moves.SetColour(look.Chalk)
	switch {
	case c.terse:
		c.says.PutAs(strings.TrimSpace(c.moves.Text()+". "+c.besides), look.Ink)
	case c.besides != "":
		c.says.PutAs(c.besides, look.Ink)
	}
}

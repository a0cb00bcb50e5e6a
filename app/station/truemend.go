package station

import (
	"cmp"
	"time"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// deed is something that can be done about a finding or a seam: it is shown on the bench
// while it is looked at, and done when it is pressed.
type deed struct {
	title string
	do    func(*draft.Project) (draft.Outcome, error)
	// hint is told of it beside the pointer, empty for its title.
	hint string
}

// mendTrial shows on the bench what a deed would make of the project for as long as it is
// looked at.
type mendTrial struct {
	room trialRoom
	// at is the card that is looked at, nil for none.
	at *deedCard
	// gesture holds what is shown, nil where nothing is yet; out is what the deed made.
	gesture *desk.Gesture
	out     draft.Outcome
	wait    *time.Timer
	// took is when a deed was done last; doing says that one is being done.
	took  time.Time
	doing bool
	// weigher tells of deeds how far they move anything before they are looked at.
	weigher *mendWeigher
}

// lookAfter is how long the pointer rests on a deed before it is tried: a pointer that
// only passes leaves the bench alone.
const lookAfter = 130 * time.Millisecond

// trialRoom is where deeds are tried: the document, what draws its outlines as they were,
// what does work aside, and the station that hears of what was done or could not be.
type trialRoom struct {
	desk   *desk.Desk
	before func(*draft.Project)
	aside  func(work func() (then func()))
	done   func()
	report func(error)
}

func newMendTrial(room trialRoom) *mendTrial {
	m := &mendTrial{room: room}
	m.weigher = newMendWeigher(m)
	return m
}

// live reports whether the project as it stands is that of a deed that is looked at.
func (m *mendTrial) live() bool { return m.gesture != nil && m.gesture.Live() }

// settle ends the trial if something else has ended it in the document.
func (m *mendTrial) settle() {
	if m.gesture != nil && !m.gesture.Live() {
		m.gesture = nil
		m.room.before(nil)
		if m.at != nil {
			m.at.rests()
		}
	}
}

// look shows what the deed of the card would do, after a moment.
func (m *mendTrial) look(c *deedCard) {
	m.drop()
	m.at = c
	m.wait = time.AfterFunc(lookAfter, func() {
		control.OnMain(func() {
			if m.at == c {
				m.try(c)
			}
		})
	})
}

// leave ends what is shown of the card.
func (m *mendTrial) leave(c *deedCard) {
	if m.at == c {
		m.drop()
	}
}

// drop ends what is shown.
func (m *mendTrial) drop() {
	if m.wait != nil {
		m.wait.Stop()
		m.wait = nil
	}
	if m.at != nil {
		m.at.rests()
		m.at = nil
	}
	if m.live() {
		m.room.desk.DropTrial()
	}
	m.settle()
}

// try works the deed out aside and shows what it makes.
func (m *mendTrial) try(c *deedCard) {
	p := m.room.desk.Project()
	m.room.aside(func() func() {
		x := weighed(p, c.deed)
		return func() {
			if m.at != c || m.room.desk.Project() != p {
				return
			}
			c.tell(p.Unit, x)
			if x.err != nil {
				c.fails(x.err)
				return
			}
			m.out, m.gesture = x.out, m.room.desk.Try()
			m.room.before(p)
			m.gesture.Show(x.out.Step, x.out.Project)
			c.looked()
		}
	})
}

// movesWords says how far a deed moves outlines at most.
func movesWords(u draft.Unit, mm float64) string {
	if mm < leastMove {
		return "No outline moves"
	}
	return "Moves at most " + u.FormatAtMost(mm)
}

// What stands in the place of that until the deed was weighed, or looked at where it is
// weighed no earlier.
const (
	movesUnknown = "Working out how far it moves"
	movesOnLook  = "Point at it to see how far it moves anything"
)

// leastMove is how far, in mm, an outline moves at least for that to be told: below it
// only rounding has moved it.
const leastMove = 1e-3

// oncePer is how long after a deed another press does nothing: the second half of a
// double press would do what has come to lie under the pointer.
const oncePer = 500 * time.Millisecond

// early reports whether a press comes too soon after one that did something, or while
// that is still being done.
func (m *mendTrial) early() bool {
	return m.doing || !m.took.IsZero() && control.Now().Sub(m.took) < oncePer
}

// take does the deed of the card.
func (m *mendTrial) take(c *deedCard) {
	if m.early() {
		return
	}
	if m.at == c && m.live() {
		g, out := m.gesture, m.out
		m.gesture, m.at = nil, nil
		m.room.before(nil)
		m.took = control.Now()
		g.Take(out)
		m.room.done()
		return
	}
	m.drop()
	p := m.room.desk.Project()
	m.doing = true
	m.room.aside(func() func() {
		out, err := c.deed.do(p)
		return func() {
			m.doing = false
			if m.room.desk.Project() != p {
				return // something else was done meanwhile
			}
			if err != nil {
				c.fails(err)
				m.room.report(err)
				return
			}
			m.took = control.Now()
			m.room.desk.Take(out, "")
			m.room.done()
		}
	})
}

// deedCard is a deed to press, with how far it moves anything; why it cannot be done is
// told under the deeds beside it.
type deedCard struct {
	card  *control.Card
	deed  deed
	moves *control.Text
	says  *control.Prose
	// besides says what else it changes, told that it is known what it does.
	besides string
	// rest is said under the deeds while none is looked at.
	rest string
	told bool
	// terse says that it has no line for how far it moves anything: that is told under the
	// deeds while it is looked at.
	terse bool
}

// rests tells nothing more of the deed.
func (c *deedCard) rests() {
	c.moves.SetColour(look.Faint) // how far it moves stays, once it is known
	c.says.PutAs(c.rest, look.Faint)
}

// fails says why the deed cannot be done.
func (c *deedCard) fails(err error) { c.says.PutAs(wording.Sentence(err.Error()), look.PinText) }

// deedsAtRest is what is said under the deeds.
const deedsAtRest = "Point at one to see on the bench what it would do. Blue dashes show how it is now."

// newDeeds returns the deeds under one another at the width, the first one in colour.
// Whatever is told of one that is looked at, they keep their places. Those of an owner are
// weighed until it offers others; without one they are told of once they are looked at. What
// is said under them while none is looked at is rest.
func (m *mendTrial) newDeeds(owner any, deeds []deed, width float32, rest string) *fyne.Container {
	says := control.NewProse(rest, 11.5, false, look.Faint, width)
	rows := control.Stack(5)
	var cards []*deedCard
	for i, d := range deeds {
		c := m.newDeed(d, i == 0, says, width)
		c.rest = rest
		cards = append(cards, c)
		rows.Add(c.card)
	}
	rows.Add(control.NewKept(says).Object())
	if owner != nil {
		m.weigher.add(owner, cards)
		return rows
	}
	for _, c := range cards {
		c.moves.Set(movesOnLook)
	}
	return rows
}

func (m *mendTrial) newDeed(d deed, first bool, says *control.Prose, width float32) *deedCard {
	const padX, padY = 10, 5
	colour, fill, rim := look.Ink, look.Card, look.Border
	if first {
		colour, fill = look.Chalk, look.ChalkTint
	}
	c := &deedCard{deed: d, says: says}
	c.moves = control.NewText(movesUnknown, 11, false, look.Faint).AtLeast(10)
	text := control.NewProse(d.title, 12.5, first, colour, width-2*padX)
	m.press(c, control.Inset(padX, padY, padX, padY-1, control.Stack(0, text, c.moves)), fill, rim)
	return c
}

// newTerse returns a deed of one line; what it does is told in says while it is looked at.
func (m *mendTrial) newTerse(d deed, says *control.Prose, rest string) *deedCard {
	c := &deedCard{deed: d, says: says, rest: rest, terse: true}
	c.moves = control.NewText(movesUnknown, 11, false, look.Faint)
	m.press(c, control.Inset(10, 4, 10, 4, control.NewText(d.title, 12.5, false, look.Ink)), look.Card, look.Border)
	return c
}

// press makes the card of a deed: looked at it is tried, pressed it is done.
func (m *mendTrial) press(c *deedCard, o fyne.CanvasObject, fill, rim fyne.ThemeColorName) {
	c.card = control.NewCard(o, cmp.Or(c.deed.hint, c.deed.title), func() { m.take(c) }).Coloured(fill, rim)
	c.card.OnLook = func(on bool) {
		if on {
			m.look(c)
		} else {
			m.leave(c)
		}
	}
}

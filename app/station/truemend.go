package station

import (
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
}

// mendTrial shows on the bench what a deed would make of the project for as long as it is
// looked at.
type mendTrial struct {
	t *Truing
	// at is the card that is looked at, nil for none.
	at *deedCard
	// gesture holds what is shown, nil where nothing is yet; out is what the deed made.
	gesture *desk.Gesture
	out     draft.Outcome
	wait    *time.Timer
}

// lookAfter is how long the pointer rests on a deed before it is tried: a pointer that
// only passes leaves the bench alone.
const lookAfter = 130 * time.Millisecond

func newMendTrial(t *Truing) *mendTrial { return &mendTrial{t: t} }

// live reports whether the project as it stands is that of a deed that is looked at.
func (m *mendTrial) live() bool { return m.gesture != nil && m.gesture.Live() }

// settle ends the trial if something else has ended it in the document.
func (m *mendTrial) settle() {
	if m.gesture != nil && !m.gesture.Live() {
		m.gesture = nil
		m.t.ways.Before(nil)
		if m.at != nil {
			m.at.tell("", look.Faint)
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
		m.at.tell("", look.Faint)
		m.at = nil
	}
	if m.live() {
		m.t.desk.DropTrial()
	}
	m.settle()
}

// try works the deed out aside and shows what it makes.
func (m *mendTrial) try(c *deedCard) {
	p := m.t.desk.Project()
	m.t.ways.Aside(func() func() {
		out, err := c.deed.do(p)
		moved := 0.0
		if err == nil {
			moved = draft.Movement(p, out.Project)
		}
		return func() {
			if m.at != c || m.t.desk.Project() != p {
				return
			}
			if err != nil {
				c.tell(wording.Sentence(err.Error()), look.PinText)
				return
			}
			m.out, m.gesture = out, m.t.desk.Try()
			m.t.ways.Before(p)
			m.gesture.Show(out.Step, out.Project)
			c.tell(movesWords(p.Unit, moved), look.Chalk)
		}
	})
}

// movesWords says how far a deed moves outlines at most.
func movesWords(u draft.Unit, mm float64) string {
	if mm < leastMove {
		return "No outline moves. Press to have it done."
	}
	return "Moves at most " + u.FormatSmall(mm) + "; shown on the bench, dashed as it is now. Press to have it done."
}

// leastMove is how far, in mm, an outline moves at least for that to be told: below it
// only rounding has moved it.
const leastMove = 1e-3

// take does the deed of the card.
func (m *mendTrial) take(c *deedCard) {
	if m.at == c && m.live() {
		g, out := m.gesture, m.out
		m.gesture, m.at = nil, nil
		m.t.ways.Before(nil)
		g.Take(out)
		m.done()
		return
	}
	m.drop()
	p := m.t.desk.Project()
	m.t.ways.Aside(func() func() {
		out, err := c.deed.do(p)
		return func() {
			if m.t.desk.Project() != p {
				return // something else was done meanwhile
			}
			if err != nil {
				c.tell(wording.Sentence(err.Error()), look.PinText)
				m.t.report(err)
				return
			}
			m.t.desk.Take(out, "")
			m.done()
		}
	})
}

// done shows the document after a deed, and gives the keys back.
func (m *mendTrial) done() {
	m.t.Update()
	m.t.ways.Away()
}

// deedCard is a deed to press; what it would do is told under the deeds beside it.
type deedCard struct {
	card *control.Card
	deed deed
	says *control.Prose
	room fyne.CanvasObject
}

// tell says what the deed would do, or why it cannot be done.
func (c *deedCard) tell(text string, colour fyne.ThemeColorName) {
	if text == "" {
		text = c.rest()
	}
	c.says.PutAs(text, colour)
}

// rest is what is said while no deed is looked at.
func (*deedCard) rest() string {
	return "Point at one to see it on the bench: dashed how it is now, and how far anything moves."
}

// newDeeds returns the deeds under one another at the width, the first one in colour, and
// under them what the one that is looked at would do.
func (m *mendTrial) newDeeds(deeds []deed, width float32) *fyne.Container {
	const padX, padY = 10, 5
	says := control.NewProse((*deedCard)(nil).rest(), 11.5, false, look.Faint, width)
	rows := control.Stack(5)
	for i, d := range deeds {
		colour, fill, rim := look.Ink, look.Card, look.Border
		if i == 0 {
			colour, fill = look.Chalk, look.ChalkTint
		}
		text := control.NewProse(d.title, 12.5, i == 0, colour, width-2*padX)
		c := &deedCard{deed: d, says: says}
		c.card = control.NewCard(control.Inset(padX, padY, padX, padY, text), d.title, func() { m.take(c) }).Coloured(fill, rim)
		c.card.OnLook = func(on bool) {
			if on {
				m.look(c)
			} else {
				m.leave(c)
			}
		}
		rows.Add(c.card)
	}
	rows.Add(control.NewKept(says).Object())
	return rows
}

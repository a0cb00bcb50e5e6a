package station

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/inspect"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// findingCard tells one finding.
type findingCard struct {
	l       *findingList
	finding draft.Finding
	open    bool
	// key tells it apart from a card that would look otherwise.
	key    string
	object fyne.CanvasObject
	deeds  []deed
}

func newFindingCard(l *findingList, f draft.Finding, key string) *findingCard {
	c := &findingCard{l: l, key: key, finding: f, open: f.Key == l.chosen, deeds: deedsOf(f.Mends)}
	if c.open {
		c.object = c.whole()
	} else {
		c.object = c.folded()
	}
	return c
}

// deedsOf returns mends as things to press.
func deedsOf(mends []draft.Mend) []deed {
	var out []deed
	for _, m := range mends {
		out = append(out, deedOf(m))
	}
	return out
}

// deedOf returns a mend as something to press.
func deedOf(m draft.Mend) deed {
	return deed{title: m.Title, do: func(p *draft.Project) (draft.Outcome, error) { return p.Do(m) }}
}

// keyOf tells the card of a finding apart from one that would look otherwise.
func keyOf(f draft.Finding, open bool) string {
	words := []string{f.Key, f.Level.String(), f.About, f.Says, f.Waived, fold(open)}
	for _, m := range f.Mends {
		words = append(words, m.Title, m.Act, fmt.Sprint(m.Args))
	}
	return strings.Join(words, "|")
}

// head is the mark of the level with the lines beside it.
func (c *findingCard) head(lines fyne.CanvasObject) fyne.CanvasObject {
	level := inspect.LevelOf(c.finding.Level)
	if !c.finding.Open() {
		level = control.Note
	}
	return container.NewBorder(nil, nil, container.NewVBox(control.Inset(0, 1, 8, 0, control.NewMark(level, 16))), nil, lines)
}

func (c *findingCard) nameColour() fyne.ThemeColorName {
	if c.finding.Level == draft.Problem && c.finding.Open() {
		return look.PinText
	}
	return look.Ink
}

// folded says in a line or two what was found.
func (c *findingCard) folded() fyne.CanvasObject {
	f := c.finding
	lines := control.Stack(2, control.NewProse(wording.Sentence(f.About), 12.5, true, c.nameColour(), findingInner), control.NewProse(inBrief(f.Says), 11.5, false, look.Faint, findingInner))
	if !f.Open() {
		lines = control.Stack(2, control.NewProse(wording.Sentence(f.About), 12.5, false, look.Ink, findingInner), control.NewProse("“"+f.Waived+"”", 11.5, false, look.Faint, findingInner))
	}
	if n := len(c.deeds); n > 0 && f.Open() {
		lines.Add(control.NewText(waysWords(n), 11.5, true, look.Chalk))
	}
	card := control.NewCard(control.Inset(findingPad, 7, findingPad, 8, c.head(lines)), "Say all of it, show the place, offer what mends it", func() { c.l.choose(f.Key, true) })
	return card
}

// whole says all of what was found, and offers what mends it.
func (c *findingCard) whole() fyne.CanvasObject {
	f := c.finding
	level := inspect.LevelOf(f.Level)
	if !f.Open() {
		level = control.Note
	}
	lines := control.Stack(3,
		control.NewProse(wording.Sentence(f.About), 12.5, true, c.nameColour(), findingInner),
		control.NewProse(f.Says, 12, false, look.Ink, findingInner))
	if !f.Open() {
		lines.Add(control.NewProse("Because: “"+f.Waived+"”", 12, false, look.Faint, findingInner))
	}
	rows := control.Stack(8, c.head(lines))
	if len(c.deeds) > 0 && f.Open() {
		title := "What mends it"
		if len(c.deeds) > 1 {
			title = "What mends it, best first"
		}
		rows.Add(control.NewText(title, 11.5, true, look.Faint))
		rows.Add(c.l.t.trial.newDeeds(c.l, c.deeds, findingRoom-2*findingPad, deedsAtRest))
	}
	rows.Add(c.foot())
	card := control.NewCard(control.Inset(findingPad, 9, findingPad, 10, rows), "Show this place", c.show).Coloured(look.Card, level.Rim())
	card.SetChosen(true)
	return card
}

// foot holds what can be done about it besides mending, in a second line where one is too
// short for that.
func (c *findingCard) foot() *fyne.Container {
	foot := control.FlowEnd(findingRoom-2*findingPad, 6)
	if pr, ok := c.l.t.proofOf(c.finding); ok {
		if b := c.l.t.toMeasure(pr); b != nil {
			foot.Add(b)
		}
	}
	if len(c.l.t.place(c.finding)) > 0 {
		foot.Add(c.place())
	}
	foot.Add(c.live())
	return foot
}

// place is the button that shows where it is.
func (c *findingCard) place() fyne.CanvasObject {
	return control.NewButton(control.SmallShape, "", "Go there", "Bring this place into the middle of the bench", c.show)
}

func (c *findingCard) show() {
	c.l.t.show(c.finding)
	if c.finding.Seam != "" {
		c.l.t.seams.choose(c.finding.Seam, false)
	}
}

// live is the button by which the maker decides to live with it, or no longer.
func (c *findingCard) live() fyne.CanvasObject {
	t, f := c.l.t, c.finding
	if !f.Open() {
		return control.NewButton(control.SmallShape, "", "Count it again", "Let the checks count this again", func() {
			t.report(desk.Run(t.desk, draft.Unwaive, draft.UnwaiveArgs{Finding: f.Key}))
		})
	}
	return control.NewButton(control.SmallShape, "", "Live with it…", "Keep this as it is and say why; the checks no longer count it", func() {
		t.trial.drop()
		t.ways.AskReason(f, func(reason string) error {
			return desk.Run(t.desk, draft.Waive, draft.WaiveArgs{Finding: f.Key, Reason: reason})
		})
	})
}

// waysWords says in how many ways it can be mended.
func waysWords(n int) string {
	if n == 1 {
		return "Can be mended"
	}
	return fmt.Sprintf("Can be mended in %d ways", n)
}

// inBrief returns what a finding says up to where it begins to explain.
func inBrief(says string) string {
	for _, end := range []string{". ", "; ", " ("} {
		if before, _, ok := strings.Cut(says, end); ok && len(before) > 12 {
			says = before
		}
	}
	return strings.TrimSuffix(says, ".") + "."
}

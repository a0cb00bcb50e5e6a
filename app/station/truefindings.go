package station

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/app/wording"
	"hemlet/draft"
)

// Widths of the list of findings, in screen units: of all of it, of what its cards have
// inside, and of the room at either side in them.
const (
	findingPad   = 11
	findingsWide = 304
	findingRoom  = findingsWide - 2*12 - 6
	findingInner = findingRoom - 2*findingPad - 24 - 4 // the mark and the room beside it
)

// fewNotes is how many notes are shown unfolded.
const fewNotes = 2

// mostCards is how many findings of a level are shown before the rest is asked for: more
// than anybody mends before looking again.
const mostCards = 30

// findingList lists what the checks find: problems, what to look at, notes, and last,
// folded away, what the maker lives with. One is in hand: its card says all of it and
// offers what mends it.
type findingList struct {
	t      *Truing
	object fyne.CanvasObject
	scroll *container.Scroll
	rows   *fyne.Container
	head   *control.Text
	said   *control.Text
	mark   *control.Mark

	// chosen is the key of the finding in hand, empty for none.
	chosen string
	// open says which groups are unfolded, all which are shown whole.
	open, all map[string]bool
	cards     map[string]*findingCard
	shown     []string
}

func newFindingList(t *Truing) *findingList {
	l := &findingList{t: t, rows: control.Stack(7), cards: map[string]*findingCard{}}
	l.open, l.all = map[string]bool{}, map[string]bool{}
	l.mark = control.NewMark(control.Holds, 18)
	l.head = control.NewText("", control.TitleSize, true, look.Ink).AtLeast(findingRoom - 28)
	l.said = control.Faint("").AtLeast(findingRoom - 28)
	head := control.Row(9, l.mark, control.Stack(0, control.Tall(22, l.head), l.said))
	l.scroll = container.NewVScroll(control.Inset(12, 2, 12, 14, l.rows))
	l.object = control.Wide(findingsWide, control.Compact(container.NewBorder(control.Inset(12, 12, 12, 8, head), nil, nil, nil, l.scroll)))
	return l
}

// group is a level of findings in the list.
type findingGroup struct {
	level control.Level
	// name is what folds it, empty for one that is always open.
	name  string
	title string
	list  []draft.Finding
}

// The groups that are more than a level of findings.
const (
	groupUnsewn = "unsewn"
	groupWaived = "waived"
)

// groupsOf sorts findings into groups. Before all others comes what is sewn to nothing: of
// seams that are not there nothing can be found. Then come the gravest first, and what the
// maker lives with is the last.
func groupsOf(findings []draft.Finding) []findingGroup {
	groups := []findingGroup{
		{level: control.LookAgain, name: groupUnsewn},
		{level: control.Problem, title: "problem"}, {level: control.LookAgain, title: "to look at"},
		{level: control.Note, name: "notes", title: "note"}, {level: control.Holds, name: groupWaived, title: "you live with"},
	}
	for _, f := range findings {
		i := 4
		switch {
		case f.Open() && tellsUnsewn(f):
			i = 0
		case f.Open():
			i = 1 + int(f.Level)
		}
		groups[i].list = append(groups[i].list, f)
	}
	return groups
}

// tellsUnsewn reports whether a finding tells of edges that are sewn to nothing.
func tellsUnsewn(f draft.Finding) bool { return strings.HasSuffix(f.Key, "/partners") }

// unsewn returns how many edges are sewn to nothing, without those that the maker lives with.
func (l *findingList) unsewn(findings []draft.Finding) int {
	told := map[draft.ID]bool{}
	for _, f := range findings {
		if f.Open() && tellsUnsewn(f) {
			told[f.Piece] = true
		}
	}
	n := 0
	for _, e := range edgesWithoutPartner(l.t.desk.Project()) {
		if told[e.Piece] {
			n++
		}
	}
	return n
}

// unsewnWords says how many edges are sewn to nothing.
func unsewnWords(n int) string {
	if n == 1 {
		return "1 edge is sewn to nothing"
	}
	return strconv.Itoa(n) + " edges are sewn to nothing"
}

// heading names the group with how many there are.
func (g findingGroup) heading() string {
	switch g.title {
	case "problem", "note":
		return wording.Count(len(g.list), g.title)
	}
	return strconv.Itoa(len(g.list)) + " " + g.title
}

// update shows what the checks say now.
func (l *findingList) update() {
	findings := l.t.desk.Report().Findings
	l.keepChosen(findings)
	unsewn := l.unsewn(findings)
	l.sum(unsewn)
	cards := make(map[string]*findingCard, len(l.cards))
	var rows []fyne.CanvasObject
	var shown []string
	add := func(key string, o fyne.CanvasObject) {
		rows, shown = append(rows, o), append(shown, key)
	}
	for _, g := range groupsOf(findings) {
		if len(g.list) == 0 {
			continue
		}
		unfolded := g.name == "" || l.open[g.name] || g.name == "notes" && len(g.list) <= fewNotes
		if g.name == groupUnsewn {
			add(unsewnWords(unsewn)+fold(unfolded), l.unsewnHead(g, unsewn, unfolded))
		} else {
			add("group "+g.heading()+fold(unfolded), l.groupHead(g, unfolded))
		}
		for i, f := range g.list {
			if !unfolded && f.Key != l.chosen {
				continue
			}
			if i >= mostCards && !l.all[g.title] && f.Key != l.chosen {
				add("more "+g.heading(), l.more(g, len(g.list)-i))
				break
			}
			c := l.card(f)
			cards[f.Key] = c
			add(c.key, c.object)
		}
	}
	l.cards = cards
	l.put(rows, shown)
}

// put lists the rows. Where one has taken the place of another of the same height, as at
// every step of a drag, that one alone is drawn anew.
func (l *findingList) put(rows []fyne.CanvasObject, shown []string) {
	if slices.Equal(shown, l.shown) {
		return
	}
	before := l.rows.Objects
	l.shown, l.rows.Objects = shown, rows
	if !sameHeights(before, rows) {
		l.scroll.Refresh()
		return
	}
	for i, o := range rows {
		if was := before[i]; o != was {
			o.Move(was.Position())
			o.Resize(was.Size())
			o.Refresh()
		}
	}
}

// sameHeights reports whether as many rows of the same heights have taken the place of
// others.
func sameHeights(before, after []fyne.CanvasObject) bool {
	return slices.EqualFunc(before, after, func(a, b fyne.CanvasObject) bool {
		return a == b || a.Size().Height == b.MinSize().Height
	})
}

func fold(open bool) string {
	if open {
		return " open"
	}
	return " folded"
}

// keepChosen takes the first problem in hand where the one that was is gone: mended, it
// gives way to the next.
func (l *findingList) keepChosen(findings []draft.Finding) {
	first := ""
	for _, f := range findings {
		if f.Key == l.chosen {
			return
		}
		if first == "" && f.Open() && f.Level != draft.Remark {
			first = f.Key
		}
	}
	l.chosen = first
}

// sum says at the head how the checks stand.
func (l *findingList) sum(unsewn int) {
	n := l.t.desk.Count("")
	switch {
	case unsewn > 0 && n.Problems == 0:
		l.mark.Put(control.LookAgain)
		l.head.Set(unsewnWords(unsewn))
		l.said.Set("No problems in what is sewn")
		if n.LookAgain > 0 {
			l.said.Set("No problems in the rest, " + strconv.Itoa(n.LookAgain) + " to look at")
		}
	case n.Problems > 0:
		l.mark.Put(control.Problem)
		l.head.Set(wording.Count(n.Problems, "problem") + " to mend")
		l.said.Set("Before cloth is cut")
	case n.LookAgain > 0:
		l.mark.Put(control.LookAgain)
		l.head.Set("No problems, " + strconv.Itoa(n.LookAgain) + " to look at")
		l.said.Set("Probably not meant, but it can be sewn")
	default:
		l.mark.Put(control.Holds)
		l.head.Set("Everything holds")
		l.said.Set("The checks find nothing to mend")
	}
	if len(l.t.desk.Project().Pieces) == 0 {
		l.mark.Put(control.Note)
		l.head.Set("Nothing to check yet")
		l.said.Set("Draft, trace or draw the pieces first")
	}
}

// groupHead names a group; pressed, it folds it or unfolds it.
func (l *findingList) groupHead(g findingGroup, unfolded bool) fyne.CanvasObject {
	text := control.NewText(g.heading(), 12.5, true, g.level.Colour())
	if g.name == groupWaived {
		text.SetColour(look.Faint)
	}
	if g.name == "" {
		return control.Inset(0, 4, 0, 0, text)
	}
	word := "Show"
	if unfolded {
		word = "Hide"
	}
	return control.Inset(0, 4, 0, 0, control.Row(8, text, control.Spring(), l.folds(g, unfolded, word)))
}

// folds is the button that folds a group or unfolds it.
func (l *findingList) folds(g findingGroup, unfolded bool, word string) fyne.CanvasObject {
	return control.NewButton(control.SmallShape, "", word, word+" these", func() {
		l.open[g.name] = !unfolded
		if unfolded && slices.ContainsFunc(g.list, func(f draft.Finding) bool { return f.Key == l.chosen }) {
			l.t.trial.drop()
			l.chosen = "" // it goes with the others
		}
		l.update()
	})
}

// unsewnHead says how many edges are sewn to nothing, and leads to whom they can be sewn;
// pressed, the piece by piece is folded or unfolded.
func (l *findingList) unsewnHead(g findingGroup, n int, unfolded bool) fyne.CanvasObject {
	word := "By piece"
	if unfolded {
		word = "Fold"
	}
	sew := control.NewButton(control.SmallShape, "seam", "Sew them…", "List these edges, with the seams that suggest themselves", l.t.ShowUnsewn)
	says := "Of seams that are not there nothing can be found. Sew them, or say what they are: hem, casing or raw."
	return control.Told(control.LookAgain, unsewnWords(n), says, findingRoom, "List these edges, with the seams that suggest themselves", l.t.ShowUnsewn, l.folds(g, unfolded, word), sew)
}

// more offers the findings of a group that are not shown.
func (l *findingList) more(g findingGroup, n int) fyne.CanvasObject {
	b := control.NewButton(control.QuietShape, "", "Show "+strconv.Itoa(n)+" more", "Show the rest of them", func() {
		l.all[g.title] = true
		l.update()
	})
	return control.Row(0, control.Spring(), b)
}

// choose takes a finding in hand, and shows its place where that is asked for.
func (l *findingList) choose(key string, place bool) {
	l.t.trial.drop()
	l.chosen = key
	l.update()
	l.bring()
	for _, f := range l.t.desk.Report().Findings {
		if f.Key != key {
			continue
		}
		if place {
			l.t.show(f)
		}
		if f.Seam != "" {
			l.t.seams.choose(f.Seam, false)
		}
	}
}

// bring scrolls the finding in hand into sight.
func (l *findingList) bring() {
	c := l.cards[l.chosen]
	if c == nil {
		return
	}
	top := c.object.Position().Y
	high, room := c.object.Size().Height, l.scroll.Size().Height
	at := l.scroll.Offset.Y
	switch {
	case top < at || high > room:
		at = top
	case top+high > at+room-bringClear:
		at = top + high - room + bringClear
	default:
		return
	}
	l.scroll.Offset.Y = max(at, 0)
	l.scroll.Refresh()
}

// bringClear is what stays free under a finding that is brought into sight, in screen
// units.
const bringClear = 16

// card returns the card of a finding, the one from before where it would look the same.
func (l *findingList) card(f draft.Finding) *findingCard {
	key := keyOf(f, f.Key == l.chosen)
	if c := l.cards[f.Key]; c != nil && c.key == key {
		return c
	}
	return newFindingCard(l, f, key)
}

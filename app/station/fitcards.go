package station

import (
	"cmp"
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"hemlet/app/control"
	"hemlet/app/look"
	"hemlet/draft"
)

// FitCard is something that is told in the last step of Fit, with what can be done about it.
type FitCard struct {
	// Key tells it apart from a card that would look otherwise.
	Key string
	// Level is the mark that it bears.
	Level       control.Level
	Title, Says string
	// Hint is told while it is pointed at, empty for its title.
	Hint string
	// Low cards have a line for their title alone, so that many are in sight.
	Low bool
	// Mends are tried on the bench while they are looked at, and done when they are pressed.
	Mends []draft.Mend
	// Show, where not nil, shows its place on the bench when the card is pressed.
	Show func()
	// More, where not nil, are controls of its own under what it says, at most as wide as
	// FitCardRoom.
	More fyne.CanvasObject
}

// FitCardRoom is how wide what lies on a card may be, in screen units.
const FitCardRoom = fitRoom - 2*11

// FitSection is a part of the last step of Fit under a heading that folds: alterations,
// advice on scale, notes of the toile.
type FitSection struct {
	Title string
	// Open says that it is unfolded until somebody folds it.
	Open bool
	// Lead, where not nil, says once what holds of all its cards.
	Lead func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) string
	// Cards returns what the section tells. fit is nil where the pattern is not fitted.
	Cards func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) []FitCard
}

// AddSection adds a part to the last step, under those that are there.
func (f *Fitting) AddSection(s FitSection) {
	f.see.sections = append(f.see.sections, newSectionView(f, s))
	f.see.listSections()
}

// sectionView shows a section.
type sectionView struct {
	f      *Fitting
	s      FitSection
	object *fyne.Container
	head   *foldHead
	lead   *control.Prose
	cards  *fyne.Container
	shown  string
}

func newSectionView(f *Fitting, s FitSection) *sectionView {
	v := &sectionView{f: f, s: s}
	v.head = newFoldHead(s.Title, s.Open, v.turned)
	v.lead = control.NewProse("", 11.5, false, look.Faint, fitRoom)
	v.cards = control.Stack(7)
	v.object = control.Stack(4, v.head.card, v.lead, v.cards)
	return v
}

// turned shows the section opened or folded. Opened, it begins at the top: what it holds
// would lie below what is in sight.
func (v *sectionView) turned() {
	v.f.mends.drop()
	v.f.table.putDown()
	v.update()
	v.f.toTop(v.object, v.head.open)
}

// toTop has an object of the panel begin at its top where it was opened.
func (f *Fitting) toTop(o fyne.CanvasObject, opened bool) {
	f.scroll.Refresh()
	if opened {
		driver := fyne.CurrentApp().Driver()
		down := driver.AbsolutePositionForObject(o).Y - driver.AbsolutePositionForObject(f.scroll.Content).Y
		f.scroll.ScrollToOffset(fyne.NewPos(0, down))
	}
}

// update shows what the section tells now.
func (v *sectionView) update() {
	var cards []FitCard
	if v.s.Cards != nil {
		cards = v.s.Cards(v.f.desk.Project(), v.f.desk.Slots(), v.f.fit())
	}
	show(v.object, len(cards) > 0)
	show(v.cards, v.head.open)
	v.head.count.Set(count(len(cards)))
	lead := ""
	if v.head.open && v.s.Lead != nil && len(cards) > 0 {
		lead = v.s.Lead(v.f.desk.Project(), v.f.desk.Slots(), v.f.fit())
	}
	v.lead.Put(lead)
	show(v.lead, lead != "")
	if !v.head.open {
		cards = nil // which nobody sees
	}
	key := ""
	for _, c := range cards {
		key += strings.Join([]string{c.Key, c.Title, c.Says, c.Level.Icon(), fmt.Sprint(c.Mends)}, "|") + "\n"
	}
	if key == v.shown {
		return
	}
	v.shown = key
	v.cards.Objects = nil
	for _, c := range cards {
		v.cards.Add(v.card(c))
	}
	v.cards.Refresh()
	v.f.left.Refresh() // so that new fields take the size of those of a panel
}

// deedsOwner is a card that offers deeds.
type deedsOwner struct {
	v    *sectionView
	card string
}

func (v *sectionView) card(c FitCard) fyne.CanvasObject {
	const pad, mark = 11, 16
	if c.Low {
		title := control.NewText(c.Title, 12.5, false, look.Ink).AtLeast(FitCardRoom)
		return control.NewCard(control.Inset(pad, 5, pad, 5, title), cmp.Or(c.Hint, c.Title), c.Show)
	}
	lines := control.Stack(2, control.NewProse(c.Title, 12.5, true, look.Ink, FitCardRoom-mark-8))
	if c.Says != "" {
		lines.Add(control.NewProse(c.Says, 11.5, false, look.Faint, FitCardRoom-mark-8))
	}
	rows := control.Stack(7, container.NewBorder(nil, nil, container.NewVBox(control.Inset(0, 1, 4, 0, control.NewMark(c.Level, mark))), nil, lines))
	if c.More != nil {
		rows.Add(c.More)
	}
	if len(c.Mends) > 0 {
		rows.Add(v.f.mends.newDeeds(deedsOwner{v, c.Key + c.Title}, deedsOf(c.Mends), FitCardRoom, ""))
	}
	return control.NewCard(control.Inset(pad, 8, pad, 9, rows), cmp.Or(c.Hint, c.Title), c.Show)
}

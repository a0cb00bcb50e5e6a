package station

import (
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
	title  *control.Text
	count  *control.Text
	sign   *control.Text
	cards  *fyne.Container
	open   bool
	shown  string
}

func newSectionView(f *Fitting, s FitSection) *sectionView {
	v := &sectionView{f: f, s: s}
	v.title = control.NewText(s.Title, 12.5, true, look.Ink)
	v.count = control.Faint("")
	v.sign = control.NewText("▸", 12, false, look.Faint)
	head := control.NewCard(control.Inset(2, 4, 2, 4, control.Row(7, v.sign, v.title, control.Spring(), v.count)), "Show or fold: "+s.Title, v.turn).Coloured(look.Paper, look.Paper)
	v.cards = control.Stack(7)
	v.object = control.Stack(4, head, v.cards)
	return v
}

// turn opens the section or folds it. Opened, it begins at the top: what it holds would lie
// below what is in sight.
func (v *sectionView) turn() {
	v.f.mends.drop()
	v.open = !v.open
	v.update()
	scroll := v.f.scroll
	scroll.Refresh()
	if v.open {
		driver := fyne.CurrentApp().Driver()
		down := driver.AbsolutePositionForObject(v.object).Y - driver.AbsolutePositionForObject(scroll.Content).Y
		scroll.ScrollToOffset(fyne.NewPos(0, down))
	}
}

// update shows what the section tells now.
func (v *sectionView) update() {
	var cards []FitCard
	if v.s.Cards != nil {
		cards = v.s.Cards(v.f.desk.Project(), v.f.desk.Slots(), v.f.fit())
	}
	show(v.object, len(cards) > 0)
	show(v.cards, v.open)
	v.sign.Set(map[bool]string{false: "▸", true: "▾"}[v.open])
	v.count.Set(count(len(cards)))
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
	v.f.scroll.Refresh()
}

// deedsOwner is a card that offers deeds.
type deedsOwner struct {
	v    *sectionView
	card string
}

func (v *sectionView) card(c FitCard) fyne.CanvasObject {
	const pad, mark = 11, 16
	lines := control.Stack(2, control.NewProse(c.Title, 12.5, true, look.Ink, FitCardRoom-mark-8))
	if c.Says != "" {
		lines.Add(control.NewProse(c.Says, 11.5, false, look.Faint, FitCardRoom-mark-8))
	}
	rows := control.Stack(7, container.NewBorder(nil, nil, container.NewVBox(control.Inset(0, 1, 4, 0, control.NewMark(c.Level, mark))), nil, lines))
	if c.More != nil {
		rows.Add(c.More)
	}
	if len(c.Mends) > 0 {
		rows.Add(v.f.mends.newDeeds(deedsOwner{v, c.Key + c.Title}, deedsOf(c.Mends), FitCardRoom))
	}
	return control.NewCard(control.Inset(pad, 8, pad, 9, rows), c.Title, c.Show)
}

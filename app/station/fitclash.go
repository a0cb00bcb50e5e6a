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

// clashKey tells apart what is told and offered.
func clashKey(list []draft.Contradiction) string {
	var key strings.Builder
	for _, c := range list {
		fmt.Fprintln(&key, c.Says)
		for _, w := range c.Ways {
			fmt.Fprintln(&key, w.Stretch, w.Free)
			if w.Weigh != nil {
				fmt.Fprintln(&key, *w.Weigh)
			}
		}
	}
	return key.String()
}

// clashCard tells what cannot be had together, with buttons for each stretch that pulls: to
// have it count more, and to want nothing of it.
func (s *fitSee) clashCard(c draft.Contradiction) fyne.CanvasObject {
	const pad, mark = 11, 16
	const inner = FitCardRoom - mark - 12 // which the mark and the room beside it take as well
	lines := control.Stack(2,
		control.NewProse("Not all can be had", 12.5, true, look.PinText, inner),
		control.NewProse(inShort(c.Says, mostSaid), 11.5, false, look.PinText, inner))
	rows := control.Stack(6, container.NewBorder(nil, nil, nil, container.NewVBox(control.Inset(8, 1, 0, 0, control.NewMark(control.Problem, mark))), lines))
	if len(c.Ways) > 0 {
		says := control.NewProse(deedsAtRest, 11.5, false, look.Faint, FitCardRoom)
		for _, w := range c.Ways {
			rows.Add(s.clashWay(w, says))
		}
		rows.Add(control.NewKept(says).Object())
	}
	return control.NewCard(control.Inset(pad, 8, pad, 9, rows), "", nil).Coloured(control.Problem.Ground(), control.Problem.Rim())
}

// clashWay is the buttons of one stretch under its name. What they do is told in says.
func (s *fitSee) clashWay(w draft.ClashWay, says *control.Prose) fyne.CanvasObject {
	var cards []fyne.CanvasObject
	add := func(m draft.Mend, title, hint string) {
		d := deedOf(m)
		d.title, d.hint = title, hint
		cards = append(cards, s.f.mends.newTerse(d, says, deedsAtRest).card)
	}
	if w.Weigh != nil {
		add(*w.Weigh, "More weight", "Let it count ten times as much as now: it comes nearer to what is wanted, and the others come less near")
	}
	add(w.Free, "Set free", "Ask no length of it any more: it becomes what the others make of it")
	name := control.NewText(w.Stretch, 12, true, look.Ink).AtLeast(FitCardRoom)
	return control.Stack(3, name, control.Row(6, cards...))
}

package station

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/inspect"
	"hemlet/draft"
)

// scaleSection lists what no longer makes sense at the size that the pattern has come to:
// each with the rule that it goes by, and with the figure that is proposed to be changed.
func (f *Fitting) scaleSection() FitSection {
	other := map[string]float64{} // figures that were typed in the place of those proposed
	cards := func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) []FitCard {
		if fit == nil {
			return nil
		}
		var out []FitCard
		for _, a := range slots.ScaleAdvice(p, fit.Derivation.ID) {
			if !a.Open() {
				continue
			}
			amount, changed := other[a.Key]
			if !changed {
				amount = a.Amount
			}
			c := FitCard{Key: fmt.Sprint(a.Key, amount, p.Unit), Level: inspect.LevelOf(a.Level), Mends: a.With(amount)}
			c.Title, c.Says = headed(withoutWhom(a))
			c.Hint = a.Why
			if a.Adjust != "" {
				c.More = f.adjusting(a, amount, func(amount float64) {
					other[a.Key] = amount
					f.Update()
				})
			}
			if refs := f.desk.Place(a.Finding); len(refs) > 0 {
				c.Show = func() { f.ways.Pick(refs...) }
			}
			out = append(out, c)
		}
		return out
	}
	lead := func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) string {
		for _, a := range slots.ScaleAdvice(p, fit.Derivation.ID) {
			if a.Whom != "" {
				return "For " + a.Whom + ":"
			}
		}
		return ""
	}
	return FitSection{Title: "At this size", Lead: lead, Cards: cards}
}

// withoutWhom returns what an advice says without whom it is for, which is said once above
// all of them.
func withoutWhom(a draft.Advice) string {
	before, after, ok := strings.Cut(a.Says, "For "+a.Whom+", ")
	if !ok || a.Whom == "" {
		return a.Says
	}
	return before + sentence(after)
}

// headed parts what an advice says into its first sentence, which heads it, and the rest.
func headed(says string) (title, rest string) {
	title, rest, _ = strings.Cut(says, ". ")
	return strings.TrimSuffix(title, ".") + ".", strings.TrimSpace(rest)
}

// adjustWide is the width of the field of a figure that is proposed, in screen units.
const adjustWide = 84

// adjusting is the field of the figure that an advice proposes.
func (f *Fitting) adjusting(a draft.Advice, amount float64, set func(float64)) fyne.CanvasObject {
	u := f.desk.Project().Unit
	field := control.NewField("Another figure than the one that is proposed", func(text string) error {
		if a.Ratio {
			x, err := draft.ParseNumber(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), "×")))
			if err == nil {
				set(x)
			}
			return err
		}
		mm, err := u.Parse(text)
		if err == nil {
			set(mm)
		}
		return err
	})
	field.Put(u.Format(amount))
	if a.Ratio {
		field.Put(fmt.Sprintf("× %.3g", amount))
	}
	was := control.Faint("")
	switch now := u.Format(amount); {
	case a.Was == now: // another figure than this one is what changes
		was.Set("stays")
	case a.Was != "":
		was.Set("was " + a.Was + ", now")
	}
	return control.Row(8, was.AtLeast(FitCardRoom-adjustWide-8), control.Spring(), control.Wide(adjustWide, field.Object()))
}

// pieceList names pieces as acts read them.
func pieceList(ids []draft.ID) string {
	var list []string
	for _, id := range ids {
		list = append(list, `"`+string(id)+`"`)
	}
	return strings.Join(list, " + ")
}

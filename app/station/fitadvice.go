package station

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/inspect"
	"hemlet/app/look"
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
			c.Title, c.Says = headed(a.Says, a.Why)
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
	return FitSection{Title: "At this size", Cards: cards}
}

// headed parts what an advice says into its first sentence, which heads it, and the rest
// with the rule.
func headed(says, why string) (title, rest string) {
	title, rest, _ = strings.Cut(says, ". ")
	return strings.TrimSuffix(title, ".") + ".", strings.TrimSpace(rest + " " + why)
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
	if a.Was != "" {
		was.Set("was " + a.Was + ", now")
	}
	return control.Row(8, was.AtLeast(FitCardRoom-adjustWide-8), control.Spring(), control.Wide(adjustWide, field.Object()))
}

// alterSection offers the alterations of the trade: one is chosen and by how much, looked
// at on the bench and done.
func (f *Fitting) alterSection() FitSection {
	a := &altering{f: f, by: usualAlteration}
	return FitSection{Title: "The body is built otherwise", Cards: a.cards, Always: true}
}

// usualAlteration is the amount that is proposed, as a share of the bust: for a person about
// a size (common practice, no source).
const usualAlteration = 0.02

// altering is what is chosen of an alteration.
type altering struct {
	f    *Fitting
	what int
	// by is the amount as a share of the bust until one is typed, then in mm.
	by    float64
	typed bool
	less  bool
}

// amount returns the amount in mm, below 0 for less.
func (a *altering) amount() float64 {
	mm := a.by
	if !a.typed {
		mm = a.f.usualGirth() * usualAlteration
		step := a.f.desk.Project().Unit.Step()
		if mm > 10*step {
			step *= 5
		}
		mm = max(float64(int(mm/step+0.5))*step, step)
	}
	if a.less {
		return -mm
	}
	return mm
}

// usualGirth is the bust of the wearer, or of the body that the pattern was made for.
func (f *Fitting) usualGirth() float64 {
	const grown = 900 // mm, of a grown person, where nothing is known
	if w := f.wearer(); w != nil {
		if k, ok := f.desk.Slots().Body(w).Get("bust_girth"); ok {
			return k.Value
		}
	}
	return grown
}

// cards is the one card of the section.
func (a *altering) cards(p *draft.Project, _ *draft.Slots, _ *draft.FitState) []FitCard {
	pieces := a.f.scope.ids()
	if len(pieces) == 0 {
		return nil
	}
	all := draft.Alterations()
	info := all[a.what]
	by := a.amount()
	args := map[string]string{"what": info.What.String(), "by": mmText(by), "pieces": pieceList(pieces)}
	return []FitCard{{
		Key: fmt.Sprint(a.what, by, p.Unit, pieces), Level: control.Note, Title: info.Title, Says: info.Says,
		More:  a.controls(all),
		Mends: []draft.Mend{{Title: "Alter it: " + info.Reads(by, p.Unit), Act: "alter", Args: args}},
	}}
}

// pieceList names pieces as acts read them.
func pieceList(ids []draft.ID) string {
	var list []string
	for _, id := range ids {
		list = append(list, `"`+string(id)+`"`)
	}
	return strings.Join(list, " + ")
}

// controls are the choice of the alteration, whether the body has more or less, and by how
// much.
func (a *altering) controls(all []draft.AlterationInfo) fyne.CanvasObject {
	u := a.f.desk.Project().Unit
	info := all[a.what]
	var titles []string
	for _, x := range all {
		titles = append(titles, x.Title)
	}
	again := func() { a.f.Update() }
	what := control.NewChoice("Where the body is built otherwise", titles, func(i int) {
		a.what = i
		again()
	})
	what.Put(a.what)
	way := control.NewPill("More or less of it than the pattern was made for", []string{info.More, info.Less}, func(i int) {
		a.less = i == 1
		again()
	})
	if a.less {
		way.Put(1)
	}
	amount := a.amount()
	field := control.NewField(sentence(info.Asks), func(text string) error {
		mm, err := u.Parse(text)
		if err != nil {
			return err
		}
		if mm <= 0 {
			return fmt.Errorf("by how much, above 0")
		}
		a.by, a.typed = mm, true
		again()
		return nil
	})
	field.Put(u.Format(max(amount, -amount)))
	return control.Stack(6, what.Object(), control.Row(0, way),
		control.Row(8, control.Faint("By").AtLeast(30), control.Wide(adjustWide, field.Object())),
		control.NewProse(sentence(info.Asks)+".", 11.5, false, look.Faint, FitCardRoom))
}

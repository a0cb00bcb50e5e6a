package station

import (
	"hemlet/app/control"
	"hemlet/draft"
)

// Alterations is the part of the last step of Fit that lists what the trade alters for a
// body that is built otherwise in one place, as far as the garment has what it takes.
// A pressed card calls take with a piece of the garment that is fitted, or none.
func Alterations(take func(what draft.Alteration, piece draft.ID)) FitSection {
	return FitSection{
		Title: "Alter for the body",
		Cards: func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) []FitCard {
			var garment draft.ID
			if fit != nil && len(fit.Pieces) > 0 {
				garment = fit.Pieces[0].ID
			}
			var cards []FitCard
			for _, what := range slots.Alterable(p) {
				info := what.Info()
				cards = append(cards, FitCard{
					Key: what.String() + string(garment), Level: control.Note, Title: info.Title, Hint: info.Says,
					Low:  true,
					Show: func() { take(what, garment) },
				})
			}
			return cards
		},
	}
}

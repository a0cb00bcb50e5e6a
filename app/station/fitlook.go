package station

import (
	"hemlet/app/inspect"
	"hemlet/draft"
)

// lookSection tells what is to be looked at of the fitted pattern, with what mends it: here,
// where the fit is seen, and not only where all is trued.
func (f *Fitting) lookSection() FitSection {
	cards := func(p *draft.Project, slots *draft.Slots, fit *draft.FitState) []FitCard {
		if fit == nil {
			return nil
		}
		var out []FitCard
		for _, finding := range slots.FitFindings(p, fit.Derivation.ID) {
			c := FitCard{Key: finding.Key, Level: inspect.LevelOf(finding.Level), Mends: finding.Mends}
			c.Title, c.Says = headed(finding.Says)
			if refs := f.desk.Place(finding); len(refs) > 0 {
				c.Show = func() { f.ways.Pick(refs...) }
			}
			out = append(out, c)
		}
		return out
	}
	return FitSection{Title: "Of the fit itself", Open: true, Cards: cards}
}

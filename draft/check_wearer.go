package draft

import (
	"slices"

	"hemlet/draft/body"
)

// checkWearers tells what looks like a slip of the tape or of the pen.
func (s *Slots) checkWearers(p *Project) []Finding {
	var out []Finding
	for _, w := range p.Wearers {
		out = append(out, slotOf(s, "slips", w.ID, slotInputs{w, p.Unit}, func() []Finding {
			var list []Finding
			for _, slip := range body.Slips(w.Given(), p.Unit.Format) {
				f := Finding{
					Key: "wearer/" + string(w.ID) + "/" + slip.Key, Level: named(gravityNames, slip.Level),
					About: labelOf(w.Name, w.ID), Says: slip.Says, Wearer: w.ID, Measures: slip.Measures,
				}
				f.mendShared(w, slip, p.Unit)
				for _, name := range slip.Measures {
					if slices.ContainsFunc(w.Measures, func(m Measure) bool { return m.Name == name }) {
						f.mend("Forget "+body.Words(name)+" and estimate it", "clear-measure", "wearer", string(w.ID), "name", name)
					}
				}
				list = append(list, f)
			}
			return list
		})...)
	}
	return out
}

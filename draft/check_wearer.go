package draft

import "hemlet/draft/body"

// checkWearers tells what looks like a slip of the tape or of the pen.
func (s *Slots) checkWearers(p *Project) []Finding {
	var out []Finding
	for _, w := range p.Wearers {
		out = append(out, slotOf(s, "slips", w.ID, slotInputs{w, p.Unit}, func() []Finding {
			var list []Finding
			for _, slip := range body.Slips(w.Given(), p.Unit.Format) {
				list = append(list, Finding{
					Key: "wearer/" + string(w.ID) + "/" + slip.Key, Level: named(gravityNames, slip.Level),
					About: labelOf(w.Name, w.ID), Says: slip.Says, Wearer: w.ID, Measures: slip.Measures,
				})
			}
			return list
		})...)
	}
	return out
}

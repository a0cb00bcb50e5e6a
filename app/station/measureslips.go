package station

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"hemlet/app/control"
	"hemlet/app/wording"
	"hemlet/draft"
	"hemlet/draft/body"
)

// slipsOf returns what looks wrong in the measures of a wearer.
func slipsOf(w *draft.Wearer, unit draft.Unit) []body.Slip {
	return body.Slips(w.Given(), unit.Format)
}

// slipsAbout returns those slips in which the measure takes part.
func slipsAbout(slips []body.Slip, name string) []body.Slip {
	var out []body.Slip
	for _, s := range slips {
		if slices.Contains(s.Measures, name) {
			out = append(out, s)
		}
	}
	return out
}

// levelOfSlip returns the level of a slip as controls show it.
func levelOfSlip(s body.Slip) control.Level {
	switch s.Level {
	case body.Problem:
		return control.Problem
	case body.LookAgain:
		return control.LookAgain
	default:
		return control.Note
	}
}

// worst returns the level of the worst of the slips.
func worst(slips []body.Slip) control.Level {
	level := control.Holds
	for _, s := range slips {
		level = max(level, levelOfSlip(s))
	}
	return level
}

// slipCard says a slip in words, with buttons that put what it suggests.
func (f *measureForm) slipCard(s body.Slip) fyne.CanvasObject {
	unit := f.m.desk.Project().Unit
	var deeds []fyne.CanvasObject
	for _, name := range s.Measures {
		mm, ok := s.Suggest[name]
		if !ok {
			continue
		}
		word := "Put " + unit.Format(mm)
		if len(s.Suggest) > 1 {
			word += " there"
		}
		deeds = append(deeds, control.NewButton(control.SmallShape, "", word, "Put "+unit.Format(mm)+" for: "+body.Words(name), func() {
			run(f.m, draft.SetMeasure, draft.SetMeasureArgs{Wearer: f.ref(), Name: name, Value: draft.Length(mm)})
		}))
	}
	if d := f.sharing(s); d != nil {
		deeds = append(deeds, d)
	}
	level := levelOfSlip(s)
	return control.Told(level, wording.Sentence(level.Word()), s.Says, measureRoom, "", nil, deeds...)
}

// sharing is the other way out where front and back do not come to the girth: they share it.
func (f *measureForm) sharing(s body.Slip) fyne.CanvasObject {
	unit := f.m.desk.Project().Unit
	w := f.m.Wearer()
	for _, l := range w.Levels {
		front, back, ok := w.SharedArcs(l.Name, unit)
		if _, meant := s.Or[body.ArcFrontOf(l.Name)]; !ok || !meant {
			continue
		}
		hint := fmt.Sprintf("Front and back share it as they do now: %s and %s", unit.Format(front), unit.Format(back))
		return control.NewButton(control.SmallShape, "", "Share "+unit.Format(front+back), hint, func() {
			a, b := draft.Length(front), draft.Length(back)
			run(f.m, draft.SetLevel, draft.SetLevelArgs{Wearer: f.ref(), Name: l.Name, Front: &a, Back: &b})
		})
	}
	return nil
}

package draft

import (
	"fmt"

	"hemlet/draft/body"
)

// SetMeasureArgs are the arguments of SetMeasure.
type SetMeasureArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the name of the measure: belly_girth"`
	Value  Length    `arg:"value" says:"what was measured"`
}

// SetMeasure notes a measure of a wearer. The height and the arcs of a level
// (belly_height, belly_arc_front, belly_arc_back) are kept with the level. A girth and its
// two arcs that agreed go along with one another. Pieces
// that were drafted from the measure are drawn anew.
var SetMeasure = register(Info{
	Name: "set-measure", Title: "Set a measure", Group: groupWearers,
	Says: "Notes a measure of a wearer; what was drafted from it is drawn anew.",
}, func(p *Project, a SetMeasureArgs) (Outcome, error) {
	mm, err := p.measure(float64(a.Value))
	if err != nil {
		return Outcome{}, err
	}
	var along []string
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := w.measureName(a.Name)
		if err != nil {
			return err
		}
		was := w.clone()
		w.setFigure(name, mm)
		along = w.goAlong(was, p.Unit)
		return nil
	})
	out.sayMeasured(p, a.Wearer, along)
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

// measure returns a measured length on the grid, or says why it is none.
func (p *Project) measure(mm float64) (float64, error) {
	mm = toGrid(mm)
	if !(mm > 0 && mm <= MaxCoordinate) {
		return 0, fmt.Errorf("a measure is more than 0 and at most 100 m, and cannot be %s; clear what was not measured", p.Unit.Format(mm))
	}
	return mm, nil
}

// measureName returns the name of a measure that the wearer has, as it is written
// or as it is kept; else the name as a new one is kept.
func (w *Wearer) measureName(text string) (string, error) {
	if w.measureIndex(text) >= 0 {
		return text, nil
	}
	return MeasureName(text)
}

// measureName returns the name of a measure that a wearer of the project has, as it is
// written or as it is kept; else the name as a new one is kept.
func (p *Project) measureName(text string) (string, error) {
	for _, w := range p.Wearers {
		if w.measureIndex(text) >= 0 {
			return text, nil
		}
	}
	return MeasureName(text)
}

// measureSubject names a measure in the history, by the words that people use.
func measureSubject(wearer, name string) string {
	if wearer == "" {
		return ""
	}
	return wearer + ", " + body.Words(name)
}

// ClearMeasureArgs are the arguments of ClearMeasure.
type ClearMeasureArgs struct {
	Wearer WearerRef `arg:"wearer" says:"the wearer"`
	Name   string    `arg:"name" says:"the name of the measure"`
}

// ClearMeasure forgets a measure, so that it is estimated from the others again.
var ClearMeasure = register(Info{
	Name: "clear-measure", Title: "Clear a measure", Group: groupWearers,
	Says: "Forgets a measure, so that it is estimated from the others.",
}, func(p *Project, a ClearMeasureArgs) (Outcome, error) {
	out, err := onWearer(p, a.Wearer, func(w *Wearer) error {
		name, err := w.measureName(a.Name)
		if err != nil {
			return err
		}
		if _, known := w.Given()[name]; !known && w.measureIndex(name) < 0 {
			return fmt.Errorf("%s has no measure %q", labelOf(w.Name, w.ID), name)
		}
		w.setFigure(name, 0)
		return nil
	})
	out.subject = measureSubject(out.subject, a.Name)
	return out, err
})

package draft

import (
	"fmt"
	"math"

	"hemlet/draft/body"
)

// A girth and the two arcs of which it is made say the same of a body twice. Where they
// agreed, one of them that is measured anew takes the others along: else what reads the arcs
// would stay as it was when a belly has grown, and what reads the girth when the arcs have.

// goAlong has the girths and arcs of a wearer that may be written to go along with those that
// have changed since was, and returns in sentences which did. Arcs share a new girth as they
// shared the old one; new arcs change the girth by as much as they change together. What did
// not agree before is left to whoever measured it.
func (w *Wearer) goAlong(was *Wearer, unit Unit) []string {
	var says []string
	for i := range w.Levels {
		l, old := &w.Levels[i], was.Level(w.Levels[i].Name)
		name := body.GirthOf(l.Name)
		k := w.measureIndex(name)
		before, given := was.Measure(name)
		if old == nil || k < 0 || !given || !l.arcsTaken() || !old.arcsTaken() || !body.ArcsAgree(before.Value, old.FrontArc, old.BackArc) {
			continue
		}
		girth := &w.Measures[k]
		by := toGrid(l.round() - old.round())
		switch {
		case by == 0 && girth.Value != before.Value && girth.Value != l.round():
			l.FrontArc, l.BackArc = sharedArcs(l.FrontArc, l.BackArc, toGrid(l.round()*girth.Value/before.Value), unit)
			says = append(says, fmt.Sprintf("Front and back share it as before: %s and %s.", unit.Format(l.FrontArc), unit.Format(l.BackArc)))
		case by != 0 && girth.Value == before.Value && before.Value+by > 0:
			girth.Value = toGrid(before.Value + by)
			says = append(says, fmt.Sprintf("The measure “%s” goes along: %s.", body.Words(name), unit.Format(girth.Value)))
		}
	}
	return says
}

// arcsTaken reports whether both arcs of a level are known.
func (l *Level) arcsTaken() bool { return l.FrontArc > 0 && l.BackArc > 0 }

// round returns what both arcs come to, in mm.
func (l *Level) round() float64 { return toGrid(l.FrontArc + l.BackArc) }

// sharedArcs returns how a front and a back arc share a way round in mm as they do now, the
// front as the unit shows lengths.
func sharedArcs(front, back, round float64, unit Unit) (float64, float64) {
	f := round * front / (front + back)
	if shown := math.Round(f/unit.Step()) * unit.Step(); shown > 0 && shown < round {
		f = shown
	}
	f = toGrid(f)
	return f, toGrid(round - f)
}

// mendShared hangs on a finding about a girth to which its arcs do not come both ways out:
// the girth as the arcs have it, and the arcs as the girth has it.
func (f *Finding) mendShared(w *Wearer, slip body.Slip, unit Unit) {
	if len(slip.Or) == 0 {
		return
	}
	for _, l := range w.Levels {
		front, back, ok := w.SharedArcs(l.Name, unit)
		if _, meant := slip.Or[body.ArcFrontOf(l.Name)]; !ok || !meant {
			continue
		}
		name := body.GirthOf(l.Name)
		f.mend("Let front and back share "+unit.Format(toGrid(front+back)), "set-level", "wearer", string(w.ID), "name", l.Name, "front", mmText(front), "back", mmText(back))
		f.mend(fmt.Sprintf("Put %s for: %s", unit.Format(l.round()), body.Words(name)), "set-measure", "wearer", string(w.ID), "name", name, "value", mmText(l.round()))
	}
}

// SharedArcs returns the arcs of a level in mm as they share the girth that was taken there,
// false where one of the three was not taken.
func (w *Wearer) SharedArcs(level string, unit Unit) (front, back float64, ok bool) {
	girth, given := w.Measure(body.GirthOf(level))
	l := w.Level(level)
	if l == nil || !given || !l.arcsTaken() {
		return 0, 0, false
	}
	front, back = sharedArcs(l.FrontArc, l.BackArc, girth.Value, unit)
	return front, back, true
}

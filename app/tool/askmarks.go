package tool

import (
	"hemlet/app/desk"
	"hemlet/geom"
)

// Marks implements Tool: what was taken glows, and at the pointer it says what is asked
// or what would be taken.
func (a *Asking) Marks() Marks {
	var m Marks
	project := a.hand.Desk.Project()
	for _, r := range a.refs() {
		if r.In(project) {
			m.Glow = append(m.Glow, r)
		}
	}
	m.PlateAt = a.at.At
	s, asking := a.now()
	switch {
	case a.drag != nil && a.drag.moved:
		m.Plate = a.plateOf(a.drag.param)
	case !asking:
	case a.stroke != nil:
		from, to := a.hand.strokeBegun(*a.stroke), a.hand.strokeEnd(*a.stroke, a.at)
		if to.Caught.Caught() {
			to.At, m.Caught = to.Caught.At, to.Caught
		}
		if first, last, err := a.hand.strokePlaces(*a.stroke, to); err == nil {
			from, to.At = first.at, last.at // what is cut, and nothing else
		}
		m.Tape = []geom.Point{from, to.At}
		m.Plate = project.Unit.Format(from.Dist(to.At))
	case s.Take == TakeDrawn && len(a.given()) > 0:
		for _, x := range a.given() {
			m.Tape = append(m.Tape, x.at)
		}
		m.Tape = append(m.Tape, a.at.At)
		m.Plate = "Enter ends the line"
	default:
		if !a.Ready() { // what may be left out does not follow the pointer about
			m.Plate = s.Says
		}
		if s.Take == TakePoint || s.Take == TakeSpot || s.Take == TakePlace || s.Take == TakeStroke {
			m.Caught = a.at.Caught
		}
		if x, ok := a.hand.take(s.Take, a.at); ok && s.Take != TakePoint && s.Take != TakeDrawn && !a.took(x) {
			m.Plate = x.words
		}
	}
	return m
}

// took reports whether a thing was given to some step already.
func (a *Asking) took(x taken) bool {
	for _, list := range a.got {
		for _, y := range list {
			if len(x.refs) > 0 && len(y.refs) > 0 && x.texts[0] == y.texts[0] {
				return true
			}
		}
	}
	return false
}

// plateOf says what a field holds.
func (a *Asking) plateOf(name string) string {
	for _, f := range a.Fields() {
		if f.Name == name {
			return f.Label + " " + a.Shown(f)
		}
	}
	return ""
}

// Takes implements Picky: only what the step asks for can be touched.
func (a *Asking) Takes() []desk.Kind {
	if s, asking := a.now(); asking {
		return s.Take.kinds()
	}
	if n := len(a.asked.Steps); n > 0 { // a click takes another
		return a.asked.Steps[n-1].Take.kinds()
	}
	return nil
}

// Cursor implements Pointed.
func (a *Asking) Cursor(p Pointer) Cursor {
	s, asking := a.now()
	switch {
	case asking && (s.Take == TakePoint || s.Take == TakeSpot || s.Take == TakeDrawn || s.Take == TakeStroke):
		return CrossCursor
	case asking && p.Hit.Kind != desk.Nothing:
		return PointCursor
	case !asking && a.length() != "":
		return AcrossCursor
	}
	return ArrowCursor
}

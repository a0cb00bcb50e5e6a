package desk

import "hemlet/draft"

// Try starts a gesture that shows what an act would make of the project until somebody
// decides about it. Unlike a drag it outlives the press of a button, so that anything
// else may be done to the document before: then it is taken back first.
func (d *Desk) Try() *Gesture {
	g := d.Begin()
	g.count = d.Count("")
	g.trial = true
	return g
}

// Trying reports whether the project as it stands is only tried.
func (d *Desk) Trying() bool { return d.gesture != nil && d.gesture.trial }

// Settled returns the project as it stands without what is only tried.
func (d *Desk) Settled() *draft.Project {
	if d.Trying() {
		return d.gesture.Start()
	}
	return d.Project()
}

// SettledCount returns how many open findings of each level that project has.
func (d *Desk) SettledCount() Count {
	if d.Trying() {
		return d.gesture.count
	}
	return d.Count("")
}

// DropTrial takes back what is only tried.
func (d *Desk) DropTrial() {
	if d.Trying() {
		d.gesture.Cancel()
	}
}

// Live reports whether the gesture is still under way.
func (g *Gesture) Live() bool { return g.live() }

// Take ends the gesture with what an act made of the project on which it began, and
// tells what the act did.
func (g *Gesture) Take(out draft.Outcome) {
	if !g.live() {
		return
	}
	before, wasDirty := g.Start(), g.desk.Dirty()
	g.trial = false // from here on it counts
	g.desk.turn(g.start.Do(out.Step, out.Project, ""), wasDirty)
	g.End()
	if g.desk.OnDone != nil {
		g.desk.OnDone(Done{before, out})
	}
}

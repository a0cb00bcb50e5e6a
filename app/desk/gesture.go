package desk

import "hemlet/draft"

// Gesture is a drag under way. Each move does its act anew on the project as it
// was when the drag began, so that nothing adds up on the way, and the whole of it
// is one step to undo. Whatever else changes the document, another one that is
// opened or a step that is undone, ends the gesture: from then on it does nothing.
type Gesture struct {
	desk  *Desk
	start draft.History
	// trial says that it waits for a decision; see Try.
	trial bool
	// count is that of the open findings when a trial began.
	count Count
}

// Begin starts a gesture on the project as it stands.
func (d *Desk) Begin() *Gesture {
	d.DropTrial()
	d.history = d.history.Seal()
	d.gesture = &Gesture{desk: d, start: d.history}
	return d.gesture
}

func (g *Gesture) live() bool { return g.desk.gesture == g }

// Start returns the project on which the gesture began.
func (g *Gesture) Start() *draft.Project { return g.start.Project() }

// Move does the act on the project on which the gesture began, in the place of
// what the gesture did before.
func Move[A any](g *Gesture, act *draft.Act[A], args A) error {
	out, err := act.Do(g.Start(), args)
	if err != nil {
		return err
	}
	g.Show(out.Step, out.Project)
	return nil
}

// Show puts the project in the place of what the gesture did before.
func (g *Gesture) Show(name string, p *draft.Project) {
	if g.live() {
		g.desk.turn(g.start.Do(name, p, ""), g.desk.Dirty())
	}
}

// End finishes the gesture.
func (g *Gesture) End() {
	if g.live() {
		g.desk.gesture = nil
		g.desk.settle()
	}
}

// Cancel takes back all that the gesture did, and what had been undone before it
// can be done again.
func (g *Gesture) Cancel() {
	if g.live() {
		g.desk.stand(g.start)
	}
}

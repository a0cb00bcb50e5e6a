package desk

import (
	"strconv"

	"hemlet/draft"
)

// Gesture is a drag under way. Each move does its act anew on the project as it
// was when the drag began, so that nothing adds up on the way, and the whole of it
// is one step to undo.
type Gesture struct {
	desk  *Desk
	start draft.History
	fold  string
}

var gestures int

// Begin starts a gesture on the project as it stands.
func (d *Desk) Begin() *Gesture {
	gestures++
	d.history = d.history.Seal()
	return &Gesture{desk: d, start: d.history, fold: "gesture " + strconv.Itoa(gestures)}
}

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
	g.desk.stand(g.start.Do(name, p, g.fold))
}

// End finishes the gesture.
func (g *Gesture) End() { g.desk.history = g.desk.history.Seal() }

// Cancel takes back all that the gesture did, and what had been undone before it
// can be done again.
func (g *Gesture) Cancel() { g.desk.stand(g.start) }

package tool

import (
	"strings"
	"testing"

	"hemlet/app/desk"
)

// Two edges that are clicked one after the other are the two sides of a seam; Shift gathers
// several on one side, and the card says how to go on.
func TestTwoClicksAreTwoSides(t *testing.T) {
	w := newWorkplace(t)
	a := w.takeUp(Sewing())
	w.click(a, 80, 30)
	if a.step != 1 {
		t.Fatalf("after one edge step %d is asked", a.step)
	}
	w.click(a, 100, 30)
	if !a.Ready() || len(w.Desk.Project().Seams) != 1 {
		t.Fatalf("two clicks show no seam: %v", a.Err())
	}
	if s := w.Desk.Project().Seams[0]; len(s.A) != 1 || len(s.B) != 1 {
		t.Errorf("it has %d edges on one side and %d on the other", len(s.A), len(s.B))
	}
	a.PutDown()

	a = w.takeUp(Sewing())
	w.clickWith(a, 40, 80, Keys{Shift: true})
	w.clickWith(a, 80, 30, Keys{Shift: true})
	if now := a.Steps()[0]; !now.Now || !strings.Contains(now.Says, "Enter") {
		t.Errorf("with two edges on a side the card says %q", now.Says)
	}
	a.Enter()
	w.click(a, 100, 30)
	if s := w.Desk.Project().Seams; !a.Ready() || len(s) != 1 || len(s[0].A) != 2 {
		t.Errorf("two edges on one side: %v", a.Err())
	}
}

// Of two edges that are picked when they are to be sewn each is a side.
func TestTwoPickedEdgesAreTwoSides(t *testing.T) {
	w := newWorkplace(t)
	p := w.Desk.Project()
	w.Desk.Pick(desk.EdgeRef(p.Pieces[0].ID, p.Pieces[0].Edges[1].ID), desk.EdgeRef(p.Pieces[1].ID, p.Pieces[1].Edges[3].ID))
	a := w.takeUp(Sewing())
	if s := w.Desk.Project().Seams; !a.Ready() || len(s) != 1 || len(s[0].A) != 1 || len(s[0].B) != 1 {
		t.Errorf("it shows %v: %v", s, a.Err())
	}
}

// Where a side takes edges until Enter, the first one says that.
func TestRunSaysHowToGoOn(t *testing.T) {
	w := newWorkplace(t)
	a := w.byKinds("link-seam")
	w.click(a, 80, 30)
	for _, says := range []string{a.Steps()[0].Says, a.Says()} {
		if !strings.Contains(says, "Enter") || !strings.Contains(says, "other side") {
			t.Errorf("after the first edge it says %q", says)
		}
	}
}

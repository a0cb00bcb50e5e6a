package tool

import (
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
)

// tailored returns a workplace with the front and back of the bodice drafted for Quill.
func tailored(t *testing.T) *workplace {
	w := newWorkplace(t)
	p := draft.New("winter show")
	do := func(name string, args map[string]string) {
		act, err := draft.ActNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		out, err := act.DoText(p, args)
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	do("add-wearer", map[string]string{"name": "Quill", "build": "wide"})
	for name, value := range map[string]string{"bust_girth": "231mm", "waist_girth": "238mm", "belly_girth": "262mm", "back_waist_length": "84mm"} {
		do("set-measure", map[string]string{"wearer": "Quill", "name": name, "value": value})
	}
	do("draft-block", map[string]string{"block": "bodice", "wearer": "Quill"})
	w.Desk.Open(p, "")
	return w
}

// Each alteration is shown as soon as it is taken up where the garment is the only one, is
// one step to undo, and asks for an amount in words of the body.
func TestAlterationsWorkAtOnce(t *testing.T) {
	w := tailored(t)
	able := draft.NewSlots().Alterable(w.Desk.Project())
	if len(able) != 8 {
		t.Errorf("a front and a back can be altered in %d ways: %v", len(able), able)
	}
	for _, what := range able {
		t.Run(what.String(), func(t *testing.T) {
			w := tailored(t)
			w.t = t
			before := w.Desk.Project()
			for _, asked := range []*Asked{Alteration(what, ""), Alteration(what, before.Pieces[0].ID)} {
				a := w.takeUp(asked)
				if !a.Ready() {
					t.Fatalf("it is not shown: %v (%s)", a.Err(), w.said)
				}
				f := a.Fields()
				if len(f) != 1 || f[0].Says == "" || a.Shown(f[0]) == "" {
					t.Fatalf("it asks for %+v", f)
				}
				if !a.Enter() || w.steps() != 1 || w.Desk.Trying() {
					t.Errorf("it is %d steps", w.steps())
				}
				w.Desk.Undo()
				if w.Desk.Project() != before {
					t.Error("undo does not lead back")
				}
			}
		})
	}
}

// Of two garments, the one is altered whose piece is clicked.
func TestAlterationOfTwoGarments(t *testing.T) {
	w := tailored(t)
	w.do("draft-block", map[string]string{"block": "bodice", "wearer": "Quill"})
	p := w.Desk.Project()
	a := w.takeUp(Alteration(draft.AlterBelly, ""))
	if a.Ready() {
		t.Fatal("it is shown, and nobody has said of which garment")
	}
	last := p.Pieces[len(p.Pieces)-1]
	at := last.Place.Affine().Apply(last.DrawnPath().Bounds().Center())
	q := w.at(at)
	q.Hit = desk.PieceRef(last.ID)
	a.Press(q)
	a.Release(q)
	if !a.Ready() || !a.Enter() {
		t.Fatalf("it is not done: %v", a.Err())
	}
	now := w.Desk.Project()
	if now.Pieces[0] != p.Pieces[0] || now.Pieces[len(p.Pieces)-2] == p.Pieces[len(p.Pieces)-2] {
		t.Error("another garment was altered")
	}
}

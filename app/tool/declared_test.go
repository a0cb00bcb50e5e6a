package tool

import (
	"slices"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// do does an act by its name, before the hand begins.
func (w *workplace) do(name string, args map[string]string) {
	w.t.Helper()
	act, err := draft.ActNamed(name)
	if err != nil {
		w.t.Fatal(err)
	}
	out, err := act.DoText(w.Desk.Project(), args)
	if err != nil {
		w.t.Fatal(err)
	}
	w.Desk.Open(out.Project, "")
}

// furnished returns a workplace whose Front has a dart at its bottom, a line across, a
// closed line and a notch, and is sewn to Back at its right. A third piece is the same on
// both sides.
func furnished(t *testing.T) *workplace {
	w := newWorkplace(t)
	w.do("link-seam", map[string]string{"a": `"Front"."edge 2"`, "b": `"Back"."edge 4"`})
	w.do("add-dart", map[string]string{"edge": `"Front"."edge 1"`, "at": "20mm", "intake": "6mm", "length": "25mm"})
	w.do("draw-line", map[string]string{"line": "M 0 60 L 80 60", "name": "yoke"})
	w.do("draw-line", map[string]string{"line": "M 40 20 L 50 20 L 50 30 L 40 30 Z", "name": "opening"})
	w.do("add-notch", map[string]string{"edge": `"Front"."edge 3"`, "at": "50%"})
	w.do("draw-shape", map[string]string{"shape": "rectangle", "from": "300mm,0mm", "to": "360mm,50mm", "name": "Even"})
	return w
}

// prepared is what is done before acts that need something more.
var prepared = map[string]func(w *workplace){
	"Unfold": func(w *workplace) { w.do("fold-piece", map[string]string{"piece": "Even", "keep": "right"}) },
	"Two darts into one seam": func(w *workplace) {
		w.do("add-dart", map[string]string{"edge": `"Front"."edge 3"`, "at": "20mm", "intake": "6mm", "length": "15mm"})
	},
	"Match the sides of a seam": unmatch, "Match seams together": unmatch, "Take up the difference of a seam": unmatch, "Mean a seam as it is": unmatch,
	"Notch seams": func(w *workplace) {
		w.do("edit-seam", map[string]string{"seam": string(w.Desk.Project().Seams[0].ID), "fullness": "gathers", "ratio": "1.5"})
	},
	"Set how far a lining lies inside": func(w *workplace) {
		w.do("line-piece", map[string]string{"piece": "Back", "sew": "no"})
		lining := w.Desk.Project().Pieces[3]
		w.Desk.Pick(desk.EdgeRef(lining.ID, lining.Edges[0].ID))
	},
}

// unmatch makes a side of the seam longer.
func unmatch(w *workplace) {
	front := w.Desk.Project().Pieces[0]
	w.do("move-nodes", map[string]string{"nodes": `"Front"."` + string(front.Edges[1].Nodes[0].ID) + `"`, "by": "0mm,-3mm"})
}

// places are where a hand clicks for a step of each kind on the furnished workplace.
var places = map[Take]geom.Point{
	TakePiece: {X: 60, Y: 30}, TakeEdge: {X: 60, Y: 0}, TakePlace: {X: 60, Y: 0}, TakeStroke: {X: -5, Y: 40},
	TakeLine: {X: 30, Y: 60}, TakeLinePlace: {X: 30, Y: 60}, TakeDart: {X: 20, Y: 10}, TakePoint: {X: 55, Y: 25}, TakeSpot: {X: 50, Y: 50},
	TakeSeam: {X: 80, Y: 30}, TakeNode: {X: 80, Y: 80}, TakeMark: {X: 30, Y: 60},
}

// first are the places of acts that need another one than others of their kind.
var first = map[string]geom.Point{
	"Join two edges": {X: 60, Y: 80}, "Grown-on hem, casing or stand": {X: 60, Y: 80}, "Cut-out at an edge": {X: 40, Y: 80},
	"Cut-out along a closed line": {X: 45, Y: 20}, "Fold in half on a line": {X: 330, Y: -5}, "Unfold": {X: 340, Y: 20},
}

// second are the places of steps that need another one than the step before.
var second = map[string]geom.Point{
	"Pivot a dart": {X: 80, Y: 50}, "Join two edges": {X: 140, Y: 80}, "Live length between two points": {X: 0, Y: 80}, "Measure of the body between two points": {X: 0, Y: 80},
	"Slash and spread along lines": {X: 0, Y: 20}, "Two darts into one seam": {X: 60, Y: 72}, "Dart into a seam": {X: 20, Y: 80},
}

// sets is what has to be set by hand before an act changes anything.
var sets = map[string][2]string{
	"Move a dart": {"intake", "9"}, "Press or fold a dart another way": {"fold", "pleat"}, "Cut notches another way": {"shape", "v"},
	"Measure of the body between two points": {"measure", "bust_girth"}, "Measure of the body along edges": {"measure", "waist_girth"},
	"Say what a pattern was made for": {"line", "cut"},
}

// Every act that is declared can be done at once with what its fields begin with, as one
// step to undo.
func TestDeclaredActsWorkAtOnce(t *testing.T) {
	for _, asked := range slices.Concat(CuttingTable(), Marking(), SeamActs(), []*Asked{setOrigin}) {
		t.Run(asked.Word, func(t *testing.T) {
			w := furnished(t)
			w.t = t
			if prepare := prepared[asked.Word]; prepare != nil {
				prepare(w)
			}
			before := w.Desk.Project()
			a := w.takeUp(asked)
			for i, s := range asked.Steps {
				if s.Optional || i < a.step {
					continue
				}
				at := places[s.Take]
				if p, ok := first[asked.Word]; ok && i == 0 {
					at = p
				}
				if p, ok := second[asked.Word]; ok && i > 0 {
					at = p
				}
				switch s.Take {
				case TakeStroke:
					to := geom.Pt(85, 45)
					if at.X > 100 {
						to = geom.Pt(at.X, 55)
					}
					w.drag(a, at, to)
				case TakeNotch:
					p := w.at(geom.Pt(40, 80))
					n := before.Pieces[0].Notches[0].ID
					p.Hit = desk.ThingRef(desk.Notch, before.Pieces[0].ID, n)
					a.Press(p)
					a.Release(p)
				default:
					w.click(a, at.X, at.Y)
				}
			}
			if set, ok := sets[asked.Word]; ok {
				f := w.field(a, set[0])
				if len(f.Choices) == 0 {
					if err := a.Set(f, set[1]); err != nil {
						t.Fatal(err)
					}
				}
				for i, c := range f.Choices {
					if c == set[1] {
						a.Choose(f, i)
					}
				}
			}
			if !a.Ready() {
				t.Fatalf("it is not shown: %v (%s), %+v", a.Err(), w.said, a.Steps())
			}
			if !a.Enter() || w.steps() != 1 || w.Desk.Trying() {
				t.Errorf("it is %d steps", w.steps())
			}
			w.Desk.Undo()
			if w.Desk.Project() != before {
				t.Error("undo does not lead back")
			}
		})
	}
}

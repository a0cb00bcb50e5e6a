package tool

import (
	"math"
	"strings"
	"testing"

	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// workplace is a hand at a desk with two squares of 80 mm beside one another, whose
// edges are named bottom, right, top and left.
type workplace struct {
	*Hand
	t    *testing.T
	said string
	away bool
	// inHand hears of changes of the document, as in the window.
	inHand *Asking
}

func newWorkplace(t *testing.T) *workplace {
	t.Helper()
	var args draft.ImportOutlinesArgs
	for i := range 2 {
		x := float64(i) * 100
		args.Outlines = append(args.Outlines, draft.Outline{
			Name: []string{"Front", "Back"}[i], Corner: []bool{true, true, true, true},
			Path: geom.Polygon(geom.Pt(x, 0), geom.Pt(x+80, 0), geom.Pt(x+80, 80), geom.Pt(x, 80)),
		})
	}
	args.Allowance = 6
	out, err := draft.ImportOutlines.Do(draft.New("test"), args)
	if err != nil {
		t.Fatal(err)
	}
	w := &workplace{t: t}
	w.Hand = &Hand{Desk: desk.New(out.Project), Say: func(text string) { w.said = text }, Back: func() { w.away, w.inHand = true, nil }}
	w.Touch = func(at geom.Point, _ float64, _ ...desk.Kind) (desk.Ref, geom.Point) {
		p := w.at(at)
		return p.Hit, p.Snap
	}
	return w
}

// at returns the pointer at a place: on the edge nearest within 2 mm, or else on the
// piece there.
func (w *workplace) at(at geom.Point) Pointer {
	p := Pointer{At: at, Snap: at, MM: 0.5, Clicks: 1}
	for _, piece := range w.Desk.Project().Pieces {
		m := piece.Place.Affine()
		if piece.DrawnPath().Transform(m).Contains(at) {
			p.Hit = desk.PieceRef(piece.ID)
		}
	}
	best := 2.0
	for _, piece := range w.Desk.Project().Pieces {
		for i := range piece.Edges {
			path := piece.EdgePath(i).Transform(piece.Place.Affine())
			if place, d := path.Nearest(at); d < best {
				best = d
				p.Hit, p.Snap = desk.EdgeRef(piece.ID, piece.Edges[i].ID), path.At(place)
			}
		}
	}
	return p
}

func (w *workplace) click(t Tool, x, y float64) { w.clickWith(t, x, y, Keys{}) }

func (w *workplace) clickWith(t Tool, x, y float64, keys Keys) {
	p := w.at(geom.Pt(x, y))
	p.Keys = keys
	t.Hover(p)
	t.Press(p)
	t.Release(p)
}

func (w *workplace) drag(t Tool, from, to geom.Point) {
	t.Press(w.at(from))
	for i := 1; i <= 4; i++ {
		t.Drag(w.at(from.Lerp(to, float64(i)/4)))
	}
	t.Release(w.at(to))
}

// takeUp takes an act up.
func (w *workplace) takeUp(asked *Asked) *Asking {
	a := NewAsking(w.Hand, asked)
	w.Desk.Listen(func(c desk.Change) {
		if c.Has(desk.Document) && w.inHand == a {
			a.Changed()
		}
	})
	w.inHand = a
	a.TakeUp()
	return a
}

func (w *workplace) byKinds(name string) *Asking {
	w.t.Helper()
	act, err := draft.ActNamed(name)
	if err != nil {
		w.t.Fatal(err)
	}
	return w.takeUp(ByKinds(act))
}

// field returns a field of the card.
func (w *workplace) field(a *Asking, name string) Field {
	w.t.Helper()
	for _, f := range a.Fields() {
		if f.Name == name {
			return f
		}
	}
	w.t.Fatalf("%s has no field %s", a.Info().Name, name)
	return Field{}
}

func (w *workplace) steps() int {
	_, at := w.Desk.History().Steps()
	return at
}

func TestAskingShowsAndDoesAnAct(t *testing.T) {
	w := newWorkplace(t)
	before := w.Desk.Project()
	a := w.byKinds("insert-node")
	if s := a.Steps(); len(s) != 1 || !s[0].Now || s[0].Says == "" {
		t.Fatalf("it asks %+v", s)
	}
	w.click(a, 40, 40) // inside the piece, not on an edge
	if w.Desk.Project() != before || w.said == "" {
		t.Fatalf("a click on no edge did something, or says nothing (%q)", w.said)
	}
	w.click(a, 30, 0)
	if !a.Ready() || !w.Desk.Trying() || a.Err() != nil {
		t.Fatalf("the act is not shown: %v", a.Err())
	}
	if n := len(w.Desk.Project().Pieces[0].Edges[0].Nodes); n != 2 {
		t.Fatalf("the edge that is shown has %d points", n)
	}
	w.click(a, 50, 0) // another place instead
	if got := w.Desk.Project().Pieces[0].Edges[0].Nodes[1].At; !got.Near(geom.Pt(50, 0), 1e-6) {
		t.Errorf("the point lies at %v", got)
	}
	if !a.Enter() || w.Desk.Trying() || !w.away {
		t.Error("Enter does not end it")
	}
	if w.steps() != 1 {
		t.Errorf("it is %d steps", w.steps())
	}
	if last := w.Desk.Picked().Last(); last.Kind != desk.Node {
		t.Errorf("what it made is not picked, but %v", last)
	}
	w.Desk.Undo()
	if w.Desk.Project() != before {
		t.Error("undo does not lead back")
	}
}

func TestAskingTakesWhatIsPicked(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	w.Desk.Pick(desk.EdgeRef(front.ID, front.Edges[0].ID), desk.EdgeRef(front.ID, front.Edges[2].ID))
	a := w.byKinds("set-allowance")
	if a.Err() == nil || a.Ready() {
		t.Fatal("it can be done without a width")
	}
	f := w.field(a, "width")
	if err := a.Set(f, "5 + 1/2"); err != nil || !a.Ready() {
		t.Fatalf("5 + 1/2 is not taken: %v, %v", err, a.Err())
	}
	edges := w.Desk.Project().Pieces[0].Edges
	if edges[0].Allowance.Start != 5.5 || edges[2].Allowance.End != 5.5 || edges[1].Allowance.Start != 6 {
		t.Errorf("the allowances are %+v", edges)
	}
	if err := a.Set(f, "wide"); err == nil {
		t.Error("nonsense is taken")
	}
	// A drag changes the first length.
	w.drag(a, geom.Pt(40, 40), geom.Pt(43, 40))
	if got := w.Desk.Project().Pieces[0].Edges[0].Allowance.Start; math.Abs(got-8.5) > 1e-9 || a.Shown(f) != "8.5 mm" {
		t.Errorf("after the drag the allowance is %v, shown %s", got, a.Shown(f))
	}
	a.Do()
	if w.steps() != 1 || len(w.Desk.Picked()) != 2 {
		t.Errorf("%d steps, picked %v", w.steps(), w.Desk.Picked())
	}
}

func TestAskingGoesBackStepByStep(t *testing.T) {
	w := newWorkplace(t)
	before := w.Desk.Project()
	a := w.byKinds("link-seam")
	w.clickWith(a, 80, 30, Keys{})
	a.Enter()
	w.clickWith(a, 100, 30, Keys{})
	a.Enter()
	if !a.Ready() || len(w.Desk.Project().Seams) != 1 {
		t.Fatalf("the seam is not shown: %v", a.Err())
	}
	for i, want := range []int{1, 0} { // back to the second side, back to the first
		a.Cancel()
		if w.Desk.Project() != before || w.away {
			t.Fatalf("step back %d: the project is changed or the tool away", i)
		}
		if got := a.step; got != want {
			t.Errorf("step back %d asks step %d", i, got)
		}
	}
	a.Cancel()
	if !w.away || w.steps() != 0 {
		t.Error("from the first step Escape does not lead out")
	}
}

// Whatever else is done while an act is only shown is done without it.
func TestTrialGivesWayToWhatIsDone(t *testing.T) {
	w := newWorkplace(t)
	before := w.Desk.Project()
	try := func() *Asking {
		a := w.byKinds("insert-node")
		w.click(a, 30, 0)
		if !w.Desk.Trying() {
			t.Fatal("nothing is shown")
		}
		return a
	}
	try()
	w.Desk.Undo()
	if w.Desk.Project() != before || w.steps() != 0 || !w.away {
		t.Fatal("undo does not take back what is shown alone")
	}
	try()
	err := desk.Run(w.Desk, draft.RenamePiece, draft.RenamePieceArgs{Piece: draft.PieceRef(before.Pieces[1].ID), Name: "Other"})
	if err != nil {
		t.Fatal(err)
	}
	now := w.Desk.Project()
	if now.Pieces[0] != before.Pieces[0] || now.Pieces[1].Name != "Other" || w.steps() != 1 || w.Desk.Trying() {
		t.Error("the other act is not done on the project without what was shown")
	}
}

// Every act that is registered is offered, and can be taken up and put away without
// changing anything, whatever is picked.
func TestEveryActCanBeTakenUpAndPutAway(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	offered := map[string]bool{}
	for _, g := range ActGroups() {
		for _, asked := range g.Acts {
			info := asked.Act.Info()
			offered[info.Name] = true
			if asked.Word == "" || asked.Icon == "" || asked.Says == "" {
				t.Errorf("%s has no word, icon or line about it", info.Name)
			}
			checkDeclared(t, asked)
			for _, picked := range []desk.Picked{
				nil, {desk.PieceRef(front.ID)}, {desk.EdgeRef(front.ID, front.Edges[1].ID)},
				{desk.NodeRef(front.ID, front.Edges[1].Nodes[0].ID), desk.NodeRef(front.ID, front.Edges[3].Nodes[0].ID)},
			} {
				before := w.Desk.Project()
				w.Desk.Pick(picked...)
				a := w.takeUp(asked)
				if a.Says() == "" || a.Info().Name == "" {
					t.Errorf("%s says nothing", info.Name)
				}
				for _, f := range a.Fields() {
					a.Shown(f)
				}
				a.Marks()
				a.PutDown()
				if w.Desk.Project() != before || w.steps() != 0 || w.Desk.Trying() {
					t.Fatalf("%s with %v picked changed something", info.Name, picked)
				}
			}
		}
	}
	for _, act := range draft.Acts() {
		if !offered[act.Info().Name] {
			t.Errorf("%s is not offered", act.Info().Name)
		}
	}
}

// checkDeclared checks that an act is asked for by parameters that it has, and that
// nothing it needs is left out.
func checkDeclared(t *testing.T, asked *Asked) {
	t.Helper()
	name := asked.Act.Info().Name
	params := map[string]draft.Param{}
	for _, p := range asked.Act.Params() {
		params[p.Name] = p
	}
	filled := map[string]bool{}
	fill := func(param string) {
		if _, ok := params[param]; !ok {
			t.Errorf("%s has no parameter %q", name, param)
		}
		if filled[param] {
			t.Errorf("%s asks twice for %q", name, param)
		}
		filled[param] = true
	}
	for _, s := range asked.Steps {
		if s.Says == "" || !strings.HasSuffix(s.Says, ".") {
			t.Errorf("%s: a step says %q", name, s.Says)
		}
		for _, p := range s.params() {
			fill(p)
		}
	}
	for _, f := range asked.Fields {
		fill(f)
	}
	for param := range asked.Always {
		fill(param)
	}
	for label := range asked.Labels {
		if !filled[label] {
			t.Errorf("%s labels %q, which it does not show", name, label)
		}
	}
	for _, p := range asked.Act.Params() {
		if p.Needed && !filled[p.Name] {
			t.Errorf("%s needs %q and never asks for it", name, p.Name)
		}
	}
}

func TestRoundFigures(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		unit draft.Unit
		want float64
	}{
		{0.33, draft.Millimetre, 0.3}, {3.1, draft.Millimetre, 3}, {15.25, draft.Millimetre, 15}, {61, draft.Centimetre, 60},
		{123, draft.Millimetre, 120}, {0.01, draft.Millimetre, 0.1}, {15.25, draft.Inch, 0.625 * 25.4},
	} {
		if got := roundLength(c.mm, c.unit); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v in %v is rounded to %v, want %v", c.mm, c.unit, got, c.want)
		}
	}
}

// What may be left out does not keep the act from being shown, and can still be given.
func TestAskingShowsBeforeWhatMayBeLeftOut(t *testing.T) {
	w := newWorkplace(t)
	a := w.takeUp(addDart)
	w.click(a, 40, 0)
	if !a.Ready() {
		t.Fatalf("the dart is not shown: %v", a.Err())
	}
	dart := func() draft.Dart { return w.Desk.Project().Pieces[0].Darts[0] }
	square := dart().Apex
	if math.Abs(square.X-40) > 1e-6 {
		t.Errorf("the point of the dart lies at %v", square)
	}
	w.click(a, 50, 30)
	if got := dart().Apex; !got.Near(geom.Pt(50, 30), 1e-6) || !a.Ready() {
		t.Errorf("the point lies at %v, not where it was clicked", got)
	}
	intake := w.field(a, "intake")
	was := a.Shown(intake)
	w.drag(a, geom.Pt(40, 60), geom.Pt(44, 60))
	if a.Shown(intake) == was || !dart().Apex.Near(geom.Pt(50, 30), 1e-6) {
		t.Errorf("a drag leaves the intake at %s", a.Shown(intake))
	}
	a.Cancel()
	if got := dart().Apex; !a.Ready() || math.Abs(got.X-40) > 1e-6 {
		t.Errorf("one step back the point lies at %v", got)
	}
	a.Enter()
	if w.steps() != 1 || w.Desk.Picked().Last().Kind != desk.Dart {
		t.Errorf("%d steps, picked %v", w.steps(), w.Desk.Picked())
	}
}

// From a menu that was opened on an edge, the act begins at that place.
func TestAskingBeginsWhereTheMenuWasOpened(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	a := NewAsking(w.Hand, addDart)
	a.TakeUpAt(desk.EdgeRef(front.ID, front.Edges[0].ID), geom.Pt(30, 0))
	if !a.Ready() || math.Abs(w.Desk.Project().Pieces[0].Darts[0].Apex.X-30) > 1e-6 {
		t.Errorf("the dart is not shown at the place: %v", a.Err())
	}
}

func TestSplitByAStroke(t *testing.T) {
	w := newWorkplace(t)
	before := w.Desk.Project()
	a := w.takeUp(split)
	w.drag(a, geom.Pt(-10, 30), geom.Pt(90, 30)) // clear across the piece
	if !a.Ready() || len(w.Desk.Project().Pieces) != 3 {
		t.Fatalf("a stroke across the piece does not cut it: %v, %s", a.Err(), w.said)
	}
	area := func() float64 { return w.Desk.Project().Pieces[0].DrawnPath().Area() }
	first := area()
	w.drag(a, geom.Pt(0, 45), geom.Pt(80, 45)) // another one, from edge to edge
	if !a.Ready() || area() == first {
		t.Errorf("a second stroke leaves the area at %v: %v, %s, %+v", area(), a.Err(), w.said, a.Steps())
	}
	w.click(a, 0, 20) // and by two clicks
	w.click(a, 80, 20)
	if !a.Ready() {
		t.Fatalf("two clicks do not cut: %v", a.Err())
	}
	sum := 0.0
	for _, p := range w.Desk.Project().Pieces {
		sum += p.DrawnPath().Area()
	}
	if math.Abs(sum-2*80*80) > 1e-6 {
		t.Errorf("the areas are %v together", sum)
	}
	a.Enter()
	if w.steps() != 1 || len(w.Desk.Project().Seams) != 1 {
		t.Errorf("%d steps, %d seams", w.steps(), len(w.Desk.Project().Seams))
	}
	w.Desk.Undo()
	if w.Desk.Project() != before {
		t.Error("undo does not lead back")
	}
	a = w.takeUp(split)
	w.drag(a, geom.Pt(200, 200), geom.Pt(300, 200))
	if w.Desk.Trying() || w.said == "" {
		t.Error("a stroke over nothing cuts, or says nothing")
	}
}

// Two picked points of a piece are where it is split.
func TestSplitBetweenPickedPoints(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	w.Desk.Pick(desk.NodeRef(front.ID, front.Edges[0].Nodes[0].ID), desk.NodeRef(front.ID, front.Edges[2].Nodes[0].ID))
	if a := w.takeUp(split); !a.Ready() {
		t.Fatalf("it is not cut from corner to corner: %v", a.Err())
	}
	if got := w.Desk.Project().Pieces[0].DrawnPath().Area(); math.Abs(got-3200) > 1e-6 {
		t.Errorf("the half has %v mm²", got)
	}
}

// With Shift a stroke stays level, also where it ends near something or short of the edge.
func TestStrokeStaysLevelWithShift(t *testing.T) {
	w := newWorkplace(t)
	a := w.takeUp(split)
	from, to := w.at(geom.Pt(0, 30)), w.at(geom.Pt(79, 34))
	to.Keys.Shift = true
	a.Press(from)
	a.Drag(to)
	a.Release(to)
	if !a.Ready() {
		t.Fatalf("it does not cut: %v, %s", a.Err(), w.said)
	}
	if got := w.Desk.Project().Pieces[0].DrawnPath().Area(); math.Abs(got-50*80) > 1e-6 {
		t.Errorf("the larger half has %v mm²", got)
	}
}

// A stroke that something keeps level is cut level, as it was shown, though the pointer
// itself is a little off and beside the edge.
func TestStrokeCutsWhatItShowed(t *testing.T) {
	for _, to := range []geom.Point{geom.Pt(79, 33), geom.Pt(81, 33), geom.Pt(90, 33), geom.Pt(200, 33)} {
		w := newWorkplace(t)
		w.Catches = func(q Reach) Catch {
			if q.From == nil {
				return Catch{At: q.At}
			}
			return Catch{Kind: CaughtSquare, At: geom.Pt(q.At.X, q.From.Y), Slides: true, Word: "across the grain"}
		}
		a := w.takeUp(split)
		a.Press(w.at(geom.Pt(0, 30)))
		a.Drag(w.at(to))
		shown := a.Marks().Tape
		if to.X < 100 && (len(shown) != 2 || !shown[1].Near(geom.Pt(80, 30), 1e-6)) {
			t.Errorf("to %v the stroke is shown as %v, want it to end at 80, 30", to, shown)
		}
		a.Release(w.at(to))
		if !a.Ready() {
			t.Fatalf("to %v it does not cut: %v, %s", to, a.Err(), w.said)
		}
		for _, p := range w.Desk.Project().Pieces {
			cut := p.DrawnPath().Area()
			if math.Abs(cut-50*80) > 1e-3 && math.Abs(cut-30*80) > 1e-3 && math.Abs(cut-80*80) > 1e-3 {
				t.Errorf("to %v one part has %v mm²", to, cut)
			}
		}
	}
}

// On a seam the place that is clicked is the point of the godet; beside it at the hem it
// goes up the seam as deep as into a slit.
func TestGodetIsSetIntoTheSeamThatIsClicked(t *testing.T) {
	for _, c := range []struct {
		x, y, depth float64
		edges       int
	}{{80, 30, 30, 5}, {79, 0, 0, 5}, {40, 0, 0, 7}} {
		w := newWorkplace(t)
		p := w.Desk.Project()
		right, left := refText(p.Pieces[0].ID, p.Pieces[0].Edges[1].ID), refText(p.Pieces[1].ID, p.Pieces[1].Edges[3].ID)
		out, err := draft.LinkSeam.DoText(p, map[string]string{"a": right, "b": left})
		if err != nil {
			t.Fatal(err)
		}
		w.Desk = desk.New(out.Project)
		a := w.takeUp(godet)
		w.click(a, c.x, c.y)
		if !a.Ready() || a.Err() != nil {
			t.Fatalf("at %v, %v: %v", c.x, c.y, a.Err())
		}
		a.Enter()
		now := w.Desk.Project()
		if len(now.Pieces) != 3 || len(now.Pieces[0].Edges) != c.edges || len(now.Seams) != 3 {
			t.Fatalf("at %v, %v: %d pieces, the first with %d edges, %d seams", c.x, c.y, len(now.Pieces), len(now.Pieces[0].Edges), len(now.Seams))
		}
		if got := now.Pieces[2].EdgeLength(1); c.depth > 0 && math.Abs(got-c.depth) > 1e-4 {
			t.Errorf("its side is %v long, want %v", got, c.depth)
		}
	}
}

// What an act makes is shown together with what it was made from, though the act takes
// away the edges that it was given.
func TestActShowsWhatItMadeBesideItsPiece(t *testing.T) {
	w := newWorkplace(t)
	var shown []draft.ID
	w.Show = func(pieces ...draft.ID) { shown = pieces }
	a := w.takeUp(split)
	w.drag(a, geom.Pt(0, 30), geom.Pt(80, 30))
	if !a.Ready() {
		t.Fatalf("the cut is not shown: %v", a.Err())
	}
	front := w.Desk.Project().Pieces[0].ID
	if got := a.Pieces(); len(got) != 2 || got[0] != front {
		t.Errorf("while the cut is shown it concerns %v, want both halves", got)
	}
	if !a.Do() {
		t.Fatal("the cut is not made")
	}
	made := w.Desk.Picked().Pieces()
	if len(made) != 1 || made[0] == front || len(shown) != 2 || shown[0] != front || shown[1] != made[0] {
		t.Errorf("shown are %v, picked %v; want %s and the new piece", shown, made, front)
	}
}

// A dimension that is picked on the bench is taken away by the key, as other marks are.
func TestDeleteTakesADimensionAway(t *testing.T) {
	w := newWorkplace(t)
	p := w.Desk.Project()
	out, err := draft.AddDimension.DoText(p, map[string]string{"edges": refText(p.Pieces[0].ID, p.Pieces[0].Edges[0].ID)})
	if err != nil {
		t.Fatal(err)
	}
	w.Desk = desk.New(out.Project)
	piece := out.Project.Pieces[0]
	w.Desk.Pick(desk.ThingRef(desk.Dimension, piece.ID, piece.Spans[0].ID))
	if !PicksMark(w.Desk) {
		t.Fatal("it is no mark")
	}
	w.Delete()
	if got := w.Desk.Project().Pieces[0].Spans; len(got) != 0 {
		t.Errorf("there are %d dimensions; %s", len(got), w.said)
	}
}

// A box that begins beside a piece, on a notch that sticks out of it, moves no notch; once
// its piece is picked the notch is dragged, and that is told.
func TestNotchIsDraggedOnlyWherePicked(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	err := desk.Run(w.Desk, draft.AddNotch, draft.AddNotchArgs{Edge: draft.EdgeRef{Piece: front.ID, Edge: front.Edges[0].ID}, At: draft.EdgePlace{At: 30}})
	if err != nil {
		t.Fatal(err)
	}
	w.Desk.Pick()
	notch := desk.ThingRef(desk.Notch, front.ID, w.Desk.Project().Pieces[0].Notches[0].ID)
	before := w.Desk.Project()
	s := NewSelect(w.Hand)
	w.Inside = func(geom.Rect) []desk.Ref { return []desk.Ref{desk.PieceRef(front.ID)} }
	drag := func(from, to geom.Point) {
		s.Press(Pointer{At: from, Snap: from, Hit: notch, MM: 0.5, Clicks: 1})
		s.Drag(Pointer{At: to, Snap: to, MM: 0.5})
		s.Release(Pointer{At: to, Snap: to, MM: 0.5})
	}
	drag(geom.Pt(30, -2), geom.Pt(60, 90))
	if w.Desk.Project() != before || w.Desk.Picked().Last() != desk.PieceRef(front.ID) {
		t.Fatalf("a box from beside the piece changed it, or picked %v", w.Desk.Picked())
	}
	drag(geom.Pt(30, -2), geom.Pt(50, -2)) // the piece is picked now
	if got := w.Desk.Project().Pieces[0].Notches[0]; math.Abs(got.At-50) > 1e-6 || !strings.Contains(w.said, "notch") {
		t.Errorf("the notch of the picked piece is at %v, said %q", got.At, w.said)
	}
	w.Desk.Pick()
	at := geom.Pt(50, -2)
	s.Press(Pointer{At: at, Snap: at, Hit: notch, MM: 0.5, Clicks: 1})
	s.Release(Pointer{At: at, Snap: at, MM: 0.5})
	if w.Desk.Picked().Last() != notch {
		t.Errorf("a click on the notch picks %v", w.Desk.Picked())
	}
}

// A press on a locked piece says that it is locked.
func TestLockedPieceSaysSo(t *testing.T) {
	w := newWorkplace(t)
	front := w.Desk.Project().Pieces[0]
	if err := desk.Run(w.Desk, draft.LockPieces, draft.ShowPiecesArgs{Pieces: []draft.PieceRef{draft.PieceRef(front.ID)}}); err != nil {
		t.Fatal(err)
	}
	s := NewSelect(w.Hand)
	s.Press(Pointer{At: geom.Pt(40, 40), Snap: geom.Pt(40, 40), MM: 0.5, Clicks: 1})
	if !strings.Contains(w.said, front.Name) || !strings.Contains(w.said, "locked") {
		t.Errorf("a press on a locked piece says %q", w.said)
	}
	w.said = ""
	s.Press(Pointer{At: geom.Pt(90, 40), Snap: geom.Pt(90, 40), MM: 0.5, Clicks: 1})
	if w.said != "" {
		t.Errorf("a press on bare bench says %q", w.said)
	}
}

// A share of a whole is shown and typed as a percentage.
func TestShareIsAPercentage(t *testing.T) {
	w := newWorkplace(t)
	a := w.takeUp(pivot)
	f := w.field(a, "share")
	if got := a.Shown(f); got != "100 %" {
		t.Errorf("at first it is %q", got)
	}
	for typed, want := range map[string]string{"50": "50 %", "33 %": "33 %", "12.5%": "12.5 %"} {
		if err := a.Set(f, typed); err != nil || a.Shown(f) != want {
			t.Errorf("%s is shown as %q: %v", typed, a.Shown(f), err)
		}
	}
}

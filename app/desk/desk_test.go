package desk

import (
	"reflect"
	"testing"

	"hemlet/draft"
	"hemlet/geom"
)

// square returns a project of one square piece, 50 mm a side.
func square(t *testing.T) *draft.Project {
	t.Helper()
	path := geom.Polygon(geom.Pt(0, 0), geom.Pt(50, 0), geom.Pt(50, 50), geom.Pt(0, 50))
	o := draft.Outline{Path: path, Corner: []bool{true, true, true, true}, Name: "square"}
	out, err := draft.ImportOutlines.Do(draft.New("test"), draft.ImportOutlinesArgs{Outlines: []draft.Outline{o}, Allowance: 6})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

func move(d *Desk, x float64) draft.MoveNodesArgs {
	p := d.Project().Pieces[0]
	return draft.MoveNodesArgs{Nodes: []draft.NodeRef{{Piece: p.ID, Node: p.Edges[0].Nodes[0].ID}}, By: draft.Vector{X: x}}
}

func steps(d *Desk) int {
	all, _ := d.History().Steps()
	return len(all)
}

func TestGestureIsOneStepFromItsStart(t *testing.T) {
	d := New(square(t))
	start := d.Project()
	g := d.Begin()
	for _, x := range []float64{1, 5, -3} {
		if err := Move(g, draft.MoveNodes, move(d, x)); err != nil {
			t.Fatal(err)
		}
	}
	g.End()
	if got := d.Project().Pieces[0].Edges[0].Nodes[0].At.X; got != -3 {
		t.Errorf("the point went to %v; a move counts from the start of the gesture", got)
	}
	if steps(d) != 2 {
		t.Errorf("%d steps", steps(d))
	}
	d.Undo()
	if d.Project() != start {
		t.Error("undo does not lead to the start of the gesture")
	}
}

func TestTwoGesturesAreTwoSteps(t *testing.T) {
	d := New(square(t))
	for range 2 {
		g := d.Begin()
		if err := Move(g, draft.MoveNodes, move(d, 1)); err != nil {
			t.Fatal(err)
		}
		g.End()
	}
	if steps(d) != 3 {
		t.Errorf("%d steps", steps(d))
	}
}

func TestCancelledGestureKeepsWhatCanBeRedone(t *testing.T) {
	d := New(square(t))
	if err := Run(d, draft.MoveNodes, move(d, 2)); err != nil {
		t.Fatal(err)
	}
	moved := d.Project()
	d.Undo()
	g := d.Begin()
	if err := Move(g, draft.MoveNodes, move(d, 9)); err != nil {
		t.Fatal(err)
	}
	g.Cancel()
	d.Redo()
	if d.Project() != moved {
		t.Error("a gesture that was taken back has dropped what could be done again")
	}
}

// A drag that goes on after the document was changed otherwise does not bring the
// old one back.
func TestGestureEndsWithItsDocument(t *testing.T) {
	other := square(t)
	for name, change := range map[string]func(*Desk){
		"open": func(d *Desk) { d.Open(other, "other.hemlet") },
		"undo": func(d *Desk) { d.Undo() },
		"act": func(d *Desk) {
			if err := Run(d, draft.RenameProject, draft.RenameProjectArgs{Name: "other"}); err != nil {
				t.Fatal(err)
			}
		},
	} {
		d := New(square(t))
		g := d.Begin()
		args := move(d, 4)
		if err := Move(g, draft.MoveNodes, args); err != nil {
			t.Fatal(err)
		}
		change(d)
		want := d.Project()
		if err := Move(g, draft.MoveNodes, args); err != nil {
			t.Fatal(err)
		}
		if g.Cancel(); d.Project() != want {
			t.Errorf("after %s the drag changed the document again", name)
		}
	}
}

func TestFoldEndsWithTheSelection(t *testing.T) {
	d := New(square(t))
	p := d.Project().Pieces[0]
	for i := range 4 {
		if i == 2 {
			d.Pick(NodeRef(p.ID, p.Edges[1].Nodes[0].ID))
		}
		if _, err := RunFolded(d, draft.MoveNodes, move(d, 1), "nudge"); err != nil {
			t.Fatal(err)
		}
	}
	if steps(d) != 3 {
		t.Errorf("%d steps, want one before and one after another point was picked", steps(d))
	}
}

func TestDirtyFollowsTheHistory(t *testing.T) {
	d := New(square(t))
	if d.Dirty() {
		t.Error("what was just opened is edited")
	}
	var told Change
	d.Listen(func(c Change) { told |= c })
	if err := Run(d, draft.MoveNodes, move(d, 1)); err != nil {
		t.Fatal(err)
	}
	if !d.Dirty() || !told.Has(File) || !told.Has(Document) {
		t.Error("a change does not make it edited, or is not told")
	}
	d.Undo()
	if d.Dirty() {
		t.Error("back at what was opened, it is edited")
	}
	d.Redo()
	d.MarkSaved(d.Project(), "x.hemlet")
	if d.Dirty() || d.Path() != "x.hemlet" {
		t.Error("what was saved is edited")
	}
	d.Undo()
	if !d.Dirty() {
		t.Error("a step before what was saved is not edited")
	}
}

func TestSelectionLosesWhatIsGone(t *testing.T) {
	d := New(square(t))
	p := d.Project().Pieces[0]
	n := p.Edges[1].Nodes[0].ID
	d.Pick(NodeRef(p.ID, n), NodeRef(p.ID, p.Edges[2].Nodes[0].ID))
	if err := Run(d, draft.DeleteNode, draft.DeleteNodeArgs{Nodes: []draft.NodeRef{{Piece: p.ID, Node: n}}}); err != nil {
		t.Fatal(err)
	}
	if got := d.Picked(); len(got) != 1 || got[0].Node == n {
		t.Errorf("picked is %v", got)
	}
	d.Pick(PieceRef("p999"))
	if len(d.Picked()) != 0 {
		t.Error("what does not exist can be picked")
	}
}

func TestFailedActChangesNothing(t *testing.T) {
	d := New(square(t))
	before := d.Project()
	width := draft.Length(-4)
	p := before.Pieces[0]
	err := Run(d, draft.SetAllowance, draft.SetAllowanceArgs{Edges: p.CutEdges(), Width: &width})
	if err == nil || d.Project() != before || steps(d) != 1 {
		t.Errorf("%v, %d steps", err, steps(d))
	}
}

func TestKindsDoNotMix(t *testing.T) {
	a, b := EdgeRef("p1", "e1"), EdgeRef("p1", "e2")
	p := Picked{}.Toggled(a).Toggled(b)
	if len(p) != 2 || p.Last() != b {
		t.Errorf("%v", p)
	}
	if p = p.Toggled(PieceRef("p1")); len(p) != 1 {
		t.Errorf("edges and a piece are picked together: %v", p)
	}
	if p = (Picked{a, b}).Toggled(a); len(p) != 1 || p[0] != b {
		t.Errorf("taking one out leaves %v", p)
	}
}

func TestCountGoesByPieceAndSeam(t *testing.T) {
	d := New(square(t))
	p := d.Project().Pieces[0]
	args := draft.LinkSeamArgs{
		A: draft.Run{{Piece: p.ID, Edge: p.Edges[0].ID, Copy: draft.CopyRef{Number: 1}}},
		B: draft.Run{{Piece: p.ID, Edge: p.Edges[2].ID, Copy: draft.CopyRef{Number: 1}}}, Ratio: 1, To: 1,
	}
	if err := Run(d, draft.LinkSeam, args); err != nil {
		t.Fatal(err)
	}
	if n := d.Count(p.ID).Problems; n != 0 {
		t.Errorf("%d problems where both sides are 50 mm", n)
	}
	if err := Run(d, draft.MoveNodes, move(d, 8)); err != nil {
		t.Fatal(err)
	}
	if n := d.Count(p.ID).Problems; n != 1 || d.Count("").Problems != 1 {
		t.Errorf("%d problems of the piece where the seam is 8 mm off", n)
	}
	if n := d.Count("p999").Problems; n != 0 {
		t.Errorf("%d problems of another piece", n)
	}
}

// The unit is saved with the document and passed by when steps are undone.
func TestUnitIsNoStepToUndo(t *testing.T) {
	d := New(draft.New("test"))
	rename := func(name string) {
		t.Helper()
		if err := Run(d, draft.RenameProject, draft.RenameProjectArgs{Name: name}); err != nil {
			t.Fatal(err)
		}
	}
	rename("saved")
	d.MarkSaved(d.Project(), "x")
	rename("after")
	steps, _ := d.History().Steps()
	if err := d.SetUnit(draft.Inch); err != nil {
		t.Fatal(err)
	}
	if now, _ := d.History().Steps(); len(now) != len(steps) {
		t.Errorf("%d steps, before %d", len(now), len(steps))
	}
	d.Undo()
	if p := d.Project(); p.Unit != draft.Inch || p.Name != "saved" || d.Dirty() || !d.UnitChanged() {
		t.Errorf("undone: %q in %v, to be saved %v, another unit %v", p.Name, p.Unit, d.Dirty(), d.UnitChanged())
	}
	if err := d.SetUnit(draft.Millimetre); err != nil {
		t.Fatal(err)
	}
	if d.Dirty() || d.UnitChanged() {
		t.Error("there is something to save where all is as in the file")
	}
}

// A name that the program finds for a project that has none is no step, and nothing to
// save by itself; what the maker has named stays.
func TestNameIsNoStepToUndo(t *testing.T) {
	d := New(draft.New("test"))
	if err := Run(d, draft.RenameProject, draft.RenameProjectArgs{Name: "mine"}); err != nil {
		t.Fatal(err)
	}
	d.Undo()
	before, _ := d.History().Steps()
	if err := d.Name("found"); err != nil {
		t.Fatal(err)
	}
	if now, _ := d.History().Steps(); d.Project().Name != "found" || d.Dirty() || len(now) != len(before) {
		t.Errorf("named %q, to be saved %v, %d steps", d.Project().Name, d.Dirty(), len(now))
	}
	if d.Redo(); d.Project().Name != "mine" {
		t.Errorf("what was named is now %q", d.Project().Name)
	}
}

// What is told of a block as a whole counts for each of its pieces, and leads to them.
func TestCountGoesByBlock(t *testing.T) {
	d := drafted(t)
	other := *square(t).Pieces[0]
	other.ID = "p999"
	p := *d.Project()
	p.Pieces = append(p.Pieces[:len(p.Pieces):len(p.Pieces)], &other)
	d.Open(&p, "")
	before := d.Count("front").Problems
	w := draft.WearerRef(d.Project().Wearers[0].ID)
	if err := Run(d, draft.ClearMeasure, draft.ClearMeasureArgs{Wearer: w, Name: "bust_girth"}); err != nil {
		t.Fatal(err)
	}
	made := d.Project().PiecesOf(d.Project().Derivations[0])
	for _, piece := range made {
		if n := d.Count(piece.ID).Problems; n <= before {
			t.Errorf("%s: %d problems, where its block cannot be drafted", piece.Name, n)
		}
	}
	if n := d.Count("p999").Problems; n != 0 {
		t.Errorf("%d problems of a piece that no block has made", n)
	}
	for _, f := range d.Findings() {
		if f.Piece == "" && f.Derivation != "" && len(d.Place(f)) != len(made) {
			t.Errorf("%q leads to %v", f.Says, d.Place(f))
		}
	}
}

// What is said of the made-up garment rests during a drag, and is told when it ends.
func TestMadeUpGarmentIsLookedAtWhenADragEnds(t *testing.T) {
	p := square(t)
	d, piece := New(p), p.Pieces[0]
	report := func() draft.Report { return draft.NewSlots().Check(d.Project()) }
	if !reflect.DeepEqual(d.Report(), report()) {
		t.Fatal("the report is not that of the checks")
	}
	told := 0
	d.Listen(func(c Change) {
		if c.Has(Document) {
			told++
		}
	})
	g := d.Begin()
	corner := draft.NodeRef{Piece: piece.ID, Node: piece.Edges[1].Nodes[0].ID}
	if err := Move(g, draft.MoveNodes, draft.MoveNodesArgs{Nodes: []draft.NodeRef{corner}, By: draft.Vector(geom.Pt(9, 0))}); err != nil {
		t.Fatal(err)
	}
	if d.Report(); d.madeUpFor != p {
		t.Error("a step of a drag put the garment together")
	}
	d.Count("")
	before := told
	if g.End(); told != before+1 {
		t.Errorf("the end of the drag told %d changes, want 1", told-before)
	}
	if !reflect.DeepEqual(d.Report(), report()) || d.madeUpFor != d.Project() {
		t.Error("after the drag the report is not that of the checks")
	}
	if d.Count(""); d.countsFor != d.Project() {
		t.Error("the counts are those of the drag")
	}
}

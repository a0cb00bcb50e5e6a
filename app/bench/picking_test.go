package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// around returns a box round a piece that nothing of another lies in.
func (s *stage) around(piece int) geom.Rect { return s.scene.bodies[s.piece(piece).ID].box.Grow(3) }

func picksPieces(t *testing.T, s *stage, want ...int) {
	t.Helper()
	got := s.desk.Picked()
	if len(got) != len(want) {
		t.Fatalf("picked %v, want %d pieces", got, len(want))
	}
	for _, i := range want {
		if !got.Has(desk.PieceRef(s.piece(i).ID)) {
			t.Fatalf("picked %v without piece %d", got, i)
		}
	}
}

// A box picks what lies in it, with Shift besides, with Ctrl takes it out; so does a
// click.
func TestBoxAddsAndTakesOut(t *testing.T) {
	s := newStage(t, project(t, 3), 1200, 500)
	box := func(i int, mods fyne.KeyModifier) {
		b := s.around(i)
		s.drag(b.Min, b.Max, mods)
	}
	box(0, 0)
	picksPieces(t, s, 0)
	box(1, fyne.KeyModifierShift)
	picksPieces(t, s, 0, 1)
	box(0, fyne.KeyModifierControl)
	picksPieces(t, s, 1)
	s.click(s.inside(2), fyne.KeyModifierShift)
	picksPieces(t, s, 1, 2)
	s.click(s.inside(1), fyne.KeyModifierControl)
	picksPieces(t, s, 2)
	s.click(s.inside(1), fyne.KeyModifierControl)
	picksPieces(t, s, 2)
	before := s.piece(0).Place.At
	s.drag(s.inside(0), s.inside(0).Add(geom.Pt(5, 5)), fyne.KeyModifierControl)
	if s.piece(0).Place.At == before {
		t.Error("a drag with Ctrl moves nothing")
	}
}

func TestLasso(t *testing.T) {
	s := newStage(t, project(t, 3), 1200, 500)
	s.SetTool(tool.NewLasso(s.hand))
	loop := func(mods fyne.KeyModifier, at ...geom.Point) {
		s.press(at[0], mods)
		for _, p := range at[1:] {
			s.dragTo(p)
		}
		s.release(at[len(at)-1])
	}
	round := func(b geom.Rect) []geom.Point {
		return []geom.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Center().X, Y: b.Max.Y + 2}, {X: b.Min.X, Y: b.Max.Y}}
	}
	loop(0, round(s.around(1))...)
	picksPieces(t, s, 1)
	loop(fyne.KeyModifierShift, round(s.around(0))...)
	picksPieces(t, s, 0, 1)
	loop(fyne.KeyModifierControl, round(s.around(1))...)
	picksPieces(t, s, 0)
	// Round a corner alone it picks that point.
	c := s.corner(0, 0)
	loop(0, round(geom.Rect{Min: c.Sub(geom.Pt(4, 4)), Max: c.Add(geom.Pt(4, 4))})...)
	if got := s.desk.Picked(); len(got) != 1 || got[0] != desk.NodeRef(s.piece(0).ID, s.piece(0).Edges[0].Nodes[0].ID) {
		t.Errorf("picked %v", got)
	}
	s.press(s.around(0).Min, 0)
	s.dragTo(s.around(0).Max)
	if !s.tool.Marks().Any() || !s.tool.Cancel() || s.tool.Marks().Any() {
		t.Error("the loop is not drawn, or Esc does not take it away")
	}
}

// Locked pieces are not touched, hidden ones neither seen nor touched, and what is put
// aside comes back with Esc.
func TestHiddenLockedAndAside(t *testing.T) {
	s := newStage(t, project(t, 3), 1200, 500)
	refs := func(i int) draft.ShowPiecesArgs {
		return draft.ShowPiecesArgs{Pieces: []draft.PieceRef{draft.PieceRef(s.piece(i).ID)}}
	}
	if err := desk.Run(s.desk, draft.LockPieces, refs(0)); err != nil {
		t.Fatal(err)
	}
	if err := desk.Run(s.desk, draft.HidePieces, refs(1)); err != nil {
		t.Fatal(err)
	}
	for i := range 2 {
		s.click(s.inside(i), 0)
		if got := s.desk.Picked(); len(got) != 0 {
			t.Errorf("a click on piece %d picks %v", i, got)
		}
	}
	s.PickAll()
	picksPieces(t, s, 2)
	s.PickOthers()
	picksPieces(t, s)
	if n := len(s.scene.order); n != 2 {
		t.Errorf("%d pieces are seen, of which one is hidden", n)
	}
	// Picked elsewhere, a hidden piece is seen.
	s.desk.Pick(desk.PieceRef(s.piece(1).ID))
	if n := len(s.scene.order); n != 3 {
		t.Errorf("%d pieces are seen while the hidden one is picked", n)
	}
	s.desk.Pick()
	s.desk.Isolate(s.piece(2).ID)
	if n := len(s.scene.order); n != 1 {
		t.Errorf("%d pieces are seen where one is to be", n)
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if s.desk.Isolated() || len(s.scene.order) != 2 {
		t.Error("Esc does not bring the others back")
	}
	s.desk.Isolate(s.piece(2).ID)
	if err := desk.Run(s.desk, draft.DeletePiece, draft.DeletePieceArgs{Pieces: refs(2).Pieces}); err != nil {
		t.Fatal(err)
	}
	if s.desk.Isolated() {
		t.Error("the piece is gone and the others are aside still")
	}
}

// Esc goes from the part to the piece, from a piece or a picture to nothing, and then to
// the tool that picks.
func TestEscapeGoesOutLevelByLevel(t *testing.T) {
	p := project(t, 1)
	p.Pictures = []*draft.Picture{{ID: "pic", Name: "scan", Place: geom.Plane}}
	s := newStage(t, p, 800, 500)
	away := 0
	s.hand.Back = func() { away++; s.SetTool(tool.NewSelect(s.hand)) }
	escape := func() { s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape}) }
	s.SetTool(tool.NewPan(s.hand))
	s.desk.Pick(desk.EdgeRef(s.piece(0).ID, s.piece(0).Edges[0].ID))
	escape()
	picksPieces(t, s, 0)
	for _, r := range []desk.Ref{desk.PieceRef(s.piece(0).ID), {Kind: desk.Picture, Thing: "pic"}} {
		s.desk.Pick(r)
		escape()
		if got := s.desk.Picked(); len(got) > 0 || away > 0 {
			t.Fatalf("from %v it goes to %v, tool put away: %d", r, got, away)
		}
	}
	escape()
	escape()
	if away != 1 {
		t.Errorf("the tool is put away %d times", away)
	}
}

// The right button finds what lies under it, also while the tool in hand takes nothing.
func TestMenuWhileDrawing(t *testing.T) {
	s := newStage(t, project(t, 1), 1200, 500)
	s.SetTool(tool.NewPen(s.Hand(func(string) {})))
	var got desk.Ref
	s.OnMenu = func(r desk.Ref, _ geom.Point, _ fyne.Position) { got = r }
	edge := s.piece(0).EdgePath(0).Transform(s.piece(0).Place.Affine())
	e := &desktop.MouseEvent{Button: desktop.MouseButtonSecondary}
	e.Position = s.units(edge.At(edge.Tape().At(edge.Length() / 2)))
	s.MouseDown(e)
	if want := desk.EdgeRef(s.piece(0).ID, s.piece(0).Edges[0].ID); got != want {
		t.Errorf("the menu is asked for %v, want %v", got, want)
	}
}

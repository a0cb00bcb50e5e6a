package bench

import (
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/geom"
)

// walkStage is a bench with n pieces on which the first seam is walked.
func walkStage(tb testing.TB, n int) (*stage, *tool.Walk) {
	tb.Helper()
	p := workroom(tb)
	cut := *p
	cut.Pieces, cut.Seams = p.Pieces[:n], p.Seams[:n-1]
	s := newStage(tb, &cut, 1920, 1080)
	s.Fit()
	w := tool.NewWalk(s.hand, cut.Seams[n/2].ID)
	if _, err := w.Walker(); err != nil {
		tb.Fatal(err)
	}
	s.SetTool(w)
	s.Frame(1920, 1080)
	return s, w
}

// While a seam is walked the arrow keys step, and nothing on the bench is touched or moved.
func TestWalkTakesTheKeys(t *testing.T) {
	s, w := walkStage(t, 4)
	before := s.desk.Project()
	s.desk.Pick(desk.PieceRef(before.Pieces[0].ID))
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if w.At() != 1 || s.desk.Project() != before {
		t.Errorf("an arrow key came to %g mm, or moved the piece", w.At())
	}
	s.mods = fyne.KeyModifierShift
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	s.mods = 0
	if w.At() != 11 {
		t.Errorf("with Shift it came to %g mm", w.At())
	}
	s.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	if w.At() == 11 {
		t.Error("Page Down does not go to the next notch")
	}
	s.hover(s.inside(1))
	if s.scene.hover.Kind != desk.Nothing {
		t.Error("a piece under a walk is touched")
	}
}

// What lies still is painted once; a step changes only what moves.
func TestWalkStepsLeaveTheStillAlone(t *testing.T) {
	s, w := walkStage(t, 4)
	before := s.stillScene()
	w.Go(7)
	s.Frame(1920, 1080)
	if s.stillScene() != before {
		t.Error("a step of the walk paints the pieces that lie still anew")
	}
	s.SetTool(tool.NewSelect(s.hand))
	s.Frame(1920, 1080)
	if after := s.stillScene(); len(after.Items) != 4 {
		t.Errorf("%d pieces lie on the bench after the walk", len(after.Items))
	}
}

// Whoever puts a walk away sees what was seen before.
func TestSightComesBack(t *testing.T) {
	s, _ := walkStage(t, 4)
	before, view := s.Sight(), s.view
	s.ShowBox(geom.Rect{Min: geom.Pt(0, 0), Max: geom.Pt(30, 30)}, 150)
	if s.view == view {
		t.Fatal("a box is not shown")
	}
	s.SetSight(before)
	s.Frame(1920, 1080)
	if s.view != view {
		t.Errorf("the view is %+v, and was %+v", s.view, view)
	}
}

// A piece that is hidden is walked all the same.
func TestWalkOfHiddenPieces(t *testing.T) {
	s, w := walkStage(t, 4)
	seam := s.desk.Project().Seam(w.Seam())
	args := draft.ShowPiecesArgs{Pieces: []draft.PieceRef{draft.PieceRef(seam.B[0].Piece)}}
	if err := desk.Run(s.desk, draft.HidePieces, args); err != nil {
		t.Fatal(err)
	}
	if img := s.Frame(1920, 1080); img == nil || len(s.scene.walked) != 1 {
		t.Errorf("%d hidden pieces are walked", len(s.scene.walked))
	}
}

// The bar for a step of a walk with 50 pieces at 1920 by 1080 is 8 ms.
func BenchmarkWalkStep50(b *testing.B) {
	s, w := walkStage(b, 50)
	at := s.view.ToPx(w.Marks().Walk.Step.Contact)
	from := s.view.ToMM(at)
	s.press(from, 0)
	for i := 0; b.Loop(); i++ {
		s.dragTo(from.Add(geom.Pt(float64(i%5), float64(i%30))))
		s.Frame(1920, 1080)
	}
	s.release(from)
}

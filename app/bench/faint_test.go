package bench

import (
	"testing"

	"hemlet/app/bench/paint"
	"hemlet/app/desk"
	"hemlet/draft"
	"hemlet/geom"
)

// onScan is a bench with a piece about 100 mm across on a scan of 400 mm by 300 mm.
func onScan(t *testing.T) *stage {
	t.Helper()
	p := project(t, 1)
	p.Pictures = []*draft.Picture{{ID: "scan", Name: "scan", Wide: 400, High: 300, Opacity: 1, Place: geom.Affine{A: 1, D: -1, E: -150, F: 250}.Projective()}}
	return newStage(t, p, 900, 700)
}

// An opened project shows its pieces, however large the scan is that they were traced from.
func TestPiecesAreShownNotTheScan(t *testing.T) {
	s := onScan(t)
	s.Frame(900, 700)
	s.Fit()
	all := s.view.Scale
	s.FitPieces()
	box := s.scene.bounds()
	if seen := s.view.Visible(); s.view.Scale < 2*all || !seen.Contains(box.Min) || !seen.Contains(box.Max) {
		t.Errorf("%g pixels a mm, with the scan %g", s.view.Scale, all)
	}
	pieces := s.view.Scale
	s.Fit()
	if s.view.Scale != all {
		t.Error("the scan is not to be seen again")
	}
	s.desk.Open(s.desk.Project(), "")
	s.Frame(900, 700)
	if s.view.Scale != pieces {
		t.Errorf("opened at %g pixels a mm, its pieces need %g", s.view.Scale, pieces)
	}
	bare := *s.desk.Project()
	bare.Pieces = nil
	s.desk.Open(&bare, "")
	if s.Frame(900, 700); !s.view.Visible().Contains(geom.Pt(240, 240)) {
		t.Error("of a project without pieces the scan is not shown")
	}
}

// Once pieces are fitted, all there is to show is the pieces: among what is shown of a scan of
// the old size they would be a heap.
func TestAllIsThePiecesOnceTheyStandApart(t *testing.T) {
	s := onScan(t)
	s.Frame(900, 700)
	s.Fit()
	all := s.view.Scale
	s.SetApart(true)
	s.Fit()
	if s.view.Scale < 2*all {
		t.Errorf("%g pixels a mm, with the scan %g", s.view.Scale, all)
	}
	bare := *s.desk.Project()
	bare.Pieces = nil
	s.desk.Open(&bare, "")
	s.Frame(900, 700)
	s.Fit()
	if !s.view.Visible().Contains(geom.Pt(240, 240)) {
		t.Error("without pieces the scan is not shown")
	}
}

func TestFaintPicturesCannotBeTaken(t *testing.T) {
	s := onScan(t)
	beside := geom.Pt(-100, 100)
	if r, ok := s.pictureAt(beside, anything); !ok || r != desk.PictureRef("scan") {
		t.Fatal("the scan is not where it was laid")
	}
	s.SetFaint(true)
	if _, ok := s.pictureAt(beside, anything); ok {
		t.Error("a scan that is only hinted at is taken hold of")
	}
	ground := func() uint8 {
		for _, m := range s.scene.item(s.scene.order[0], false).Marks {
			if x, ok := m.(paint.Shape); ok && x.Fill.Token == paint.Cloth {
				return x.Fill.Fade
			}
		}
		t.Fatal("the piece has no ground")
		return 0
	}
	if ground() != 0 {
		t.Error("the scan is seen through the pieces")
	}
	s.SetFaint(false)
	if _, ok := s.pictureAt(beside, anything); !ok || ground() == 0 {
		t.Error("the scan stays faint")
	}
}

// Of pictures that are put away nothing is drawn, not even the frame of one that is picked,
// and nothing can be taken hold of.
func TestPicturesThatAreAwayAreNotThere(t *testing.T) {
	s := onScan(t)
	s.desk.Pick(desk.PictureRef("scan"))
	if len(s.pictureItems()) != 1 || len(s.pictureFrames()) != 1 {
		t.Fatal("the scan and its frame are not drawn")
	}
	s.SetPicturesAway(true)
	if n := len(s.pictureItems()) + len(s.pictureFrames()); n != 0 {
		t.Errorf("%d things are drawn of a scan that is away", n)
	}
	if _, ok := s.pictureAt(geom.Pt(-100, 100), anything); ok {
		t.Error("a scan that is away is taken hold of")
	}
	s.SetPicturesAway(false)
	if len(s.pictureItems()) != 1 {
		t.Error("the scan does not come back")
	}
}

func anything(desk.Kind) bool { return true }

// On a piece that is seen small a figure that would stand out of it is left out; nearer it
// is there.
func TestFiguresOfASmallPieceComeNearer(t *testing.T) {
	s, p, span := overStage(t)
	s.Frame(900, 700)
	s.ShowOver(&Over{Spans: []SpanMark{{Piece: p.ID, Span: span, Text: "a rather long figure", Colour: paint.Level}}})
	seen := func() int { return len(figuresOf(s, s.overItems(), "a rather long figure")) }
	if seen() != 1 {
		t.Fatal("the figure is not to be seen")
	}
	s.ZoomBy(0.14)
	if seen() != 0 {
		t.Error("the figure stands out of a small piece")
	}
	s.ZoomBy(1 / 0.14)
	if seen() != 1 {
		t.Error("nearer the figure is not there")
	}
}

package shell

import (
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
)

// walking opens the walk of the armhole from the picked edge.
func walking(t *testing.T) (*Shell, *tool.Walk) {
	t.Helper()
	s := window(t)
	s.bench.Frame(680, 700)
	for _, seam := range s.desk.Project().Seams {
		if seam.Name == "armhole" {
			s.desk.Pick(desk.SeamRefs(seam)[0])
		}
	}
	s.commandNamed("Walk the seam").run()
	w, ok := s.bench.Tool().(*tool.Walk)
	if !ok || !s.walk.object.Visible() {
		t.Fatal("the picked edge's seam is not walked")
	}
	return s, w
}

// The seam of the picked edge is walked by its command; the keys step, and Escape puts the
// walk away and shows what was seen before.
func TestWalkThePickedSeam(t *testing.T) {
	s := window(t)
	if c := s.commandNamed("Walk the seam"); c.can() {
		t.Error("a seam is walked though no edge is picked")
	}
	s, w := walking(t)
	before := s.walk.before
	s.bench.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if w.At() != 1 || s.walk.left[0].Text() == "" {
		t.Errorf("an arrow key came to %g mm, and the card says %q is left", w.At(), s.walk.left[0].Text())
	}
	s.walk.slider.OnChanged(250)
	if w.At() != 25 {
		t.Errorf("the slider came to %g mm", w.At())
	}
	s.bench.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if _, still := s.bench.Tool().(*tool.Walk); still || s.walk.object.Visible() {
		t.Error("Escape does not put the walk away")
	}
	s.bench.Frame(680, 700)
	if got := s.bench.Sight(); !got.Same(before) {
		t.Error("something else is seen after the walk than before")
	}
}

// A walk goes by itself from the start to the end, and stops there; Space stops it on its
// way.
func TestWalkByItself(t *testing.T) {
	s, w := walking(t)
	s.bench.TypedRune(' ')
	if s.walk.playing == nil {
		t.Fatal("Space does not let it go")
	}
	s.walk.goOn(s.walk.playing, playTime/4)
	walker, _ := w.Walker()
	if share := w.At() / walker.Length(); share < 0.24 || share > 0.26 {
		t.Errorf("a quarter of the time came to %g of the way", share)
	}
	s.bench.TypedRune(' ')
	if s.walk.playing != nil {
		t.Error("Space does not stop it")
	}
	s.walk.togglePlay()
	s.walk.goOn(s.walk.playing, playTime)
	if s.walk.playing != nil || w.At() != walker.Length() {
		t.Errorf("it does not stop at the end but at %g", w.At())
	}
}

// When the seam is taken apart the walk goes away.
func TestWalkEndsWithItsSeam(t *testing.T) {
	s, w := walking(t)
	if err := desk.Run(s.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(w.Seam())}}); err != nil {
		t.Fatal(err)
	}
	settle()
	if s.walk.object.Visible() {
		t.Error("a seam that is gone is walked on")
	}
}

package tracer

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/draft"
	"hemlet/geom"
	"hemlet/geom/trace/tracetest"
)

// capeScans returns the two sheets of the cape as a scanner sees them.
func capeScans(t *testing.T, dpi float64) (files [2]seenFile, truth [2]tracetest.Picture, shift float64) {
	t.Helper()
	sheets, _, shift := tracetest.Cape()
	for i, s := range sheets {
		p, err := tracetest.Plain(dpi, uint64(5+i)).See(s)
		files[i], truth[i] = seen(t, p, err), p
	}
	return files, truth, shift
}

// Two sheets are joined by marks that are clicked roughly: they go to the middle of what
// is printed, and what lies on both sheets comes together to 0.2 mm of the truth. A third
// pair that is misplaced is told. All is one step to undo.
func TestJoinTwoSheets(t *testing.T) {
	const dpi = 120
	files, truth, shift := capeScans(t, dpi)
	b := newBench(t, files[0], files[1])
	for _, pic := range b.pictures() {
		res := float64(dpi)
		if !run(b.Room, draft.TruePicture, draft.TruePictureArgs{Picture: draft.PictureRef(pic.ID), DPI: &res}) {
			t.Fatal(b.said)
		}
	}
	first, second := b.pictures()[0].ID, b.pictures()[1].ID
	b.choose(second)
	b.goTo(stepJoin)
	s := b.step.(*joinStep)
	if b.Says() == "" || !s.apply.Off() {
		t.Error("it can be joined without marks")
	}
	for i := range truth[0].Marks[:2] {
		b.click(second, truth[1].Marks[i].Add(geom.Pt(3, -4))) // the next one does not wait for it
		b.click(first, truth[0].Marks[i].Add(geom.Pt(-4, 2)))
		b.idle()
	}
	for i, p := range s.given() {
		for _, m := range []struct {
			at   *spot
			want geom.Point
		}{{p.in, truth[1].Marks[i]}, {p.other, truth[0].Marks[i]}} {
			if d := m.at.at.Dist(m.want); d > 0.5 {
				t.Errorf("mark %d went to %v, %.2f px off the printed one", i+1, m.at.at, d)
			}
		}
	}
	before := b.desk.Project()
	s.apply.Tapped(nil)
	in, other := b.desk.Project().Picture(second), b.desk.Project().Picture(first)
	if in.Joined == nil || in.Joined.To != first {
		t.Fatalf("joined %v; said %q", in.Joined, b.said)
	}
	// Of places on the second sheet it is known where they lie on the first.
	const bar = 0.2 // mm
	for _, p := range []geom.Point{{X: 5, Y: 5}, {X: 250, Y: 20}, {X: 270, Y: 190}, {X: 150, Y: 100}} {
		onFirst := other.Place.Apply(truth[0].Back.Apply(p.Add(geom.Pt(shift, 0))))
		if d := in.Place.Apply(truth[1].Back.Apply(p)).Dist(onFirst); d > bar {
			t.Errorf("%v of the second sheet is %.2f mm off the truth", p, d)
		}
	}
	if !b.stepNamed(stepJoin).standing().done {
		t.Error("the step has no tick")
	}
	b.desk.Undo()
	if b.desk.Project() != before {
		t.Error("it is not undone in one step")
	}
	// A third pair, 20 px misplaced, is the worst.
	s.snaps = false
	b.click(second, truth[1].Marks[2])
	b.click(first, truth[0].Marks[2].Add(geom.Pt(20, 0)))
	fit, err := s.fit(b.desk.Project().Picture(second), b.desk.Project().Picture(first))
	if err != nil || fit.Worst != 2 || fit.RMS < 0.5 {
		t.Errorf("worst is %d, off by %g mm: %v", fit.Worst, fit.RMS, err)
	}
	b.Key(fyne.KeyBackspace)
	if len(s.given()) != 2 {
		t.Errorf("%d pairs are left", len(s.given()))
	}
}

// The same mark twice on one picture is no pair.
func TestHalfAPairWaitsForTheOtherPicture(t *testing.T) {
	b := newBench(t, grey(400, 300), grey(400, 300))
	b.goTo(stepJoin)
	s := b.step.(*joinStep)
	s.snaps = false
	in, other, _ := s.couple()
	b.click(in.ID, geom.Pt(100, 100))
	b.click(in.ID, geom.Pt(200, 200))
	if len(s.given()) != 1 || s.given()[0].whole() || !strings.Contains(b.said, other.Name) {
		t.Errorf("%d pairs; said %q", len(s.given()), b.said)
	}
	if b.stepNamed(stepTrue).standing().done {
		t.Error("pictures are true that nobody made true")
	}
	// A mark is taken back by undo, half of a pair by Esc, and neither touches the document.
	was := b.desk.Project()
	b.click(other.ID, geom.Pt(120, 110))
	if !s.given()[0].whole() {
		t.Fatal("the pair is not whole")
	}
	_, back := b.Undoes()
	if back(); len(s.given()) != 1 || s.given()[0].whole() {
		t.Fatal("the second mark is not taken back")
	}
	if !b.Key(fyne.KeyEscape) || len(s.given()) != 0 {
		t.Error("Esc does not take half a pair back")
	}
	_, back = b.Undoes()
	if back(); len(s.given()) != 1 {
		t.Error("taking it back is not undone")
	}
	_, back = b.Undoes()
	if back(); len(s.given()) != 0 || b.desk.Project() != was {
		t.Error("the first mark is not taken back, or the document has changed")
	}
	if what, back := b.Undoes(); back != nil {
		t.Errorf("%s can be taken back after all", what)
	}
}

// Pictures that lie over one another are laid apart for their marks.
func TestLayApart(t *testing.T) {
	b := newBench(t, grey(400, 300), grey(400, 300))
	second := b.pictures()[1]
	by := b.pictures()[0].Middle().Sub(second.Middle())
	run(b.Room, draft.PlacePicture, draft.PlacePictureArgs{Pictures: []draft.PictureRef{draft.PictureRef(second.ID)}, By: draft.Vector(by)})
	b.goTo(stepJoin)
	s := b.step.(*joinStep)
	if !s.part.Visible() {
		t.Fatal("it is not offered")
	}
	s.part.Tapped(nil)
	if p := b.pictures(); overlap(p[0], p[1]) || s.part.Visible() {
		t.Error("they still overlap")
	}
}

func TestWorth(t *testing.T) {
	for _, x := range []struct {
		mm   float64
		says string
	}{{0.1, "for anything"}, {0.3, "for cloth"}, {1, "coarse"}, {3, "Too coarse"}} {
		if says, _ := worth(x.mm); !strings.Contains(says, x.says) {
			t.Errorf("%g mm: %q", x.mm, says)
		}
	}
	if got := exactly(0.123, draft.Millimetre); got != "0.12 mm" {
		t.Error(got)
	}
	if got := exactly(0.254, draft.Inch); !strings.HasPrefix(got, "0.0100 ") {
		t.Error(got)
	}
}

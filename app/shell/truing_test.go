package shell

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"hemlet/app/control"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
	"hemlet/draft/store"
)

// seamNamed returns the seam of the document with the name.
func seamNamed(t *testing.T, s *Shell, name string) *draft.Seam {
	t.Helper()
	for _, seam := range s.desk.Project().Seams {
		if seam.Name == name {
			return seam
		}
	}
	t.Fatalf("no seam is called %s", name)
	return nil
}

func TestTrueSharesTheBenchWithShape(t *testing.T) {
	s := window(t)
	inShape := s.bench.Size()
	s.key(fyne.KeyF6)
	if s.station != stationTrue || !s.benchSeen() {
		t.Fatal("F6 does not lead to True")
	}
	inTrue := s.bench.Size()
	if inTrue.Height >= inShape.Height || inTrue.Width < 600 {
		t.Errorf("the bench has %v in True, %v in Shape", inTrue, inShape)
	}
	if s.bench.Covered() != 0 {
		t.Error("the bench of True keeps room for the tools of Shape")
	}
	s.enter(stationShape)
	if got := s.bench.Size(); got != inShape {
		t.Errorf("back in Shape the bench has %v, had %v", got, inShape)
	}
	if s.bench.Covered() == 0 {
		t.Error("back in Shape the bench runs under the tools")
	}
}

func TestActsAndFindingsStayInTrue(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	s.nextFinding()
	if s.station != stationTrue {
		t.Error("the next finding leads out of True")
	}
	s.takeAct(tool.Sewing())
	if s.station != stationTrue || !s.card.object.Visible() {
		t.Error("an act leads out of True")
	}
	s.enter(stationMake)
	s.nextFinding()
	if s.station != stationShape {
		t.Error("from where no bench is seen a finding leads nowhere")
	}
}

func TestKeysWorkOnTheBenchOfTrue(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	p := s.desk.Project().Pieces[0]
	s.desk.Pick(desk.PieceRef(p.ID))
	before := s.desk.Project()
	s.stationKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if s.desk.Project() == before {
		t.Error("an arrow key does not nudge the picked piece")
	}
}

func TestWalkInTrueHasTheRoomOfTheTables(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	high := s.bench.Size().Height
	s.WalkSeam(seamNamed(t, s, "side").ID)
	if s.station != stationTrue || s.bench.Size().Height <= high+100 {
		t.Errorf("a walk in %s has a bench %v high, %v before", s.station, s.bench.Size().Height, high)
	}
	s.putAway()
	if got := s.bench.Size().Height; got != high {
		t.Errorf("after the walk the bench is %v high, was %v", got, high)
	}
}

func TestReportIsWrittenFromTrue(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	path := filepath.Join(t.TempDir(), "checks.pdf")
	s.writeReport(path)
	for end := time.Now().Add(20 * time.Second); !exists(path) || !strings.Contains(s.status.said, "written"); {
		if settle(); time.Now().After(end) {
			t.Fatalf("no report is written; the status line says %q", s.status.said)
		}
	}
}

func TestMendInShapeLeadsToTrue(t *testing.T) {
	s := window(t)
	f := s.desk.Findings()[0]
	if len(f.Mends) == 0 {
		t.Fatalf("%s has no mend", f.Key)
	}
	s.inspect.Mend(f)
	if s.station != stationTrue || len(s.desk.Picked()) == 0 {
		t.Errorf("it leads to %s and picks %v", s.station, s.desk.Picked())
	}
}

func TestProofLeadsToItsMeasure(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	w := s.desk.Project().Wearers[0]
	s.askMeasure(w.ID, "hand_girth") // in a group that is folded away
	if s.station != stationMeasure || s.measure.Wearer().ID != w.ID {
		t.Fatalf("it leads to %s", s.station)
	}
	if s.win.Canvas().Focused() == nil {
		t.Error("no field has the keys")
	}
}

// A walk or a mend that is looked at belongs to the document that lay open.
func TestAnotherDocumentEndsWalkAndTrial(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	s.WalkSeam(seamNamed(t, s, "side").ID)
	s.walk.togglePlay()
	s.desk.Open(draft.New("other"), "")
	for end := time.Now().Add(5 * time.Second); s.walk.walk != nil || s.walk.playing != nil; {
		if settle(); time.Now().After(end) {
			t.Fatal("the walk goes on")
		}
	}
	if s.walk.object.Visible() {
		t.Error("the card of the walk is still there")
	}
	g := s.desk.Try()
	g.Show("try", s.desk.Project())
	s.desk.Open(draft.New("third"), "")
	if s.desk.Trying() || g.Live() {
		t.Error("what was tried is still shown")
	}
}

// Undo while a walk is on keeps to the walk as long as its seam is there, and ends it with
// its seam.
func TestUndoUnderAWalk(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	seam := seamNamed(t, s, "side")
	again := draft.LinkSeamArgs{A: seam.A, B: seam.B, Name: seam.Name}
	if err := desk.Run(s.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(seam.ID)}}); err != nil {
		t.Fatal(err)
	}
	if err := desk.Run(s.desk, draft.LinkSeam, again); err != nil {
		t.Fatal(err)
	}
	s.WalkSeam(seamNamed(t, s, "side").ID)
	s.desk.Undo()
	for end := time.Now().Add(5 * time.Second); s.walk.walk != nil; {
		if settle(); time.Now().After(end) {
			t.Fatal("a seam that is gone is still walked")
		}
	}
}

// faulty makes a window at True with the smock of the planted faults in it.
func faulty(t *testing.T) *Shell {
	t.Helper()
	s := window(t)
	text, err := os.ReadFile("../../testdata/true/faults.hemlet")
	if err != nil {
		t.Fatal(err)
	}
	p, err := store.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	s.desk.Open(p, "smock.hemlet")
	s.enter(stationTrue)
	settle()
	return s
}

// hinted returns the cards with the hint that are shown below an object.
func hinted(o fyne.CanvasObject, hint string) (found []*control.Card) {
	if !o.Visible() {
		return nil
	}
	if c, ok := o.(*control.Card); ok && c.Hint == hint {
		return []*control.Card{c}
	}
	for _, part := range below(o) {
		found = append(found, hinted(part, hint)...)
	}
	return found
}

// places tells where everything lies below an object but for what is skipped.
func places(o fyne.CanvasObject, skip ...fyne.CanvasObject) string {
	for _, x := range skip {
		if o == x {
			return ""
		}
	}
	var out strings.Builder
	for _, part := range below(o) {
		switch part.(type) {
		case *fyne.Container, fyne.Widget:
			fmt.Fprintf(&out, "%T %v %v %v\n%s", part, part.Visible(), part.Position(), part.Size(), places(part, skip...))
		}
	}
	return out.String()
}

// looksAt rests the pointer on a card until what it would do is shown.
func looksAt(t *testing.T, s *Shell, card *control.Card) fyne.Position {
	t.Helper()
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(card).Add(fyne.NewPos(20, 10))
	test.MoveMouse(s.win.Canvas(), at)
	for end := time.Now().Add(20 * time.Second); !s.desk.Trying(); {
		if settle(); time.Now().After(end) {
			t.Fatalf("%q is not shown", card.Hint)
		}
	}
	return at
}

// Whatever a mend would do, what is not the bench keeps its place and its facts while it is
// only looked at, and the press does what was looked at.
func TestNothingMovesUnderThePointerOnAMend(t *testing.T) {
	for _, title := range []string{"Make it fit so", "Make all seams fit together, with the least change", ""} {
		s := faulty(t)
		if title == "Make it fit so" {
			s.showOnBench(desk.SeamRefs(s.desk.Project().Seams[offSeam(t, s)])...)
			settle()
		}
		if title == "" { // the finding in hand
			title = s.desk.Findings()[0].Mends[0].Title
		}
		cards := hinted(s.truing.Centre(), title)
		if cards = append(cards, hinted(s.truing.Left(), title)...); len(cards) == 0 {
			t.Fatalf("nothing offers %q", title)
		}
		before, old := s.desk.Project(), places(s.win.Canvas().Content(), s.bench, s.status.line.object, s.hover.object)
		facts := func() string { return allText(s.top.object) + allText(s.status.checks) }
		told := facts()
		at := looksAt(t, s, cards[0])
		settle()
		if now := places(s.win.Canvas().Content(), s.bench, s.status.line.object, s.hover.object); now != old {
			t.Errorf("%q: things move while it is looked at", title)
		}
		if now := facts(); now != told || s.desk.Dirty() || strings.Contains(s.win.Title(), "edited") {
			t.Errorf("%q: while it is looked at the window says %q, before %q", title, now, told)
		}
		if undo, _ := s.undoes(); !s.top.undo.Off() {
			t.Errorf("%q: undo offers %q", title, undo)
		}
		if says := allText(cards[0]); !strings.Contains(says, "Moves at most ") || strings.Contains(says, "…") {
			t.Errorf("how far %q moves anything is not told: %s", title, says)
		}
		shown := s.desk.Project()
		test.TapCanvas(s.win.Canvas(), at)
		settle()
		if s.desk.Trying() || s.desk.Project() != shown || shown == before || s.top.undo.Off() || !s.desk.Dirty() {
			t.Errorf("%q: the press does not do what was looked at", title)
		}
		test.TapCanvas(s.win.Canvas(), at) // the second half of a double press
		settle()
		if s.desk.Settled() != shown {
			t.Errorf("%q: a double press mends twice", title)
		}
	}
}

// offSeam returns the place of the first seam that does not hold.
func offSeam(t *testing.T, s *Shell) int {
	t.Helper()
	p := s.desk.Project()
	for i, seam := range p.Seams {
		if state, err := s.desk.Slots().SeamState(p, seam); err == nil && !state.Holds {
			return i
		}
	}
	t.Fatal("every seam holds")
	return 0
}

func TestHistoryStaysInTrue(t *testing.T) {
	s := window(t)
	s.enter(stationTrue)
	s.key(fyne.KeyF9)
	if s.station != stationTrue || !s.history.object.Visible() {
		t.Errorf("F9 leads to %s", s.station)
	}
}

// F8 counts what is found as the foot line does: notes by themselves.
func TestNextFindingCountsAsTheFootLine(t *testing.T) {
	s := window(t)
	n := s.desk.SettledCount()
	grave, all := n.Problems+n.LookAgain, s.desk.Findings()
	if grave == 0 || grave == len(all) {
		t.Fatalf("the sample has %d of %d to look at", grave, len(all))
	}
	var said []string
	for range all {
		s.nextFinding()
		said = append(said, s.status.said)
	}
	for i, want := range map[int]string{
		0:            fmt.Sprintf("1 of %d: ", grave),
		grave - 1:    fmt.Sprintf("%d of %d: ", grave, grave),
		grave:        fmt.Sprintf("Note 1 of %d: ", len(all)-grave),
		len(all) - 1: fmt.Sprintf("Note %d of %d: ", len(all)-grave, len(all)-grave),
	} {
		if !strings.HasPrefix(said[i], want) {
			t.Errorf("finding %d is told as %q, not %q", i, said[i], want)
		}
	}
}

package shell

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
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
	s.takeAct(tool.ByKinds(draft.LinkSeam))
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

package shell

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"hemlet/app/bench"
	"hemlet/app/desk"
	"hemlet/app/tool"
	"hemlet/draft"
)

// kinked opens the smock with planted faults at True and takes the kinked hem of its centre
// back in hand; it returns what was seen of the bench before.
func kinked(t *testing.T) (*Shell, *tool.Joined, bench.Sight) {
	t.Helper()
	s := window(t)
	if !s.files.Open(filepath.Join("..", "..", "testdata", "true", "faults.hemlet")) {
		t.Fatal("the smock does not open")
	}
	s.enter(stationTrue)
	s.bench.Frame(680, 440)
	before := s.bench.Sight()
	s.truing.Choose("seam/" + string(seamNamed(t, s, "centre back").ID) + "/kink end")
	j, ok := s.bench.Tool().(*tool.Joined)
	if !ok || !s.joins.object.Visible() {
		t.Fatal("the pieces are not laid together")
	}
	return s, j, before
}

func (s *Shell) laidBack() bool {
	_, still := s.bench.Tool().(*tool.Joined)
	return !still && !s.joins.object.Visible()
}

func TestKinkIsSeenJoined(t *testing.T) {
	s, j, before := kinked(t)
	if s.bench.Sight().Same(before) {
		t.Error("the join is not brought into sight")
	}
	if says := s.joins.says.Text(); !strings.Contains(says, "hem") || !strings.Contains(says, "a dip of 19°") {
		t.Errorf("the card says %q", says)
	}
	s.joins.ends.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	if j.End() != draft.EdgeStart || !strings.Contains(s.joins.says.Text(), "neck") {
		t.Errorf("at the %s the card says %q", j.End(), s.joins.says.Text())
	}
	s.bench.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if !s.laidBack() {
		t.Fatal("Escape does not lay back")
	}
	if s.bench.Frame(680, 440); !s.bench.Sight().Same(before) {
		t.Error("something else is seen than before")
	}
}

// One Escape is enough, wherever the keys are.
func TestEscapeLaysBackFromTheFindings(t *testing.T) {
	s, _, _ := kinked(t)
	s.win.Canvas().Unfocus()
	s.keyElsewhere(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if !s.laidBack() || s.station != stationTrue {
		t.Error("Escape does not lay back")
	}
}

func TestWhatLaysJoinedPiecesBack(t *testing.T) {
	for name, do := range map[string]func(*Shell, draft.ID){
		"another finding": func(s *Shell, seam draft.ID) {
			s.truing.Choose("seam/" + string(seamNamed(t, s, "side").ID) + "/length")
		},
		"a place shown":    func(s *Shell, seam draft.ID) { s.showOnBench() },
		"another station":  func(s *Shell, _ draft.ID) { s.enter(stationShape) },
		"another document": func(s *Shell, _ draft.ID) { s.files.Sample(); settle() },
		"a seam taken apart": func(s *Shell, seam draft.ID) {
			if err := desk.Run(s.desk, draft.UnlinkSeam, draft.UnlinkSeamArgs{Seams: []draft.SeamRef{draft.SeamRef(seam)}}); err != nil {
				t.Fatal(err)
			}
			settle()
		},
	} {
		t.Run(name, func(t *testing.T) {
			s, j, _ := kinked(t)
			do(s, j.Seam())
			if !s.laidBack() {
				t.Error("the pieces are still laid together")
			}
		})
	}
}

// In Shape the joins of a picked edge are seen by a command, and leave with the station.
func TestJoinsOfThePickedEdge(t *testing.T) {
	s, _, _ := kinked(t)
	s.enter(stationShape)
	see := s.commandNamed("See the joins of the seam")
	s.desk.Pick()
	if see.can() {
		t.Error("joins are offered though no edge is picked")
	}
	s.desk.Pick(desk.SeamRefs(seamNamed(t, s, "centre back"))[0])
	if see.run(); s.station != stationShape || s.laidBack() || !strings.Contains(s.joins.says.Text(), "19°") {
		t.Fatalf("in %s the card says %q", s.station, s.joins.says.Text())
	}
	s.enter(stationTrue)
	if !s.laidBack() {
		t.Error("they are still laid together in True")
	}
}

// A mend is seen in the joined pieces while it is tried; done, the line is told as smooth.
func TestMendIsSeenJoined(t *testing.T) {
	s, j, _ := kinked(t)
	var mend draft.Mend
	for _, f := range s.desk.Report().Findings {
		if end, ok := draft.KinkAt(f); ok && f.Seam == j.Seam() && end == j.End() {
			mend = f.Mends[0]
		}
	}
	before := s.desk.Project()
	out, err := before.Do(mend)
	if err != nil {
		t.Fatal(err)
	}
	sight := s.bench.Sight()
	g := s.desk.Try()
	g.Show(out.Step, out.Project)
	if says := s.joins.says.Text(); !strings.Contains(says, "smooth") {
		t.Errorf("tried, the card says %q", says)
	}
	s.desk.DropTrial()
	if says := s.joins.says.Text(); !strings.Contains(says, "19°") {
		t.Errorf("dropped, the card says %q", says)
	}
	s.desk.Take(out, "")
	if says := s.joins.says.Text(); !strings.Contains(says, "smooth") || s.laidBack() || !s.bench.Sight().Same(sight) {
		t.Errorf("done, the card says %q", says)
	}
}

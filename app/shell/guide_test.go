package shell

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hemlet/app/control"
	"hemlet/draft"
	"hemlet/draft/store"
)

// guided makes a window that leads through the making-to-fit of a pattern.
func guided(t *testing.T, p *draft.Project) *Shell {
	t.Helper()
	s := bare(t)
	if p != nil {
		s.files.opened(p, "")
	}
	s.guide.begin()
	return s
}

func grown(t *testing.T) *draft.Project {
	t.Helper()
	p, _, err := store.Load(filepath.Join("..", "..", "testdata", "fit", "smock.hemlet"))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (s *Shell) guideStands(t *testing.T, title string) {
	t.Helper()
	at := s.guide.now()
	if at >= len(s.guide.steps) || s.guide.steps[at].title != title {
		t.Fatalf("the guide stands at step %d, not at %q", at, title)
	}
	if !s.guide.bar.object.Visible() {
		t.Error("its bar is not to be seen")
	}
	if want := s.guide.steps[at].next(s.desk.Project()); s.guide.bar.says.Text() != want {
		t.Errorf("it says %q, not %q", s.guide.bar.says.Text(), want)
	}
}

// It reads from the project what is done and what comes next.
func TestGuideFollowsTheProject(t *testing.T) {
	s := guided(t, nil)
	s.guideStands(t, "Pattern")
	s.files.opened(grown(t), "")
	if s.guide.on {
		t.Error("it leads through a project that was only opened")
	}
	s.guide.begin()
	s.guideStands(t, "Made for")
	do := func(act string, args map[string]string) {
		t.Helper()
		out, err := s.desk.Project().Do(draft.Mend{Act: act, Args: args})
		if err != nil {
			t.Fatal(err)
		}
		s.desk.Commit(out.Step, out.Project, "")
	}
	do("take-spans", nil)
	s.guideStands(t, "For whom")
	if got := s.guide.bar.go_.Word; got != "Measure" {
		t.Errorf("with nobody there, its button says %q", got)
	}
	do("add-wearer", map[string]string{"name": "Quill"})
	for name, mm := range map[string]string{"bust_girth": "231mm", "waist_girth": "238mm", "back_waist_length": "84mm", "stature": "360mm", "upper_arm_girth": "62mm"} {
		do("set-measure", map[string]string{"wearer": "Quill", "name": name, "value": mm})
	}
	if got := s.guide.bar.go_.Word; got != "For whom" {
		t.Errorf("with a wearer there, its button says %q", got)
	}
	do("fit-pattern", map[string]string{"wearer": "Quill"})
	s.guideStands(t, "See it")
	s.guide.pass()
	s.guideStands(t, "Print")
	if s.station != stationMake {
		t.Errorf("Next leads to %s", s.station)
	}
	s.guide.pass()
	if s.guide.on || s.guide.bar.object.Visible() {
		t.Error("it leads on though all is done")
	}
}

// How pieces are cut counts as said once it was said of each, and the guide names those that
// are left; where the pattern is sewn already, some may be cut once.
func TestGuideAsksHowEveryPieceIsCut(t *testing.T) {
	p := draft.New("Squares")
	do := func(act string, args map[string]string) {
		t.Helper()
		out, err := p.Do(draft.Mend{Act: act, Args: args})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	for _, x := range [][2]string{{"0mm", "40mm"}, {"60mm", "100mm"}, {"120mm", "160mm"}} {
		do("draw-shape", map[string]string{"shape": "rectangle", "from": x[0] + ",0mm", "to": x[1] + ",40mm"})
	}
	if left := uncut(p); len(left) != 3 || saysCutting(p) {
		t.Fatalf("nothing was said, and %v are left", left)
	}
	for i := range 3 {
		do("set-cut", map[string]string{"way": "single", "pieces": string(p.Pieces[i].ID), "count": "2"})
		if saysCutting(p) != (i == 2) {
			t.Errorf("%d of 3 said: %v", i+1, saysCutting(p))
		}
	}
	do("set-cut", map[string]string{"way": "single", "pieces": string(p.Pieces[2].ID), "count": "1"})
	if want := p.Pieces[2].Name + " is cut once."; !strings.HasPrefix(sayCutting(p), want) {
		t.Errorf("it says %q, not %q", sayCutting(p), want)
	}
	use := func(i int) string { return string(p.Pieces[i].ID) + "." + string(p.Pieces[i].Edges[0].ID) }
	do("link-seam", map[string]string{"a": use(0), "b": use(1)})
	if !saysCutting(p) {
		t.Error("with a seam there, a piece may not be cut once")
	}
}

// A step can be put behind before the project shows it to be done, and gone back to.
func TestGuideForcesNothing(t *testing.T) {
	p := draft.New("Square")
	out, err := p.Do(draft.Mend{Act: "draw-shape", Args: map[string]string{"shape": "rectangle", "from": "0mm,0mm", "to": "40mm,40mm"}})
	if err != nil {
		t.Fatal(err)
	}
	s := guided(t, out.Project)
	s.guideStands(t, "Cutting")
	s.guide.pass()
	s.guideStands(t, "Sewing")
	if s.station != stationTrue {
		t.Errorf("Next leads to %s", s.station)
	}
	s.guide.steps[1].to()
	if s.station != stationShape {
		t.Errorf("the mark of a step leads to %s", s.station)
	}
	s.guide.end()
	if s.guide.bar.object.Visible() {
		t.Error("put away, its bar is still there")
	}
}

// The way for a pattern that exists is guided, from a drawing as from a picture.
func TestPatternIsGuided(t *testing.T) {
	s := bare(t)
	path := filepath.Join(t.TempDir(), "waistcoat.svg")
	drawing := `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><path d="M5 5H60V70H5Z"/></svg>`
	if err := os.WriteFile(path, []byte(drawing), 0o600); err != nil {
		t.Fatal(err)
	}
	s.beginPattern()
	settle()
	field := s.win.Canvas().Focused().(*control.Field)
	field.SetText(path)
	field.OnSubmitted(path)
	for i := 0; i < 50 && (s.question == nil || len(s.question.answers) != 2); i++ {
		settle()
	}
	if s.guide.on {
		t.Error("it leads before there is a pattern")
	}
	answerWith(t, s, "Bring in")
	s.guideStands(t, "Cutting")
}

func TestScanIsGuided(t *testing.T) {
	s := bare(t)
	path := scan(t, t.TempDir(), 400, 300)
	s.beginPattern()
	settle()
	field := s.win.Canvas().Focused().(*control.Field)
	field.SetText(path)
	field.OnSubmitted(path)
	until(t, "the scan did not come in", func() bool { return len(s.desk.Project().Pictures) == 1 })
	s.guideStands(t, "Pattern")
	if s.guide.bar.go_.Visible() {
		t.Error("it offers to go where one is")
	}
}

// At every width what it says and its buttons lie inside the window, and not over each other.
func TestGuideBarHasRoom(t *testing.T) {
	s := guided(t, grown(t))
	for _, wide := range []float32{800, 1280, 1920} {
		s.guide.bar.object.Resize(s.guide.bar.object.MinSize().AddWidthHeight(wide-s.guide.bar.object.MinSize().Width, 0))
		b := s.guide.bar
		says := b.says.Position().X + b.says.Size().Width
		if b.go_.Visible() && says > b.go_.Position().X {
			t.Errorf("at %g what it says reaches under its button", wide)
		}
		if marks := b.marks[0].card.Visible() && b.row.Visible(); marks == b.count.Visible() {
			t.Errorf("at %g the marks of the steps are seen: %v, and so is the number", wide, marks)
		}
		if b.count.Visible() && (b.count.Text() != fmt.Sprintf("%d of %d", s.guide.now()+1, len(s.guide.steps)) || b.count.Position().X+b.count.MinSize().Width > b.says.Position().X) {
			t.Errorf("at %g the number is %q at %v, what is said at %v", wide, b.count.Text(), b.count.Position(), b.says.Position())
		}
		if b.says.Size().Width < 380 {
			t.Errorf("at %g there are %g for what it says", wide, b.says.Size().Width)
		}
	}
}

// A piece that bears only a number is asked for its name, also once it was said how all are cut
// and while others are still cut once.
func TestGuideAsksForEveryName(t *testing.T) {
	p := draft.New("Squares")
	do := func(act string, args map[string]string) {
		t.Helper()
		out, err := p.Do(draft.Mend{Act: act, Args: args})
		if err != nil {
			t.Fatal(err)
		}
		p = out.Project
	}
	for i, x := range [][2]string{{"0mm", "40mm"}, {"60mm", "100mm"}, {"120mm", "160mm"}} {
		do("draw-shape", map[string]string{"shape": "rectangle", "from": x[0] + ",0mm", "to": x[1] + ",40mm"})
		do("rename-piece", map[string]string{"piece": string(p.Pieces[i].ID), "name": fmt.Sprintf("Piece %d", i+1)})
	}
	if !strings.HasPrefix(sayCutting(p), "Name the pieces, and say how each is cut") {
		t.Errorf("at first it says %q", sayCutting(p))
	}
	for i, name := range []string{"Neck band", "Front"} {
		do("rename-piece", map[string]string{"piece": string(p.Pieces[i].ID), "name": name})
		do("set-cut", map[string]string{"way": "single", "pieces": string(p.Pieces[2-i].ID), "count": "2"})
	}
	if says := sayCutting(p); !strings.HasPrefix(says, "Piece 3 has no name yet: ") || saysCutting(p) {
		t.Errorf("of a piece without a name it says %q, done: %v", says, saysCutting(p))
	}
	do("set-cut", map[string]string{"way": "single", "pieces": string(p.Pieces[0].ID), "count": "2"})
	use := func(i int) string { return string(p.Pieces[i].ID) + "." + string(p.Pieces[i].Edges[0].ID) }
	do("link-seam", map[string]string{"a": use(0), "b": use(1)})
	if saysCutting(p) {
		t.Error("once all is said of the cutting it no longer asks for the name")
	}
	do("rename-piece", map[string]string{"piece": string(p.Pieces[2].ID), "name": "Cuff"})
	if !saysCutting(p) {
		t.Errorf("named, it says %q", sayCutting(p))
	}
}

package draft

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/geom"
)

// panel is a front of 100 by 200 mm with a curved neck, cut as told; its left edge is on
// the middle.
func panel(way CutWay) *Project {
	p := polygonPiece("Front", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 200), geom.Pt(40, 200), geom.Pt(0, 170))
	name(p, "hem", "side", "shoulder", "neck", "middle")
	p.Edges[0].Kind, p.Edges[0].Allowance = HemEdge, Even(20)
	p.Edges[3].Nodes[0].Out, p.Edges[4].Nodes[0].In = geom.Pt(-2, -18), geom.Pt(18, 0)
	p.Cut = CutRule{Way: way, Count: 1}
	if way == CutOnFold {
		p.Edges[4].Kind, p.Edges[4].Allowance = FoldEdge, Even(0)
	}
	p.Grain = &Grain{geom.Pt(50, 50), geom.Pt(50, 150)}
	back := polygonPiece("Back", 6, geom.Pt(300, 0), geom.Pt(400, 0), geom.Pt(400, 200), geom.Pt(300, 200))
	name(back, "hem", "middle", "shoulder", "side")
	back.Cut = CutRule{Way: CutPairs, Count: 1}
	return projectOf(p, back)
}

// doneAct does an act by its name, with arguments as text.
func doneAct(t *testing.T, p *Project, act string, args ...string) Outcome {
	t.Helper()
	out, err := tryAct(p, act, args...)
	if err != nil {
		t.Fatal(err)
	}
	if err := Validate(out.Project); err != nil {
		t.Fatalf("%s %v: %v", act, args, err)
	}
	if err := out.Project.usesExist(); err != nil {
		t.Fatalf("%s %v: %v", act, args, err)
	}
	return out
}

func tryAct(p *Project, act string, args ...string) (Outcome, error) {
	a, err := ActNamed(act)
	if err != nil {
		return Outcome{}, err
	}
	texts := make(map[string]string)
	for _, arg := range args {
		k, v, _ := strings.Cut(arg, "=")
		texts[k] = v
	}
	return a.DoText(p, texts)
}

func seamTexts(p *Project) []string {
	var list []string
	for _, s := range p.Seams {
		text := s.Name + ": " + p.RunText(s.A) + " = " + p.RunText(s.B)
		if s.BothSides {
			text += ", both sides"
		}
		list = append(list, text)
	}
	return list
}

// A panel on the fold that is cut from shoulder to hem leaves a middle on the fold and a
// side that is cut in pairs; what was sewn to it is sewn to both or to the one.
func TestSplitBesideTheFold(t *testing.T) {
	p := panel(CutOnFold)
	p = doneAct(t, p, "link-seam", "a=Front.side", "b=Back.side").Project
	p = doneAct(t, p, "link-seam", "a=Front.hem", "b=Back.hem", "name=bag").Project
	p = doneAct(t, p, "link-seam", "a=Front.shoulder", "b=Back.shoulder").Project
	out := doneAct(t, p, "split-piece", "from=Front.shoulder@50%", "to=Front.hem@60%", "name=Side panel", "seam=princess", "notches=2")
	got := seamTexts(out.Project)
	want := []string{
		"side: Side panel.side = Back.side/reversed, both sides",
		"bag: Front.hem + Side panel.hem = Back.hem/reversed, both sides",
		"shoulder: Side panel.shoulder + Front.shoulder = Back.shoulder/reversed, both sides",
		"princess: Front.princess = Side panel.princess/reversed, both sides",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	q := out.Project.Piece(out.Made)
	if q.Name != "Side panel" || q.Cut != (CutRule{CutPairs, 1}) || len(q.Notches) != 2 {
		t.Errorf("the side panel is %+v", q)
	}
	if front := out.Project.Pieces[0]; front.Cut.Way != CutOnFold || front.folds() != 1 {
		t.Errorf("the front is %v", front.Cut)
	}
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], "Side panel is cut 2, mirrored") {
		t.Errorf("it says %q", out.Says)
	}
}

// A cut that reaches the fold leaves two pieces on the fold.
func TestSplitToTheFold(t *testing.T) {
	out := doneAct(t, panel(CutOnFold), "split-piece", "from=Front.middle@40%", "to=Front.side@60%", "seam=yoke")
	for _, q := range []*Piece{out.Project.Pieces[0], out.Project.Piece(out.Made)} {
		if q.Cut.Way != CutOnFold || q.folds() != 1 {
			t.Errorf("%s: %v, %d folds", q.Name, q.Cut, q.folds())
		}
		if _, err := LayFlat(q); err != nil {
			t.Error(err)
		}
		// Both have a middle and a side: a number only tells two edges of one piece apart.
		for _, n := range []string{"middle", "side", "yoke"} {
			if !q.hasEdgeName(n) {
				t.Errorf("%s has no edge called %s", q.Name, n)
			}
		}
	}
	if want := []string{"yoke: Front.yoke = Front 2.yoke/reversed, both sides"}; !slices.Equal(seamTexts(out.Project), want) {
		t.Errorf("seams %q", seamTexts(out.Project))
	}
}

// A pair is cut in two pairs, right sewn to right and left to left.
func TestSplitAPair(t *testing.T) {
	p := doneAct(t, panel(CutPairs), "link-seam", "a=Front.middle", "b=Front.middle").Project
	out := doneAct(t, p, "split-piece", "from=Front.middle@50%", "to=Front.side@50%")
	want := []string{
		"middle: Front.middle + Front 2.middle = Front.middle/left + Front 2.middle/left",
		"cut: Front.cut = Front 2.cut/reversed, both sides",
	}
	if diff := cmp.Diff(want, seamTexts(out.Project)); diff != "" {
		t.Error(diff)
	}
	for _, q := range out.Project.Pieces[:2] {
		if q.Cut.Way != CutPairs {
			t.Errorf("%s: %v", q.Name, q.Cut)
		}
	}
}

// A cut that would go through a dart is refused with the length at which the dart ends before
// it: made as long as that, the piece is cut, and the dart stays whole.
func TestSplitSaysHowLongADartMayBe(t *testing.T) {
	p := panel(CutOnFold)
	p.Pieces[0].Edges[1].Nodes = append(p.Pieces[0].Edges[1].Nodes, Node{ID: "from", At: geom.Pt(100, 90)}, Node{ID: "to", At: geom.Pt(100, 110)})
	p.Pieces[0].Darts = []Dart{{ID: "dart", Name: "bust dart", Edge: p.Pieces[0].Edges[1].ID, From: "from", To: "to", Apex: geom.Pt(40, 100)}}
	for _, to := range []string{"70%", "80%", "90%"} {
		cut := []string{"from=Front.shoulder@20%", "to=Front.hem@" + to}
		_, err := tryAct(p, "split-piece", cut...)
		if err == nil {
			t.Fatalf("%s: the dart is cut in two", to)
		}
		_, rest, _ := strings.Cut(err.Error(), "no longer than ")
		length, _, found := strings.Cut(rest, " mm")
		if !found {
			t.Fatalf("%s: %v", to, err)
		}
		shorter := doneAct(t, p, "move-dart", "dart=Front.bust dart", "length="+length+"mm").Project
		out := doneAct(t, shorter, "split-piece", cut...)
		darts := 0
		for _, q := range out.Project.Pieces {
			darts += len(q.Darts)
		}
		if darts != 1 {
			t.Errorf("%s: there are %d darts after the cut", to, darts)
		}
	}
}

func TestSplitRefuses(t *testing.T) {
	p := panel(CutOnFold)
	p.Pieces[0].Edges[1].Nodes = append(p.Pieces[0].Edges[1].Nodes, Node{ID: "from", At: geom.Pt(100, 90)}, Node{ID: "to", At: geom.Pt(100, 110)})
	p.Pieces[0].Darts = []Dart{{ID: "dart", Name: "bust dart", Edge: p.Pieces[0].Edges[1].ID, From: "from", To: "to", Apex: geom.Pt(40, 100)}}
	p.Pieces[0].Lines = []Line{{ID: "short", Name: "style", Kind: StyleLine, Nodes: []Node{{ID: "s1", At: geom.Pt(30, 60)}, {ID: "s2", At: geom.Pt(100, 60)}}}}
	for _, tt := range []struct{ name, args, want string }{
		{"one place", "from=Front.hem@50%", "needs two places"},
		{"two pieces", "from=Front.hem@50%|to=Back.hem@50%", "two places lie on two pieces"},
		{"same place", "from=Front.hem@50%|to=Front.hem@50%", "starts and ends at one point"},
		{"along an edge", "from=Front.hem@20%|to=Front.hem@80%", "cuts nothing off"},
		{"both on the fold", "from=Front.middle@20%|to=Front.middle@80%", "outline"},
		{"over the dart", "from=Front.shoulder@0%|to=Front.hem@80%", "crosses bust dart"},
		{"dart's mouth", "from=Front.side@50%|to=Front.middle@80%", "mouth of bust dart"},
		{"line that ends inside", "line=Front.style", "ends inside the piece"},
		{"out of the piece", "from=Front.shoulder@100%|to=Front.middle@0%", "leaves the piece"},
	} {
		_, err := tryAct(p, "split-piece", strings.Split(tt.args, "|")...)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		} else {
			t.Log(err)
		}
	}
}

// A curved line along which a piece is cut becomes the edge on both sides; a line that stops
// short of an edge is run on, one that runs over it is cut off.
func TestSplitAlongALine(t *testing.T) {
	p := panel(CutPairs)
	p.Pieces[0].Lines = []Line{{ID: "yoke", Name: "yoke line", Kind: StyleLine, Nodes: []Node{
		{ID: "y1", At: geom.Pt(1.5, 140), Out: geom.Pt(30, 20)}, {ID: "y2", At: geom.Pt(110, 150), In: geom.Pt(-30, -30)},
	}}}
	out := doneAct(t, p, "split-piece", "line=Front.yoke line")
	a, b := out.Project.Pieces[0], out.Project.Piece(out.Made)
	if len(a.Lines)+len(b.Lines) != 0 {
		t.Error("the line is still there")
	}
	e, i := a.Edge(edgeNamed(a, "yoke line"))
	f, k := b.Edge(edgeNamed(b, "yoke line"))
	if e == nil || f == nil {
		t.Fatalf("the cut is not called by the line")
	}
	if d := math.Abs(a.EdgeLength(i) - b.EdgeLength(k)); d > 1e-6 {
		t.Errorf("the two sides of the cut differ by %v mm", d)
	}
	if path := a.EdgePath(i); math.Abs(max(path.Start().X, path.End().X)-100) > 1e-6 || min(path.Start().X, path.End().X) != 0 {
		t.Errorf("the cut leads from %v to %v", path.Start(), path.End())
	}
}

func edgeNamed(p *Piece, name string) ID {
	for _, e := range p.Edges {
		if e.Name == name {
			return e.ID
		}
	}
	return ""
}

func TestNameStem(t *testing.T) {
	for name, want := range map[string]string{
		"side 2": "side", "centre back 2": "centre back", "centre back": "centre back",
		"": "", "2": "2", " 2": " 2", "side ": "side ", "A4": "A4", "row 2 b": "row 2 b",
	} {
		got, numbered := nameStem(name)
		if got != want || numbered != (got != name) {
			t.Errorf("the stem of %q is %q", name, got)
		}
	}
}

// A line that only touches the outline from outside cuts nothing.
func TestSplitAlongALineOutside(t *testing.T) {
	p := strip()
	for _, line := range [][2]geom.Point{{geom.Pt(100, 120), geom.Pt(80, 140)}, {geom.Pt(80, 140), geom.Pt(100, 120)}} {
		p.Pieces[0].Lines = []Line{{ID: "l", Nodes: []Node{{ID: "l0", At: line[0]}, {ID: "l1", At: line[1]}}}}
		mustRefuse(t, p, "strip", "split-piece", "line=strip.l")
	}
}

// A part of "edge 1" never goes by the bare "edge".
func TestPartsAreNumberedOn(t *testing.T) {
	p := polygonPiece("panel", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 100), geom.Pt(0, 100))
	name(p, "edge 1", "edge 2", "side", "top")
	for k, c := range []struct{ whole, want string }{{"edge 1", "edge 3"}, {"side", "side 2"}, {"top", "top 2"}, {"", ""}} {
		q := p.clone()
		q.Edges = append(q.Edges, Edge{})
		if q.nameApart(4, c.whole); q.Edges[4].Name != c.want {
			t.Errorf("%d: the second part of %q is called %q, want %q", k, c.whole, q.Edges[4].Name, c.want)
		}
	}
}

// Whether a point lies where a piece is cut may be otherwise for another body; what the
// cut makes has the same ids all the same, so that the pieces can follow.
func TestSplitAtAPointFollows(t *testing.T) {
	p := bodiceFor(t)
	front := p.Pieces[0]
	_, i := front.Edge(front.ID + ".armhole")
	if i < 0 || len(front.Edges[i].Nodes) < 2 {
		t.Fatal("the armhole of the front has no point inside; this test needs another block")
	}
	along := pathOf(front.EdgeNodes(i)[:2]).Length()
	args := SplitPieceArgs{
		From: &PlaceRef{front.ID, front.Edges[i].ID, EdgePlace{At: along}},
		To:   &PlaceRef{front.ID, front.ID + ".centre", EdgePlace{At: 0.9, Share: true}},
	}
	out, err := SplitPiece.Do(p, args)
	if err != nil {
		t.Fatal(err)
	}
	for _, bust := range []string{"225mm", "245mm", "262mm"} {
		next := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=bust_girth", "value="+bust)
		if next.Project.Piece(front.ID) == out.Project.Piece(front.ID) {
			t.Errorf("for a bust of %s the front has not followed: %v", bust, next.Says)
		}
	}
}

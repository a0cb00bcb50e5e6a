package draft

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"hemlet/geom"
)

// Unfolding a piece draws it whole, with all that is sewn; folding it again leads back.
func TestUnfoldThenFold(t *testing.T) {
	p := panel(CutOnFold)
	p.Pieces[0].Spans = []Span{{ID: "hips", Name: "hips", Measure: "hip_girth", Share: 0.25, Ease: 3, Edges: []ID{p.Pieces[0].Edges[0].ID}}}
	for _, s := range [][]string{
		{"a=Front.side", "b=Back.side"}, {"a=Front.shoulder", "b=Back.shoulder"},
	} {
		p = doneAct(t, p, "link-seam", s...).Project
	}
	p = doneAct(t, p, "add-notch", "edge=Front.side", "at=50mm from end").Project
	out := doneAct(t, p, "unfold-piece", "piece=Front")
	q := out.Project.Piece(p.Pieces[0].ID)
	var names []string
	for _, e := range q.Edges {
		names = append(names, e.Name)
	}
	if want := "hem side shoulder neck shoulder 2 side 2"; strings.Join(names, " ") != want {
		t.Errorf("edges %q, want %q", names, want)
	}
	flat, err := Unfold(p.Pieces[0])
	if err != nil {
		t.Fatal(err)
	}
	if d := outlinesApart(flat.Stitch, q.DrawnPath()); d > 1e-6 {
		t.Errorf("it is drawn %v mm from where it is cut", d)
	}
	if a, b := flat.Stitch.Area(), q.DrawnPath().Area(); math.Abs(a-b) > 1e-3 {
		t.Errorf("areas %v and %v", a, b)
	}
	if len(q.Notches) != 2 || q.Cut.Way != CutSingle {
		t.Errorf("%d notches, %v", len(q.Notches), q.Cut)
	}
	if s := q.Spans[0]; s.Share != 0.5 || s.Ease != 6 {
		t.Errorf("the hips are measured as %+v", s)
	}
	want := []string{
		"side: Front.side = Back.side/reversed",
		"side 2: Front.side 2/reversed = Back.side/left/reversed",
		"shoulder: Front.shoulder = Back.shoulder/reversed",
		"shoulder 2: Front.shoulder 2/reversed = Back.shoulder/left/reversed",
	}
	if diff := cmp.Diff(want, seamTexts(out.Project)); diff != "" {
		t.Error(diff)
	}
	for _, args := range [][]string{{"piece=Front"}, {"from=Front.hem@50%", "to=Front.neck@50%", "keep=right"}} {
		back := doneAct(t, out.Project, "fold-piece", args...)
		r := back.Project.Piece(q.ID)
		if r.Cut != p.Pieces[0].Cut {
			t.Errorf("cut %v", r.Cut)
		}
		if diff := cmp.Diff(seamTexts(p), seamTexts(back.Project)); diff != "" {
			t.Error(diff)
		}
		for i := range r.Edges {
			if r.Edges[i].Kind == FoldEdge {
				r.Edges[i].Name = "middle"
			}
		}
		sameOutline(t, p.Pieces[0], r)
		if s := r.Spans[0]; s.Share != 0.25 || s.Ease != 3 || len(s.Edges) != 1 {
			t.Errorf("the hips are measured as %+v", s)
		}
		if len(r.Notches) != 1 {
			t.Errorf("%d notches", len(r.Notches))
		}
	}
}

func TestFoldRefuses(t *testing.T) {
	p := doneAct(t, panel(CutOnFold), "unfold-piece", "piece=Front").Project
	uneven := doneAct(t, p, "move-nodes", "nodes=Front.side/end", "by=3mm,0mm").Project
	for _, tt := range []struct {
		p          *Project
		args, want string
	}{
		{uneven, "piece=Front", "the two halves differ by up to"},
		{p, "from=Front.hem@30%|to=Front.neck@50%", "the two halves differ by up to"},
		{p, "piece=Back", "only a piece that is cut as drawn"},
	} {
		_, err := tryAct(tt.p, "fold-piece", strings.Split(tt.args, "|")...)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.args, err, tt.want)
		} else {
			t.Log(err)
		}
	}
	if out := doneAct(t, uneven, "fold-piece", "from=Front.hem@50%", "to=Front.neck@50%", "apart=5mm"); len(out.Says) == 0 {
		t.Error("it does not say by how much the halves differed")
	}
	if _, err := tryAct(p, "unfold-piece", "piece=Front"); err == nil || !strings.Contains(err.Error(), "whole already") {
		t.Errorf("a whole piece unfolds: %v", err)
	}
}

// Where only one half has a corner, the other gets it when the piece is folded: what was
// sewn to a part of the one is sewn to that part still, on the other half of the body.
func TestFoldPutsCornersWhereOneHalfHasNone(t *testing.T) {
	for _, keep := range []string{"left", "right"} {
		p := doneAct(t, panel(CutOnFold), "unfold-piece", "piece=Front").Project
		p = doneAct(t, p, "insert-node", "edge=Front.side", "at=40%").Project
		p = doneAct(t, p, "corner-node", "nodes=Front.side/1").Project
		front := p.Pieces[0]
		whole, part := front.DrawnPath(), 0.0
		for i := range front.Edges {
			if front.Edges[i].Name == "side" {
				part = front.EdgeLength(i)
			}
		}
		if len(front.Edges) != 7 {
			t.Fatalf("%d edges", len(front.Edges))
		}
		other := square("patch", part, 5)
		q := p.shallow()
		q.Pieces = append(append([]*Piece(nil), p.Pieces...), other)
		q = doneAct(t, q, "link-seam", "a=Front.side", "b=patch.e1", "name=patch").Project
		out := doneAct(t, q, "fold-piece", "piece=Front", "keep="+keep)
		half := out.Project.Piece(front.ID)
		if len(half.Edges) != 6 { // hem, both parts of the side, shoulder, neck, fold
			t.Fatalf("keeping the %s: %d edges", keep, len(half.Edges))
		}
		flat, err := Unfold(half)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := flat.Stitch.Area(), whole.Area(); math.Abs(a-b) > 1e-2 {
			t.Errorf("keeping the %s: %v mm² unfolded, there were %v", keep, a, b)
		}
		if !strings.Contains(strings.Join(out.Says, " "), "corner") {
			t.Errorf("says %v", out.Says)
		}
		found := false
		for _, s := range out.Project.Seams {
			if s.Name != "patch" {
				continue
			}
			found = true
			if st, err := NewSlots().SeamState(out.Project, s); err != nil || !st.Holds {
				t.Errorf("keeping the %s: the patch is sewn %+v, %v", keep, st, err)
			}
			if far := s.A[0].Half == Far; len(s.A) != 1 || far == (out.Project.Piece(front.ID).DrawnPath().Bounds().Center().X > whole.Bounds().Center().X) {
				t.Errorf("keeping the %s: the patch is sewn to %s", keep, out.Project.RunText(s.A))
			}
		}
		if !found {
			t.Errorf("keeping the %s: the patch is sewn no more", keep)
		}
	}
}

// Turning a piece over twice changes nothing at all.
func TestMirrorTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := drawnPiece(t)
		piece.Place = Placement{At: geom.Pt(12.5, -7.25), Turn: TurnRadians(rapid.SampledFrom([]float64{0, 30, 90, -123.456}).Draw(t, "turn"))}
		piece.Cut.Way = rapid.SampledFrom([]CutWay{CutSingle, CutPairs}).Draw(t, "way")
		for i := range piece.Edges {
			piece.Edges[i].Corner = rapid.SampledFrom(CornerRules()).Draw(t, "corner")
			piece.Edges[i].Allowance.End += float64(i)
		}
		p := randomlySewn(piece)
		args := MirrorPieceArgs{Pieces: []PieceRef{PieceRef(piece.ID)}, Way: rapid.SampledFrom([]MirrorWay{LeftToRight, TopToBottom}).Draw(t, "mirror")}
		once, err := MirrorPiece.Do(p, args)
		if err != nil {
			t.Fatal(err)
		}
		soundProject(t, once.Project)
		q := once.Project.Piece(piece.ID)
		if a, b := piece.DrawnPath().Area(), q.DrawnPath().Area(); math.Abs(a-b) > 1e-9*a {
			t.Fatalf("area %v became %v", a, b)
		}
		before := piece.DrawnPath().Transform(piece.Place.Affine()).Bounds()
		after := q.DrawnPath().Transform(q.Place.Affine()).Bounds()
		if before.Center().Dist(after.Center()) > 1e-5 && args.Way == LeftToRight && piece.Place.Turn == 0 {
			t.Fatalf("its middle went from %v to %v", before.Center(), after.Center())
		}
		twice, err := MirrorPiece.Do(once.Project, args)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(p, twice.Project, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-12 })); diff != "" {
			t.Fatal(diff)
		}
	})
}

// The mouth of a dart may reach to the fold: unfolded, it lies between nodes of both halves.
func TestUnfoldWithAMouthAtTheFold(t *testing.T) {
	p := strip()
	q := p.Pieces[0]
	q.Edges[1].Kind, q.Edges[1].Allowance, q.Cut.Way = FoldEdge, Allowance{}, CutOnFold
	q.Edges[2].Nodes = append(q.Edges[2].Nodes, Node{ID: "strip.mouth", At: geom.Pt(280, 120)})
	q.Darts = []Dart{{ID: "d", Edge: q.Edges[2].ID, From: q.Edges[2].Nodes[0].ID, To: "strip.mouth", Apex: geom.Pt(290, 80)}}
	q.Notches = []Notch{{ID: "t", Edge: q.Edges[1].ID, At: 20}}
	q.Stretches = []Stretch{{ID: "s", Edge: q.Edges[1].ID, To: 0.5}}
	out := mustDo(t, p, "unfold-piece", "piece=strip")
	if err := Validate(out.Project); err != nil {
		t.Error(err)
	}
	if n := len(out.Project.Pieces[0].Darts); n != 2 {
		t.Errorf("%d darts", n)
	}
	wantNear(t, "area", out.Project.Pieces[0].DrawnPath().Area(), 2*300*120, 1e-3)
}

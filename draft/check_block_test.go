package draft

import (
	"math"
	"strings"
	"testing"
)

// findingOf returns the finding with the key, or nil.
func findingOf(p *Project, key string) *Finding {
	for _, f := range NewSlots().Check(p).Findings {
		if f.Key == key {
			return &f
		}
	}
	return nil
}

// Clearing a measure that the block needs refuses nothing: the pieces stay and it is
// told; measured again, they follow with all that was done to them meanwhile.
func TestPiecesStayWhileTheBlockCannotBeDrafted(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	d := p.Derivations[0]
	p = mustDo(t, p, "set-grain", "pieces=front", "angle=80").Project
	out := mustDo(t, p, "clear-measure", "wearer=Quill", "name=waist_girth")
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], "stay as they are") || !strings.Contains(out.Says[0], "waist_girth") {
		t.Errorf("says %q", out.Says)
	}
	for i := range p.Pieces {
		if out.Project.Pieces[i] != p.Pieces[i] {
			t.Errorf("%s has changed", p.Pieces[i].Name)
		}
	}
	f := findingOf(out.Project, "block/"+string(d.ID)+"/draft")
	if f == nil || f.Level != Problem || !strings.Contains(f.Says, "waist_girth") {
		t.Errorf("finding %+v", f)
	}
	// Moved meanwhile, and measured again.
	p = mustDo(t, out.Project, "move-nodes", "nodes=front.neck/end", "by=0mm,-4mm").Project
	p = mustDo(t, p, "move-notch", "notch=front.side#1", "at=11mm").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=190mm").Project
	front := p.Piece("front")
	made := front.Derived.piece("front")
	if fresh := vestFor(t, "231mm", "190mm", "84mm").Piece("front"); !equalEdges(made.Edges, fresh.Edges) {
		t.Error("the front has not followed")
	}
	n, _, _ := front.Node("front.fold.cf_neck")
	m, _, _ := made.Node("front.fold.cf_neck")
	if off := m.At.Dist(n.At); math.Abs(off-4) > offSlack {
		t.Errorf("the neckline is lowered by %g mm, want 4", off)
	}
	if front.Notches[0].At != 11 {
		t.Errorf("the notch that was moved to 11 mm lies at %g", front.Notches[0].At)
	}
	if *front.Grain == *made.Grain {
		t.Error("the grain that was turned has turned back")
	}
	if f := findingOf(p, "block/"+string(d.ID)+"/draft"); f != nil {
		t.Errorf("it is still told: %s", f.Says)
	}
}

// A point of a dart that was moved cannot be carried to a body that has no dart: the
// piece stays, is told, and can be drawn anew or kept.
func TestWhatCannotBeCarriedIsTold(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	p = mustDo(t, p, "move-nodes", "nodes=front.front.hem.dart_b", "by=0mm,2mm").Project
	mine := p.Piece("front")
	out := mustDo(t, p, "set-measure", "wearer=Quill", "name=waist_girth", "value=240mm")
	if out.Project.Piece("front") != mine {
		t.Fatal("the front has changed")
	}
	if len(out.Says) != 1 || !strings.Contains(out.Says[0], "Front could not follow") {
		t.Errorf("says %q", out.Says)
	}
	if out.Project.Piece("back") == p.Piece("back") {
		t.Error("the back has not followed")
	}
	f := findingOf(out.Project, "piece/front/behind")
	if f == nil || f.Level != Problem || !strings.Contains(f.Says, "dart_b") {
		t.Fatalf("finding %+v", f)
	}
	if again := mustDo(t, out.Project, "set-measure", "wearer=Quill", "name=waist_girth", "value=200mm").Project; !equalEdges(again.Piece("front").Edges, mine.Edges) || findingOf(again, "piece/front/behind") != nil {
		t.Error("back on the old body the front is not as it was")
	}
	redrawn := mustDo(t, out.Project, "redraw-piece", "pieces=front").Project
	if fresh := vestFor(t, "231mm", "240mm", "84mm").Piece("front"); !equalEdges(redrawn.Piece("front").Edges, fresh.Edges) || findingOf(redrawn, "piece/front/behind") != nil {
		t.Error("the front was not drawn anew")
	}
	kept := mustDo(t, out.Project, "keep-piece", "pieces=front").Project
	if findingOf(kept, "piece/front/behind") != nil || kept.Piece("front").Derived != nil {
		t.Error("the front was not kept")
	}
	if next := mustDo(t, kept, "set-measure", "wearer=Quill", "name=bust_girth", "value=260mm").Project; next.Piece("front") != kept.Piece("front") || len(next.Pieces) != 2 {
		t.Error("a kept piece follows, or was made again")
	}
}

// What the maker takes away stays away.
func TestWhatWasTakenAwayStaysAway(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	p = mustDo(t, p, "delete-notch", "notches=front.armhole#1").Project
	p = mustDo(t, p, "unlink-seam", "seams=shoulder").Project
	p = mustDo(t, p, "edit-seam", "seam=side", "name=side seam").Project
	p = mustDo(t, p, "set-allowance", "edges=front.neck", "width=3mm").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=260mm").Project
	front := p.Piece("front")
	if len(front.Notches) != 1 || len(p.Seams) != 2 || p.Seams[0].Name != "side seam" {
		t.Errorf("%d notches, %d seams, the first %s", len(front.Notches), len(p.Seams), p.Seams[0].Name)
	}
	if e, _ := front.Edge("front.neck"); e.Allowance != Even(3) {
		t.Errorf("the neck has the allowance %v", e.Allowance)
	}
	if e, _ := mustDo(t, p, "set-choice", "draft=vest", "name=allowance", "value=8mm").Project.Piece("front").Edge("front.side"); e.Allowance != Even(8) {
		t.Errorf("the side has the allowance %v", e.Allowance)
	}
	p = mustDo(t, p, "delete-piece", "pieces=back").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value=231mm").Project
	if len(p.Pieces) != 1 || len(p.Seams) != 0 {
		t.Errorf("%d pieces and %d seams after the back was deleted", len(p.Pieces), len(p.Seams))
	}
}

// Edges that were divided and joined stay so, with their seams.
func TestDividedEdgesFollow(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	out := mustDo(t, p, "insert-node", "edge=front.side", "at=30%")
	p = mustDo(t, out.Project, "corner-node", "nodes=front."+string(out.Made)).Project
	next := mustDo(t, p, "set-measure", "wearer=Quill", "name=back_waist_length", "value=120mm").Project
	front := next.Piece("front")
	if len(front.Edges) != 7 || len(front.Edges[1].Nodes) != 1 {
		t.Fatalf("%d edges", len(front.Edges))
	}
	if share := front.EdgeLength(1) / (front.EdgeLength(1) + front.EdgeLength(2)); math.Abs(share-0.3) > 1e-6 {
		t.Errorf("the side is divided at %g", share)
	}
	side := next.Seams[0]
	if len(side.A) != 2 || side.A[0].Edge != front.Edges[1].ID || side.A[1].Edge != front.Edges[2].ID {
		t.Errorf("the side seam sews %v", side.A)
	}
	for _, e := range front.Edges[1:3] {
		if e.Allowance != Even(6) {
			t.Errorf("%s has the allowance %v", e.Name, e.Allowance)
		}
	}
	if n := front.Notches[0]; n.Edge != front.Edges[2].ID || math.Abs(front.EdgeLength(1)+n.At-0.2*120) > 1e-3 {
		t.Errorf("the notch lies at %+v", n)
	}
	next = mustDo(t, next, "unlink-seam", "seams=shoulder").Project
	joined := mustDo(t, next, "delete-node", "nodes=front.neck/start").Project
	again := mustDo(t, joined, "set-measure", "wearer=Quill", "name=bust_girth", "value=300mm")
	if len(again.Project.Piece("front").Edges) != len(joined.Piece("front").Edges) {
		t.Errorf("the joined edges came apart; says %v", again.Says)
	}
}

// The girths of the vest are the body's and the ease that the block says.
func TestGirths(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	r := NewSlots().Check(p)
	if len(r.Girths) != 1 {
		t.Fatalf("girths %+v", r.Girths)
	}
	// Round the waist: (231 + 6 %)/4 less the dart of (231 - 200)/4, four times.
	g := r.Girths[0]
	want := 231*1.06 - 31
	if g.Level != "waist" || math.Abs(g.Length-want) > 1e-4 || math.Abs(g.Body-200) > 1e-9 || math.Abs(g.Ease-(want-200)) > 1e-4 || g.Estimated {
		t.Errorf("girth %+v, want %g round the waist", g, want)
	}
	for _, st := range r.Spans {
		if st.Span.Name == "waist quarter" && math.Abs(st.Length-st.Wants) > 1e-4 {
			t.Errorf("%s measures %g, wants %g", st.Span.Name, st.Length, st.Wants)
		}
	}
}

func TestWearersSlipsAreTold(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=stature", "value=360mm").Project
	p = mustDo(t, p, "set-measure", "wearer=Quill", "name=hip_girth", "value=2400mm").Project
	found := false
	for _, f := range NewSlots().Check(p).Findings {
		found = found || f.Wearer == p.Wearers[0].ID && strings.HasPrefix(f.Key, "wearer/") && strings.Contains(strings.Join(f.Measures, " "), "hip_girth")
	}
	if !found {
		t.Error("a girth in another unit is not told")
	}
}

// Renaming the wearer touches no piece, and a changed measure only those that read
// it.
func TestOnlyWhatReadsAMeasureChanges(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	for _, act := range [][]string{
		{"rename-wearer", "wearer=Quill", "name=Hog"},
		{"set-build", "wearer=Quill", "build=upright"},
		{"set-measure", "wearer=Quill", "name=head_girth", "value=150mm"},
		{"set-part", "wearer=Quill", "name=head", "girth=180mm"},
	} {
		q := mustDo(t, p, act[0], act[1:]...).Project
		for i := range p.Pieces {
			if q.Pieces[i] != p.Pieces[i] {
				t.Errorf("%s made %s anew", act[0], p.Pieces[i].Name)
			}
		}
	}
}

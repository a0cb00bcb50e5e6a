package draft

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// drawnBefore returns the project as it is when an older version of the program has
// drafted its first block, with estimates that gave other figures: the wearer's
// measure differs and no act has said so.
func drawnBefore(p *Project, name string, by float64) *Project {
	w := p.Wearers[0].clone()
	w.setFigure(name, toGrid(w.Given()[name]+by))
	return p.withWearer(w)
}

// What an older version drafted a hair otherwise is as good as drafted now, and what
// it drafted otherwise is no problem: it is told by how much, and one act takes it
// over with what was changed by hand.
func TestOlderPiecesAreNoProblem(t *testing.T) {
	for _, c := range []struct {
		by    float64 // of the bust: the dart's second point moves by 0.25 + 0.4*1.06/4 of it
		level Gravity
		words string
	}{
		{0.02, 0, ""},
		{0.4, Remark, "at most 0.2 mm"},
		{20, LookAgain, "at most 7.2 mm"},
	} {
		p := vestFor(t, "231mm", "200mm", "84mm")
		p = mustDo(t, p, "move-nodes", "nodes=front.neck/end", "by=0mm,-5mm").Project
		old := drawnBefore(p, "bust_girth", c.by)
		for _, key := range []string{"piece/front", "piece/back"} {
			if f := findingOf(old, key+"/behind"); f != nil {
				t.Fatalf("by %g: %s", c.by, f.Says)
			}
			f := findingOf(old, key+"/older")
			if (f != nil) != (c.words != "") {
				t.Fatalf("by %g: finding %+v", c.by, f)
			}
			if f != nil && (f.Level != c.level || key == "piece/front" && !strings.Contains(f.Says, c.words) || !(f.Value > f.Limit)) {
				t.Errorf("by %g: finding %+v", c.by, f)
			}
		}
		out := mustDo(t, old, "follow-block", "draft=vest")
		want := mustDo(t, p, "set-measure", "wearer=Quill", "name=bust_girth", "value="+Millimetre.Format(231+c.by)).Project
		if c.by >= 0.1 {
			for i := range want.Pieces {
				if !equalEdges(want.Pieces[i].Edges, out.Project.Pieces[i].Edges) {
					t.Errorf("by %g: %s is not as if the measure had been set", c.by, want.Pieces[i].Name)
				}
			}
		}
		if f := findingOf(out.Project, "piece/front/older"); f != nil {
			t.Errorf("by %g: brought up to date, and yet %s", c.by, f.Says)
		}
		if _, err := actOf(t, "follow-block").DoText(out.Project, map[string]string{"draft": "vest"}); err == nil || !strings.Contains(err.Error(), "up to date") {
			t.Errorf("brought up to date twice: %v", err)
		}
	}
}

// A block that is renewed by the text that it has is brought up to date too.
func TestRenewingBringsUpToDate(t *testing.T) {
	old := drawnBefore(vestFor(t, "231mm", "200mm", "84mm"), "bust_girth", 20)
	out, err := RenewBlock.Do(old, RenewBlockArgs{DerivationRef(old.Derivations[0].ID), vest})
	if err != nil {
		t.Fatal(err)
	}
	if fresh := vestFor(t, "251mm", "200mm", "84mm"); !equalEdges(out.Project.Pieces[0].Edges, fresh.Pieces[0].Edges) {
		t.Error("the front is as the older version drew it")
	}
}

// What stands in the way of following may be a seam of the maker's own; when it is
// taken apart the piece is no longer behind, and follows when asked.
func TestAPieceThatMayFollowAgainDoesWhenAsked(t *testing.T) {
	p := vestFor(t, "231mm", "200mm", "84mm")
	moved := mustDo(t, p, "move-nodes", "nodes=front.front.hem.dart_b", "by=0mm,2mm").Project
	stuck := mustDo(t, moved, "set-measure", "wearer=Quill", "name=waist_girth", "value=240mm").Project
	if _, err := actOf(t, "follow-block").DoText(stuck, map[string]string{"draft": "vest"}); err == nil || !strings.Contains(err.Error(), "dart_b") {
		t.Errorf("what stands in the way: %v", err)
	}
	free := mustDo(t, stuck, "move-nodes", "nodes=front.front.hem.dart_b", "by=0mm,-2mm").Project
	if f := findingOf(free, "piece/front/behind"); f != nil {
		t.Errorf("nothing stands in the way any more, and yet: %s", f.Says)
	}
	if f := findingOf(free, "piece/front/older"); f == nil || f.Level != LookAgain {
		t.Errorf("finding %+v", f)
	}
	out := mustDo(t, free, "follow-block", "draft=vest").Project
	if fresh := vestFor(t, "231mm", "240mm", "84mm"); !equalEdges(out.Piece("front").Edges, fresh.Piece("front").Edges) {
		t.Error("the front has not followed")
	}
}

func actOf(t *testing.T, name string) Named {
	t.Helper()
	act, err := ActNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return act
}

// No place of an outline moves further than is told.
func TestOutlinesMoveAtMostAsTold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		old := drawBody(t, "old")
		p := twoBodies(t, old, likeBody(t, old))
		a, b := p.Pieces[0], forWearer(t, p, 1).Pieces[0]
		told := changeOf(a, b).outline
		path, most := b.DrawnPath().Transform(b.Place.Affine()), 0.0
		for _, s := range a.DrawnPath().Transform(a.Place.Affine()) {
			for k := range 12 {
				_, d := path.Nearest(s.At(float64(k) / 12))
				most = math.Max(most, d)
			}
		}
		// Where points come or go both are sampled, and a place between is missed.
		if slack := 0.02 * told; most > told+slack {
			t.Fatalf("the outline moves by %g mm, and %g were told", most, told)
		}
		if same := changeOf(a, a); !same.none() || same.most() != 0 {
			t.Fatalf("a piece differs from itself by %+v", same)
		}
	})
}

// Each thing of a piece that is another is a change, by as much as it is.
func TestChangeOf(t *testing.T) {
	a := vestFor(t, "231mm", "200mm", "84mm").Piece("front")
	for name, c := range map[string]struct {
		do   func(p *Piece)
		want change
	}{
		"moved point":   {func(p *Piece) { p.Edges[0].Nodes[0].At.X += 0.3 }, change{outline: 0.3}},
		"bench":         {func(p *Piece) { p.Place.At.Y += 4 }, change{outline: 4, marks: 4}},
		"allowance":     {func(p *Piece) { p.Edges[1].Allowance.End += 2 }, change{widths: 2}},
		"kind":          {func(p *Piece) { p.Edges[1].Kind = HemEdge }, change{other: true}},
		"name":          {func(p *Piece) { p.Name = "Mine" }, change{other: true}},
		"no grain":      {func(p *Piece) { p.Grain = nil }, change{other: true}},
		"grain":         {func(p *Piece) { p.Grain.To.X++ }, change{marks: 1}},
		"label":         {func(p *Piece) { p.LabelAt = &geom.Point{X: p.LabelAt.X + 2, Y: p.LabelAt.Y} }, change{marks: 2}},
		"apex":          {func(p *Piece) { p.Darts[0].Apex.Y -= 3 }, change{marks: 3}},
		"press":         {func(p *Piece) { p.Darts[0].Press = PressOpen }, change{other: true}},
		"notch":         {func(p *Piece) { p.Notches[0].At += 0.5 }, change{marks: 0.5}},
		"notch gone":    {func(p *Piece) { p.Notches = p.Notches[1:] }, change{other: true}},
		"line":          {func(p *Piece) { p.Lines[0].Nodes[1].At.Y++ }, change{marks: 1}},
		"ease":          {func(p *Piece) { p.Spans[0].Ease-- }, change{marks: 1}},
		"share":         {func(p *Piece) { p.Spans[0].Share = 0.5 }, change{other: true}},
		"span's edges":  {func(p *Piece) { p.Spans[0].Edges = append(p.Spans[0].Edges, "front.side") }, change{other: true}},
		"another order": {func(p *Piece) { slices.Reverse(p.Notches) }, change{}},
		"rounding":      {func(p *Piece) { p.Spans[0].Share += 1e-12 }, change{}},
		"point comes": {func(p *Piece) {
			n := p.Edges[1].Nodes[0]
			n.ID, n.At.Y = "n1", n.At.Y+1
			p.Edges[1].Nodes = append(p.Edges[1].Nodes, n)
		}, change{}},
		"point off comes": {func(p *Piece) {
			n := p.Edges[1].Nodes[0]
			n.ID, n.At.X, n.At.Y = "n1", n.At.X+5, n.At.Y+1
			p.Edges[1].Nodes = append(p.Edges[1].Nodes, n)
		}, change{outline: 5}},
	} {
		b := a.clone()
		c.do(b)
		got := changeOf(a, b)
		near := func(x, y float64) bool { return math.Abs(x-y) <= 0.1*y+1e-9 }
		if got.other != c.want.other || !near(got.outline, c.want.outline) && name != "point comes" || !near(got.marks, c.want.marks) || !near(got.widths, c.want.widths) {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

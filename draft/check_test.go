package draft

import (
	"math"
	"strings"
	"testing"

	"hemlet/geom"
)

func findingsAbout(r Report, key string) []Finding {
	var out []Finding
	for _, f := range r.Findings {
		if strings.HasSuffix(f.Key, key) {
			out = append(out, f)
		}
	}
	return out
}

func square(name string, side, allowance float64) *Piece {
	return polygonPiece(name, allowance, geom.Pt(0, 0), geom.Pt(side, 0), geom.Pt(side, side), geom.Pt(0, side))
}

func seamBetween(a, b *Piece, edge int, ratio float64) *Seam {
	return &Seam{
		ID: "s1", Name: "side", Ratio: ratio, Fuller: SideB, To: 1,
		A: Run{{Piece: a.ID, Copy: CopyRef{Number: 1}, Edge: a.Edges[edge].ID}},
		B: Run{{Piece: b.ID, Copy: CopyRef{Number: 1}, Edge: b.Edges[edge].ID, Reversed: true}},
	}
}

func TestSeamState(t *testing.T) {
	for _, tc := range []struct {
		name        string
		a, b, ratio float64
		holds       bool
		diff        float64
	}{
		{"equal", 80, 80, 1, true, 0},
		{"within a stitch", 80, 80.4, 1, true, 0.4},
		{"too long", 80, 81.2, 1, false, 1.2},
		{"too short", 81.2, 80, 1, false, -1.2},
		{"gathered as meant", 60, 120, 2, true, 0},
		{"gathered too little", 60, 110, 2, false, -10},
		{"long seams may differ more", 800, 801.5, 1, true, 1.5},
	} {
		a, b := square("a", tc.a, 5), square("b", tc.b, 5)
		p := projectOf(a, b)
		p.Seams = []*Seam{seamBetween(a, b, 0, tc.ratio)}
		st, err := NewSlots().SeamState(p, p.Seams[0])
		if err != nil {
			t.Fatal(err)
		}
		if st.Holds != tc.holds || st.Diff-tc.diff > 1e-9 || tc.diff-st.Diff > 1e-9 {
			t.Errorf("%s: holds %v with %g mm, want %v with %g", tc.name, st.Holds, st.Diff, tc.holds, tc.diff)
		}
		problems := findingsAbout(NewSlots().Check(p), "/length")
		if (len(problems) == 0) != tc.holds {
			t.Errorf("%s: %d findings about its length", tc.name, len(problems))
		}
	}
}

// What a seam may be off shrinks with the wearer below a quarter of a person, and not
// without end.
func TestSeamLimitBySize(t *testing.T) {
	for _, tc := range []struct{ stature, length, want float64 }{
		{0, 80, 0.5}, {1700, 80, 0.5}, {1700, 2000, 2}, {425, 80, 0.5},
		{340, 80, 0.4}, {340, 400, 1}, {340, 2000, 1.6}, {140, 20, 0.2}, {140, 2000, 0.8},
	} {
		a, b := square("a", tc.length, 5), square("b", tc.length, 5)
		p := projectOf(a, b)
		p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
		if tc.stature > 0 {
			p.Wearers = []*Wearer{{ID: "w1", Name: "Quill", Measures: []Measure{{Name: "stature", Value: tc.stature}}}}
		}
		st, err := NewSlots().SeamState(p, p.Seams[0])
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(st.Limit-tc.want) > 1e-9 {
			t.Errorf("a seam of %g mm for a wearer of %g mm may be off by %g mm, want %g", tc.length, tc.stature, st.Limit, tc.want)
		}
	}
}

// brokenPiece is a square of 100 mm of which one thing is made wrong.
type brokenPiece struct {
	name, key string
	level     Gravity
	edit      func(*Piece)
}

func brokenPieces() []brokenPiece {
	return []brokenPiece{
		{"crossing outline", "/outline", Problem, func(p *Piece) { p.Edges[1].Nodes[0].At = geom.Pt(50, 200) }},
		{"no fold", "/fold", Problem, func(p *Piece) { p.Cut.Way = CutOnFold }},
		{"fold on a piece cut as drawn", "/fold unused", LookAgain, func(p *Piece) { p.Edges[3].Kind = FoldEdge }},
		{"edge of which nothing is left", "/short", LookAgain, func(p *Piece) {
			// A slit whose two sides take all of the allowance of its end.
			p.Edges = polygonPiece("p", 5, geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(48, 30), geom.Pt(52, 30), geom.Pt(60, 0), geom.Pt(100, 0), geom.Pt(100, 100), geom.Pt(0, 100)).Edges
			p.Edges[2].Allowance = Even(1)
		}},
		{"bent fold", "/fold bent", Problem, func(p *Piece) {
			p.Cut.Way, p.Edges[3].Kind = CutOnFold, FoldEdge
			p.Edges[3].Nodes[0].Out = geom.Pt(2, -30)
			p.Edges[0].Nodes[0].In = geom.Pt(2, 30)
		}},
		{"slanting corner at the fold", "/fold corner", LookAgain, func(p *Piece) {
			p.Cut.Way, p.Edges[3].Kind = CutOnFold, FoldEdge
			p.Edges[1].Nodes[0].At = geom.Pt(100, 20)
		}},
		{"no cloth", "/cloth", Remark, func(p *Piece) {}},
		{"never cut", "/count", Problem, func(p *Piece) { p.Cut.Count = 0 }},
		{"narrow seam", "/narrow", Remark, func(p *Piece) { p.Edges[2].Allowance = Even(2) }},
		{"narrow seams", "/narrow", Remark, func(p *Piece) { p.Edges[1].Allowance, p.Edges[2].Allowance = Even(2), Even(2.5) }},
		{"allowance wider than the piece", "/wide", LookAgain, func(p *Piece) { p.Edges[2].Allowance = Even(150) }},
		{"trim wider than cut", "/trim", LookAgain, func(p *Piece) { p.Edges[2].Allowance = Allowance{5, 5, 6} }},
		{"notch beyond its edge", "/notch n", LookAgain, func(p *Piece) {
			p.Notches = []Notch{{ID: "n", Edge: p.Edges[0].ID, At: 101}}
		}},
		{"hollow tighter than the allowance", "/hollow", LookAgain, func(p *Piece) {
			p.Edges[0].Allowance = Even(60)
			p.Edges[0].Nodes[0].Out = geom.Pt(10, 40)
			p.Edges[1].Nodes[0].In = geom.Pt(-10, 40)
		}},
		{"tiny piece", "/tiny", LookAgain, func(p *Piece) {
			for i := range p.Edges {
				p.Edges[i].Nodes[0].At = p.Edges[i].Nodes[0].At.Mul(0.02)
				p.Edges[i].Allowance = Even(0.1)
			}
		}},
		{"uneven dart", "/dart d", Problem, func(p *Piece) {
			p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "a", At: geom.Pt(60, 100)}, Node{ID: "b", At: geom.Pt(45, 100)})
			p.Darts = []Dart{{ID: "d", Edge: p.Edges[2].ID, From: "a", To: "b", Apex: geom.Pt(50, 60)}}
		}},
	}
}

func TestChecksOfOnePiece(t *testing.T) {
	for _, tc := range brokenPieces() {
		p := square("p", 100, 5)
		if got := findingsAbout(NewSlots().Check(projectOf(p)), tc.key); len(got) != 0 && tc.key != "/cloth" {
			t.Errorf("%s: found before anything was wrong: %v", tc.name, got)
		}
		tc.edit(p)
		got := findingsAbout(NewSlots().Check(projectOf(p)), tc.key)
		if len(got) != 1 || got[0].Level != tc.level || got[0].Says == "" {
			t.Errorf("%s: found %+v, want one at level %v", tc.name, got, tc.level)
		}
	}
}

func TestSoundFoldedPieceHasNothingWrong(t *testing.T) {
	p := halfPiece(5)
	for i := range p.Edges {
		if p.Edges[i].Kind == SeamEdge {
			p.Edges[i].Kind = HemEdge
		}
	}
	project := projectOf(p)
	project.Cloths = []*Cloth{{ID: "c1", Name: "linen"}}
	p.Cloth = "c1"
	if r := NewSlots().Check(project); len(r.Findings) != 0 {
		t.Errorf("found %+v", r.Findings)
	}
}

// sleeveless is a small front on the fold as it should be: a neckline and an
// armhole of doll size (common practice, no source).
func sleeveless(neck, allowance float64) *Piece {
	const k = 0.5523 // handles of a quarter circle, as a share of its radius
	p := polygonPiece("front", allowance, geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(38, 40), geom.Pt(neck+14, 66), geom.Pt(neck, 70), geom.Pt(0, 70-neck))
	p.Edges[2].Nodes[0].Out, p.Edges[3].Nodes[0].In = geom.Pt(-10, 3), geom.Pt(-2, -12)
	p.Edges[4].Nodes[0].Out, p.Edges[5].Nodes[0].In = geom.Pt(0, -k*neck), geom.Pt(k*neck, 0)
	p.Edges[5].Kind, p.Cut = FoldEdge, CutRule{Way: CutOnFold, Count: 1}
	return p
}

// What a sound pattern has must not be told, or nobody reads what is.
func TestSoundPiecesAreNotAccused(t *testing.T) {
	slit, flat := sleeveless(9, 5), sleeveless(9, 5)
	slit.Edges[4].Nodes[0].Out, slit.Edges[5].Nodes[0].In = geom.Pt(0, -8.1), geom.Pt(8.1, 0)
	slit.Edges[4].Allowance = Allowance{Start: 5, End: 1}
	flat.Edges[4].Nodes[0].Out, flat.Edges[5].Nodes[0].In = geom.Pt(0, -2.7), geom.Pt(2.7, 0)
	short := polygonPiece("extension", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 70), geom.Pt(56, 70), geom.Pt(50, 90), geom.Pt(0, 90))
	v := sleeveless(12, 5)
	v.Edges[4].Nodes[0].Out, v.Edges[5].Nodes[0] = geom.Point{}, Node{ID: "v", At: geom.Pt(0, 50)}
	for name, p := range map[string]*Piece{
		"neckline of radius 8, allowance 5": sleeveless(8, 5), "neckline of radius 6.5, allowance 6": sleeveless(6.5, 6),
		"handles a little short": flat, "tight where the allowance has tapered": slit, "short edge between outward corners": short,
		"neck of a V on the fold": v, "strap": polygonPiece("strap", 12, geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 9), geom.Pt(0, 9)),
	} {
		for _, f := range NewSlots().Check(projectOf(p)).Findings {
			if f.Level != Remark {
				t.Errorf("%s: %s: %s", name, f.About, f.Says)
			}
		}
	}
}

func TestSeamsForBothSidesClaimBoth(t *testing.T) {
	a, b, c := square("a", 80, 5), square("b", 80, 5), square("c", 80, 5)
	for _, q := range []*Piece{a, b, c} {
		q.Cut.Way = CutPairs
	}
	p := projectOf(a, b, c)
	one, two := seamBetween(a, b, 0, 1), seamBetween(a, c, 0, 1)
	one.BothSides = true
	two.ID, two.A[0].Copy.Mirrored, two.B[0].Copy.Mirrored = "s2", true, true
	p.Seams = []*Seam{one, two}
	if got := findingsAbout(NewSlots().Check(p), "/twice/"+string(a.Edges[0].ID)); len(got) != 1 {
		t.Errorf("found %+v, want one: the left of a is in both seams", got)
	}
}

func TestSeamOfWhatIsGoneSaysWhat(t *testing.T) {
	a, b := square("a", 80, 5), square("b", 80, 5)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	p.Pieces = p.Pieces[:1]
	got := findingsAbout(NewSlots().Check(p), "/gone")
	if len(got) != 1 || got[0].Level != Problem || !strings.Contains(got[0].Says, "piece b is gone") {
		t.Errorf("found %+v", got)
	}
}

func TestEdgeInTwoSeamsIsFound(t *testing.T) {
	a, b, c := square("a", 80, 5), square("b", 80, 5), square("c", 80, 5)
	p := projectOf(a, b, c)
	one, two := seamBetween(a, b, 0, 1), seamBetween(a, c, 0, 1)
	two.ID, two.Name = "s2", "other"
	p.Seams = []*Seam{one, two}
	r := NewSlots().Check(p)
	if got := findingsAbout(r, "/twice/"+string(a.Edges[0].ID)); len(got) != 1 || got[0].Seam != "s2" {
		t.Errorf("found %+v, want one about the second seam", got)
	}
}

func TestWaivedFindingsStayButDoNotCount(t *testing.T) {
	a, b := square("a", 80, 5), square("b", 90, 5)
	p := projectOf(a, b)
	p.Seams = []*Seam{seamBetween(a, b, 0, 1)}
	p.Waivers = []Waiver{{Finding: "seam/s1/length", Reason: "stretched over steam"}}
	r := NewSlots().Check(p)
	got := findingsAbout(r, "seam/s1/length")
	if len(got) != 1 || got[0].Open() {
		t.Fatalf("found %+v, want one that is waived", got)
	}
	if worst, any := Worst(r.Findings); any && worst == Problem {
		t.Error("a waived problem still counts")
	}
}

func TestLetters(t *testing.T) {
	seen := make(map[string]bool)
	for i := 0; i < 2000; i++ {
		l := Letter(i)
		if l == "" || seen[l] || strings.ContainsAny(l, "IO") {
			t.Fatalf("letter %d is %q", i, l)
		}
		seen[l] = true
	}
	if Letter(0) != "A" || Letter(23) != "Z" || Letter(24) != "AA" {
		t.Errorf("letters begin %s, %s, %s", Letter(0), Letter(23), Letter(24))
	}
}

// Gathers are spread by eye, pleats are counted: what passes in the one is a
// problem in the other.
func TestGathersMayBeOffByMoreThanPleats(t *testing.T) {
	a, b := square("a", 60.7, 5), square("b", 120, 5)
	p := projectOf(a, b)
	for fullness, holds := range map[Fullness]bool{Gathers: true, Pleats: false} {
		seam := seamBetween(a, b, 0, 2)
		seam.Fullness = fullness
		p.Seams = []*Seam{seam}
		if st, err := NewSlots().SeamState(p, seam); err != nil || st.Holds != holds {
			t.Errorf("%v: %+v, %v; want holds %v", fullness, st, err, holds)
		}
	}
}

func TestSeamFindingNamesTheSideThatIsWrong(t *testing.T) {
	for _, tc := range []struct {
		a, b, ratio float64
		says        string
	}{
		{80, 90, 1, "The e0 of b is 10 mm longer than the e0 of a"},
		{90, 80, 1, "The e0 of a is 10 mm longer than the e0 of b"},
		{60, 110, 2, "The e0 of b is 10 mm shorter than meant"},
		{60, 140, 2, "The e0 of b is 20 mm longer than meant"},
	} {
		a, b := square("a", tc.a, 5), square("b", tc.b, 5)
		p := projectOf(a, b)
		p.Seams = []*Seam{seamBetween(a, b, 0, tc.ratio)}
		got := findingsAbout(NewSlots().Check(p), "/length")
		if len(got) != 1 || !strings.HasPrefix(got[0].Says, tc.says) {
			t.Errorf("%g to %g at %g: %+v, want %q", tc.a, tc.b, tc.ratio, got, tc.says)
		}
	}
}

func TestSeamOffNamesTheSide(t *testing.T) {
	for _, tc := range []struct {
		a, b, ratio float64
		want        SeamOff
		fuller      Side
		asItIs      float64
	}{
		{80, 90, 1, SeamOff{Edge: "e0", Side: "e0 of b", By: 10}, SideB, 1.125},
		{90, 80, 1, SeamOff{Edge: "e0", Side: "e0 of a", By: 10}, SideA, 1.125},
		{60, 110, 2, SeamOff{Edge: "e0", Side: "e0 of b", By: 10, Short: true}, SideB, 110. / 60},
		{60, 140, 2, SeamOff{Edge: "e0", Side: "e0 of b", By: 20}, SideB, 140. / 60},
	} {
		a, b := square("a", tc.a, 5), square("b", tc.b, 5)
		p := projectOf(a, b)
		p.Seams = []*Seam{seamBetween(a, b, 0, tc.ratio)}
		st, err := NewSlots().SeamState(p, p.Seams[0])
		if err != nil {
			t.Fatal(err)
		}
		got := st.Off(p)
		if math.Abs(got.By-tc.want.By) > 1e-9 {
			t.Errorf("%g to %g at %g: off by %v mm, want %v", tc.a, tc.b, tc.ratio, got.By, tc.want.By)
		}
		if got.By = tc.want.By; got != tc.want {
			t.Errorf("%g to %g at %g: %+v, want %+v", tc.a, tc.b, tc.ratio, got, tc.want)
		}
		if fuller, ratio := st.AsItIs(); fuller != tc.fuller || math.Abs(ratio-tc.asItIs) > 1e-9 {
			t.Errorf("%g to %g as it is: side %v, %v times, want side %v, %v times", tc.a, tc.b, fuller, ratio, tc.fuller, tc.asItIs)
		}
	}
}

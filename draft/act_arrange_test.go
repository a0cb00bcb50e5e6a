package draft_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/draft"
	"hemlet/geom"
)

// card returns a project of rectangles, each with its left bottom corner and its size
// in mm, without allowances.
func card(t *testing.T, boxes ...[4]float64) *draft.Project {
	t.Helper()
	var list []draft.Outline
	for i, b := range boxes {
		path := geom.Polygon(geom.Pt(b[0], b[1]), geom.Pt(b[0]+b[2], b[1]), geom.Pt(b[0]+b[2], b[1]+b[3]), geom.Pt(b[0], b[1]+b[3]))
		list = append(list, draft.Outline{Path: path, Corner: []bool{true, true, true, true}, Name: string(rune('A' + i))})
	}
	out, err := draft.ImportOutlines.Do(draft.New("card"), draft.ImportOutlinesArgs{Outlines: list})
	if err != nil {
		t.Fatal(err)
	}
	return out.Project
}

// acted does an act by its name with arguments as name=value.
func acted(t *testing.T, p *draft.Project, act string, args ...string) draft.Outcome {
	t.Helper()
	out, err := tried(p, act, args...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func tried(p *draft.Project, act string, args ...string) (draft.Outcome, error) {
	texts := make(map[string]string)
	for _, a := range args {
		k, v, _ := strings.Cut(a, "=")
		texts[k] = v
	}
	named, err := draft.ActNamed(act)
	if err != nil {
		return draft.Outcome{}, err
	}
	return named.DoText(p, texts)
}

func boxOf(p *draft.Piece) geom.Rect {
	return p.DrawnPath().Transform(p.Place.Affine()).Bounds()
}

func TestAlignPieces(t *testing.T) {
	p := card(t, [4]float64{0, 0, 10, 20}, [4]float64{30, 5, 20, 40}, [4]float64{70, -10, 30, 15})
	for by, want := range map[string][3]geom.Point{ // left bottom corners, worked out by hand
		"left":           {{X: 0, Y: 0}, {X: 0, Y: 5}, {X: 0, Y: -10}},
		"right":          {{X: 90, Y: 0}, {X: 80, Y: 5}, {X: 70, Y: -10}},
		"upright middle": {{X: 45, Y: 0}, {X: 40, Y: 5}, {X: 35, Y: -10}},
		"top":            {{X: 0, Y: 25}, {X: 30, Y: 5}, {X: 70, Y: 30}},
		"bottom":         {{X: 0, Y: -10}, {X: 30, Y: -10}, {X: 70, Y: -10}},
		"level middle":   {{X: 0, Y: 7.5}, {X: 30, Y: -2.5}, {X: 70, Y: 10}},
	} {
		out := acted(t, p, "align-pieces", "pieces=*", "by="+by)
		for i, piece := range out.Project.Pieces {
			if got := boxOf(piece).Min; got.Dist(want[i]) > 1e-9 {
				t.Errorf("%s: %s lies at %v, want %v", by, piece.Name, got, want[i])
			}
		}
	}
	out := acted(t, p, "align-pieces", "pieces=A;C", "by=left", "with=B")
	for i, x := range []float64{30, 30, 30} {
		if got := boxOf(out.Project.Pieces[i]).Min.X; got != x {
			t.Errorf("with B: %v", got)
		}
	}
	if out.Project.Pieces[1] != p.Pieces[1] {
		t.Error("the piece that stays was changed")
	}
	if _, err := tried(p, "align-pieces", "pieces=A", "by=left"); err == nil {
		t.Error("one piece alone is aligned")
	}
}

func TestDistributePieces(t *testing.T) {
	p := card(t, [4]float64{0, 0, 10, 20}, [4]float64{12, 30, 20, 10}, [4]float64{70, 60, 30, 15})
	out := acted(t, p, "distribute-pieces", "pieces=C;A;B")
	// 100 mm, of which the pieces take 60: 20 mm between.
	for i, x := range []float64{0, 30, 70} {
		if got := boxOf(out.Project.Pieces[i]).Min.X; math.Abs(got-x) > 1e-9 {
			t.Errorf("%s begins at %v, want %v", out.Project.Pieces[i].Name, got, x)
		}
	}
	out = acted(t, p, "distribute-pieces", "pieces=*", "along=up", "gap=5mm")
	// The topmost stays, the others follow below it with 5 mm between.
	for i, y := range []float64{40, 55, 75} {
		if got := boxOf(out.Project.Pieces[i]).Max.Y; math.Abs(got-y) > 1e-9 {
			t.Errorf("the top of %s is at %v, want %v", out.Project.Pieces[i].Name, got, y)
		}
	}
	for _, args := range [][]string{{"pieces=A;B"}, {"pieces=A", "gap=5mm"}, {"pieces=*", "gap=-5mm"}} {
		if _, err := tried(p, "distribute-pieces", args...); err == nil {
			t.Errorf("%v is done", args)
		}
	}
}

func names(p *draft.Project) string {
	var all []string
	for _, piece := range p.Pieces {
		all = append(all, piece.Name+"/"+piece.Garment)
	}
	return strings.Join(all, " ")
}

func TestGroupAndOrderPieces(t *testing.T) {
	p := card(t, [4]float64{0, 0, 9, 9}, [4]float64{20, 0, 9, 9}, [4]float64{40, 0, 9, 9}, [4]float64{60, 0, 9, 9})
	out := acted(t, p, "group-pieces", "pieces=D;B")
	if got := names(out.Project); got != "A/ B/Garment 1 D/Garment 1 C/" {
		t.Error(got)
	}
	out = acted(t, out.Project, "group-pieces", "pieces=A")
	if got := names(out.Project); got != "A/Garment 2 B/Garment 1 D/Garment 1 C/" {
		t.Error(got)
	}
	for _, c := range []struct{ want, args string }{
		{"B/ C/ A/ D/", "pieces=A|before=D"},
		{"A/ C/ D/ B/", "pieces=B"},
		{"A/ D/Cape B/ C/", "pieces=D|before=B|garment=Cape"},
		{"C/ D/ A/ B/", "pieces=D;C|before=A"},
		{"A/ B/ C/ D/", "pieces=A;B|before=C"},
	} {
		if got := names(acted(t, p, "order-pieces", strings.Split(c.args, "|")...).Project); got != c.want {
			t.Errorf("%s: %s, want %s", c.args, got, c.want)
		}
	}
	if _, err := tried(p, "order-pieces", "pieces=A;B", "before=A"); err == nil {
		t.Error("a piece goes before itself")
	}
	if got := names(p); got != "A/ B/ C/ D/" {
		t.Errorf("the earlier project is %s now", got)
	}
}

// A locked piece keeps its lines, marks and place whatever act is tried, and may be
// renamed, put in a garment, hidden, and cut from another cloth.
func TestLockHolds(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	front := string(p.Pieces[0].ID)
	p = acted(t, p, "lock-pieces", "pieces="+front).Project
	for _, c := range []string{
		"move-piece|by=3mm,0mm", "turn-piece|by=5", "scale-piece|factor=2", "delete-piece", "set-grain|angle=45",
	} {
		act, args, _ := strings.Cut(c, "|")
		list := append([]string{"pieces=" + front}, strings.Split(args, "|")...)
		if args == "" {
			list = list[:1]
		}
		if _, err := tried(p, act, list...); err == nil || !strings.Contains(err.Error(), "Front is locked; unlock it first") {
			t.Errorf("%s on a locked piece: %v", act, err)
		}
	}
	if _, err := tried(p, "add-notch", "edge="+front+".side", "at=50%"); err == nil {
		t.Error("a locked piece gets a notch")
	}
	if _, err := tried(p, "move-nodes", "nodes="+front+".*", "by=1mm,0mm"); err == nil {
		t.Error("points of a locked piece are moved")
	}
	for _, c := range [][]string{
		{"set-garment", "pieces=" + front, "garment=Smock"}, {"rename-piece", "piece=" + front, "name=Fore"}, {"hide-pieces", "pieces=" + front},
		{"set-cloth", "pieces=" + front, "cloth=felt"}, {"move-piece", "pieces=Lining", "by=3mm,0mm"}, {"unlock-pieces", "pieces=" + front},
		{"duplicate-piece", "piece=" + front},
	} {
		p = acted(t, p, c[0], c[1:]...).Project
	}
	acted(t, p, "move-piece", "pieces="+front, "by=3mm,0mm")
}

// A ghost is neither sewn nor checked nor written to files; a hidden piece is.
func TestGhostAndHidden(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	front, back := p.Pieces[0].ID, p.Pieces[1].ID
	out := acted(t, p, "set-ghost", "pieces="+string(front))
	if len(out.Says) != 1 || strings.Count(out.Says[0], ",") != 2 || len(out.Project.Seams) != len(p.Seams) || len(out.Project.Pattern().Seams) != len(p.Seams)-3 {
		t.Errorf("%d seams are sewn of %d, and it says %q", len(out.Project.Pattern().Seams), len(p.Seams), out.Says)
	}
	ghostly := acted(t, out.Project, "hide-pieces", "pieces="+string(back)).Project
	for _, f := range draft.NewSlots().Check(ghostly).Findings {
		if f.Piece == front {
			t.Errorf("a ghost is checked: %s", f.Says)
		}
	}
	about := func(f draft.Finding) bool { return f.Piece == back }
	if before, after := draft.NewSlots().Check(out.Project), draft.NewSlots().Check(ghostly); slices.ContainsFunc(before.Findings, about) != slices.ContainsFunc(after.Findings, about) {
		t.Error("hiding a piece changes what the checks say")
	}
	if _, err := tried(ghostly, "link-seam", "a="+string(front)+".side", "b="+string(back)+".side"); err == nil || !strings.Contains(err.Error(), "ghost") {
		t.Errorf("a ghost is sewn: %v", err)
	}
	real := acted(t, ghostly, "set-ghost", "pieces="+string(front), "opacity=0").Project
	if real.Piece(front).Ghost != 0 || real.Pattern() != real {
		t.Error("the ghost stays one")
	}
	for _, o := range []string{"-1", "1.5"} {
		if _, err := tried(p, "set-ghost", "pieces="+string(front), "opacity="+o); err == nil {
			t.Errorf("an opacity of %s is taken", o)
		}
	}
}

// Scaled by k, every length is k times and the area k*k times what it was, by the
// definition of similar figures; allowances stay.
func TestScalePiece(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := workshop(t)
		k := rapid.Float64Range(0.2, 5).Draw(t, "factor")
		piece := p.Pieces[rapid.IntRange(0, len(p.Pieces)-1).Draw(t, "piece")]
		args := draft.ScalePieceArgs{Pieces: []draft.PieceRef{draft.PieceRef(piece.ID)}, Factor: &k}
		at := geom.Pt(rapid.Float64Range(-99, 99).Draw(t, "x"), rapid.Float64Range(-99, 99).Draw(t, "y"))
		if places := rapid.Bool().Draw(t, "by places"); places {
			to, apart := draft.Vector(at.Add(geom.Pt(30, 40))), draft.Length(50*k)
			from := draft.Vector(at)
			args.Factor, args.From, args.To, args.Distance = nil, &from, &to, &apart
		} else {
			at = boxOf(piece).Center()
		}
		out, err := draft.ScalePiece.Do(p, args)
		if err != nil {
			t.Fatal(err)
		}
		if err := draft.Validate(out.Project); err != nil {
			t.Fatal(err)
		}
		q := out.Project.Piece(piece.ID)
		if got, want := q.DrawnPath().Area(), piece.DrawnPath().Area()*k*k; math.Abs(got-want) > 1e-6*math.Abs(want) {
			t.Fatalf("area %v, want %v", got, want)
		}
		for i := range piece.Edges {
			if got, want := q.EdgeLength(i), piece.EdgeLength(i)*k; math.Abs(got-want) > 1e-5 {
				t.Fatalf("edge %s is %v long, want %v", q.Edges[i].Name, got, want)
			}
			if q.Edges[i].Allowance != piece.Edges[i].Allowance {
				t.Fatal("an allowance was scaled")
			}
		}
		// The place that stays: every point lies k times as far from it.
		a, b := piece.Place.Affine().Apply(piece.Edges[0].Nodes[0].At), q.Place.Affine().Apply(q.Edges[0].Nodes[0].At)
		if want := at.Add(a.Sub(at).Mul(k)); b.Dist(want) > 1e-5 {
			t.Fatalf("a point comes to %v, want %v", b, want)
		}
		if q.Derived != nil {
			t.Fatal("a scaled piece follows still")
		}
	})
	p := card(t, [4]float64{0, 0, 10, 20})
	for _, args := range [][]string{
		{}, {"factor=0"}, {"factor=-2"}, {"factor=1e9"}, {"factor=2", "from=0mm,0mm"}, {"from=0mm,0mm", "to=0mm,0mm", "distance=9mm"},
		{"from=0mm,0mm", "to=9mm,0mm", "distance=0mm"},
	} {
		if _, err := tried(p, "scale-piece", append(args, "pieces=A")...); err == nil {
			t.Errorf("%v is done", args)
		}
	}
}

func TestDuplicateKeepsSeamsAmongTheCopies(t *testing.T) {
	p, err := theWorkshop()
	if err != nil {
		t.Fatal(err)
	}
	front, back := string(p.Pieces[0].ID), string(p.Pieces[1].ID)
	out := acted(t, p, "duplicate-piece", "piece="+front+";"+back)
	if n := len(out.Project.Seams) - len(p.Seams); n != 3 {
		t.Errorf("%d seams among the copies, want side, middle and yoke", n)
	}
	if _, err := tried(p, "duplicate-piece", "piece="+front+";"+back, "name=Both"); err == nil {
		t.Error("two pieces get one name")
	}
}

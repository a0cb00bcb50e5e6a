package draft

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hemlet/geom"
)

// quarterPiece is a quarter of a disc: two straight edges and an arc of four cubics,
// drawn by exact circle points with the usual handles.
func quarterPiece(radius, allowance float64) *Piece {
	p := polygonPiece("q", allowance, geom.Pt(0, 0), geom.Pt(radius, 0), geom.Pt(0, radius))
	arc := &p.Edges[1]
	const parts = 4
	at := func(k int) (geom.Point, geom.Point) {
		s, c := math.Sincos(math.Pi / 2 * float64(k) / parts)
		return geom.Pt(radius*c, radius*s), geom.Pt(-s, c)
	}
	handle := radius * 4 / 3 * math.Tan(math.Pi/2/parts/4)
	for k := range parts {
		p0, d := at(k)
		if k > 0 {
			arc.Nodes = append(arc.Nodes, Node{ID: ID("q.arc" + string(rune('0'+k))), At: p0, In: d.Mul(-handle), Smooth: true})
		}
		arc.Nodes[k].Out = d.Mul(handle)
	}
	_, d := at(parts)
	p.Edges[2].Nodes[0].In = d.Mul(-handle)
	return p
}

// The rules of scale for notches (common practice, no source).
func TestNotchDepthKeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Float64Range(0, 40).Draw(t, "width")
		depth, cut := NotchDepth(width)
		if depth > width/2 || depth > 0 && width-depth < 1 || depth < 0 {
			t.Fatalf("a notch of %v in %v", depth, width)
		}
		if cut != (width > 4+Grid) {
			t.Fatalf("in %v mm it is cut: %v", width, cut)
		}
	})
}

func TestNotchesTellFrontFromBack(t *testing.T) {
	for _, tc := range []struct {
		edge, piece, garment, role string
		double                     bool
	}{
		{"side", "Front", "", "", false}, {"side", "Back", "", "", true}, {"side", "back yoke", "", "", true},
		{"back armhole", "Sleeve", "", "", true}, {"front armhole", "Sleeve back", "", "", false},
		{"cap", "Sleeve", "", "", false}, {"side", "Panel", "", "upper back", true}, {"side", "Front and back", "", "", false},
		{"side", "Backpack", "", "", false}, {"side", "Skirt", "Back-laced gown", "", true}, {"neck", "REAR", "", "", true},
	} {
		p := polygonPiece("p", 6, geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 50), geom.Pt(0, 50))
		p.Name, p.Garment, p.Edges[1].Name = tc.piece, tc.garment, tc.edge
		if tc.role != "" {
			p.Derived = &Derived{Role: tc.role}
		}
		if got := p.isBehind(&p.Edges[1]); got != tc.double {
			t.Errorf("%s of %s (%s, %s): behind is %v", tc.edge, tc.piece, tc.garment, tc.role, got)
		}
	}
}

func TestAddNotchFollowsTheRulesAndTells(t *testing.T) {
	back := polygonPiece("back", 6, geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 50), geom.Pt(0, 50))
	back.Edges[1].Allowance = Allowance{Start: 6, End: 2}
	p := projectOf(back)
	out, err := AddNotch.DoText(p, map[string]string{"edge": "back.e1", "at": "10%"})
	if err != nil {
		t.Fatal(err)
	}
	if n := out.Project.Pieces[0].Notches[0]; !n.Double || len(out.Says) != 0 {
		t.Errorf("in an allowance of 5.6 mm behind: %+v, says %v", n, out.Says)
	}
	out, err = AddNotch.DoText(out.Project, map[string]string{"edge": "back.e1", "at": "80%", "double": "no", "shape": "t"})
	if err != nil {
		t.Fatal(err)
	}
	if n := out.Project.Pieces[0].Notches[1]; n.Double || n.Shape != NotchT || len(out.Says) != 1 || !strings.Contains(out.Says[0], "never cut") {
		t.Errorf("in an allowance of 2.8 mm: %+v, says %v", n, out.Says)
	}
	out, err = SetNotch.DoText(out.Project, map[string]string{"notches": "back.e1#1;back.e1#2", "shape": "v", "double": "yes"})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range out.Project.Pieces[0].Notches {
		if n.Shape != NotchV || !n.Double {
			t.Errorf("set to double V: %+v", n)
		}
	}
	if _, err := SetNotch.DoText(out.Project, map[string]string{"notches": "back.e1#1;back.e1#2", "at": "20%"}); err == nil {
		t.Error("two notches were put at one place")
	}
}

func TestStretchesAreMarked(t *testing.T) {
	p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, 50), geom.Pt(0, 50)))
	p.Pieces[0].Edges[3].Kind, p.Pieces[0].Cut.Way = FoldEdge, CutOnFold
	do := func(args map[string]string) (*Piece, error) {
		out, err := AddStretch.DoText(p, args)
		if err != nil {
			return nil, err
		}
		p = out.Project
		return p.Pieces[0], nil
	}
	q, err := do(map[string]string{"edge": "a.e0", "from": "20mm from end", "to": "10mm"})
	if err != nil || q.Stretches[0].From != 0.1 || q.Stretches[0].To != 0.8 || q.Stretches[0].Kind != GatherStretch {
		t.Fatalf("%+v, %v", q, err)
	}
	for _, bad := range []map[string]string{
		{"edge": "a.e0", "kind": "ease", "from": "70%"}, {"edge": "a.e0", "from": "0%", "to": "11mm"},
		{"edge": "a.e3"}, {"edge": "a.e1", "from": "10mm", "to": "20%"}, {"edge": "a.e1", "to": "51mm"},
	} {
		if q, err := do(bad); err == nil {
			t.Errorf("%v: %+v", bad, q.Stretches)
		}
	}
	if q, err = do(map[string]string{"edge": "a.e0", "kind": "stay"}); err != nil || len(q.Stretches) != 2 {
		t.Fatalf("a stay over gathers: %v", err)
	}
	if q, err = do(map[string]string{"edge": "a.e0", "kind": "ease", "from": "80%"}); err != nil || len(q.Stretches) != 3 {
		t.Fatalf("eased where the gathers end: %v", err)
	}
	out, err := SetStretch.DoText(p, map[string]string{"stretch": "a.e0#3", "from": "90%"})
	if err != nil || out.Project.Pieces[0].Stretches[2].From != 0.9 {
		t.Fatalf("%+v, %v", out.Project, err)
	}
	if _, err := SetStretch.DoText(p, map[string]string{"stretch": "a.e0#3", "from": "50%"}); err == nil {
		t.Error("eased and gathered at one place")
	}
	if out, err = DeleteMark.DoText(p, map[string]string{"marks": "a.e0#1"}); err != nil || len(out.Project.Pieces[0].Stretches) != 2 {
		t.Errorf("deleted: %v", err)
	}
}

// A line at a distance from an arc is an arc of the smaller radius; beside a straight
// edge between two others it ends on them.
func TestLinesAlongEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(20, 300).Draw(t, "radius")
		d := radius * rapid.Float64Range(0.01, 0.9).Draw(t, "distance")
		q := quarterPiece(radius, 6)
		line, err := q.lineBeside(1, EdgePlace{}, EdgePlace{At: 1, Share: true}, d, Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		// The drawn arc is within 3e-7 of its radius of a true one; the parallel is held
		// to geom.ParallelTolerance.
		slack := geom.ParallelTolerance + 1e-6*radius
		for i := range line {
			for k := range 8 {
				if r := line[i].At(float64(k) / 8).Len(); math.Abs(r-(radius-d)) > slack {
					t.Fatalf("at radius %v, want %v", r, radius-d)
				}
			}
		}
		if want := math.Pi / 2 * (radius - d); math.Abs(line.Length()-want) > 4*slack {
			t.Fatalf("%v long, want %v", line.Length(), want)
		}
		// The straight edge along x, cut off by the arc: Pythagoras.
		line, err = q.lineBeside(0, EdgePlace{}, EdgePlace{At: 1, Share: true}, d, Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		if want := math.Sqrt(radius*radius - d*d); math.Abs(line.Length()-want) > 1e-5*radius || math.Abs(line.Start().X) > Grid || math.Abs(line.Start().Y-d) > Grid {
			t.Fatalf("from %v, %v long, want %v", line.Start(), line.Length(), want)
		}
	})
}

func TestRowsAreSpreadEvenly(t *testing.T) {
	p := projectOf(polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 100), geom.Pt(0, 100)))
	out, err := AddRow.DoText(p, map[string]string{"kind": "buttonholes", "edge": "front.e1", "size": "9mm", "count": "5", "first": "10mm", "last": "6mm", "distance": "8mm"})
	if err != nil {
		t.Fatal(err)
	}
	l := out.Project.Pieces[0].Lines[0]
	if l.Name != "buttonholes" || l.Kind != FastenLine || len(out.Says) != 2 {
		t.Errorf("%+v, says %v", l, out.Says)
	}
	for i, f := range l.Fastenings() {
		if want := geom.Pt(52, 10+21*float64(i)); !f.At.Near(want, 1e-6) || math.Abs(math.Abs(f.Along.X)-1) > 1e-9 {
			t.Errorf("hole %d lies at %v along %v, want %v, across", i, f.At, f.Along, want)
		}
	}
	// Round an arc they lie at equal angles.
	q := projectOf(quarterPiece(100, 6))
	out, err = AddRow.DoText(q, map[string]string{"kind": "eyelets", "edge": "q.e1", "count": "7", "size": "4mm", "first": "5mm", "last": "5mm", "distance": "10mm"})
	if err != nil {
		t.Fatal(err)
	}
	l = out.Project.Pieces[0].Lines[0]
	for i, f := range l.Fastenings() {
		angle := math.Atan2(f.At.Y, f.At.X)
		if want := 5./90 + (math.Pi/2-10./90)*float64(i)/6; math.Abs(angle-want) > 1e-3 || math.Abs(f.At.Len()-90) > 0.011 {
			t.Errorf("eyelet %d lies at angle %v, radius %v, want angle %v", i, angle, f.At.Len(), want)
		}
	}
	if out, err = SetRow.DoText(out.Project, map[string]string{"line": "q.eyelets", "kind": "snaps", "count": "3", "size": "5mm"}); err != nil {
		t.Fatal(err)
	}
	if r := out.Project.Pieces[0].Lines[0].Row; r.Kind != Snaps || r.Count != 3 || r.First != 5 {
		t.Errorf("%+v", r)
	}
}

// The two exits of a drawstring lie about the middle, as far apart as the ends of the
// cord are to overlap.
func TestDrawstringExitsOverlapInTheMiddle(t *testing.T) {
	p := projectOf(polygonPiece("hood", 6, geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 80), geom.Pt(0, 80)))
	out, err := AddRow.DoText(p, map[string]string{"kind": "exits", "edge": "hood.e0", "distance": "6mm", "overlap": "30mm"})
	if err != nil {
		t.Fatal(err)
	}
	f := out.Project.Pieces[0].Lines[0].Fastenings()
	if len(f) != 2 || !f[0].At.Near(geom.Pt(85, 6), 1e-6) || !f[1].At.Near(geom.Pt(115, 6), 1e-6) {
		t.Errorf("exits at %+v", f)
	}
	if !strings.Contains(strings.Join(out.Says, " "), "Cords") {
		t.Errorf("no caution about cords: %v", out.Says)
	}
}

func TestRowsRefuseWhatCannotBe(t *testing.T) {
	p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(60, 0), geom.Pt(60, 40), geom.Pt(0, 40)))
	for _, bad := range []map[string]string{
		{}, {"edge": "a.e0", "distance": "41mm"}, {"edge": "a.e0", "distance": "-1mm"}, {"edge": "a.e0", "count": "0"},
		{"edge": "a.e0", "count": "30", "size": "5mm"}, {"edge": "a.e0", "first": "40mm", "last": "30mm"}, {"edge": "a.e0", "first": "-1mm"},
		{"edge": "a.e0", "overlap": "5mm"}, {"edge": "a.e0", "kind": "exits", "overlap": "61mm"}, {"edge": "a.e0", "size": "-2mm"},
		{"edge": "a.e0", "kind": "exits", "distance": "5mm", "overlap": "-1mm"},
	} {
		if out, err := AddRow.DoText(p, bad); err == nil {
			t.Errorf("%v: %+v", bad, out.Project.Pieces[0].Lines)
		}
	}
}

func TestDimensionsAreLive(t *testing.T) {
	p := projectOf(polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(30, 0), geom.Pt(30, 40), geom.Pt(0, 40)))
	out, err := AddDimension.DoText(p, map[string]string{"from": "a.e0/start", "to": "a.e1/end", "name": "across"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := AddDimension.DoText(out.Project, map[string]string{"from": "a.e0/start", "to": "a.e1/end"}); err == nil {
		t.Error("the same dimension was taken twice")
	}
	length := func() float64 { return NewSlots().SpanLength(out.Project.Pieces[0], out.Project.Pieces[0].Spans[0]) }
	if length() != 50 {
		t.Errorf("%v mm, want 50", length())
	}
	if out, err = MoveNodes.DoText(out.Project, map[string]string{"nodes": "a.e1/end", "by": "-30mm,-10mm"}); err != nil {
		t.Fatal(err)
	}
	if length() != 30 {
		t.Errorf("after its end has moved %v mm, want 30", length())
	}
	if r := NewSlots().Check(out.Project); len(r.Spans) != 0 {
		t.Errorf("it is held against a measure: %+v", r.Spans)
	}
	for _, bad := range []map[string]string{
		{}, {"from": "a.e0/start"}, {"from": "a.e0/start", "to": "a.e0/start"}, {"from": "a.e0/start", "to": "a.e1/end", "edges": "a.e0"},
	} {
		if _, err := AddDimension.DoText(p, bad); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if out, err = DeleteMark.DoText(out.Project, map[string]string{"marks": "a.across"}); err != nil || len(out.Project.Pieces[0].Spans) != 0 {
		t.Errorf("deleted: %v", err)
	}
}

func TestPointsAreMarkedWhereTheyAre(t *testing.T) {
	a := polygonPiece("a", 6, geom.Pt(0, 0), geom.Pt(30, 0), geom.Pt(30, 40), geom.Pt(0, 40))
	a.Place = Placement{At: geom.Pt(100, 50), Turn: math.Pi / 2}
	p := projectOf(a)
	// Turned a quarter, the place 10 mm right and 20 mm up in the piece lies at -20, 10.
	out, err := AddMark.DoText(p, map[string]string{"piece": "a", "at": "80mm,60mm", "kind": "reinforce", "name": "end of the slit"})
	if err != nil {
		t.Fatal(err)
	}
	l := out.Project.Pieces[0].Lines[0]
	if l.Kind != ReinforcePoint || !l.Nodes[0].At.Near(geom.Pt(10, 20), 1e-6) || l.Name != "end of the slit" {
		t.Errorf("%+v", l)
	}
	if _, err := AddMark.DoText(p, map[string]string{"piece": "a", "at": "0mm,0mm"}); err == nil {
		t.Error("a point beside the piece was marked")
	}
	out, err = AddPlacement.DoText(out.Project, map[string]string{"edge": "a.e0", "distance": "12mm", "from": "5mm", "to": "25mm", "kind": "gathering"})
	if err != nil {
		t.Fatal(err)
	}
	if l := out.Project.Pieces[0].Lines[1]; l.Kind != GatheringLine || !l.Path().Start().Near(geom.Pt(5, 12), 1e-6) || math.Abs(l.Path().Length()-20) > 1e-6 {
		t.Errorf("%+v", l)
	}
}

// A line along an edge that ends where it starts is closed, and goes all the way round:
// also where the edge is a single stretch.
func TestLinesAlongALoop(t *testing.T) {
	drop := &Piece{ID: "drop", Name: "drop", Cut: CutRule{Way: CutSingle, Count: 1}, Edges: []Edge{{
		ID: "drop.e0", Name: "rim", Allowance: Even(6),
		Nodes: []Node{{ID: "drop.n0", In: geom.Pt(-80, 60), Out: geom.Pt(80, 60)}},
	}}}
	disc := polygonPiece("disc", 6, geom.Pt(20, 0), geom.Pt(0, 20), geom.Pt(-20, 0), geom.Pt(0, -20))
	nodes := disc.Edges[0].Nodes
	for _, e := range disc.Edges[1:] {
		nodes = append(nodes, e.Nodes...)
	}
	disc.Edges = disc.Edges[:1]
	disc.Edges[0].Nodes = nodes
	for _, piece := range []*Piece{drop, disc} {
		rim := piece.DrawnPath().Length()
		edge := "edge=" + string(piece.ID) + "." + string(piece.Edges[0].ID)
		for _, act := range [][]string{{"add-placement", "distance=0mm"}, {"add-row", "distance=0mm"}} {
			out := mustDo(t, projectOf(piece), act[0], edge, act[1])
			l := out.Project.Pieces[0].Lines[0]
			if !l.Closed {
				t.Errorf("%s round %s: the line is not closed", act[0], piece.Name)
			}
			wantNear(t, act[0]+" round "+piece.Name, l.Path().Length(), rim, 1e-4)
		}
	}
	p := strip()
	out := mustDo(t, p, "draw-line", "line=M100 50C180 110 20 110 100 50")
	l := out.Project.Pieces[0].Lines[0]
	wantNear(t, "a drawn loop", l.Path().Length(), geom.Cubic(geom.Pt(100, 50), geom.Pt(180, 110), geom.Pt(20, 110), geom.Pt(100, 50)).Length(), 1e-4)
}

package draft

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hemlet/geom"
)

// curved is a piece with a neck: an S of two cubics, then straight sides.
func curved() *Project {
	p := polygonPiece("front", 6, geom.Pt(0, 0), geom.Pt(90, 0), geom.Pt(90, 100))
	name(p, "hem", "side", "neck")
	p.Edges[2].Nodes[0].Out = geom.Pt(-20, 10)
	p.Edges[2].Nodes = append(p.Edges[2].Nodes, Node{ID: "mid", At: geom.Pt(40, 80), In: geom.Pt(15, 5), Out: geom.Pt(-30, -10), Smooth: true})
	p.Edges[0].Nodes[0].In = geom.Pt(5, 30)
	return projectOf(p)
}

func node(t *testing.T, p *Project, text string) Node {
	t.Helper()
	ref, err := p.FindNode(text)
	if err != nil {
		t.Fatal(err)
	}
	n, _, _ := p.Piece(ref.Piece).Node(ref.Node)
	return *n
}

// apart returns the largest distance in mm between the two lines, either way.
func apart(a, b geom.Path) float64 { return max(farthest(a, b, 0), farthest(b, a, 0)) }

func TestMoveNodes(t *testing.T) {
	p := curved()
	out := mustDo(t, p, "move-nodes", "nodes=front.mid;front.hem/start;front.mid", "by=3mm,-4mm")
	before, after := node(t, p, "front.mid"), node(t, out.Project, "front.mid")
	if after.At != before.At.Add(geom.Pt(3, -4)) || after.In != before.In || after.Out != before.Out {
		t.Errorf("moved to %+v", after)
	}
	if at := node(t, out.Project, "front.hem/start").At; at != geom.Pt(3, -4) {
		t.Errorf("the corner moved to %v", at)
	}
	if out.Step != "Move points · front" {
		t.Errorf("step %q", out.Step)
	}
	// On a turned piece the way is as it lies on the bench.
	turned := *p.Pieces[0]
	turned.Place.Turn = math.Pi / 2
	out = mustDo(t, p.withPiece(&turned), "move-nodes", "nodes=front.mid", "by=0mm,10mm")
	if got := node(t, out.Project, "front.mid").At; !got.Near(before.At.Add(geom.Pt(10, 0)), 1e-6) {
		t.Errorf("on a turned piece moved to %v", got)
	}
}

func TestHandlesStayInLine(t *testing.T) {
	p := curved()
	long := node(t, p, "front.mid").Out.Len()
	n := node(t, mustDo(t, p, "move-handle", "handle=front.mid/in", "to=0mm,9mm").Project, "front.mid")
	if n.In != geom.Pt(0, 9) || !n.Out.Near(geom.Pt(0, -long), 1e-6) {
		t.Errorf("handles %v and %v", n.In, n.Out)
	}
	corner := node(t, mustDo(t, p, "move-handle", "handle=front.neck/start/out", "to=0mm,9mm").Project, "front.neck/start")
	if corner.Out != geom.Pt(0, 9) || corner.In != (geom.Point{}) {
		t.Errorf("at a corner %v and %v", corner.In, corner.Out)
	}
	// Beside a straight stretch the handle stays in its line, and turns with it.
	q := curved().Pieces[0]
	q.Edges[2].Nodes[0].Smooth, q.Edges[2].Nodes[0].Out = true, geom.Pt(0, 12)
	p = projectOf(q)
	n = node(t, mustDo(t, p, "move-handle", "handle=front.neck/start/out", "to=-5mm,20mm").Project, "front.neck/start")
	if n.Out != geom.Pt(0, 20) {
		t.Errorf("beside a straight stretch %v", n.Out)
	}
	n = node(t, mustDo(t, p, "move-nodes", "nodes=front.side/start", "by=-75mm,0mm").Project, "front.neck/start")
	if want := geom.Pt(75, 100).Unit().Mul(12); !n.Out.Near(want, 1e-6) {
		t.Errorf("the straight turned and the handle is %v, want %v", n.Out, want)
	}
}

func TestInsertedPointKeepsTheShape(t *testing.T) {
	p := curved()
	for _, at := range []string{"1mm", "30%", "55mm from end", "99%"} {
		for _, edge := range []string{"hem", "side", "neck"} {
			out := mustDo(t, p, "insert-node", "edge=front."+edge, "at="+at)
			n, i, _ := out.Project.Pieces[0].Node(out.Made)
			if n == nil {
				t.Fatal("the point that was made is not there")
			}
			if d := apart(p.Pieces[0].DrawnPath(), out.Project.Pieces[0].DrawnPath()); d > 3e-6 {
				t.Errorf("%s at %s: the outline moved by %g mm", edge, at, d)
			}
			var place EdgePlace
			if err := place.readArg(p, at); err != nil {
				t.Fatal(err)
			}
			want, _ := place.along(p.Pieces[0], i, p.Unit)
			_, _, k := out.Project.Pieces[0].Node(out.Made)
			line := out.Project.Pieces[0].EdgePath(i)
			if got := line[:k].Length(); math.Abs(got-want) > 1e-5 {
				t.Errorf("%s at %s: the point lies at %g mm, want %g", edge, at, got, want)
			}
		}
	}
	mustRefuse(t, p, "is 90 mm long", "insert-node", "edge=front.hem", "at=90.1mm")
	mustRefuse(t, p, "already", "insert-node", "edge=front.hem", "at=100%")
}

func TestInsertThenDeleteRestores(t *testing.T) {
	p := curved()
	for _, at := range []string{"7mm", "30%", "61%"} {
		for _, edge := range []string{"hem", "side", "neck"} {
			out := mustDo(t, p, "insert-node", "edge=front."+edge, "at="+at)
			back := mustDo(t, out.Project, "delete-node", "nodes=front."+string(out.Made))
			if d := apart(p.Pieces[0].DrawnPath(), back.Project.Pieces[0].DrawnPath()); d > 1e-5 {
				t.Errorf("%s at %s: came back %g mm off", edge, at, d)
			}
			if len(back.Lineage) != 0 {
				t.Errorf("%s at %s: lineage %v", edge, at, back.Lineage)
			}
		}
	}
}

// An eighth of a circle and the next bridge to a quarter that a cubic can follow to
// 2.8e-4 of the radius (the well-known error of the cubic quarter circle).
func TestBridgeOfArcs(t *testing.T) {
	const r = 100.
	arc := func(from, to float64) geom.Segment {
		h := 4. / 3 * math.Tan((to-from)/4) * r
		at := func(a float64) geom.Point { return geom.Pt(r*math.Cos(a), r*math.Sin(a)) }
		return geom.Cubic(at(from), at(from).Add(at(from).Left().Mul(h/r)), at(to).Sub(at(to).Left().Mul(h/r)), at(to))
	}
	first, second := arc(0, 0.5), arc(0.5, math.Pi/2)
	out, in := bridgeFit(first, second)
	c := geom.Cubic(first.P0, first.P0.Add(out), second.P3.Add(in), second.P3)
	for k := range 101 {
		if off := math.Abs(c.At(float64(k)/100).Len() - r); off > 3e-4*r {
			t.Fatalf("off by %g mm at %d %%", off, k)
		}
	}
}

func TestDeleteCornerMergesEdges(t *testing.T) {
	p := bodice()
	out := mustDo(t, p, "delete-node", "nodes=front.side/end")
	front := out.Project.Pieces[0]
	if got := edgeNames(front); got != "hem side fold" {
		t.Fatalf("edges %s", got)
	}
	want := Lineage{
		"front.e1": {{Edge: out.Made, Old0: 0, Old1: 1, New0: 0, New1: 80. / 140}},
		"front.e2": {{Edge: out.Made, Old0: 0, Old1: 1, New0: 80. / 140, New1: 1}},
	}
	if diff := cmp.Diff(want, out.Lineage); diff != "" {
		t.Error(diff)
	}
	mustRefuse(t, p, "the fold fold ends at this corner", "delete-node", "nodes=front.fold/start")
	lens := curved()
	mustRefuse(t, lens, "", "delete-node", "nodes=front.*")
	one := mustDo(t, lens, "smooth-node", "nodes=front.side/start;front.neck/start").Project
	mustRefuse(t, one, "begins and ends at this point", "delete-node", "nodes=front.front.n0")
	triangle := projectOf(polygonPiece("x", 0, geom.Pt(0, 0), geom.Pt(9, 0), geom.Pt(0, 9)))
	mustRefuse(t, triangle, "enclose nothing", "delete-node", "nodes=x.e1/start")
}

func TestSmoothAndCornerMoveEverythingAlong(t *testing.T) {
	p := mustDo(t, bodice(), "link-seam", "a=front.side", "b=back.side/left", "name=side").Project
	p = mustDo(t, p, "link-seam", "a=front.shoulder/far/reversed", "b=back.shoulder/reversed", "ends=as-given", "name=shoulder").Project
	p = mustDo(t, p, "insert-node", "edge=back.side", "at=20mm").Project
	p = mustDo(t, p, "add-notch", "edge=back.side", "at=10mm").Project
	p = mustDo(t, p, "add-notch", "edge=back.side", "at=25% from end").Project
	p = mustDo(t, p, "add-notch", "edge=back.side", "at=50mm from end").Project
	back := p.Pieces[1]
	places := func(piece *Piece) (at []geom.Point) {
		for _, n := range piece.Notches {
			_, i := piece.Edge(n.Edge)
			k, u := piece.locate(i, n.Along(piece.EdgeLength(i)))
			at = append(at, piece.EdgePath(i)[k].At(u))
		}
		return at
	}
	divided := mustDo(t, p, "corner-node", "nodes=back.side/1", "name=vent")
	q := divided.Project
	if got := edgeNames(q.Pieces[1]); got != "hem side vent shoulder middle" {
		t.Fatalf("edges %s", got)
	}
	near := cmp.Comparer(func(a, b geom.Point) bool { return a.Near(b, 1e-5) })
	if diff := cmp.Diff(places(back), places(q.Pieces[1]), near); diff != "" {
		t.Errorf("notches moved: %s", diff)
	}
	// Side b runs against the edge on the mirrored copy or with it: either way the
	// two heirs follow each other in the direction of the run.
	for _, s := range q.Seams {
		if s.Name != "side" {
			continue
		}
		var names []string
		for _, u := range s.B {
			names = append(names, q.useText(u))
		}
		want := "back.side/left back.vent/left"
		if s.B[0].Reversed {
			want = "back.vent/left/reversed back.side/left/reversed"
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("side b is %s, want %s", got, want)
		}
	}
	merged := mustDo(t, q, "smooth-node", "nodes=back.vent/start").Project
	if got := edgeNames(merged.Pieces[1]); got != "hem vent shoulder middle" {
		t.Fatalf("edges %s", got)
	}
	if diff := cmp.Diff(places(back), places(merged.Pieces[1]), near); diff != "" {
		t.Errorf("notches moved in merging: %s", diff)
	}
	side := merged.Seams[0]
	if len(side.B) != 1 || side.B[0].Reversed != p.Seams[0].B[0].Reversed || !side.B[0].Copy.Mirrored {
		t.Errorf("side b is %s", merged.RunText(side.B))
	}
	// A seam that ends at a corner keeps the corner.
	mustRefuse(t, p, "seam side ends at this corner", "smooth-node", "nodes=back.side/start")
	mustRefuse(t, p, "seam s", "delete-node", "nodes=back.side/end")
	if p.Pieces[1] != back {
		t.Error("the earlier project changed")
	}
}

func TestReversedRunsAreDividedInTheirOwnDirection(t *testing.T) {
	p := bodice()
	p = mustDo(t, p, "insert-node", "edge=front.side", "at=25%").Project
	p = mustDo(t, p, "insert-node", "edge=front.side", "at=75%").Project
	p = mustDo(t, p, "link-seam", "a=front.side/reversed", "b=back.side", "ends=as-given").Project
	out := mustDo(t, p, "corner-node", "nodes=front.side/2;front.side/1")
	q := out.Project
	if got := q.RunText(q.Seams[0].A); got != "front.side 2/reversed + front.side 3/reversed + front.side/reversed" {
		t.Errorf("side a is %s (edges %s)", got, edgeNames(q.Pieces[0]))
	}
	heirs := out.Lineage["front.e1"]
	if len(heirs) != 3 || len(out.Lineage) != 1 {
		t.Fatalf("lineage %v", out.Lineage)
	}
	at := 0.0
	for i, h := range heirs {
		want := []float64{0.25, 0.75, 1}[i]
		if !near(h.Old0, at) || !near(h.Old1, want) || h.New0 != 0 || h.New1 != 1 {
			t.Errorf("heir %d: %+v", i, h)
		}
		at = want
	}
	back := mustDo(t, q, "delete-node", "nodes=front.side/end;front.side 2/start")
	if got := back.Project.RunText(back.Project.Seams[0].A); got != "front.side/reversed" {
		t.Errorf("merged again, side a is %s", got)
	}
}

func TestAllowanceTapersOnAcrossADivision(t *testing.T) {
	p := mustDo(t, bodice(), "set-allowance", "edges=front.side", "start=4mm", "end=12mm").Project
	p = mustDo(t, p, "insert-node", "edge=front.side", "at=25%").Project
	front := mustDo(t, p, "corner-node", "nodes=front.side/1").Project.Pieces[0]
	if front.Edges[1].Allowance != (Allowance{Start: 4, End: 6}) || front.Edges[2].Allowance != (Allowance{Start: 6, End: 12}) {
		t.Errorf("%+v, %+v", front.Edges[1].Allowance, front.Edges[2].Allowance)
	}
}

func TestSmoothBringsHandlesIntoLine(t *testing.T) {
	p := curved()
	out := mustDo(t, p, "smooth-node", "nodes=front.neck/start")
	n := node(t, out.Project, "front.front.n2")
	if !n.Smooth || math.Abs(n.In.Unit().Dot(n.Out.Unit())+1) > 1e-9 {
		t.Errorf("handles %v and %v", n.In, n.Out)
	}
	if len(out.Project.Pieces[0].Edges) != 2 {
		t.Errorf("edges %s", edgeNames(out.Project.Pieces[0]))
	}
	// The straight side still leaves its other end in its old direction.
	side := node(t, out.Project, "front.front.n1")
	if side.Out.Unit() != geom.Pt(0, 1) {
		t.Errorf("the straight side leaves along %v", side.Out)
	}
}
